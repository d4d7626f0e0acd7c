//! Sections read by themselves, for their faults and for single values: of a bench, which may hold
//! more than any proposal takes from it.

use rules_core::document::{Node, Problems};
use rules_core::facts::{Given, Instance, StatedMeters, SubjectId, Value, read_value};
use rules_core::quantity::Measure;

use super::sections::SectionReader;
use super::whole::whole;
use crate::facts::catalogue;

/// Reads sections as a proposal with these meters would.
pub(crate) struct Vetting {
    meters: StatedMeters,
}

impl Vetting {
    /// With the meters of this node.
    pub(crate) fn new(meters: Option<&Node<'_>>, problems: &mut Problems<'_>) -> Self {
        let read = meters.map(|node| StatedMeters::read(node, problems));
        Self {
            meters: read.unwrap_or_default(),
        }
    }

    /// The meters.
    pub(crate) const fn meters(&self) -> &StatedMeters {
        &self.meters
    }

    /// Reads a section; `what` names it in messages.
    pub(crate) fn section(
        &self,
        node: &Node<'_>,
        subject: SubjectId,
        what: &str,
        problems: &mut Problems<'_>,
    ) -> Instance {
        let mut sections = SectionReader {
            catalogue: catalogue(),
            declared: None,
            meters: &self.meters,
            extras: Vec::new(),
        };
        whole(
            &mut sections,
            node,
            (subject, 0),
            format_args!("{what}"),
            problems,
        )
    }

    /// Reads the value of one fact.
    pub(crate) fn value(
        &self,
        node: &Node<'_>,
        fact: &str,
        problems: &mut Problems<'_>,
    ) -> Option<Given> {
        let (_, def) = catalogue().fact_named(fact)?;
        read_value(node, fact, def, self.meters.serving(def), problems)
    }

    /// Reads a number.
    pub(crate) fn number(
        &self,
        node: &Node<'_>,
        fact: &str,
        problems: &mut Problems<'_>,
    ) -> Option<Measure> {
        match self.value(node, fact, problems)?.value {
            Value::Number(measure) => Some(measure),
            _ => None,
        }
    }
}
