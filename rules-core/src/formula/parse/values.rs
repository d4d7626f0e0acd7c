//! The rules of values: sum, product, sign, primary, and what begins with a word.

use std::ops::Range;

use super::cursor::{Parsed, Parser};
use super::names::{folding, function};
use crate::document::Fault;
use crate::formula::fault::FormulaFault;
use crate::formula::token::{Token, TokenKind};
use crate::formula::tree::{Folding, Form, Function, Tree};

impl<'t> Parser<'t> {
    pub(super) fn sum(&mut self) -> Parsed {
        let start = self.start();
        let first = self.product()?;
        let mut others = Vec::new();
        while let Some(sign @ ("+" | "-")) = self.symbol_ahead(0) {
            self.skip(1);
            others.push((sign == "-", self.product()?));
        }
        Ok(self.chained(start, first, others, Form::Sum))
    }

    fn product(&mut self) -> Parsed {
        let start = self.start();
        let first = self.sign()?;
        let mut others = Vec::new();
        while let Some(sign @ ("*" | "/")) = self.symbol_ahead(0) {
            self.skip(1);
            others.push((sign == "/", self.sign()?));
        }
        Ok(self.chained(start, first, others, Form::Product))
    }

    fn chained(
        &self,
        start: usize,
        first: Tree,
        mut others: Vec<(bool, Tree)>,
        form: fn(Vec<(bool, Tree)>) -> Form,
    ) -> Tree {
        if others.is_empty() {
            return first;
        }
        others.insert(0, (false, first));
        self.tree(start, form(others))
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
            self.skip(1);
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
                subject: (*subject).to_owned(),
                word: (*word).to_owned(),
            },
            TokenKind::Word(word) => return self.word(word),
            TokenKind::Symbol("(") => return self.parenthesis(),
            TokenKind::Symbol(_) => return Err(self.missing("a value")),
        };
        self.skip(1);
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
                self.skip(1);
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
        self.skip(2);
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
        self.skip(2);
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
        self.skip(2);
        let span = self.here();
        let Some(plural) = self.word_ahead(0) else {
            return Err(self.missing("the plural name of a subject"));
        };
        self.skip(1);
        self.need_word("where")?;
        let body = self.deeper(Self::not)?;
        Ok(self.tree(
            start,
            Form::Count((plural.to_owned(), span), Box::new(body)),
        ))
    }

    fn quantified(&mut self, start: usize, every: bool) -> Parsed {
        self.skip(1);
        let subject = (
            self.word_ahead(0).unwrap_or_default().to_owned(),
            self.here(),
        );
        self.skip(2);
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
        "for many values, write `max of subject.fact`",
    )
}
