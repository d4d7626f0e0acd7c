//! Facts: what can be known of a proposal, and what is.
//!
//! The [`Catalogue`] defines subjects (a heater, a cable), their facts, and the figures the library
//! works out. A [`Sheet`] holds the facts given of one proposal. Formulas are checked against the
//! first and evaluated on the second, and know nothing else of the trade.

mod catalogue;
mod definition;
mod file;
pub mod names;
mod notice;
mod proposed;
mod read;
mod readings;
mod relation;
mod section;
mod sheet;
#[cfg(test)]
mod table_tests;
mod worked;

pub use catalogue::{
    Catalogue, FactDef, FactId, FactKind, MOST_SUBJECTS, Named, OptionSet, ShippedVersion,
    SubjectDef, SubjectId,
};
pub use definition::{FactDefinition, FactsOf, fact_definition};
pub use notice::{Notice, read_notice};
pub use proposed::Proposed;
pub(crate) use read::read_stated;
pub use read::{add_quantity_problem, read_value, value_help};
pub(crate) use readings::called;
pub use readings::{Clash, Reading, Unused, add_clashes};
pub use relation::RelationDef;
pub use section::{Key, Keys};
pub use sheet::{Given, Instance, Roster, Sheet, Value};
pub use worked::{Facts, Figures, Needs, Reach, Worked, WorkedDef, WorkedId, Workings};
