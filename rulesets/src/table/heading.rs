//! What stands above a column: a name, and the unit of the numbers below it.

use rules_core::characters::trimmed;
use rules_core::document::{Fault, Problems, Span};
use rules_core::quantity::Quantity;

use super::fields::Field;

/// What stands in the brackets of a heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HeadingUnit {
    /// There are none.
    None,
    /// The unit of numbers that are written without one.
    Known(String),
    /// Something that is reported as no unit.
    Faulty,
}

impl HeadingUnit {
    /// The unit, if there is one.
    #[must_use]
    pub fn known(&self) -> Option<&str> {
        match self {
            Self::Known(unit) => Some(unit),
            Self::None | Self::Faulty => None,
        }
    }
}

/// A heading: `rest.voltage [V]`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// What is below it; empty where nothing is.
    pub name: String,
    /// The unit of the numbers below.
    pub unit: HeadingUnit,
    /// Where it is in the source of the problems.
    pub span: Span,
}

impl Heading {
    /// The headings of a table. One that is there twice is reported.
    pub(super) fn all(fields: &[Field<'_>], problems: &mut Problems<'_>) -> Vec<Self> {
        let mut all: Vec<Self> = Vec::new();
        for field in fields {
            let heading = Self::of(field, problems);
            let mut known = all.iter().filter(|known| !known.name.is_empty());
            if known.any(|known| known.name == heading.name) {
                let message = format!("there is a column `{}` already", heading.name);
                let help = "keep one of the two";
                problems.add(Fault::RepeatedKey, heading.span, message, help);
            }
            all.push(heading);
        }
        all
    }

    fn of(field: &Field<'_>, problems: &mut Problems<'_>) -> Self {
        let bracketed = field.text.strip_suffix(']');
        let parts = bracketed.and_then(|text| text.split_once('['));
        let (name, unit) = match parts {
            Some((name, unit)) => (trimmed(name), Some(trimmed(unit))),
            None => (field.text.as_ref(), None),
        };
        let unit = match unit {
            None => HeadingUnit::None,
            Some(unit) if is_unit(unit, field.span, problems) => {
                HeadingUnit::Known(unit.to_owned())
            }
            Some(_) => HeadingUnit::Faulty,
        };
        Self {
            name: name.to_owned(),
            unit,
            span: field.span,
        }
    }
}

fn is_unit(unit: &str, span: Span, problems: &mut Problems<'_>) -> bool {
    let error = match Quantity::parse(&format!("1 {unit}")) {
        Ok(_) if !unit.is_empty() => return true,
        Ok(_) => "write a unit in the brackets, or leave them out".to_owned(),
        Err(error) => match error.suggestion() {
            Some(near) => format!("did you mean `{near}`?"),
            None => error.help(),
        },
    };
    problems.add(
        Fault::UnknownUnit,
        span,
        format!("`{unit}` is no unit"),
        error,
    );
    false
}
