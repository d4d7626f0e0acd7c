//! What a ruleset changes in those it extends.

use super::values::{self, because};
use crate::document::{Content, Entry, Fault, Fields, Node, Problems, wrong_shape};
use crate::ruleset::layer::{Adjust, AdjustAcceptance, AdjustCaution, AdjustLimit, Named, Unread};

pub(super) fn adjust(node: &Node<'_>, unread: &mut Unread, problems: &mut Problems<'_>) -> Adjust {
    let Some(mut fields) = Fields::of(node, "`adjust`", problems) else {
        (unread.changes, unread.acceptance) = (true, true);
        return Adjust::default();
    };
    let limits = fields.may("limits");
    unread.changes |= limits.is_some_and(|node| !matches!(node.content, Content::Map(_)));
    let limits = entries(limits, "`limits` is a map of names", problems, limit);
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

fn caution(entry: &Entry<'_>, problems: &mut Problems<'_>) -> AdjustCaution {
    let Some(mut fields) = Fields::of(&entry.node, "an adjusted caution", problems) else {
        return AdjustCaution {
            drops: false,
            because: None,
        };
    };
    let drop = fields
        .must("drop", problems)
        .and_then(|node| crate::document::yes_no(node, problems));
    let because = because(&mut fields, problems);
    fields.finish(problems);
    if drop == Some(false) {
        problems.add(
            Fault::WrongShape,
            entry.node.span,
            "`drop: no` changes nothing",
            "leave the caution out of `adjust`",
        );
    }
    AdjustCaution {
        drops: drop.unwrap_or(false),
        because,
    }
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
