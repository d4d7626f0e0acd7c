//! Writes what was read of a text in the form of [`Prepared`](super::Prepared).

use super::canonical::digest;
use super::fault::Fault;
use super::node::{Content, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::read::read;
use super::source::{Source, Span};
use super::syntax::Syntax;
use super::units::Quotes;

/// What is read of a YAML text: its digest, its lines and its tree.
///
/// # Errors
///
/// Every problem of the text.
pub fn prepare(name: &str, text: &str) -> Result<Vec<u8>, ProblemList> {
    let source = Source::new(name, text.to_owned());
    let tree = read(&source, Syntax::Yaml)?;
    let mut bytes = digest(&tree).into_bytes();
    lines(&source, &mut bytes)
        .and_then(|()| node(&tree, &source, &mut bytes))
        .ok_or_else(too_long)?;
    Ok(bytes)
}

fn too_long() -> ProblemList {
    let help = "leave something out";
    ProblemList::from(Problem::of_file(
        Fault::TooLarge,
        "a number takes more than four bytes",
        help,
    ))
}

fn lines(source: &Source, to: &mut Vec<u8>) -> Option<()> {
    let starts = source.line_starts();
    number(starts.len(), to)?;
    starts.iter().try_for_each(|start| number(*start, to))
}

fn node(of: &Node<'_>, source: &Source, to: &mut Vec<u8>) -> Option<()> {
    match &of.content {
        Content::Nothing => place(0, of.span, to),
        Content::Scalar(said) => scalar(&said.text, (said.quotes, of.span), source, to),
        Content::List(items) => {
            let mut all = Vec::new();
            items
                .iter()
                .try_for_each(|item| node(item, source, &mut all))?;
            several(7, of.span, (items.len(), &all), to)
        }
        Content::Map(entries) => {
            let mut all = Vec::new();
            for entry in entries {
                scalar(&entry.key, (Quotes::None, entry.key_span), source, &mut all)?;
                node(&entry.node, source, &mut all)?;
            }
            several(8, of.span, (entries.len(), &all), to)
        }
    }
}

fn place(kind: u8, span: Span, to: &mut Vec<u8>) -> Option<()> {
    to.push(kind);
    number(span.start, to)?;
    number(span.end, to)
}

fn scalar(
    said: &str,
    (quotes, span): (Quotes, Span),
    source: &Source,
    to: &mut Vec<u8>,
) -> Option<()> {
    let (kind, width) = match quotes {
        Quotes::None => (1, 0),
        Quotes::Single => (2, 1),
        Quotes::Double => (3, 1),
    };
    let between = span.start.checked_add(width)?..span.end.checked_sub(width)?;
    if source.text().get(between) == Some(said) {
        return place(kind, span, to);
    }
    place(kind + 3, span, to)?;
    number(said.len(), to)?;
    to.extend(said.as_bytes());
    Some(())
}

/// A list or a map, of which all that is in it was written.
fn several(kind: u8, span: Span, (many, all): (usize, &[u8]), to: &mut Vec<u8>) -> Option<()> {
    to.push(kind);
    number(span.start, to)?;
    number(many, to)?;
    number(all.len(), to)?;
    to.extend(all);
    Some(())
}

fn number(number: usize, to: &mut Vec<u8>) -> Option<()> {
    to.extend(u32::try_from(number).ok()?.to_le_bytes());
    Some(())
}
