//! Limits: what is said of one, as its file says it, and the views of that in reports and lists.
//!
//! A key of a limit is here and in its reader, and nowhere else.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::adjustment::Adjustment;
use super::left_out::is_no;
use super::model::{Basis, Stricter};
use crate::document::{Place, Span};
use crate::quantity::{Kind, Measure, Nature, Quantity, Unit};
use crate::snapshot::stored;

/// A limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
#[cfg_attr(feature = "schema", schemars(transform = crate::schema::valued_as_the_kind_says))]
pub struct WrittenLimit {
    /// Its value, with unit; exact unless a tolerance is given.
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::schema::quantity"))]
    pub value: Cow<'static, str>,
    /// The kind of quantity; that of the unit if left out, and a ratio where there is no unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::quantity_kind")
    )]
    pub kind: Option<&'static str>,
    /// The direction in which fewer proposals pass.
    pub stricter: Stricter,
    /// What it means.
    pub meaning: Cow<'static, str>,
    /// Whether no ruleset may loosen it.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::yes_no")
    )]
    pub fixed: bool,
    /// What it rests on.
    #[cfg_attr(feature = "schema", schemars(default))]
    pub basis: Vec<Basis>,
    /// Names that it had before, or that had what it took the place of.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "schema",
        schemars(default, schema_with = "crate::schema::former_words")
    )]
    pub formerly: Vec<String>,
}

/// A limit as it is read, with its value understood.
#[derive(Debug, Clone)]
pub(crate) struct LimitText {
    pub written: WrittenLimit,
    pub value: Measure,
    pub kind: Kind,
    pub unit: Option<Unit>,
    /// The place of each basis.
    pub basis_at: Vec<Span>,
}

impl LimitText {
    /// What is said of it, with another value.
    pub(crate) fn with_value(&self, value: &str) -> WrittenLimit {
        WrittenLimit {
            value: value.to_owned().into(),
            kind: kind_to_write(value, self.kind),
            ..self.written.clone()
        }
    }

    /// The kind in which a value of it is shown: a ratio written as a plain whole number is not
    /// shown in per cent.
    pub(super) fn kind_to_show(&self, value: &str) -> Kind {
        let whole = || {
            let quantity = Quantity::parse(value);
            quantity.and_then(|quantity| quantity.measure(Kind::Count, Nature::Stated, None))
        };
        if self.kind == Kind::Ratio && whole().is_ok() {
            Kind::Count
        } else {
            self.kind
        }
    }

    /// What it rests on, and where that is.
    pub(crate) fn basis(&self) -> impl Iterator<Item = (&Basis, Span)> {
        self.written.basis.iter().zip(self.basis_at.iter().copied())
    }
}

/// The name of the kind, where the value does not show it.
pub(crate) fn kind_to_write(value: &str, kind: Kind) -> Option<&'static str> {
    let shown = Quantity::parse(value).ok()?.kind_shown();
    (shown != Some(kind)).then(|| kind.name())
}

/// A limit in force.
#[derive(Debug, Clone)]
pub struct LimitInfo {
    /// Its name, without `limit.`.
    pub name: Cow<'static, str>,
    /// What is said of it, with its value after adjustment.
    pub written: WrittenLimit,
    /// Where it is defined.
    pub place: Place,
}

/// A limit that takes part in a finding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub struct LimitReport {
    /// Its value as written, after adjustment.
    pub value: String,
    /// What it means.
    pub meaning: String,
    /// What it rests on.
    pub basis: Vec<Basis>,
}

/// A limit in a list: values that its file may leave out are given.
#[derive(Debug, Clone, Serialize)]
pub struct ListedLimit<'l> {
    /// Its value as written, after adjustment.
    pub value: &'l str,
    /// The direction in which fewer proposals pass.
    pub stricter: Stricter,
    /// Whether it cannot be loosened.
    pub fixed: bool,
    /// What it means.
    pub meaning: &'l str,
    /// What it rests on.
    pub basis: &'l [Basis],
    /// What it was adjusted from and to, by which rulesets, in this order.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    pub adjusted: &'l [Adjustment],
}

impl WrittenLimit {
    /// As a report says it.
    #[must_use]
    pub fn reported(&self) -> LimitReport {
        LimitReport {
            value: self.value.to_string(),
            meaning: self.meaning.to_string(),
            basis: self.basis.clone(),
        }
    }

    /// As a list says it, with what became of it after it was defined.
    pub(super) fn listed<'l>(&'l self, adjusted: &'l [Adjustment]) -> ListedLimit<'l> {
        ListedLimit {
            value: &self.value,
            stricter: self.stricter,
            fixed: self.fixed,
            meaning: &self.meaning,
            basis: &self.basis,
            adjusted,
        }
    }
}

stored!(struct WrittenLimit { value, kind, stricter, meaning, fixed, basis, formerly });
stored!(struct LimitInfo { name, written, place });
