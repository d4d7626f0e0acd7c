//! Problems: what is wrong with a document, where, and how to correct it.

use crate::bounds::MOST_PROBLEMS;
use std::fmt;
use std::ops::Range;

use serde::Serialize;

use super::node::Node;
use super::source::{Place, Source, Span};
use super::suggestions::Suggestions;

/// The kinds of fault, one word each, stable for callers and for the conformance files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Fault {
    /// The file cannot be read, is no file, or is not UTF-8.
    Unreadable,
    /// Not YAML, or not JSON where JSON is expected; a formula or an arrangement that cannot be
    /// read.
    Syntax,
    /// Nothing in the document.
    Empty,
    /// More than one document in the file.
    SeveralDocuments,
    /// An anchor, alias, tag or merge key.
    Anchor,
    /// More bytes, nodes or items than the stated bound.
    TooLarge,
    /// Deeper than the stated bound.
    TooDeep,
    /// A key that has no meaning here.
    UnknownKey,
    /// The same key twice in one map.
    RepeatedKey,
    /// A key that must be given.
    MissingKey,
    /// A map where a list belongs, and the like.
    WrongShape,
    /// Not a number.
    BadNumber,
    /// Not finite.
    NotFinite,
    /// A number that needs a unit.
    NoUnit,
    /// A unit nobody knows.
    UnknownUnit,
    /// A unit of another kind than belongs here.
    WrongKind,
    /// An uncertainty that cannot be read.
    BadTolerance,
    /// A range whose low end is above its high end.
    LowAboveHigh,
    /// A value that cannot be, such as a negative capacity.
    OutOfDomain,
    /// Two readings of one thing, or facts in a relation, that cannot all be true.
    Contradiction,
    /// A word that is none of those that may be there: an option, yes or no, a format.
    UnknownOption,
    /// A code that does not follow the standard it is of.
    BadCode,
    /// Parts that do not agree with what they are said to be parts of.
    PartsDisagree,
    /// An identifier with characters it may not have.
    BadName,
    /// A text with a character that does not print.
    BadCharacter,
    /// The name of a shipped ruleset on something else.
    ReservedName,
    /// The same name defined twice.
    DefinedTwice,
    /// A name that nothing defines.
    UnknownName,
    /// A fact or figure that cannot be seen from where the formula is.
    OutOfScope,
    /// Two comparisons in a row.
    ChainedComparison,
    /// A fold inside a fold.
    NestedFold,
    /// Kinds that do not go together.
    KindsDiffer,
    /// A placeholder that names nothing, or a brace without its partner.
    BadPlaceholder,
    /// A ruleset, or a figure, that rests on itself.
    Cycle,
    /// A ruleset that cannot be found.
    UnknownRuleset,
    /// A loosening that gives no reason.
    LooseningWithoutReason,
    /// A change to what a base ruleset fixes.
    Fixed,
    /// A limit or caution with nothing it rests on.
    MissingBasis,
    /// A caution whose condition nothing can meet.
    NeverApplies,
    /// A caution that nothing can fail.
    NeverFails,
    /// A limit used so that its stricter value is easier to keep.
    AgainstStrictness,
    /// A warn rung that asks less than the refuse rung.
    LaxWarning,
    /// An outcome no case shows.
    OutcomeNotShown,
    /// A case that does not give what it expects.
    CaseFails,
    /// A definition nothing uses.
    Unused,
}

impl Fault {
    /// The fault's one word, as in the conformance files.
    #[must_use]
    pub fn word(self) -> String {
        let mut word = String::new();
        for letter in format!("{self:?}").chars() {
            if letter.is_uppercase() && !word.is_empty() {
                word.push('-');
            }
            word.push(letter.to_ascii_lowercase());
        }
        word
    }
}

/// How much a problem weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The document cannot be used.
    Error,
    /// The document works, but vetting finds that something is missing.
    Advice,
}

/// One problem.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// The kind of fault.
    pub fault: Fault,
    /// Whether it stops the document from being used.
    pub severity: Severity,
    /// What is wrong. The user's own words stand in backticks; of very long ones the middle is left
    /// out.
    pub message: String,
    /// What was expected and how to correct it.
    pub help: Option<String>,
    /// Where. None for what concerns a whole file that could not be read.
    pub place: Option<Place>,
    /// The line of the place, as it is in the file; of a very long one, what is near the place.
    pub line: Box<str>,
    /// The column at which `line` starts: 1, unless it was too long.
    pub line_column: usize,
    /// How many characters of the line are meant, at least 1.
    pub width: usize,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}: ")?;
        }
        write!(f, "{}", self.message)?;
        match &self.help {
            Some(help) => write!(f, "; {help}"),
            None => Ok(()),
        }
    }
}

impl std::error::Error for Problem {}

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

/// Characters kept of the start and of the end of a message. It may quote what the user wrote, and
/// what is wrong with that often stands behind it.
const MESSAGE: (usize, usize) = (250, 150);
/// The same of a help, which may list all that could be there.
const HELP: (usize, usize) = (1000, 0);

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

    /// The known word that may have been meant by an unknown one, if there is time left to look.
    #[must_use]
    pub fn near<'k>(
        &self,
        word: &str,
        known: impl IntoIterator<Item = &'k str>,
    ) -> Option<&'k str> {
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

    const fn is_full(&self) -> bool {
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
    pub fn finish(mut self) -> Vec<Problem> {
        self.found.sort_by(|a, b| a.place.cmp(&b.place));
        if self.more > 0 {
            let message = format!("`{}` has {} more problems", self.source.name(), self.more);
            self.found.push(Problem::of_file(
                Fault::TooLarge,
                message,
                "correct these first",
            ));
        }
        self.found
    }
}

fn problem_at(
    source: &Source,
    severity: Severity,
    fault: Fault,
    span: Span,
    message: String,
    help: String,
) -> Problem {
    let place = source.place(span.start);
    let (line, line_column) = source.line_round(span.start);
    let meant = source
        .slice(span)
        .lines()
        .next()
        .unwrap_or("")
        .chars()
        .take(line.len())
        .count();
    let left = line
        .chars()
        .count()
        .saturating_sub(place.column - line_column);
    let (line, width) = (line.into(), meant.clamp(1, left.max(1)));
    Problem {
        fault,
        severity,
        message: shortened(message, MESSAGE),
        help: given(help),
        place: Some(place),
        line,
        line_column,
        width,
    }
}

impl Problem {
    /// A problem of a whole file, without a place in it.
    #[must_use]
    pub fn of_file(fault: Fault, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            fault,
            severity: Severity::Error,
            message: shortened(message.into(), MESSAGE),
            help: given(help.into()),
            place: None,
            line: Box::default(),
            line_column: 1,
            width: 1,
        }
    }

    /// A problem of a whole file, told at its start: of one whose text is not looked at.
    #[must_use]
    pub fn at_start(
        file: &str,
        fault: Fault,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        let place = Place {
            file: file.into(),
            line: 1,
            column: 1,
        };
        Self {
            place: Some(place),
            ..Self::of_file(fault, message, help)
        }
    }

    /// A problem at a stretch of a source text.
    #[must_use]
    pub fn at(
        source: &Source,
        fault: Fault,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        problem_at(
            source,
            Severity::Error,
            fault,
            span,
            message.into(),
            help.into(),
        )
    }
}

/// A help, where there is one.
fn given(help: String) -> Option<String> {
    (!help.is_empty()).then(|| shortened(help, HELP))
}

/// The text with so many characters of its start and of its end, what lies between left out.
fn shortened(text: String, (start, end): (usize, usize)) -> String {
    let Some((head, _)) = text.char_indices().nth(start) else {
        return text;
    };
    let tail = match end.checked_sub(1) {
        Some(last) => text.char_indices().nth_back(last).map_or(0, |(at, _)| at),
        None => text.len(),
    };
    match (text.get(..head), text.get(tail..)) {
        (Some(first), Some(last)) if head < tail => {
            format!("{first} ... {last}").trim_end().to_owned()
        }
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faults_have_plain_words() {
        assert_eq!(Fault::LowAboveHigh.word(), "low-above-high");
        assert_eq!(Fault::Cycle.word(), "cycle");
    }

    /// Characters count, not bytes, and what is cut costs no more than what is left out.
    #[test]
    fn of_a_long_text_the_middle_is_left_out() {
        let cut = |many: usize, kept| shortened("Ω".repeat(many) + "x", kept);
        assert_eq!(cut(4, (3, 2)), "ΩΩΩΩx");
        assert_eq!(cut(5, (3, 2)), "ΩΩΩ ... Ωx");
        assert_eq!(cut(9000, (3, 2)), "ΩΩΩ ... Ωx");
        assert_eq!(
            (cut(2, (3, 0)), cut(3, (3, 0))),
            ("ΩΩx".into(), "ΩΩΩ ...".into())
        );
    }

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
        let mut all = collected.finish();
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
