//! Tables as spreadsheets write them: CSV (RFC 4180) with headings that may have units,
//! `rest.voltage [V]`.
//!
//! `fields` takes a text apart, `heading` reads what stands above a column, `number` writes the
//! numbers of a column as quantities. What a column means is for the caller to say: [`Table`] knows
//! rows, places and units.

mod fields;
mod heading;
mod number;
mod rows;
#[cfg(test)]
mod tests;

pub use self::fields::Field;
pub use self::heading::{Heading, HeadingUnit};
pub use self::rows::{Row, Table};
