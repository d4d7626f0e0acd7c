//! Changing a document where it is written: comments, order and everything that is not meant stay.
//!
//! One thing is changed at a time and the text is read again, until it says what it is to say. At the
//! end all of it is compared: a text that says anything else, or lost a comment, is never given.

mod edit;
mod lines;
mod scan;
#[cfg(test)]
mod tests;

use rules_core::document::{Fault, Problem, ProblemList, Syntax, read, source};
use rulesets::bench::value;
use serde_json::Value;

use self::edit::{Document, edit};

/// So many changes are made at once.
const MOST_CHANGES: usize = 2_000;

/// The text of a document that says another value, changed where that differs.
///
/// # Errors
///
/// A text that is no document; a change that cannot be made in place.
pub(super) fn changed(text: &str, syntax: Syntax, wanted: &Value) -> Result<String, ProblemList> {
    let comments: Vec<String> = scan::comments(text)
        .into_iter()
        .map(str::to_owned)
        .collect();
    let mut text = text.to_owned();
    for _ in 0..MOST_CHANGES {
        let own = source("", text.clone().into())?;
        let tree = read(&own, syntax)?;
        let said = value(&tree);
        if said == *wanted {
            return match scan::comments(&text) == comments {
                true => Ok(text),
                false => Err(cannot("a comment would be lost").into()),
            };
        }
        let document = Document {
            text: &text,
            syntax,
        };
        let Some(one) = edit(&document, &tree, wanted) else {
            return Err(cannot("what changes is not written on lines of its own").into());
        };
        text.replace_range(one.at, &one.with);
    }
    Err(cannot("there is too much to change").into())
}

fn cannot(why: &str) -> Problem {
    let message = format!("it cannot be changed where it is written: {why}");
    let help = "nothing was written; save it under another name, which keeps no comments";
    Problem::of_file(Fault::Unreadable, message, help)
}
