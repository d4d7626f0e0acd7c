//! How large a proposal may be, in addition to the bounds of every document in
//! [`rules_core::bounds`].

/// Cells of one proposal, listed or by its arrangement. Fully measured, this many take about a
/// third of the bytes of a document, and the shipped rules take about a million steps for them.
pub const MOST_CELLS: usize = 10_000;

/// The most cells that are considered in series, and in parallel, if only the numbers of a label
/// are known.
pub const MOST_COUNTED: u32 = 100;

/// Rows of one table, its headings not counted.
pub const MOST_ROWS: usize = 100_000;

/// Curves that one bench names.
pub const MOST_CURVES: usize = 200;

/// Bytes of all of them, but for the last.
pub const MOST_CURVE_BYTES: usize = 67_108_864;

/// Columns of one table.
pub const MOST_COLUMNS: usize = 256;
