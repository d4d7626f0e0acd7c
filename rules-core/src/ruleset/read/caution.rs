//! Cautions and their cases.

use std::collections::HashMap;

use super::basis::basis;
use super::stage::named;
use super::values::{about, formerly, formula, identifier, is_identifier, one_line, refused};
use crate::document::{Content, Fault, Fields, Node, Problems, Span, list, option, text, texts};
use crate::ruleset::layer::{CaseText, CautionText, FormulaText, Named, UnreadNames};
use crate::ruleset::model::{Expectation, IfUnmeasured};

pub(super) fn cautions(
    fields: &mut Fields<'_>,
    unread: &mut UnreadNames,
    problems: &mut Problems<'_>,
) -> Vec<Named<CautionText>> {
    let Some(node) = fields.may("cautions") else {
        return Vec::new();
    };
    let nodes = list(node, problems);
    let read: Vec<Named<CautionText>> = nodes
        .iter()
        .filter_map(|node| caution(node, problems))
        .collect();
    let nameless = read.len() < nodes.len() || read.iter().any(|one| one.name.is_empty());
    unread.nameless |= nameless || matches!(node.content, Content::Map(_));
    let mut seen = HashMap::new();
    for one in read.iter().filter(|one| !one.name.is_empty()) {
        if let Some(line) = seen.insert(
            one.name.as_str(),
            problems.source().place(one.span.start).line,
        ) {
            let message = format!(
                "the caution `{}` is defined here again; it is already on line {line}",
                one.name
            );
            problems.add(Fault::DefinedTwice, one.span, message, "give it another id");
        }
    }
    read
}

/// A caution; one whose id cannot be read has an empty name.
fn caution(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Named<CautionText>> {
    let mut fields = Fields::of(node, "a caution", problems)?;
    let id = fields.must("id", problems);
    let name = id.and_then(|node| identifier(node, problems));
    let title = fields
        .must("title", problems)
        .and_then(|node| one_line(node, problems))
        .unwrap_or_default();
    let about = fields
        .must("about", problems)
        .and_then(|node| about(node, problems));
    let (applies_when, refuse_unless, warn_unless) = conditions(&mut fields, node.span, problems);
    let ways = [
        ("refuse", IfUnmeasured::Refuse),
        ("warn", IfUnmeasured::Warn),
    ];
    let body = CautionText {
        title,
        about,
        stage: fields.may("stage").and_then(|node| named(node, problems)),
        refused: refused(&mut fields, problems),
        applies_when,
        refuse_unless,
        warn_unless,
        if_unmeasured: fields
            .may("if_unmeasured")
            .and_then(|node| option(node, &ways, problems)),
        fixed: fields.may_yes_no("fixed", problems).unwrap_or(false),
        reason: template(fields.must("reason", problems), problems)
            .unwrap_or_else(|| no_text(node.span)),
        remedy: template(fields.may("remedy"), problems),
        basis: basis(fields.may("basis"), problems),
        formerly: formerly(&mut fields, is_identifier, problems),
        cases: fields
            .may_list("cases", problems)
            .iter()
            .filter_map(|node| case(node, problems))
            .collect(),
    };
    fields.finish(problems);
    Some(Named {
        name: name.unwrap_or_default(),
        span: id.map_or(node.span, |id| id.span),
        body,
    })
}

/// The condition and the two rungs, of which at least one must be written.
fn conditions(
    fields: &mut Fields<'_>,
    whole: Span,
    problems: &mut Problems<'_>,
) -> (
    Option<FormulaText>,
    Option<FormulaText>,
    Option<FormulaText>,
) {
    let keys = ["applies_when", "refuse_unless", "warn_unless"];
    let [when, refuse, warn] = keys.map(|key| fields.may(key));
    if refuse.is_none() && warn.is_none() {
        let message = "a caution needs something that must hold";
        let help = "add `refuse_unless` or `warn_unless`";
        problems.add(Fault::MissingKey, whole, message, help);
    }
    let mut read = |node: Option<&Node<'_>>| node.and_then(|node| formula(node, problems));
    (read(when), read(refuse), read(warn))
}

/// The replacement for a text that could not be read.
const fn no_text(span: Span) -> Node<'static> {
    let content = Content::Nothing;
    Node { content, span }
}

fn template(node: Option<&Node<'_>>, problems: &mut Problems<'_>) -> Option<Node<'static>> {
    let node = node?;
    text(node, problems)?;
    Some(node.detached())
}

fn case(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<CaseText> {
    let mut fields = Fields::of(node, "a case", problems)?;
    let given = fields.must("given", problems);
    let ways = [
        Expectation::NotApplicable,
        Expectation::Pass,
        Expectation::Warn,
        Expectation::Refuse,
    ]
    .map(|e| (e.word(), e));
    let expect = fields
        .must("expect", problems)
        .and_then(|node| option(node, &ways, problems));
    let doubt = fields.may_yes_no("doubt", problems).unwrap_or(false);
    let unmeasured = fields
        .may("unmeasured")
        .map(|node| texts(node, problems))
        .unwrap_or_default();
    let note = fields.may_text("note", problems).map(str::to_owned);
    fields.finish(problems);
    let open = usize::from(doubt) + usize::from(!unmeasured.is_empty());
    if open > usize::from(expect != Some(Expectation::NotApplicable)) {
        let help = "a finding is decided, in doubt or unmeasured; a caution that does not apply gives none";
        problems.add(
            Fault::WrongShape,
            node.span,
            "`doubt` and `unmeasured` do not fit this case",
            help,
        );
    }
    Some(CaseText {
        given: given?.detached(),
        expect: expect?,
        doubt,
        unmeasured,
        note,
        span: node.span,
    })
}
