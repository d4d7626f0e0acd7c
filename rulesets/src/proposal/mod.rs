//! Proposals: one use of cells in a light, read from YAML or JSON into a sheet of facts.
//!
//! The loader walks a document by the table of facts. What takes more than reading a value has a
//! file of its own: the arrangement with its groups, the meters.

mod arrangement;
mod draft;
mod groups;
mod marks;
mod meant;
mod meters;
mod packs;
mod read;
mod repeated;
mod sections;

pub use arrangement::Arrangement;
pub use draft::Draft;
pub use read::Proposal;
