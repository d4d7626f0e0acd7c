//! What a merged file says it was made of.

use super::values::{identifier, is_identifier, one_line, version};
use crate::document::{Fault, Fields, Node, Problems, is_word, text};
use crate::quantity::Kind;
use crate::ruleset::loosening::{Loosened, Loosening};
use crate::ruleset::model::LayerName;
use crate::ruleset::reserved::Reserved;

pub(super) fn merged(
    node: &Node<'_>,
    reserved: Reserved,
    problems: &mut Problems<'_>,
) -> (Vec<LayerName>, Vec<Loosening>) {
    let Some(mut fields) = Fields::of(node, "`merged`", problems) else {
        return Default::default();
    };
    let from = fields
        .may_list("from", problems)
        .iter()
        .filter_map(|node| layer_name(node, problems))
        .collect();
    let loosened = fields
        .may_list("loosened", problems)
        .iter()
        .filter_map(|node| loosening(node, reserved, problems))
        .collect();
    fields.finish(problems);
    (from, loosened)
}

fn layer_name(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<LayerName> {
    let mut fields = Fields::of(node, "a layer", problems)?;
    let ruleset = fields
        .must("ruleset", problems)
        .and_then(|node| identifier(node, problems));
    let version = fields
        .must("version", problems)
        .and_then(|node| version(node, problems));
    fields.finish(problems);
    Some(LayerName {
        ruleset: ruleset?,
        version: version?,
    })
}

fn loosening(
    node: &Node<'_>,
    reserved: Reserved,
    problems: &mut Problems<'_>,
) -> Option<Loosening> {
    let mut fields = Fields::of(node, "a loosening", problems)?;
    let by = fields.must("by", problems).and_then(|node| {
        let by = identifier(node, problems)?;
        reserved.check_loosening(&by, node.span, problems);
        Some(by)
    });
    let what = fields
        .must("what", problems)
        .and_then(|node| loosened(node, problems));
    let mut take = |key| {
        let node = fields.must(key, problems)?;
        one_line(node, problems)
    };
    let (from, to) = (take("from"), take("to"));
    let because = fields.must_text("because", problems).map(str::to_owned);
    fields.finish(problems);
    Some(Loosening {
        by: by?,
        what: what?,
        from: from?,
        to: to?,
        because: because?,
    })
}

/// What can be loosened: `limit rest_floor`, `caution torn-wrap`, `meter voltage`, `acceptance`.
fn loosened(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Loosened> {
    let what = text(node, problems)?;
    let found = match what.split_once(' ') {
        Some(("limit", name)) if is_word(name) => Some(Loosened::Limit(name.to_owned())),
        Some(("caution", id)) if is_identifier(id) => Some(Loosened::Caution(id.to_owned())),
        Some(("meter", kind)) if Kind::from_name(kind).is_some() => {
            Some(Loosened::Meter(kind.to_owned()))
        }
        _ => (what == "acceptance").then_some(Loosened::Acceptance),
    };
    if found.is_none() {
        let help =
            "write `limit` or `caution` with its name, `meter` with its kind, or `acceptance`";
        problems.add(
            Fault::BadName,
            node.span,
            format!("`{what}` cannot be loosened"),
            help,
        );
    }
    found
}
