//! Tags: what is known of each sorted cell, as lines for its paper label and card.

mod lines;
mod made;
mod report;

pub use lines::text;
pub use made::tags;
pub use report::{CellTag, TagReport, TagSize};
