//! What a ruleset is in relation to those that are shipped.

/// What a ruleset is, by its name and its digest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Standing {
    /// A shipped one.
    Shipped,
    /// It has the name of a shipped one and says something else.
    EditedCopy,
    /// Its name looks like that of a shipped one.
    LooksLike(&'static str),
    /// Somebody's own.
    Own,
}
