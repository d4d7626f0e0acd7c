//! What happens to formulas when more of a subject join those of a sheet: derived from their form.
//!
//! `trend` has the answers and how they go together; `sign` says which numbers are never negative;
//! `numbers` and `conditions` go through formulas.

mod conditions;
mod numbers;
mod sign;
mod trend;

pub use numbers::Joining;
pub use trend::{Trend, Trends};
