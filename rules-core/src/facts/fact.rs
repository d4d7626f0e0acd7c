//! Facts: their numbers, what values they can have, their definitions.

use std::borrow::Cow;

use super::subject::SubjectId;
use crate::quantity::{Interval, Kind, Nature};
use crate::snapshot::stored;

/// A fact by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FactId(pub(super) u32);

impl FactId {
    /// The position in the catalogue's list.
    pub(crate) const fn position(self) -> usize {
        self.0 as usize
    }
}

/// What values a fact can have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FactKind {
    /// A number of a kind, with its unit.
    Number(Kind),
    /// One of named options, at most 64.
    Choice(Vec<String>),
    /// Yes or no.
    YesNo,
    /// A text by which things are told apart, such as the name written on a cable.
    Id,
    /// Any other text.
    Text,
}

impl FactKind {
    /// The kind's name in rulesets and messages.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Number(kind) => kind.name(),
            Self::Choice(_) => "choice",
            Self::YesNo => "yes-no",
            Self::Id => "id",
            Self::Text => "text",
        }
    }
}

/// Which of several readings of a fact, taken one after the other, counts.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum OverTime {
    /// The newest: it says how things are now.
    #[default]
    Newest,
    /// The least: what it shows does not mend, whatever is read after it.
    Least,
    /// The greatest, for the same reason.
    Greatest,
}

/// The definition of a fact.
#[derive(Debug, Clone, PartialEq)]
pub struct FactDef {
    /// The subject it is about.
    pub subject: SubjectId,
    /// Its name within the subject: `rest_voltage`.
    pub name: Cow<'static, str>,
    /// What values it can have.
    pub kind: FactKind,
    /// For numbers: the values that can be at all, in the kind's base unit.
    pub domain: Interval,
    /// Measured (as good as its digits or its meter) or stated (exact).
    pub nature: Nature,
    /// What it means.
    pub meaning: Cow<'static, str>,
    /// Whether `none` may be written for it: there is no such threshold, which is the same as one
    /// at zero.
    pub none_is_zero: bool,
    /// Whether whoever plans can decide it otherwise: a search for what would change a verdict tries it.
    pub changeable: bool,
    /// Which of its readings counts where there are several with dates.
    pub over_time: OverTime,
    /// Where it is in the subject's section of a proposal (`rest.voltage`); none if it is worked
    /// out or comes under `extra`.
    pub key: Option<Cow<'static, str>>,
    /// The key of a proposal that it is worked out from, if it is.
    pub from: Option<Cow<'static, str>>,
    /// What can be written there, where its kind does not say.
    pub example: Option<Cow<'static, str>>,
}

stored!(struct FactId(at));
stored!(
    enum FactKind {
        Number(kind),
        Choice(options),
        YesNo,
        Id,
        Text,
    }
);
stored!(
    enum OverTime {
        Newest,
        Least,
        Greatest,
    }
);
stored!(struct FactDef { subject, name, kind, domain, nature, meaning, none_is_zero, changeable, over_time, key, from, example });
