//! What a ruleset changes in those it extends.

use crate::document::{Entry, Fault, Fields, Node, Problems};
use crate::ruleset::layer::{Adjust, AdjustAcceptance, AdjustCaution, AdjustLimit};

pub(super) fn adjust(node: &Node<'_>, problems: &mut Problems<'_>) -> Adjust {
    let Some(mut fields) = Fields::of(node, "`adjust`", problems) else { return Adjust::default() };
    let limits = fields.may("limits").map_or(&[] as &[Entry<'_>], |node| super::entries(node, "`limits` is a map of names", problems));
    let limits = super::named(limits, problems, limit);
    let cautions = fields.may("cautions").map_or(&[] as &[Entry<'_>], |node| super::entries(node, "`cautions` is a map of ids", problems));
    let cautions = super::named(cautions, problems, caution);
    let acceptance = fields.may("acceptance").and_then(|node| acceptance(node, problems));
    fields.finish(problems);
    Adjust { limits, cautions, acceptance }
}

fn limit(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<AdjustLimit> {
    let mut fields = Fields::of(&entry.node, "an adjusted limit", problems)?;
    let to = fields.must("to", problems);
    let because = fields.may_text("because", problems).map(str::to_owned);
    fields.finish(problems);
    Some(AdjustLimit { to: to?.detached(), because })
}

fn caution(entry: &Entry<'_>, problems: &mut Problems<'_>) -> Option<AdjustCaution> {
    let mut fields = Fields::of(&entry.node, "an adjusted caution", problems)?;
    let drop = fields.must("drop", problems).and_then(|node| crate::document::yes_no(node, problems));
    let because = fields.may_text("because", problems).map(str::to_owned);
    fields.finish(problems);
    if drop == Some(false) {
        problems.add(Fault::WrongShape, entry.node.span, "`drop: no` changes nothing", "leave the caution out of `adjust`");
    }
    drop.filter(|drop| *drop).map(|_| AdjustCaution { because })
}

fn acceptance(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<AdjustAcceptance> {
    let mut fields = Fields::of(node, "an adjusted acceptance", problems)?;
    let to = fields.must("to", problems).and_then(|node| super::acceptance(node, problems));
    let because = fields.may_text("because", problems).map(str::to_owned);
    fields.finish(problems);
    Some(AdjustAcceptance { to: to?, because, span: node.span })
}
