//! What a form makes of one report, one file or one ruleset.

use super::form::Form;
use super::of_ruleset::OfRuleset;
use super::sarif::{self, Besides};
use super::{annotations, junit, markdown, rows};
use crate::check::Report;
use crate::document::{Problem, Source};
use crate::facts::Notice;
use crate::ruleset::Rules;

/// What a form makes of one thing, and what of it stands elsewhere in the document.
#[derive(Debug)]
pub struct Piece {
    pub(super) written: String,
    pub(super) besides: Besides,
    pub(super) notice: Vec<Notice>,
}

impl Piece {
    /// Of a report by these rules. The text that the proposal was read from tells where values end.
    #[must_use]
    pub fn of_report(form: Form, report: &Report, rules: &Rules, text: Option<&Source>) -> Self {
        let mut besides = Besides::default();
        let written = match form {
            Form::Sarif => sarif::of_report(report, rules, text, &mut besides),
            Form::Junit => junit::of_report(report, rules),
            Form::Csv => rows::of_report(report),
            Form::Markdown => markdown::of_report(report),
            Form::Annotations => annotations::of_report(report),
        };
        Self::new(written, besides, &report.notice)
    }

    /// Of a proposal, or of the rules themselves, that cannot be used. It is told with the notice of
    /// the rules.
    #[must_use]
    pub fn of_unusable(form: Form, name: &str, problems: &[Problem], notice: &[Notice]) -> Self {
        let mut besides = Besides::default();
        let written = match form {
            Form::Sarif => sarif::of_unusable(name, problems, &mut besides),
            Form::Junit => junit::of_unusable(name, problems, notice),
            Form::Csv => rows::of_unusable(name, problems),
            Form::Markdown => markdown::of_unusable(name, problems),
            Form::Annotations => annotations::of_problems(name, problems),
        };
        Self::new(written, besides, notice)
    }

    /// Of a ruleset that was vetted, or whose cases were run.
    #[must_use]
    pub fn of_ruleset(form: Form, found: OfRuleset<'_>) -> Self {
        let mut besides = Besides::default();
        let written = match form {
            Form::Sarif => sarif::of_ruleset(found, &mut besides),
            Form::Junit => junit::of_ruleset(found),
            Form::Csv => rows::of_ruleset(found),
            Form::Markdown => markdown::of_ruleset(found),
            Form::Annotations => annotations::of_ruleset(found),
        };
        Self::new(written, besides, found.notice)
    }

    fn new(written: String, besides: Besides, notice: &[Notice]) -> Self {
        let notice = notice.to_vec();
        Self {
            written,
            besides,
            notice,
        }
    }
}
