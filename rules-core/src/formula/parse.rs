//! Tokens to a tree, by precedence: `or`, `and`, `not`, comparison, sum, product, sign, primary.

mod conditions;
mod cursor;
mod names;
mod values;

use super::fault::FormulaFault;
use super::token::tokens;
use super::tree::{Form, Tree};
use crate::bounds::MOST_CHARACTERS;
use crate::document::Fault;
use cursor::Parser;

/// Reads a formula.
///
/// # Errors
///
/// The first fault, with the bytes of the text where it is. The text after it is not read: what it
/// means could only be guessed. All faults of a formula that can be read are reported when it is
/// resolved.
pub fn parse(text: &str) -> Result<Tree, FormulaFault> {
    if let Some(name) = lone_name(text) {
        return Ok(name);
    }
    let tokens = tokens(text)?;
    let mut parser = Parser::new(&tokens, text.len());
    if parser.peek().is_none() {
        return Err(FormulaFault::new(
            Fault::Syntax,
            0..text.len(),
            "there is no formula here",
            "write one, such as `subject.fact >= limit.name`",
        ));
    }
    let tree = parser.or()?;
    match parser.peek() {
        None => Ok(tree),
        Some(token) => Err(parser.unexpected(token)),
    }
}

/// A name and nothing else, as most placeholders of texts are: it needs no parser.
fn lone_name(text: &str) -> Option<Tree> {
    let (subject, word) = text.split_once('.')?;
    let plain = |part: &str| {
        part.starts_with(|first: char| first.is_ascii_alphabetic())
            && part
                .bytes()
                .all(|byte| byte.is_ascii_alphanumeric() || byte == b'_')
    };
    (plain(subject) && plain(word) && text.len() <= MOST_CHARACTERS).then(|| Tree {
        form: Form::Name {
            subject: subject.to_owned(),
            word: word.to_owned(),
        },
        span: 0..text.len(),
    })
}

#[cfg(test)]
mod tests;
