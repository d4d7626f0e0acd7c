//! Tokens to a tree, by precedence: `or`, `and`, `not`, comparison, sum, product, sign, primary.

use std::ops::Range;

use super::fault::FormulaFault;
use super::token::{Token, TokenKind, tokens};
use super::tree::{Comparison, Folding, Form, Function, Tree};
use crate::bounds::MOST_NESTING;
use crate::document::Fault;

/// Reads a formula.
///
/// # Errors
///
/// The first fault, with the bytes of the text it stands at. What stands after it is not looked at:
/// where a text cannot be read, it could only be guessed what is meant by the rest. A formula that
/// can be read is told all its faults when it is resolved.
pub fn parse(text: &str) -> Result<Tree, FormulaFault> {
    let tokens = tokens(text)?;
    let mut parser = Parser {
        tokens: &tokens,
        at: 0,
        depth: 0,
        end: text.len(),
    };
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

struct Parser<'t> {
    tokens: &'t [Token],
    at: usize,
    depth: usize,
    end: usize,
}

type Parsed = Result<Tree, FormulaFault>;

impl<'t> Parser<'t> {
    fn peek(&self) -> Option<&'t Token> {
        self.tokens.get(self.at)
    }

    fn next_is_symbol(&self, symbol: &str) -> bool {
        matches!(self.peek(), Some(Token { kind: TokenKind::Symbol(found), .. }) if *found == symbol)
    }

    fn next_is_word(&self, word: &str) -> bool {
        self.word_ahead(0) == Some(word)
    }

    fn word_ahead(&self, ahead: usize) -> Option<&'t str> {
        match self.tokens.get(self.at + ahead) {
            Some(Token {
                kind: TokenKind::Word(word),
                ..
            }) => Some(word),
            _ => None,
        }
    }

    fn symbol_ahead(&self, ahead: usize) -> Option<&'static str> {
        match self.tokens.get(self.at + ahead) {
            Some(Token {
                kind: TokenKind::Symbol(symbol),
                ..
            }) => Some(symbol),
            _ => None,
        }
    }

    fn take_symbol(&mut self, symbol: &str) -> bool {
        let found = self.next_is_symbol(symbol);
        self.at += usize::from(found);
        found
    }

    fn take_word(&mut self, word: &str) -> bool {
        let found = self.next_is_word(word);
        self.at += usize::from(found);
        found
    }

    fn need_symbol(&mut self, symbol: &str) -> Result<(), FormulaFault> {
        if self.take_symbol(symbol) {
            Ok(())
        } else {
            Err(self.missing(&format!("`{symbol}`")))
        }
    }

    fn need_word(&mut self, word: &str) -> Result<(), FormulaFault> {
        if self.take_word(word) {
            Ok(())
        } else {
            Err(self.missing(&format!("`{word}`")))
        }
    }

    fn here(&self) -> Range<usize> {
        self.peek()
            .map_or(self.end..self.end, |token| token.span.clone())
    }

    fn start(&self) -> usize {
        self.here().start
    }

    fn last_end(&self) -> usize {
        let last = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        last.map_or(0, |token| token.span.end)
    }

    fn missing(&self, what: &str) -> FormulaFault {
        let message = if self.peek().is_none() {
            format!("the formula ends where {what} should stand")
        } else {
            format!("{what} should stand here")
        };
        FormulaFault::new(
            Fault::Syntax,
            self.here(),
            message,
            "a formula is written as `subject.fact >= limit.name and subject.other == word`",
        )
    }

    fn unexpected(&self, token: &Token) -> FormulaFault {
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
                "a sign or `and` or `or` should stand before it",
            ),
            TokenKind::Number { .. } => (
                Fault::Syntax,
                "a number does not fit here".to_owned(),
                "a sign should stand before it",
            ),
        };
        FormulaFault::new(fault, token.span.clone(), message, help)
    }

    /// Runs a rule one level deeper.
    fn deeper(&mut self, rule: impl FnOnce(&mut Self) -> Parsed) -> Parsed {
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

    fn tree(&self, start: usize, form: Form) -> Tree {
        Tree {
            form,
            span: start..self.last_end(),
        }
    }

    fn or(&mut self) -> Parsed {
        let start = self.start();
        let first = self.and()?;
        let mut parts = vec![first];
        while self.take_word("or") {
            parts.push(self.and()?);
        }
        Ok(self.joined(start, parts, Form::Or))
    }

    fn and(&mut self) -> Parsed {
        let start = self.start();
        let first = self.not()?;
        let mut parts = vec![first];
        while self.take_word("and") {
            parts.push(self.not()?);
        }
        Ok(self.joined(start, parts, Form::And))
    }

    fn joined(&self, start: usize, mut parts: Vec<Tree>, form: fn(Vec<Tree>) -> Form) -> Tree {
        match (parts.len(), parts.pop()) {
            (1, Some(only)) => only,
            (_, last) => {
                parts.extend(last);
                self.tree(start, form(parts))
            }
        }
    }

    fn not(&mut self) -> Parsed {
        let start = self.start();
        if !self.take_word("not") {
            return self.relation();
        }
        let inner = self.deeper(Self::not)?;
        Ok(self.tree(start, Form::Not(Box::new(inner))))
    }

    fn relation(&mut self) -> Parsed {
        let start = self.start();
        let left = self.sum()?;
        if let Some(comparison) = self.symbol_ahead(0).and_then(comparison) {
            self.at += 1;
            let right = self.sum()?;
            return Ok(self.tree(
                start,
                Form::Compare(comparison, Box::new(left), Box::new(right)),
            ));
        }
        if self.take_word("in") {
            let options = self.options()?;
            return Ok(self.tree(start, Form::In(Box::new(left), options)));
        }
        if self.take_word("is") {
            self.need_word("known")?;
            return Ok(self.tree(start, Form::Known(Box::new(left))));
        }
        Ok(left)
    }

    fn options(&mut self) -> Result<Vec<(String, Range<usize>)>, FormulaFault> {
        self.need_symbol("[")?;
        let mut options = Vec::new();
        loop {
            let span = self.here();
            let Some(word) = self.word_ahead(0) else {
                return Err(self.missing("an option"));
            };
            self.at += 1;
            options.push((word.to_owned(), span));
            if !self.take_symbol(",") {
                break;
            }
        }
        self.need_symbol("]")?;
        Ok(options)
    }

    fn sum(&mut self) -> Parsed {
        let start = self.start();
        let mut terms = vec![(false, self.product()?)];
        while let Some(sign @ ("+" | "-")) = self.symbol_ahead(0) {
            self.at += 1;
            terms.push((sign == "-", self.product()?));
        }
        Ok(self.chained(start, terms, Form::Sum))
    }

    fn product(&mut self) -> Parsed {
        let start = self.start();
        let mut factors = vec![(false, self.sign()?)];
        while let Some(sign @ ("*" | "/")) = self.symbol_ahead(0) {
            self.at += 1;
            factors.push((sign == "/", self.sign()?));
        }
        Ok(self.chained(start, factors, Form::Product))
    }

    fn chained(
        &self,
        start: usize,
        mut parts: Vec<(bool, Tree)>,
        form: fn(Vec<(bool, Tree)>) -> Form,
    ) -> Tree {
        match (parts.len(), parts.pop()) {
            (1, Some((_, only))) => only,
            (_, last) => {
                parts.extend(last);
                self.tree(start, form(parts))
            }
        }
    }

    fn sign(&mut self) -> Parsed {
        let start = self.start();
        if !self.take_symbol("-") {
            return self.primary();
        }
        // A sign before a number belongs to it, so that `-10 degC` is a temperature.
        if let Some(Token {
            kind: TokenKind::Number { value, unit },
            ..
        }) = self.peek()
        {
            self.at += 1;
            return Ok(self.tree(
                start,
                Form::Number {
                    value: -value,
                    unit: *unit,
                },
            ));
        }
        let inner = self.deeper(Self::sign)?;
        Ok(self.tree(start, Form::Negative(Box::new(inner))))
    }

    fn primary(&mut self) -> Parsed {
        let Some(token) = self.peek() else {
            return Err(self.missing("a value"));
        };
        let span = token.span.clone();
        let form = match &token.kind {
            TokenKind::Number { value, unit } => Form::Number {
                value: *value,
                unit: *unit,
            },
            TokenKind::Name { subject, word } => Form::Name {
                subject: subject.clone(),
                word: word.clone(),
            },
            TokenKind::Word(word) => return self.word(word),
            TokenKind::Symbol("(") => return self.parenthesis(),
            TokenKind::Symbol(_) => return Err(self.missing("a value")),
        };
        self.at += 1;
        Ok(Tree { form, span })
    }

    fn parenthesis(&mut self) -> Parsed {
        self.need_symbol("(")?;
        let inner = self.deeper(Self::or)?;
        self.need_symbol(")")?;
        Ok(inner)
    }

    fn word(&mut self, word: &'t str) -> Parsed {
        let start = self.start();
        if let Some(folding) = folding(word).filter(|_| self.word_ahead(1) == Some("of")) {
            return self.fold(start, folding);
        }
        if let Some(function) = function(word).filter(|_| self.symbol_ahead(1) == Some("(")) {
            return self.call(start, function);
        }
        match word {
            "count" if self.word_ahead(1) == Some("of") => self.count(start),
            "every" | "any" if self.word_ahead(2) == Some("has") => {
                self.quantified(start, word == "every")
            }
            "and" | "or" | "not" | "in" | "is" | "where" | "has" | "of" => {
                Err(self.missing("a value"))
            }
            _ => {
                self.at += 1;
                let form = match word {
                    "yes" => Form::YesNo(true),
                    "no" => Form::YesNo(false),
                    other => Form::Word(other.to_owned()),
                };
                Ok(self.tree(start, form))
            }
        }
    }

    fn fold(&mut self, start: usize, folding: Folding) -> Parsed {
        self.at += 2;
        let named = matches!(
            self.peek(),
            Some(Token {
                kind: TokenKind::Name { .. } | TokenKind::Symbol("("),
                ..
            })
        );
        if !named {
            return Err(self.missing("a name, or a formula in parentheses,"));
        }
        let body = self.primary()?;
        Ok(self.tree(start, Form::Fold(folding, Box::new(body))))
    }

    fn call(&mut self, start: usize, function: Function) -> Parsed {
        self.at += 2;
        let mut arguments = vec![self.deeper(Self::or)?];
        while self.take_symbol(",") {
            arguments.push(self.deeper(Self::or)?);
        }
        self.need_symbol(")")?;
        let tree = self.tree(start, Form::Call(function, arguments));
        let fits = matches!(&tree.form, Form::Call(_, given) if (function == Function::Abs) == (given.len() == 1));
        if fits {
            Ok(tree)
        } else {
            Err(wrong_count(function, tree.span))
        }
    }

    fn count(&mut self, start: usize) -> Parsed {
        self.at += 2;
        let span = self.here();
        let Some(plural) = self.word_ahead(0) else {
            return Err(self.missing("the plural name of a subject"));
        };
        self.at += 1;
        self.need_word("where")?;
        let body = self.deeper(Self::not)?;
        Ok(self.tree(
            start,
            Form::Count((plural.to_owned(), span), Box::new(body)),
        ))
    }

    fn quantified(&mut self, start: usize, every: bool) -> Parsed {
        self.at += 1;
        let subject = (
            self.word_ahead(0).unwrap_or_default().to_owned(),
            self.here(),
        );
        self.at += 2;
        let body = Box::new(self.deeper(Self::not)?);
        Ok(self.tree(
            start,
            if every {
                Form::Every(subject, body)
            } else {
                Form::Any(subject, body)
            },
        ))
    }
}

fn wrong_count(function: Function, span: Range<usize>) -> FormulaFault {
    let message = match function {
        Function::Abs => "`abs` takes one value",
        Function::Min | Function::Max => "`min` and `max` compare at least two values",
    };
    FormulaFault::new(
        Fault::Syntax,
        span,
        message,
        "over many, write `max of subject.fact`",
    )
}

fn comparison(symbol: &str) -> Option<Comparison> {
    Some(match symbol {
        "<" => Comparison::Below,
        "<=" => Comparison::AtMost,
        ">" => Comparison::Above,
        ">=" => Comparison::AtLeast,
        "==" => Comparison::Equal,
        "!=" => Comparison::NotEqual,
        _ => return None,
    })
}

fn folding(word: &str) -> Option<Folding> {
    Some(match word {
        "min" => Folding::Min,
        "max" => Folding::Max,
        "sum" => Folding::Sum,
        "mean" => Folding::Mean,
        "spread" => Folding::Spread,
        "distinct" => Folding::Distinct,
        _ => return None,
    })
}

fn function(word: &str) -> Option<Function> {
    Some(match word {
        "min" => Function::Min,
        "max" => Function::Max,
        "abs" => Function::Abs,
        _ => return None,
    })
}

#[cfg(test)]
mod tests;
