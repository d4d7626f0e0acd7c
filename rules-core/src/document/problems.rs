//! Collecting the problems of one source text.

use std::ops::Range;

use super::fault::Fault;
use super::node::Node;
use super::problem::{Problem, Severity, problem_at};
use super::problem_list::ProblemList;
use super::source::{Source, Span};
use super::suggestions::Suggestions;
use crate::bounds::MOST_PROBLEMS;

/// Collects the problems of one source text.
#[derive(Debug)]
pub struct Problems<'s> {
    source: &'s Source,
    found: Vec<Problem>,
    more: usize,
    suggestions: Suggestions,
}

/// What was found in a source so far, set aside until it is looked at again.
#[derive(Debug, Clone, Default)]
pub struct SetAside {
    problems: Vec<Problem>,
    more: usize,
    suggestions: Suggestions,
}

impl<'s> Problems<'s> {
    /// No problems yet.
    #[must_use]
    pub fn new(source: &'s Source) -> Self {
        Self {
            source,
            found: Vec::new(),
            more: 0,
            suggestions: Suggestions::default(),
        }
    }

    /// Goes on from what was found in the same source before: the bounds are those of the file, not
    /// of each look at it.
    #[must_use]
    pub fn resumed(source: &'s Source, found: SetAside) -> Self {
        Self {
            source,
            found: found.problems,
            more: found.more,
            suggestions: found.suggestions,
        }
    }

    /// What was found so far, without its source.
    #[must_use]
    pub fn set_aside(self) -> SetAside {
        SetAside {
            problems: self.found,
            more: self.more,
            suggestions: self.suggestions,
        }
    }

    /// The text the problems are about.
    #[must_use]
    pub fn source(&self) -> &'s Source {
        self.source
    }

    /// The known word that may have been meant by an unknown one, if there is time left to look. None
    /// where it would not be told.
    #[must_use]
    pub fn near<'k>(
        &self,
        word: &str,
        known: impl IntoIterator<Item = &'k str>,
    ) -> Option<&'k str> {
        if self.is_full() {
            return None;
        }
        self.suggestions.near(word, known)
    }

    /// Adds an error at a stretch of the text.
    pub fn add(
        &mut self,
        fault: Fault,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.keep(Severity::Error, fault, span, message.into(), help.into());
    }

    /// Adds advice at a stretch of the text.
    pub fn advise(
        &mut self,
        fault: Fault,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.keep(Severity::Advice, fault, span, message.into(), help.into());
    }

    /// Adds an error at bytes `range` of a scalar's text.
    pub fn add_within(
        &mut self,
        fault: Fault,
        node: &Node<'_>,
        range: Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        // Of one that is only counted the place is not looked for.
        let span = if self.is_full() {
            node.span
        } else {
            node.span_within(self.source, range.start, range.end)
        };
        self.add(fault, span, message, help);
    }

    /// Whether further problems are only counted: nobody reads what they would say.
    #[must_use]
    pub const fn is_full(&self) -> bool {
        self.found.len() >= MOST_PROBLEMS
    }

    fn keep(
        &mut self,
        severity: Severity,
        fault: Fault,
        span: Span,
        message: String,
        help: String,
    ) {
        if self.is_full() {
            self.more += 1;
        } else {
            self.found.push(problem_at(
                self.source,
                severity,
                fault,
                span,
                message,
                help,
            ));
        }
    }

    /// Adds a problem of this source that was made elsewhere.
    pub(super) fn take(&mut self, problem: Problem) {
        if self.is_full() {
            self.more += 1;
        } else {
            self.found.push(problem);
        }
    }

    /// Whether nothing was found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// How many were found.
    #[must_use]
    pub fn len(&self) -> usize {
        self.found.len()
    }

    /// What was found, in the order of the text.
    #[must_use]
    pub fn finish(mut self) -> ProblemList {
        self.found.sort_by(|a, b| a.place.cmp(&b.place));
        if self.more > 0 {
            let message = format!("`{}` has {} more problems", self.source.name(), self.more);
            self.found.push(Problem::of_file(
                Fault::TooLarge,
                message,
                "correct these first",
            ));
        }
        self.found.into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_to_make_a_problem_bounds_its_words() {
        let long = "x".repeat(5000);
        let source = Source::new("a.yaml", long.clone());
        let span = Span {
            start: 0,
            end: 5000,
        };
        let mut collected = Problems::new(&source);
        collected.add(Fault::Syntax, span, long.clone(), long.clone());
        collected.advise(Fault::Syntax, span, long.clone(), long.clone());
        let mut all = collected.finish().into_vec();
        all.push(Problem::at(
            &source,
            Fault::Syntax,
            span,
            long.clone(),
            long.clone(),
        ));
        all.push(Problem::of_file(Fault::Syntax, long.clone(), long.clone()));
        for problem in all {
            let help = problem.help.unwrap_or_default();
            assert_eq!((problem.message.len(), help.len()), (405, 1004));
        }
    }

    /// Of what is only counted nobody learns what was meant.
    #[test]
    fn nothing_is_looked_for_that_is_not_told() {
        let source = Source::new("a.yaml", "x".to_owned());
        let mut problems = Problems::new(&source);
        for _ in 1..MOST_PROBLEMS {
            problems.add(Fault::Syntax, Span::default(), "wrong", "");
        }
        let near = |problems: &Problems<'_>| problems.near("flor", ["floor"]);
        assert_eq!(
            (problems.is_full(), near(&problems)),
            (false, Some("floor"))
        );
        problems.add(Fault::Syntax, Span::default(), "wrong", "");
        assert_eq!((problems.is_full(), near(&problems)), (true, None));
    }

    /// What ends the reading of a file is one of its problems.
    #[test]
    fn problems_made_elsewhere_are_counted_with_the_others() {
        let source = Source::new("a.yaml", "x".to_owned());
        let mut problems = Problems::new(&source);
        for _ in 0..=MOST_PROBLEMS {
            problems.take(Problem::of_file(Fault::Syntax, "wrong", ""));
        }
        let all = problems.finish();
        assert_eq!(all.len(), MOST_PROBLEMS + 1);
        assert!(all.last().unwrap().message.contains("has 1 more problems"));
    }
}
