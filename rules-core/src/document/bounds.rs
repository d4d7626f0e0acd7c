//! The sizes a document may have. Each is checked before memory is spent on what exceeds it.

/// The largest document, in bytes. Ten thousand fully measured cells take about a third of it.
pub const MOST_BYTES: usize = 8 * 1024 * 1024;

/// How deep maps and lists may nest. The formats need six levels.
pub const MOST_LEVELS: usize = 32;

/// The most maps, lists and scalars (keys included) in one document.
pub const MOST_NODES: usize = 1_000_000;
