//! The meters that a proposal states.

use std::sync::Arc;

use super::fact::{FactDef, FactKind};
use crate::document::Span;
use crate::quantity::{Kind, Meter, Nature};

/// A meter of one kind, with its text and place.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedMeter {
    /// The meter.
    pub meter: Meter,
    /// As written.
    pub written: Arc<str>,
    /// Where it is stated.
    pub at: Span,
}

/// The meters that a proposal states: one of a kind.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct StatedMeters(pub(super) Vec<StatedMeter>);

impl StatedMeters {
    /// The meter of a kind, if one is stated.
    #[must_use]
    pub fn of(&self, kind: Kind) -> Option<&StatedMeter> {
        self.0.iter().find(|stated| stated.meter.kind() == kind)
    }

    /// The meter that a fact is read with, if it is a measured number and there is one.
    #[must_use]
    pub fn serving(&self, fact: &FactDef) -> Option<&Meter> {
        self.of(metered(fact)?).map(|stated| &stated.meter)
    }
}

/// The kind of the meter that a fact is read with: none if it is no measured number.
#[must_use]
pub fn metered(fact: &FactDef) -> Option<Kind> {
    match &fact.kind {
        FactKind::Number(kind) if fact.nature == Nature::Measured && *kind != Kind::Count => {
            Some(*kind)
        }
        _ => None,
    }
}
