//! Reading how well meters read.

use super::meters::{StatedMeter, StatedMeters};
use super::read::add_quantity_problem;
use crate::document::{Content, Entry, Fault, Node, Problems, quoted, wrong_shape};
use crate::quantity::{Kind, Meter};

impl StatedMeters {
    /// Reads `meters: { voltage: ± (0.5 % + 10 mV) }`.
    #[must_use]
    pub fn read(node: &Node<'_>, problems: &mut Problems<'_>) -> Self {
        let Content::Map(entries) = &node.content else {
            let expected = "`meters` is a map from a kind, such as `voltage`, to a tolerance";
            wrong_shape(node, expected, problems);
            return Self::default();
        };
        let read = |entry: &Entry<'_>| {
            let kind = meter_kind(entry, problems)?;
            let (meter, written) = read_meter(&entry.node, kind, problems)?;
            let (written, at) = (written.into(), entry.node.span);
            Some(StatedMeter { meter, written, at })
        };
        Self(entries.iter().filter_map(read).collect())
    }
}

/// The kind that a key under `meters` names.
pub(crate) fn meter_kind(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<Kind> {
    let metered = |kind: &Kind| *kind != Kind::Count;
    let found = Kind::from_name(&entry.key).filter(metered);
    if found.is_none() {
        let kinds = Kind::ALL.into_iter().filter(metered);
        let names: Vec<&str> = kinds.map(Kind::name).collect();
        let help = match problems.near(&entry.key, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("meters read {}", quoted(&names)),
        };
        let message = format!("no meter reads `{}`", entry.key);
        problems.add(Fault::UnknownKey, entry.key_span, message, help);
    }
    found
}

/// How well a meter of a kind reads, with the text that says so.
pub(crate) fn read_meter<'n>(
    node: &'n Node<'_>,
    kind: Kind,
    problems: &mut Problems<'_>,
) -> Option<(Meter, &'n str)> {
    let Some(text) = node.scalar() else {
        wrong_shape(
            node,
            "write a tolerance, such as `± (0.5 % + 10 mV)`",
            problems,
        );
        return None;
    };
    match Meter::parse(text, kind) {
        Ok(meter) => Some((meter, text)),
        Err(error) => {
            add_quantity_problem(node, &error.expecting(kind), problems);
            None
        }
    }
}
