//! Problems: what is wrong with a document, where, and how to mend it.

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
    /// Two readings of one thing that cannot both be true.
    Contradiction,
    /// A word that is none of those that may stand there: an option, yes or no, a format.
    UnknownOption,
    /// A designation that does not follow IEC 61960.
    BadDesignation,
    /// Cells and groups that do not agree with the arrangement.
    CellsAndGroups,
    /// An identifier with characters it may not have.
    BadName,
    /// The same name defined twice.
    DefinedTwice,
    /// A name that nothing defines.
    UnknownName,
    /// A fact or figure that cannot be seen from where the formula stands.
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
    /// A case that comes out otherwise than it says.
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
    /// The document works; vetting finds it wanting.
    Advice,
}

/// One problem.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// The kind of fault.
    pub fault: Fault,
    /// Whether it stops the document from being used.
    pub severity: Severity,
    /// What is wrong. The user's own words stand in backticks.
    pub message: String,
    /// What was expected and how to mend it.
    pub help: Option<String>,
    /// Where. None for what concerns a whole file that could not be read.
    pub place: Option<Place>,
    /// The line of the place, as it stands in the file; of a very long one, what stands near the
    /// place.
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
#[derive(Debug, Default)]
pub struct Found {
    problems: Vec<Problem>,
    more: usize,
    suggestions: Suggestions,
}

/// The longest message, in characters; it may quote what the user wrote.
const MOST_MESSAGE: usize = 400;

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
    pub fn resumed(source: &'s Source, found: Found) -> Self {
        Self {
            source,
            found: found.problems,
            more: found.more,
            suggestions: found.suggestions,
        }
    }

    /// What was found so far, without its source.
    #[must_use]
    pub fn set_aside(self) -> Found {
        Found {
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
                shortened(message),
                help,
            ));
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
                "mend these first",
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
    let help = (!help.is_empty()).then_some(help);
    let (line, width) = (line.into(), meant.clamp(1, left.max(1)));
    Problem {
        fault,
        severity,
        message,
        help,
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
        let help = Some(help.into()).filter(|help| !help.is_empty());
        Self {
            fault,
            severity: Severity::Error,
            message: message.into(),
            help,
            place: None,
            line: Box::default(),
            line_column: 1,
            width: 1,
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

fn shortened(message: String) -> String {
    match message.char_indices().nth(MOST_MESSAGE) {
        Some((at, _)) => format!("{} ...", message.get(..at).unwrap_or_default()),
        None => message,
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
}
