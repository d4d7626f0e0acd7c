//! The meters that a ruleset assumes.

use super::basis::basis;
use crate::document::{Content, Entry, Fault, Fields, Node, Problems};
use crate::facts::{meter_kind, read_meter};
use crate::quantity::{Kind, Meter};
use crate::ruleset::layer::written;
use crate::ruleset::meter::MeterText;

/// `voltage: { is: ± (1 % + 3 digits), basis: [...] }`
pub(super) fn meter(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<MeterText> {
    let kind = meter_kind(entry, problems);
    let mut fields = Fields::of(&entry.node, "an assumed meter", problems)?;
    let is = fields.must("is", problems);
    let basis = basis(fields.may("basis"), problems);
    fields.finish(problems);
    let meters = tolerances(is?, kind?, problems)?;
    Some(MeterText { meters, basis })
}

/// How well the meters of a kind read: one, or a list of several.
pub(super) fn tolerances(
    node: &Node<'_>,
    kind: Kind,
    problems: &mut Problems<'_>,
) -> Option<Vec<(Meter, String)>> {
    let nodes = match &node.content {
        Content::List(items) => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    if nodes.is_empty() {
        let message = "this list says of no meter how well it reads";
        let help = "write a tolerance, such as `± (0.5 % + 10 mV)`";
        problems.add(Fault::WrongShape, node.span, message, help);
        return None;
    }
    let mut read = |node| {
        let (meter, text) = read_meter(node, kind, problems)?;
        Some((meter, written(text)))
    };
    let all: Vec<_> = nodes.iter().map(&mut read).collect();
    all.into_iter().collect()
}
