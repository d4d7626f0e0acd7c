//! Values as they are kept in a program: written when it is built, read when it runs.
//!
//! A value is the values it is made of, in order, without names and without lengths, so that only the
//! engine that wrote one reads it: there is no reader for bytes from elsewhere. Whatever the bytes
//! are, reading them gives a value or nothing.

mod late;
mod reader;
#[macro_use]
mod stored;
mod values;
#[cfg(any(test, feature = "snapshot"))]
mod writer;

pub use late::Late;
pub(crate) use reader::Reader;
pub(crate) use stored::{Stored, stored};
#[cfg(any(test, feature = "snapshot"))]
pub(crate) use writer::Writer;

/// What was kept when the program was built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Snapshot {
    /// The values.
    pub bytes: &'static [u8],
    /// The texts in them, one after the other.
    pub texts: &'static str,
}

#[cfg(test)]
mod tests;
