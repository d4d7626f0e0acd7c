//! Facts: what can be known of a proposal, and what is.
//!
//! The [`Catalogue`] defines subjects (a heater, a cable), their facts, and the figures the library
//! works out. A [`Sheet`] holds the facts given of one proposal. Formulas are checked against the
//! first and evaluated on the second, and know nothing else of the trade.

mod catalogue;
mod clashes;
mod definition;
mod dotted;
mod fact;
mod figures;
mod file;
mod former;
mod kept;
mod known;
mod meters;
pub mod names;
mod narrowing;
mod new_sheet;
mod notice;
mod options;
mod places;
mod proposed;
mod ranked;
mod read;
mod read_meters;
mod read_relation;
mod read_subject;
mod read_summary;
mod readings;
mod relation;
mod section;
mod sheet;
mod subject;
mod summary;
#[cfg(test)]
mod table_tests;
mod worked;

pub use catalogue::{Catalogue, ShippedVersion};
pub use clashes::add_clashes;
pub(crate) use clashes::called;
pub use definition::{FactDefinition, FactsOf, fact_definition};
pub use dotted::FactOrFigure;
pub use fact::{FactDef, FactId, FactKind, OverTime};
pub use figures::{Figures, Workings};
pub use former::{FormerNames, Successor};
pub use known::Facts;
pub use meters::{StatedMeter, StatedMeters, metered};
pub use narrowing::{Narrowing, TypicalAnswer};
pub use notice::{Notice, read_notice};
pub use options::OptionSet;
pub use proposed::Proposed;
pub(crate) use ranked::ranked;
#[cfg(feature = "schema")]
pub(crate) use read::OF_IDS;
pub(crate) use read::read_stated;
pub use read::{add_quantity_problem, read_value, value_help};
pub(crate) use read_meters::{meter_kind, read_meter};
pub use readings::{Clash, Reading, Unused};
pub use relation::RelationDef;
pub use section::{InnerKeys, Key, SummaryId};
pub use sheet::{Given, Instance, Roster, Sheet, Value};
pub use subject::{MOST_SUBJECTS, SubjectDef, SubjectId};
pub use summary::{SummaryDef, SummaryWord};
pub use worked::{AsMoreJoin, Needs, Reach, Worked, WorkedDef, WorkedId};
