//! The meters a proposal's readings were taken with.

use std::collections::BTreeMap;

use rules_core::document::{Content, Fault, Node, Problems, quoted, wrong_shape};
use rules_core::facts::{FactDef, FactKind, add_quantity_problem};
use rules_core::quantity::{Kind, Meter, Nature};

/// Meters by the kind of what they read.
#[derive(Debug, Clone, Default)]
pub(super) struct Meters(BTreeMap<&'static str, Meter>);

impl Meters {
    /// The meter that a fact is read with, if it is a measured number and there is one.
    pub(super) fn serving(&self, fact: &FactDef) -> Option<&Meter> {
        match &fact.kind {
            FactKind::Number(kind) if fact.nature == Nature::Measured => self.0.get(kind.name()),
            _ => None,
        }
    }

    /// `meters: { voltage: ± (0.5 % + 10 mV) }`
    pub(super) fn read(node: &Node<'_>, problems: &mut Problems<'_>) -> Self {
        let Content::Map(entries) = &node.content else {
            wrong_shape(
                node,
                "`meters` is a map from a kind, such as `voltage`, to a tolerance",
                problems,
            );
            return Self::default();
        };
        let mut meters = BTreeMap::new();
        for entry in entries {
            let Some(kind) = Kind::from_name(&entry.key).filter(|kind| *kind != Kind::Count) else {
                unknown_kind(&entry.key, entry.key_span, problems);
                continue;
            };
            let Some(text) = entry.node.scalar() else {
                wrong_shape(
                    &entry.node,
                    "write a tolerance, such as `± (0.5 % + 10 mV)`",
                    problems,
                );
                continue;
            };
            match Meter::parse(text, kind) {
                Ok(meter) => drop(meters.insert(kind.name(), meter)),
                Err(error) => add_quantity_problem(&entry.node, &error.expecting(kind), problems),
            }
        }
        Self(meters)
    }
}

fn unknown_kind(key: &str, span: rules_core::document::Span, problems: &mut Problems<'_>) {
    let names: Vec<&str> = Kind::ALL
        .iter()
        .filter(|kind| **kind != Kind::Count)
        .map(|kind| kind.name())
        .collect();
    let help = match problems.near(key, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("meters read {}", quoted(&names)),
    };
    problems.add(
        Fault::UnknownKey,
        span,
        format!("no meter reads `{key}`"),
        help,
    );
}
