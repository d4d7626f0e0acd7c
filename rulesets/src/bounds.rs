//! How large a proposal may be, besides the bounds of every document in [`rules_core::bounds`].

/// Cells of one proposal, listed or by its arrangement. Fully measured, so many take about a third
/// of the bytes of a document, and the shipped rules take about a million steps for them.
pub const MOST_CELLS: usize = 10_000;

/// So many cells are counted in series and so many in parallel, where the numbers of a label are
/// all there is to go by.
pub const MOST_COUNTED: u32 = 100;
