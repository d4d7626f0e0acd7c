//! The numbers of a table as quantities: with a point as the decimal mark, and with their unit.

use rules_core::document::{Fault, Problems};

use super::fields::{Field, Separator};

/// How a table writes decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Decimals {
    /// `3.71`
    Point,
    /// `3,71`
    Comma,
}

impl Decimals {
    /// How these fields write them.
    pub(super) fn of<'t>(
        fields: impl Iterator<Item = Field<'t>> + Clone,
        separator: Separator,
        problems: &mut Problems<'_>,
    ) -> Self {
        let mut with_comma = fields.clone().filter(|field| has_mark(&field.text, ','));
        let Some(comma) = with_comma.next().filter(|_| separator != Separator::Comma) else {
            return Self::Point;
        };
        if let Some(point) = fields.clone().find(|field| has_mark(&field.text, '.')) {
            let later = if point.span.start > comma.span.start {
                &point
            } else {
                &comma
            };
            let message = format!(
                "this table writes decimals with a comma (`{}`) and with a point (`{}`)",
                comma.text, point.text
            );
            let help = "write all of them in one way, without marks between thousands";
            problems.add(Fault::BadNumber, later.span, message, help);
        }
        Self::Comma
    }
}

/// Whether a mark stands between two digits. Two points are a range.
fn has_mark(text: &str, mark: char) -> bool {
    let letters: Vec<char> = text.chars().collect();
    letters.windows(3).any(|three| match three {
        [before, middle, after] => {
            before.is_ascii_digit() && *middle == mark && after.is_ascii_digit()
        }
        _ => false,
    })
}

/// The text of a quantity with the unit of its heading, where it has none.
pub(super) fn as_quantity(text: &str, unit: Option<&str>, decimals: Decimals) -> String {
    let text = match decimals {
        Decimals::Point => text.to_owned(),
        Decimals::Comma => with_points(text),
    };
    let Some(unit) = unit.filter(|_| lacks_unit(&text)) else {
        return text;
    };
    match text.split_once('±').or_else(|| text.split_once("+/-")) {
        None => format!("{text} {unit}"),
        Some((number, width)) if lacks_unit(width) => {
            format!("{} {unit} ± {} {unit}", number.trim(), width.trim())
        }
        Some((number, width)) => format!("{} {unit} ± {}", number.trim(), width.trim()),
    }
}

/// Whether the first number of a text is followed by no unit.
fn lacks_unit(text: &str) -> bool {
    let number = text.split('±').next().unwrap_or(text);
    let number = number.split("+/-").next().unwrap_or(number);
    number
        .trim_end()
        .ends_with(|letter: char| letter.is_ascii_digit())
}

/// Commas between digits as points.
fn with_points(text: &str) -> String {
    let mut written = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let between = written.ends_with(|before: char| before.is_ascii_digit())
            && letters.peek().is_some_and(char::is_ascii_digit);
        written.push(if letter == ',' && between {
            '.'
        } else {
            letter
        });
    }
    written
}
