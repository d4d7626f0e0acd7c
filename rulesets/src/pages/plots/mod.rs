//! Plots as drawings in the page, each with a title, words and a table of its numbers.

pub(super) mod along;
pub(super) mod bench;
pub(super) mod discharge;
mod drawing;
mod labels;
mod looks;
pub(super) mod map;
mod map_bands;
pub(super) mod over_time;
pub(super) mod scale;
pub(super) mod strip;
