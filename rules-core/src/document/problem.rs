//! A problem: what is wrong with a document, where, and how to mend it.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::fault::Fault;
use super::source::{Place, Source, Span};

/// How much a problem weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The document cannot be used.
    Error,
    /// The document works, but vetting finds that something is missing.
    Advice,
}

/// One problem.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
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

/// Characters kept of the start and of the end of a message. It may quote what the user wrote, and
/// what is wrong with that often stands behind it.
const MESSAGE: (usize, usize) = (250, 150);
/// The same of a help, which may list all that could be there.
const HELP: (usize, usize) = (1000, 0);

pub(super) fn problem_at(
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

    /// A document that holds nothing.
    pub(super) fn empty(source: &Source) -> Self {
        let help = "write at least `format: 1`";
        let start = Span::default();
        Self::at(source, Fault::Empty, start, "the document is empty", help)
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
}
