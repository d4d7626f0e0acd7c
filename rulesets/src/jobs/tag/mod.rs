//! Tags: what is known of each sorted cell, as lines for its paper label and card.

mod lines;
mod report;

pub use lines::text;
pub use report::{CellTag, TagReport, TagSize, tags};
