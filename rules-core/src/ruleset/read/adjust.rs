//! What a ruleset changes in those it extends.

use super::meter::tolerances;
use super::stage::named;
use super::values::{self, because};
use crate::document::{Content, Entry, Fault, Fields, Node, Problems, Span, wrong_shape};
use crate::facts::meter_kind;
use crate::ruleset::layer::{
    Adjust, AdjustAcceptance, AdjustCaution, AdjustLimit, AdjustMeter, CautionChange, Named, Unread,
};

pub(super) fn adjust(node: &Node<'_>, unread: &mut Unread, problems: &mut Problems<'_>) -> Adjust {
    let Some(mut fields) = Fields::of(node, "`adjust`", problems) else {
        (unread.changes, unread.acceptance) = (true, true);
        return Adjust::default();
    };
    let limits = fields.may("limits");
    unread.changes |= limits.is_some_and(|node| !matches!(node.content, Content::Map(_)));
    let limits = entries(limits, "`limits` is a map of names", problems, limit);
    let meters = fields.may("meters");
    unread.changes |= meters.is_some_and(|node| !matches!(node.content, Content::Map(_)));
    let meters = entries(meters, "`meters` is a map of kinds", problems, meter);
    let cautions = entries(
        fields.may("cautions"),
        "`cautions` is a map of ids",
        problems,
        caution,
    );
    let acceptance_node = fields.may("acceptance");
    let acceptance = acceptance_node.and_then(|node| acceptance(node, problems));
    unread.acceptance |= acceptance_node.is_some() && acceptance.is_none();
    if fields.unknown().next().is_some() {
        (unread.changes, unread.acceptance) = (true, true);
    }
    fields.finish(problems);
    Adjust {
        limits,
        meters,
        cautions,
        acceptance,
    }
}

fn entries<T>(
    node: Option<&Node<'_>>,
    expected: &str,
    problems: &mut Problems<'_>,
    read: fn(&Entry<'_>, &mut Problems<'_>) -> T,
) -> Vec<Named<T>> {
    let Some(node) = node else { return Vec::new() };
    let Content::Map(entries) = &node.content else {
        wrong_shape(node, expected, problems);
        return Vec::new();
    };
    entries
        .iter()
        .map(|entry| Named {
            name: entry.key.to_string(),
            span: entry.key_span,
            body: read(entry, problems),
        })
        .collect()
}

fn limit(entry: &Entry<'_>, problems: &mut Problems<'_>) -> AdjustLimit {
    let Some(mut fields) = Fields::of(&entry.node, "an adjusted limit", problems) else {
        return AdjustLimit {
            to: None,
            because: None,
        };
    };
    let to = fields.must("to", problems).map(Node::detached);
    let because = because(&mut fields, problems);
    fields.finish(problems);
    AdjustLimit { to, because }
}

fn meter(entry: &Entry<'_>, problems: &mut Problems<'_>) -> AdjustMeter {
    let kind = meter_kind(entry, problems);
    let Some(mut fields) = Fields::of(&entry.node, "an adjusted meter", problems) else {
        return AdjustMeter {
            to: None,
            because: None,
        };
    };
    let to = fields.must("to", problems).zip(kind);
    let to = to.and_then(|(node, kind)| tolerances(node, kind, problems));
    let because = because(&mut fields, problems);
    fields.finish(problems);
    AdjustMeter { to, because }
}

fn caution(entry: &Entry<'_>, problems: &mut Problems<'_>) -> AdjustCaution {
    let Some(mut fields) = Fields::of(&entry.node, "an adjusted caution", problems) else {
        return AdjustCaution {
            change: None,
            because: None,
        };
    };
    let change = change(&mut fields, entry.node.span, problems);
    let because = because(&mut fields, problems);
    fields.finish(problems);
    AdjustCaution { change, because }
}

/// How a caution is adjusted: it is dropped, or moved to another stage.
fn change(
    fields: &mut Fields<'_>,
    whole: Span,
    problems: &mut Problems<'_>,
) -> Option<CautionChange> {
    let (fault, message, help) = match (fields.may("drop"), fields.may("stage")) {
        (None, Some(node)) => return Some(CautionChange::Move(named(node, problems)?)),
        (Some(node), None) if crate::document::yes_no(node, problems)? => {
            return Some(CautionChange::Drop);
        }
        (Some(_), None) => (
            Fault::WrongShape,
            "`drop: no` changes nothing",
            "leave the caution out of `adjust`",
        ),
        (Some(_), Some(_)) => (
            Fault::WrongShape,
            "a caution that is dropped is of no stage",
            "keep `drop` or `stage`",
        ),
        (None, None) => (
            Fault::MissingKey,
            "an adjusted caution needs `drop` or `stage`",
            "add `drop: yes` to do without it, or `stage: ...` to move it",
        ),
    };
    problems.add(fault, whole, message, help);
    None
}

fn acceptance(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<AdjustAcceptance> {
    let mut fields = Fields::of(node, "an adjusted acceptance", problems)?;
    let to = fields
        .must("to", problems)
        .and_then(|node| values::acceptance(node, problems));
    let because = because(&mut fields, problems);
    fields.finish(problems);
    Some(AdjustAcceptance {
        to: to?,
        because,
        span: node.span,
    })
}
