//! Bytes to a tree.

use serde::de::IgnoredAny;

use super::fault::Fault;
use super::json;
use super::node::{Content, Node};
use super::problem::Problem;
use super::problem_list::ProblemList;
use super::problems::{Problems, SetAside};
use super::source::{Source, Span};
use super::yaml;
use crate::bounds::MOST_BYTES;
use crate::characters::code_point;

/// How a document is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Syntax {
    /// YAML 1.2, of which JSON is a part; that part alone in a build without the feature `yaml`.
    Yaml,
    /// JSON and nothing more.
    Json,
}

impl Syntax {
    /// JSON for names that end in `.json`, YAML for all others.
    #[must_use]
    pub fn of_name(name: &str) -> Self {
        let json = name
            .rsplit_once('.')
            .is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("json"));
        if json { Self::Json } else { Self::Yaml }
    }
}

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
        Syntax::Json => json_tree(source)?,
    };
    if matches!(tree.content, Content::Nothing) {
        return Err(Problem::empty(source).into());
    }
    Ok((tree, found))
}

/// Reads the one document of a source that is JSON and nothing more.
pub(super) fn json_tree(source: &Source) -> Result<(Node<'_>, SetAside), ProblemList> {
    refuse_non_json(source).map_err(ProblemList::from)?;
    json::tree(source)
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

fn refuse_non_json(source: &Source) -> Result<(), Problem> {
    let error = match serde_json::from_str::<IgnoredAny>(source.text()) {
        Ok(_) => return Ok(()),
        Err(error) => error,
    };
    let at = byte_of(source.text(), error.line(), error.column());
    let text = error.to_string();
    let said = text.split(" at line ").next().unwrap_or(&text);
    let fault = if source.text().trim().is_empty() {
        Fault::Empty
    } else {
        json_fault(said)
    };
    // What is JSON by the name of its file may be YAML all the same; a line of a stream cannot.
    let help = if Syntax::of_name(source.name()) == Syntax::Json {
        "correct it there; if it is YAML, give the file a name that ends in `.yaml`"
    } else {
        "correct it there"
    };
    let span = Span { start: at, end: at };
    let message = format!("not JSON: {said}");
    Err(Problem::at(source, fault, span, message, help))
}

/// The byte at a line and a column as `serde_json` counts them: lines by LF alone, columns in bytes.
fn byte_of(text: &str, line: usize, column: usize) -> usize {
    let start: usize = text
        .split_inclusive('\n')
        .take(line.saturating_sub(1))
        .map(str::len)
        .sum();
    let at = (start + column.saturating_sub(1)).min(text.len());
    (0..=at)
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0)
}

fn json_fault(said: &str) -> Fault {
    if said.contains("recursion limit") {
        Fault::TooDeep
    } else if said.contains("number out of range") {
        Fault::NotFinite
    } else {
        Fault::Syntax
    }
}

#[cfg(test)]
mod tests;
