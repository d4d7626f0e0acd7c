//! A document to a layer, collecting every problem.

use std::sync::Arc;

use super::adjust::adjust;
use super::merged::merged;
use super::values::{acceptance, identifier, one_line, version};
use super::{basis, caution, characters, definitions, meter, stage};
use crate::document::{
    Content, Entry, Fields, Node, ProblemList, Problems, SetAside, Source, Span, digest, texts,
    wrong_shape,
};
use crate::facts::read_notice;
use crate::ruleset::layer::{Layer, Named, Unread, UnreadNames};
use crate::ruleset::model::Acceptance;
use crate::ruleset::reserved::Reserved;

/// Reads a ruleset's document; `found` are the problems of reading it.
///
/// # Errors
///
/// The document is no ruleset at all, or its texts have characters that do not print.
pub(super) fn read_layer(
    source: Arc<Source>,
    (tree, found): (&Node<'_>, SetAside),
    reserved: Reserved,
) -> Result<(Layer, SetAside), ProblemList> {
    let text = Arc::clone(&source);
    let mut problems = Problems::resumed(&text, found);
    let before = problems.len();
    characters::check(tree, &mut problems);
    if problems.len() > before {
        return Err(problems.finish());
    }
    match layer(source, (tree, digest(tree)), reserved, &mut problems) {
        Some(mut layer) => {
            // Of a list that is written twice only one was read.
            layer.unread.cautions.nameless |= before > 0;
            Ok((layer, problems.set_aside()))
        }
        None => Err(problems.finish()),
    }
}

/// The layer of a document with this digest; nothing, if it is no ruleset at all.
pub(super) fn layer(
    source: Arc<Source>,
    (tree, digest): (&Node<'_>, String),
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
    layer.digest = digest;
    layer.standing = reserved.standing(&layer);
    read_definitions(&mut layer, &mut fields, problems);
    if let Some(node) = fields.may("adjust") {
        layer.adjust = adjust(node, &mut layer.unread, problems);
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
        // A ruleset that does not say its name is identified by that of its file.
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
    layer.stages = section(
        "stages",
        fields,
        &mut unread.stages,
        problems,
        stage::declared,
    );
    let (meters, limits) = (&mut unread.meters, &mut unread.limits);
    layer.meters = section("meters", fields, meters, problems, meter::meter);
    layer.limits = section("limits", fields, limits, problems, definitions::limit);
    let figures = &mut unread.figures;
    layer.figures = section("figures", fields, figures, problems, definitions::figure);
    // If nothing else names it, nothing needs to be noted when it cannot be read.
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

/// The rulesets extended. If one of them could not be read, it may define anything.
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
