//! The rules of conditions, by precedence: `or`, `and`, `not`, comparison.

use std::ops::Range;

use super::cursor::{Parsed, Parser};
use super::names::comparison;
use crate::formula::fault::FormulaFault;
use crate::formula::tree::{Form, Tree};

impl Parser<'_> {
    pub(super) fn or(&mut self) -> Parsed {
        let start = self.start();
        let first = self.and()?;
        let mut others = Vec::new();
        while self.take_word("or") {
            others.push(self.and()?);
        }
        Ok(self.joined(start, first, others, Form::Or))
    }

    fn and(&mut self) -> Parsed {
        let start = self.start();
        let first = self.not()?;
        let mut others = Vec::new();
        while self.take_word("and") {
            others.push(self.not()?);
        }
        Ok(self.joined(start, first, others, Form::And))
    }

    fn joined(
        &self,
        start: usize,
        first: Tree,
        mut others: Vec<Tree>,
        form: fn(Vec<Tree>) -> Form,
    ) -> Tree {
        if others.is_empty() {
            return first;
        }
        others.insert(0, first);
        self.tree(start, form(others))
    }

    pub(super) fn not(&mut self) -> Parsed {
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
            self.skip(1);
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
            self.skip(1);
            options.push((word.to_owned(), span));
            if !self.take_symbol(",") {
                break;
            }
        }
        self.need_symbol("]")?;
        Ok(options)
    }
}
