//! What can be wrong with the text of a quantity.

use std::ops::Range;

use thiserror::Error;

use super::{Kind, suggest};
use crate::characters::{code_point, meant_by, trimmed};

/// A fault in the text of a quantity: what it is, where, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{}", self.message())]
pub struct QuantityError(Box<Wrong>);

/// The parts of an error. They are large and rare: in a box they take no room where a value is returned.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Wrong {
    fault: QuantityFault,
    span: Range<usize>,
    expected: Option<Kind>,
    odd: Option<Odd>,
}

/// A character that is not in the language, and the text as it was probably meant.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Odd {
    letter: char,
    meant: Option<String>,
}

/// The faults. Text in backticks is the user's own, or as near to it as was kept.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum QuantityFault {
    /// There is no text.
    #[error("a quantity is expected, but there is nothing")]
    Empty,
    /// A number was expected and something else is there.
    #[error("`{found}` is not a number")]
    NotANumber {
        /// What is there.
        found: String,
        /// The number that was probably meant.
        meant: Option<String>,
    },
    /// The number is beyond the doubles in the base unit.
    #[error("`{found}` is not a finite number")]
    NotFinite {
        /// The amount.
        found: String,
    },
    /// A number that needs a unit has none.
    #[error("`{found}` has no unit")]
    MissingUnit {
        /// The number.
        found: String,
    },
    /// There is a word that is no unit where a unit belongs.
    #[error("`{found}` is not a unit")]
    UnknownUnit {
        /// The word.
        found: String,
    },
    /// The unit is one of another kind.
    #[error("`{found}` is {actual}; {} is expected", expected.with_article())]
    WrongKind {
        /// The amount.
        found: String,
        /// What it is, with its article.
        actual: String,
        /// The kind that was wanted.
        expected: Kind,
    },
    /// A count is not a whole number.
    #[error("`{found}` is not a whole number; a count is expected")]
    NotWhole {
        /// The number.
        found: String,
    },
    /// A count has a tolerance, or a meter of counts is described.
    #[error("a count is exact and takes no tolerance")]
    ToleranceOnCount,
    /// A tolerance is below zero.
    #[error("the tolerance `{found}` is negative")]
    NegativeTolerance {
        /// The negative part.
        found: String,
    },
    /// The ends of a range are the wrong way round.
    #[error("the range starts at `{low}`, which is above its end `{high}`")]
    LowAboveHigh {
        /// The first end.
        low: String,
        /// The last end.
        high: String,
    },
    /// A percentage of a temperature on a scale is asked for.
    #[error("a temperature has no percentage: its zero is a convention")]
    RelativeTemperature,
    /// Something follows the quantity.
    #[error("`{found}` is left over after the quantity")]
    TrailingText {
        /// What follows.
        found: String,
    },
    /// The tolerance is not written as one.
    #[error("`{found}` is not a tolerance")]
    NotATolerance {
        /// What is there.
        found: String,
    },
}

impl QuantityError {
    pub(super) fn new(fault: QuantityFault, span: Range<usize>) -> Self {
        Self(Box::new(Wrong {
            fault,
            span,
            expected: None,
            odd: None,
        }))
    }

    /// The same error, for a text with a character that only looks like one of the language; with
    /// what was meant, if that can be read.
    pub(super) fn naming_odd(mut self, text: &str, reads: impl Fn(&str) -> bool) -> Self {
        self.0.odd = Odd::of(text, reads);
        self
    }

    /// The same error where a quantity of this kind is wanted, so that the help can name its units.
    #[must_use]
    pub fn expecting(mut self, kind: Kind) -> Self {
        self.0.expected.get_or_insert(kind);
        self
    }

    /// The fault as data.
    #[must_use]
    pub const fn fault(&self) -> &QuantityFault {
        &self.0.fault
    }

    /// The bytes of the text that are at fault.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.0.span.clone()
    }

    /// What is wrong.
    #[must_use]
    pub fn message(&self) -> String {
        match &self.0.odd {
            Some(odd) => format!(
                "{}: the character {} cannot be in a quantity",
                self.0.fault,
                code_point(odd.letter)
            ),
            None => self.0.fault.to_string(),
        }
    }

    /// How to put it right.
    #[must_use]
    pub fn help(&self) -> String {
        match &self.0.fault {
            QuantityFault::NotATolerance { .. } => TOLERANCE_FORMS.to_owned(),
            QuantityFault::ToleranceOnCount => "leave the tolerance out".to_owned(),
            QuantityFault::NegativeTolerance { .. } => {
                "write the tolerance without a sign, as `± 0.02 V`".to_owned()
            }
            QuantityFault::LowAboveHigh { low, high } => {
                format!("write the lower end first, as `{high}..{low}`")
            }
            QuantityFault::RelativeTemperature => {
                "write the tolerance in kelvins, as `20 degC ± 2 K`".to_owned()
            }
            QuantityFault::NotFinite { .. } => {
                "write a number below 1e308 in the base unit".to_owned()
            }
            QuantityFault::NotWhole { .. } => Kind::Count.how_to_write(),
            QuantityFault::WrongKind { expected, .. } => expected.how_to_write(),
            QuantityFault::TrailingText { .. } => {
                format!("{}; a tolerance starts with `±`", self.how_to_write())
            }
            QuantityFault::NotANumber { found, .. } if found.contains(',') => {
                format!("the decimal sign is a point; {}", self.how_to_write())
            }
            QuantityFault::Empty
            | QuantityFault::NotANumber { .. }
            | QuantityFault::MissingUnit { .. }
            | QuantityFault::UnknownUnit { .. } => self.how_to_write(),
        }
    }

    /// What was probably meant in place of the text at fault: a unit's spelling or a number.
    #[must_use]
    pub fn suggestion(&self) -> Option<String> {
        if let Some(meant) = self.0.odd.as_ref().and_then(|odd| odd.meant.clone()) {
            return Some(meant);
        }
        match &self.0.fault {
            QuantityFault::UnknownUnit { found } => suggest::unit(found, self.0.expected),
            QuantityFault::NotANumber { meant, .. } => meant.clone(),
            _ => None,
        }
    }

    fn how_to_write(&self) -> String {
        self.0.expected.map_or_else(
            || "write a number and its unit, such as V, A, mAh, mohm, W, Wh, degC, K, min, mm, %, C or mV/d".to_owned(),
            Kind::how_to_write,
        )
    }
}

impl Odd {
    fn of(text: &str, reads: impl Fn(&str) -> bool) -> Option<Self> {
        let letter = text.chars().find(|letter| meant_by(*letter).is_some())?;
        // Between two numbers a dash is a range's mark.
        let ways = [plain(text), plain(&text.replace(DASHES, ".."))];
        let meant = ways.into_iter().find(|plain| reads(plain));
        Some(Self { letter, meant })
    }
}

/// The dashes that word processors put between two numbers.
const DASHES: [char; 2] = ['\u{2013}', '\u{2014}'];

/// The text with each look-alike replaced by what was meant.
fn plain(text: &str) -> String {
    let meant = text
        .chars()
        .map(|letter| meant_by(letter).unwrap_or_else(|| letter.to_string()));
    trimmed(&meant.collect::<String>()).to_owned()
}

const TOLERANCE_FORMS: &str =
    "write `± 20 mV`, `± 0.5 %`, `± (0.5 % + 10 mV)` or `± (0.5 % + 2 digits)`";
