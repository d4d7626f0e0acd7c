//! Proposals: one use of cells in a light, read from YAML or JSON into a sheet of facts.
//!
//! The loader walks a document by the table of facts. What needs more than reading a value has a
//! file of its own: the arrangement and the build, the draw, the marks, `extra`.

mod arrangement;
mod build;
mod draft;
mod draw;
mod extras;
mod groups;
mod marks;
mod meant;
mod packs;
mod read;
mod repeated;
mod sections;
mod sets;
mod summaries;
mod vetted;
mod whole;

pub use arrangement::Arrangement;
pub use draft::Draft;
pub use read::Proposal;
pub(crate) use sets::{AnyCell, Sets, group_label, needs_labels};
pub(crate) use vetted::Vetting;
