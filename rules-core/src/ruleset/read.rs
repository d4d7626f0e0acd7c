//! A document to a layer, collecting every problem.

mod adjust;
mod basis;
mod caution;
mod characters;
mod definitions;

use std::sync::Arc;

use super::digest;
use super::layer::{AboutText, FormulaText, Layer, Named, Unread, UnreadNames};
use super::model::{Acceptance, LayerName, Loosening};
use super::reserved::Reserved;
use crate::document::{
    Content, Entry, Fault, Fields, Found, Node, Problem, Problems, Source, Span, is_word, option,
    text, texts, word, wrong_shape,
};
use crate::facts::read_notice;
use crate::formula;

/// Reads a ruleset's document, of which this was found when it was read.
///
/// # Errors
///
/// The document is no ruleset at all, or its texts have characters that do not print.
pub(super) fn read_layer(
    source: Arc<Source>,
    (tree, found): (&Node<'_>, Found),
    reserved: Reserved,
) -> Result<(Layer, Found), Vec<Problem>> {
    let text = Arc::clone(&source);
    let mut problems = Problems::resumed(&text, found);
    let before = problems.len();
    characters::check(tree, &mut problems);
    if problems.len() > before {
        return Err(problems.finish());
    }
    match layer(source, tree, reserved, &mut problems) {
        Some(mut layer) => {
            // Of a list that stands twice only one was read.
            layer.unread.cautions.nameless |= before > 0;
            Ok((layer, problems.set_aside()))
        }
        None => Err(problems.finish()),
    }
}

fn layer(
    source: Arc<Source>,
    tree: &Node<'_>,
    reserved: Reserved,
    problems: &mut Problems<'_>,
) -> Option<Layer> {
    let mut fields = Fields::of(tree, "a ruleset", problems)?;
    if fields.refuse_other(
        "arrangement",
        "this is a proposal; a ruleset belongs here",
        "proposals are for `check`",
        problems,
    ) {
        return None;
    }
    fields.need_format(problems);
    let mut layer = heading(source, &mut fields, problems);
    layer.digest = digest::of_document(tree);
    layer.standing = reserved.standing(&layer);
    read_definitions(&mut layer, &mut fields, problems);
    if let Some(node) = fields.may("adjust") {
        layer.adjust = adjust::adjust(node, &mut layer.unread, problems);
    }
    if let Some(node) = fields.may("merged") {
        (layer.merged_from, layer.merged_loosened) = merged(node, reserved, problems);
    }
    if fields.unknown().any(|entry| entry.node.holds_others()) {
        layer.unread.note_anything();
    }
    fields.finish(problems);
    Some(layer)
}

/// What a ruleset says of itself and what it extends; no definitions yet.
fn heading(source: Arc<Source>, fields: &mut Fields<'_>, problems: &mut Problems<'_>) -> Layer {
    let mut unread = Unread::default();
    let name_node = fields.must("ruleset", problems);
    let name = name_node.and_then(|node| identifier(node, problems));
    let version = fields
        .must("version", problems)
        .and_then(|node| version(node, problems));
    let title = fields
        .must("title", problems)
        .and_then(|node| one_line(node, problems));
    let acceptance = fields
        .may("acceptance")
        .and_then(|node| own_acceptance(node, &mut unread, problems));
    Layer {
        name_span: name.as_ref().and(name_node).map(|node| node.span),
        // A ruleset that does not say its name is told from others by that of its file.
        name: name.unwrap_or_else(|| source.name().to_owned()),
        version: version.unwrap_or_default(),
        title: title.unwrap_or_default(),
        acceptance,
        extends: extends(fields, &mut unread, problems),
        unread,
        ..Layer::of(source)
    }
}

fn read_definitions(layer: &mut Layer, fields: &mut Fields<'_>, problems: &mut Problems<'_>) {
    let unread = &mut layer.unread;
    let (sources, facts) = (&mut unread.sources, &mut unread.facts);
    layer.sources = section("sources", fields, sources, problems, basis::source);
    layer.facts = section("facts", fields, facts, problems, definitions::fact);
    let (limits, figures) = (&mut unread.limits, &mut unread.figures);
    layer.limits = section("limits", fields, limits, problems, definitions::limit);
    layer.figures = section("figures", fields, figures, problems, definitions::figure);
    // What nothing else names needs no note where it cannot be read.
    let apart = &mut UnreadNames::default();
    layer.notice = section("notice", fields, apart, problems, read_notice);
    layer.cautions = caution::cautions(fields, &mut unread.cautions, problems);
}

fn own_acceptance(
    node: &Node<'_>,
    unread: &mut Unread,
    problems: &mut Problems<'_>,
) -> Option<(Acceptance, Span)> {
    let read = acceptance(node, problems);
    unread.acceptance |= read.is_none();
    Some((read?, node.span))
}

/// The rulesets extended. Where one of them could not be read, anything may be defined in it.
fn extends(
    fields: &mut Fields<'_>,
    unread: &mut Unread,
    problems: &mut Problems<'_>,
) -> Vec<(String, Span)> {
    let Some(node) = fields.may("extends") else {
        return Vec::new();
    };
    let read = texts(node, problems);
    let many = match &node.content {
        Content::List(items) => items.len(),
        Content::Nothing => 0,
        _ => 1,
    };
    if read.len() < many {
        unread.note_anything();
    }
    read
}

/// The entries of a map of definitions; the names of those that cannot be read are noted.
fn section<T>(
    key: &'static str,
    fields: &mut Fields<'_>,
    unread: &mut UnreadNames,
    problems: &mut Problems<'_>,
    read: fn(&Entry<'_>, &mut Problems<'_>) -> Option<T>,
) -> Vec<Named<T>> {
    let Some(node) = fields.may(key) else {
        return Vec::new();
    };
    let Content::Map(entries) = &node.content else {
        unread.nameless |= node.holds_others();
        wrong_shape(node, &format!("`{key}` is a map of names"), problems);
        return Vec::new();
    };
    let mut found = Vec::new();
    for entry in entries {
        let (name, span) = (entry.key.to_string(), entry.key_span);
        match read(entry, problems) {
            Some(body) => found.push(Named { name, span, body }),
            None => drop(unread.names.insert(name, span)),
        }
    }
    found
}

fn merged(
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

/// What can be loosened: `limit rest_floor`, `caution torn-wrap`, `acceptance`.
fn loosened(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let what = text(node, problems)?;
    let good = match what.split_once(' ') {
        Some(("limit", name)) => is_word(name),
        Some(("caution", id)) => is_identifier(id),
        _ => what == "acceptance",
    };
    if !good {
        let help = "write `limit` or `caution` with its name, or `acceptance`";
        problems.add(
            Fault::BadName,
            node.span,
            format!("`{what}` is nothing that can be loosened"),
            help,
        );
    }
    good.then(|| what.to_owned())
}

/// A name of a ruleset or caution: letters, digits and hyphens, starting with a letter. One with
/// other characters is told, and can be told from others.
fn identifier(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let name = text(node, problems)?;
    if !is_identifier(name) {
        let help = "use up to 64 letters, digits and hyphens, starting with a letter";
        problems.add(
            Fault::BadName,
            node.span,
            format!("`{name}` is no name for this"),
            help,
        );
    }
    Some(name.to_owned())
}

fn is_identifier(name: &str) -> bool {
    name.starts_with(|c: char| c.is_ascii_alphabetic())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
        && name.len() <= 64
}

/// The version of a ruleset: letters, digits, dots, hyphens and plus signs, starting with a letter
/// or a digit.
fn version(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let version = text(node, problems)?;
    let good = version.starts_with(|c: char| c.is_ascii_alphanumeric())
        && version
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '+'))
        && version.len() <= 64;
    if !good {
        let help = "use up to 64 letters, digits, dots, hyphens and plus signs, as `1.0.0`";
        problems.add(
            Fault::BadName,
            node.span,
            format!("`{version}` is no version"),
            help,
        );
    }
    good.then(|| version.to_owned())
}

/// A text on one line, without the space around it.
fn one_line(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let text = text(node, problems)?.trim();
    if text.contains(['\n', '\r', '\t']) {
        let help = "write it on one line, or fold it with `>-`";
        problems.add(
            Fault::WrongShape,
            node.span,
            "this text has several lines, or tabs in it",
            help,
        );
        return None;
    }
    Some(text.to_owned())
}

fn acceptance(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Acceptance> {
    option(
        node,
        &[
            ("guarded", Acceptance::Guarded),
            ("simple", Acceptance::Simple),
        ],
        problems,
    )
}

/// A formula, parsed.
fn formula(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<FormulaText> {
    let written = text(node, problems)?;
    match formula::parse(written) {
        Ok(tree) => Some(FormulaText {
            text: written.into(),
            node: node.detached(),
            tree,
        }),
        Err(fault) => {
            problems.add_within(fault.fault, node, fault.span, fault.message, fault.help);
            None
        }
    }
}

/// `each cable`, `each circuit`, `site`, `heater` and so on.
fn about(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<AboutText> {
    let written = text(node, problems)?;
    let (each, subject) = match written.strip_prefix("each ") {
        Some(subject) => (true, subject),
        None => (false, written),
    };
    Some(AboutText {
        each,
        subject: subject.to_owned(),
        span: node.span,
    })
}

/// What `because` says, which is asked for last: something, where it could not be read or a key may
/// have been meant for it.
fn because(fields: &mut Fields<'_>, problems: &mut Problems<'_>) -> Option<String> {
    match fields.may("because") {
        Some(node) => Some(text(node, problems).unwrap_or_default().to_owned()),
        None => fields.unknown().next().map(|_| String::new()),
    }
}
