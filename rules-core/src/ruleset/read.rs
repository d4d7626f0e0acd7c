//! A document to a layer, collecting every problem.

mod adjust;
mod basis;
mod caution;
mod definitions;

use std::sync::Arc;

use super::layer::{AboutText, FormulaText, Layer, Named};
use super::model::{Acceptance, LayerName, Loosening};
use crate::document::{Content, Entry, Fault, Fields, Node, Problem, Problems, Source, Span, list, quoted, text, wrong_shape};
use crate::formula;

/// Reads a ruleset's document.
///
/// # Errors
///
/// Every problem of the file that can be seen without the files it extends.
pub(super) fn read_layer(source: Arc<Source>, tree: &Node<'_>) -> Result<Layer, Vec<Problem>> {
    let mut problems = Problems::new(&source);
    let layer = layer(Arc::clone(&source), tree, &mut problems);
    match (layer, problems.is_empty()) {
        (Some(layer), true) => Ok(layer),
        _ => Err(problems.finish()),
    }
}

fn layer(source: Arc<Source>, tree: &Node<'_>, problems: &mut Problems<'_>) -> Option<Layer> {
    let mut fields = Fields::of(tree, "a ruleset", problems)?;
    if fields.refuse_other("arrangement", "this is a proposal; a ruleset belongs here", "proposals are for `check`", problems) {
        return None;
    }
    fields.need_format(problems);
    let name = fields.must("ruleset", problems).and_then(|node| identifier(node, problems));
    let version = fields.must_text("version", problems);
    let title = fields.must_text("title", problems);
    let acceptance = fields.may("acceptance").and_then(|node| Some((acceptance(node, problems)?, node.span)));
    let extends = fields.may_list("extends", problems).iter().filter_map(|node| Some((text(node, problems)?.to_owned(), node.span)));
    let extends = extends.collect();
    let sources = named(fields.may_entries("sources", problems), problems, basis::source);
    let facts = named(fields.may_entries("facts", problems), problems, definitions::fact);
    let limits = named(fields.may_entries("limits", problems), problems, definitions::limit);
    let figures = named(fields.may_entries("figures", problems), problems, definitions::figure);
    let cautions = caution::cautions(fields.may_list("cautions", problems), problems);
    let adjust = fields.may("adjust").map(|node| adjust::adjust(node, problems)).unwrap_or_default();
    let (merged_from, merged_loosened) = fields.may("merged").map(|node| merged(node, problems)).unwrap_or_default();
    fields.finish(problems);
    let (name, version, title) = (name?, version?.to_owned(), title?.to_owned());
    Some(Layer {
        source,
        name,
        version,
        title,
        acceptance,
        extends,
        sources,
        facts,
        limits,
        figures,
        cautions,
        adjust,
        merged_from,
        merged_loosened,
    })
}

fn named<T>(entries: &[Entry<'_>], problems: &mut Problems<'_>, read: fn(&Entry<'_>, &mut Problems<'_>) -> Option<T>) -> Vec<Named<T>> {
    let one = |entry: &Entry<'_>| Some(Named { name: entry.key.to_string(), span: entry.key_span, body: read(entry, problems)? });
    entries.iter().filter_map(one).collect()
}

fn merged(node: &Node<'_>, problems: &mut Problems<'_>) -> (Vec<LayerName>, Vec<Loosening>) {
    let Some(mut fields) = Fields::of(node, "`merged`", problems) else { return Default::default() };
    let from = fields.may_list("from", problems).iter().filter_map(|node| layer_name(node, problems)).collect();
    let loosened = fields.may_list("loosened", problems).iter().filter_map(|node| loosening(node, problems)).collect();
    fields.finish(problems);
    (from, loosened)
}

fn layer_name(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<LayerName> {
    let mut fields = Fields::of(node, "a layer", problems)?;
    let ruleset = fields.must_text("ruleset", problems).map(str::to_owned);
    let version = fields.must_text("version", problems).map(str::to_owned);
    fields.finish(problems);
    Some(LayerName { ruleset: ruleset?, version: version? })
}

fn loosening(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Loosening> {
    let mut fields = Fields::of(node, "a loosening", problems)?;
    let mut take = |key| fields.must_text(key, problems).map(str::to_owned);
    let (by, what, from, to, because) = (take("by"), take("what"), take("from"), take("to"), take("because"));
    fields.finish(problems);
    Some(Loosening { by: by?, what: what?, from: from?, to: to?, because: because? })
}

/// A name of a ruleset or caution: letters, digits and hyphens, starting with a letter.
fn identifier(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<String> {
    let name = text(node, problems)?;
    let good = name.starts_with(|c: char| c.is_ascii_alphabetic())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
        && name.len() <= 64;
    if !good {
        let help = "use up to 64 letters, digits and hyphens, starting with a letter";
        problems.add(Fault::BadName, node.span, format!("`{name}` is no name for this"), help);
    }
    good.then(|| name.to_owned())
}

/// A name used in formulas: letters, digits, underscores, starting with a letter.
fn word(name: &str, span: Span, problems: &mut Problems<'_>) -> bool {
    let good = name.starts_with(|c: char| c.is_ascii_alphabetic())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
        && name.len() <= 64;
    if !good {
        let help = "use up to 64 letters, digits and underscores, starting with a letter";
        problems.add(Fault::BadName, span, format!("`{name}` cannot be used in a formula"), help);
    }
    good
}

/// One of a few words.
fn option<T: Copy>(node: &Node<'_>, options: &[(&str, T)], problems: &mut Problems<'_>) -> Option<T> {
    let word = text(node, problems)?;
    if let Some((_, value)) = options.iter().find(|(name, _)| *name == word) {
        return Some(*value);
    }
    let names: Vec<&str> = options.iter().map(|(name, _)| *name).collect();
    let help = match problems.near(word, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write one of {}", quoted(&names)),
    };
    problems.add(Fault::UnknownOption, node.span, format!("`{word}` does not fit here"), help);
    None
}

fn acceptance(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Acceptance> {
    option(node, &[("guarded", Acceptance::Guarded), ("simple", Acceptance::Simple)], problems)
}

/// A formula, parsed.
fn formula(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<FormulaText> {
    let written = text(node, problems)?;
    match formula::parse(written) {
        Ok(tree) => Some(FormulaText { text: written.into(), node: node.detached(), tree }),
        Err(fault) => {
            problems.add_within(fault.fault, node, fault.span, fault.message, fault.help);
            None
        }
    }
}

/// `each cell`, `each group`, `build`, `light` and so on.
fn about(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<AboutText> {
    let written = text(node, problems)?;
    let (each, subject) = match written.strip_prefix("each ") {
        Some(subject) => (true, subject.trim()),
        None => (false, written.trim()),
    };
    Some(AboutText { each, subject: subject.to_owned(), span: node.span })
}

/// The entries of a map, or a problem.
fn entries<'n>(node: &'n Node<'n>, expected: &str, problems: &mut Problems<'_>) -> &'n [Entry<'n>] {
    match &node.content {
        Content::Map(entries) => entries,
        _ => {
            wrong_shape(node, expected, problems);
            &[]
        }
    }
}

/// The texts of a list.
fn texts(node: &Node<'_>, problems: &mut Problems<'_>) -> Vec<(String, Span)> {
    list(node, problems).iter().filter_map(|item| Some((text(item, problems)?.to_owned(), item.span))).collect()
}
