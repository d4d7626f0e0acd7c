//! Facts: what can be known of a proposal, and what is.
//!
//! The [`Catalogue`] defines subjects (a light, a cell), their facts, and the figures the library
//! works out. A [`Sheet`] holds the facts given of one proposal. Formulas are checked against the
//! first and evaluated on the second, and know nothing else of the trade.

mod catalogue;
pub mod names;
mod read;
mod section;
mod sheet;
mod worked;

pub use catalogue::{
    Catalogue, FactDef, FactId, FactKind, MOST_SUBJECTS, Named, OptionSet, SubjectDef, SubjectId,
};
pub(crate) use read::{add_quantity_problem, read_stated};
pub use read::{read_value, value_help};
pub use section::{Key, Keys};
pub use sheet::{Given, Instance, Roster, Sheet, Value};
pub use worked::{Facts, Figures, Needs, Reach, Worked, WorkedDef, WorkedId, Workings};
