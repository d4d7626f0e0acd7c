//! Bytes to a tree.

use super::fault::Fault;
use super::json;
use super::node::{Content, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::{Problems, SetAside};
use super::source::{Source, Span};
use super::syntax::Syntax;
use super::yaml;
use crate::bounds::MOST_BYTES;
use crate::characters::code_point;

/// Takes bytes for the text of a document; `name` is what messages call it.
///
/// # Errors
///
/// Bytes that are not UTF-8, or more of them than a document may have.
pub fn source(name: &str, bytes: Vec<u8>) -> Result<Source, ProblemList> {
    decode(name, bytes).map_err(ProblemList::from)
}

/// Reads the one document of a source.
///
/// # Errors
///
/// Every problem found: text that is not YAML or JSON, more than one document, anchors and tags,
/// repeated keys, and whatever exceeds the bounds.
pub fn read(source: &Source, syntax: Syntax) -> Result<Node<'_>, ProblemList> {
    let (tree, found) = read_on(source, syntax)?;
    let found = Problems::resumed(source, found).finish();
    if found.is_empty() {
        Ok(tree)
    } else {
        Err(found)
    }
}

/// Reads the one document of a source, and goes on where it can. The caller reports the problems
/// found together with those of the rest. If a key is written twice, the tree has its first value;
/// if both values are maps, it has the entries of both.
///
/// # Errors
///
/// Every problem found, if one of them leaves the document unread.
pub fn read_on(source: &Source, syntax: Syntax) -> Result<(Node<'_>, SetAside), ProblemList> {
    let (tree, found) = match syntax {
        Syntax::Yaml => yaml::tree(source)?,
        Syntax::Json => json::tree(source)?,
    };
    if matches!(tree.content, Content::Nothing) {
        return Err(Problem::empty(source).into());
    }
    Ok((tree, found))
}

fn decode(name: &str, bytes: Vec<u8>) -> Result<Source, Problem> {
    if bytes.len() > MOST_BYTES {
        let message = format!(
            "`{name}` is larger than {} MiB ({MOST_BYTES} bytes)",
            MOST_BYTES >> 20
        );
        return Err(Problem::at_start(
            name,
            Fault::TooLarge,
            message,
            "split it into several files",
        ));
    }
    let text = String::from_utf8(bytes).map_err(|error| not_utf8(name, &error))?;
    let text = text.strip_prefix(MARK).map(str::to_owned).unwrap_or(text);
    refuse_mark(Source::new(name, text))
}

/// The byte-order mark.
const MARK: char = '\u{feff}';

/// One mark may come before the text. A second one is left over from joining files, and cannot be
/// seen.
fn refuse_mark(source: Source) -> Result<Source, Problem> {
    if !source.text().starts_with(MARK) {
        return Ok(source);
    }
    Err(Problem::at(
        &source,
        Fault::Syntax,
        Span {
            start: 0,
            end: MARK.len_utf8(),
        },
        format!("this is a second byte-order mark ({})", code_point(MARK)),
        "delete it: only one may come before the text",
    ))
}

fn not_utf8(name: &str, error: &std::string::FromUtf8Error) -> Problem {
    let at = error.utf8_error().valid_up_to();
    let good = String::from_utf8_lossy(error.as_bytes().get(..at).unwrap_or_default()).into_owned();
    let source = Source::new(name, good);
    let span = Span { start: at, end: at };
    Problem::at(
        &source,
        Fault::Unreadable,
        span,
        format!("byte {at} is not UTF-8"),
        "save the file as UTF-8 text",
    )
}

#[cfg(test)]
mod tests;
