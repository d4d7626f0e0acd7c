//! The text of a ruleset to a layer. Nothing is shown of a text that another ruleset extends and
//! that is no ruleset itself: the author of `extends` may not be allowed to read it.

use std::sync::Arc;

use super::layer::read_layer;
use super::shipped::read_shipped;
use crate::document::{
    Content, Fault, Node, Problem, ProblemList, SetAside, Source, Span, Syntax, read_on, source,
};
use crate::ruleset::layer::{Examples, Layer};
use crate::ruleset::library::Text;
use crate::ruleset::reserved::Reserved;

/// Reads a text that was asked for, or that another ruleset extends. Its examples may be left out.
///
/// # Errors
///
/// Every problem that keeps the text as a whole from being read.
pub(in crate::ruleset) fn read_text(
    text: Text,
    extended: bool,
    examples: Examples,
    reserved: Reserved,
) -> Result<(Layer, SetAside), ProblemList> {
    if let Some(read) = read_shipped(&text.name, &text.bytes, examples, reserved) {
        return Ok(read);
    }
    let hidden = |problems: ProblemList, known: bool| {
        if extended && !known {
            without_text(problems)
        } else {
            problems
        }
    };
    let syntax = Syntax::of_name(&text.name);
    let source = Arc::new(
        source(&text.name, text.bytes.into_owned()).map_err(|problems| hidden(problems, false))?,
    );
    let (tree, found) =
        read_on(&source, syntax).map_err(|problems| hidden(problems, seems_a_ruleset(&source)))?;
    let known = names_itself(&tree);
    if extended && !known {
        return Err(no_ruleset(&source, &tree).into());
    }
    read_layer(Arc::clone(&source), (&tree, found), reserved)
}

/// Whether a document says that it is a ruleset.
fn names_itself(tree: &Node<'_>) -> bool {
    matches!(&tree.content, Content::Map(entries) if entries.iter().any(|entry| entry.key == "ruleset"))
}

/// Whether a text that cannot be read looks like a ruleset: it has the key, as YAML or JSON write
/// it.
fn seems_a_ruleset(source: &Source) -> bool {
    source
        .text()
        .lines()
        .any(|line| line.starts_with("ruleset:"))
        || source.text().contains("\"ruleset\"")
}

fn no_ruleset(source: &Source, tree: &Node<'_>) -> Problem {
    let fault = match tree.content {
        Content::Map(_) => Fault::MissingKey,
        _ => Fault::WrongShape,
    };
    let start = Span {
        start: tree.span.start,
        end: tree.span.start,
    };
    hide(Problem::at(source, fault, start, "", ""))
}

/// The first problem, without any of the text. What is said of a whole file shows none of it.
fn without_text(problems: ProblemList) -> ProblemList {
    let first = problems.into_iter().take(1);
    first
        .map(|problem| {
            if problem.place.is_some() {
                hide(problem)
            } else {
                problem
            }
        })
        .collect()
}

fn hide(problem: Problem) -> Problem {
    Problem {
        message: format!("this is no ruleset ({})", problem.fault.code()),
        help: Some(
            "check the path in `extends`; its text is shown only if it is vetted by itself"
                .to_owned(),
        ),
        line: Box::default(),
        line_column: 1,
        width: 1,
        ..problem
    }
}
