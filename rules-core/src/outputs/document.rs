//! Pieces put together, one after the other.

use std::collections::BTreeMap;

use super::form::Form;
use super::piece::Piece;
use super::sarif::{self, Besides};
use super::tool::Tool;
use super::{annotations, junit, markdown, rows};
use crate::facts::Notice;

/// A document in the making. What it gives is to be written in that order.
#[derive(Debug)]
pub struct Document<'a> {
    form: Form,
    tool: Tool<'a>,
    has_begun: bool,
    /// Whether anything stands in the list of results, so that a comma comes before what follows.
    has_results: bool,
    besides: Besides,
    notice: BTreeMap<String, Notice>,
}

impl<'a> Document<'a> {
    /// An empty one, with a notice that stands in it whatever comes.
    #[must_use]
    pub fn new(form: Form, tool: Tool<'a>, notice: &[Notice]) -> Self {
        let mut document = Self {
            form,
            tool,
            has_begun: false,
            has_results: false,
            besides: Besides::default(),
            notice: BTreeMap::new(),
        };
        document.take_notice(notice.to_vec());
        document
    }

    /// Takes the next piece, which is of the form of the document; gives what is to be written now.
    pub fn add(&mut self, piece: Piece) -> String {
        let start = self.start();
        self.besides.take(piece.besides);
        self.take_notice(piece.notice);
        let between = match self.form {
            Form::Sarif if self.has_results && !piece.written.is_empty() => ",\n",
            Form::Markdown if self.has_results => "\n",
            _ => "",
        };
        self.has_results |= !piece.written.is_empty();
        format!("{start}{between}{}", piece.written)
    }

    /// The end of the document.
    #[must_use]
    pub fn finish(mut self) -> String {
        let start = self.start();
        let notice: Vec<Notice> = self.notice.into_values().collect();
        let end = match self.form {
            Form::Sarif => sarif::end(self.besides, self.tool, notice),
            Form::Junit => junit::END.to_owned(),
            Form::Csv => rows::notice(&notice),
            Form::Markdown => markdown::notice(&notice),
            Form::Annotations => annotations::notice(&notice),
        };
        start + &end
    }

    fn start(&mut self) -> String {
        if std::mem::replace(&mut self.has_begun, true) {
            return String::new();
        }
        match self.form {
            Form::Sarif => sarif::START.to_owned(),
            Form::Junit => junit::start(self.tool),
            Form::Csv => rows::headings(),
            Form::Markdown | Form::Annotations => String::new(),
        }
    }

    fn take_notice(&mut self, notice: Vec<Notice>) {
        for point in notice {
            self.notice.entry(point.id.clone()).or_insert(point);
        }
    }
}
