//! The place in the tokens of a formula: what is ahead, what is taken, and the faults that name what
//! is missing or does not fit.

use std::ops::Range;

use super::names::comparison;
use crate::bounds::MOST_NESTING;
use crate::document::Fault;
use crate::formula::fault::FormulaFault;
use crate::formula::token::{Token, TokenKind};
use crate::formula::tree::{Form, Tree};

/// Reads tokens one after the other. The rules of the grammar are in files of their own.
pub(super) struct Parser<'t> {
    tokens: &'t [Token<'t>],
    at: usize,
    depth: usize,
    end: usize,
}

pub(super) type Parsed = Result<Tree, FormulaFault>;

impl<'t> Parser<'t> {
    pub(super) const fn new(tokens: &'t [Token<'t>], end: usize) -> Self {
        Self {
            tokens,
            at: 0,
            depth: 0,
            end,
        }
    }

    /// Goes on by so many tokens, which were looked at before.
    pub(super) const fn skip(&mut self, tokens: usize) {
        self.at += tokens;
    }

    pub(super) fn peek(&self) -> Option<&'t Token<'t>> {
        self.tokens.get(self.at)
    }

    fn next_is_symbol(&self, symbol: &str) -> bool {
        matches!(self.peek(), Some(Token { kind: TokenKind::Symbol(found), .. }) if *found == symbol)
    }

    fn next_is_word(&self, word: &str) -> bool {
        self.word_ahead(0) == Some(word)
    }

    pub(super) fn word_ahead(&self, ahead: usize) -> Option<&'t str> {
        match self.tokens.get(self.at + ahead) {
            Some(Token {
                kind: TokenKind::Word(word),
                ..
            }) => Some(word),
            _ => None,
        }
    }

    pub(super) fn symbol_ahead(&self, ahead: usize) -> Option<&'static str> {
        match self.tokens.get(self.at + ahead) {
            Some(Token {
                kind: TokenKind::Symbol(symbol),
                ..
            }) => Some(symbol),
            _ => None,
        }
    }

    pub(super) fn take_symbol(&mut self, symbol: &str) -> bool {
        let found = self.next_is_symbol(symbol);
        self.at += usize::from(found);
        found
    }

    pub(super) fn take_word(&mut self, word: &str) -> bool {
        let found = self.next_is_word(word);
        self.at += usize::from(found);
        found
    }

    pub(super) fn need_symbol(&mut self, symbol: &str) -> Result<(), FormulaFault> {
        if self.take_symbol(symbol) {
            Ok(())
        } else {
            Err(self.missing(&format!("`{symbol}`")))
        }
    }

    pub(super) fn need_word(&mut self, word: &str) -> Result<(), FormulaFault> {
        if self.take_word(word) {
            Ok(())
        } else {
            Err(self.missing(&format!("`{word}`")))
        }
    }

    pub(super) fn here(&self) -> Range<usize> {
        self.peek()
            .map_or(self.end..self.end, |token| token.span.clone())
    }

    pub(super) fn start(&self) -> usize {
        self.here().start
    }

    pub(super) fn last_end(&self) -> usize {
        let last = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        last.map_or(0, |token| token.span.end)
    }

    pub(super) fn missing(&self, what: &str) -> FormulaFault {
        let message = if self.peek().is_none() {
            format!("the formula ends where {what} is expected")
        } else {
            format!("{what} is expected here")
        };
        FormulaFault::new(
            Fault::Syntax,
            self.here(),
            message,
            "a formula is written as `subject.fact >= limit.name and subject.other == word`",
        )
    }

    pub(super) fn unexpected(&self, token: &Token<'_>) -> FormulaFault {
        let (fault, message, help) = match &token.kind {
            TokenKind::Symbol(symbol) if comparison(symbol).is_some() => (
                Fault::ChainedComparison,
                "comparisons do not chain".to_owned(),
                "join two comparisons with `and`",
            ),
            TokenKind::Symbol(symbol) => (
                Fault::Syntax,
                format!("`{symbol}` does not fit here"),
                "look for a parenthesis or a value that is missing",
            ),
            TokenKind::Word(word) => (
                Fault::Syntax,
                format!("`{word}` does not fit here"),
                "join conditions with `and` or `or`",
            ),
            TokenKind::Name { subject, word } => (
                Fault::Syntax,
                format!("`{subject}.{word}` does not fit here"),
                "put an operator such as `+` or `>=`, or `and` or `or`, before it",
            ),
            TokenKind::Number { .. } => (
                Fault::Syntax,
                "a number does not fit here".to_owned(),
                "put an operator such as `+` or `>=` before it",
            ),
        };
        FormulaFault::new(fault, token.span.clone(), message, help)
    }

    /// Runs a rule one level deeper.
    pub(super) fn deeper(&mut self, rule: impl FnOnce(&mut Self) -> Parsed) -> Parsed {
        if self.depth == MOST_NESTING {
            let message = format!("parentheses, signs or `not` nest deeper than {MOST_NESTING}");
            return Err(FormulaFault::new(
                Fault::TooDeep,
                self.here(),
                message,
                "split the formula into figures",
            ));
        }
        self.depth += 1;
        let tree = rule(self);
        self.depth -= 1;
        tree
    }

    pub(super) fn tree(&self, start: usize, form: Form) -> Tree {
        Tree {
            form,
            span: start..self.last_end(),
        }
    }
}
