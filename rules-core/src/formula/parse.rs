//! Tokens to a tree, by precedence: `or`, `and`, `not`, comparison, sum, product, sign, primary.

mod conditions;
mod cursor;
mod names;
mod values;

use super::fault::FormulaFault;
use super::token::tokens;
use super::tree::Tree;
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

#[cfg(test)]
mod tests;
