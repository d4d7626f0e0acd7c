//! The text of a ruleset to a layer.

mod adjust;
mod basis;
mod caution;
mod characters;
mod definitions;
mod layer;
mod merged;
mod meter;
mod shipped;
mod stage;
mod text;
mod values;

pub(super) use shipped::with_examples;
pub(super) use text::read_text;
