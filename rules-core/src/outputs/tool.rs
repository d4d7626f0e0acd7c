//! The program behind a document.

/// The program that a document says it comes from.
#[derive(Debug, Clone, Copy)]
pub struct Tool<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its version.
    pub version: &'a str,
}
