//! Proposals: one use of cells in a light, read from YAML or JSON into a sheet of facts.
//!
//! The table of facts is in `catalogue.rs`; the loader walks a document by that table. What takes
//! more than reading a value has a file of its own: the arrangement with its groups, the
//! designation code, the meters.

mod arrangement;
mod catalogue;
mod designation;
mod groups;
mod meters;
mod packs;
mod read;
mod sections;

pub use arrangement::Arrangement;
pub use catalogue::{BUILD, CELL, CHARGING, CONDITIONS, GROUP, LIGHT, PACK, PROTECTION, catalogue};
pub use designation::{Designation, DesignationFault};
pub use read::Proposal;
