//! Rulesets: the file model, layering, and compilation to something that can be checked against.
//!
//! [`Rules::load`] goes through all of it: each file becomes a layer, layers are merged into one
//! view, and the view is compiled. The result is a value that can be kept and shared between
//! threads.

mod adjustment;
mod compile;
mod digest;
mod fact_place;
#[cfg(feature = "schema")]
mod facts_table;
mod gather;
#[cfg(any(test, feature = "snapshot"))]
mod keep;
mod kept;
mod kept_layer;
mod layer;
mod ledger;
mod left_out;
mod library;
mod limit;
mod load;
mod loosening;
mod made_of;
mod merged;
mod meter;
mod model;
mod names;
mod open_file;
mod read;
mod reserved;
mod rules;
#[cfg(feature = "schema")]
pub mod schema;
#[cfg(feature = "schema")]
mod schema_in_force;
mod stack;
mod stages;
mod standing;
mod template;
mod view;
mod without_shipped;
mod written;
mod written_stages;

pub use adjustment::Adjustment;
pub(crate) use compile::Draft;
pub use fact_place::{FactPlace, InOneWord};
pub(crate) use gather::Purpose;
pub(crate) use layer::{AdjustLimit, CaseText, CautionText, Layer, Named};
pub(crate) use ledger::Ledger;
pub use library::{
    Files, FilesIn, Library, NoOthers, Text, Texts, beside, is_path, read_file, unknown_ruleset,
};
pub(crate) use limit::LimitText;
pub use limit::{LimitInfo, LimitReport, ListedLimit, WrittenLimit};
pub(crate) use load::load;
pub use loosening::{Loosened, Loosening};
pub(crate) use made_of::Parts;
pub use meter::{AssumedMeter, WrittenAdjustMeter, WrittenMeter};
pub use model::{
    Acceptance, Basis, Expectation, HowRead, IfUnmeasured, LayerName, LoadedRuleset, Refused,
    Stricter, WrittenSource,
};
pub use open_file::open_file;
pub use rules::{Caution, CautionCondition, FigureInfo, Rules};
pub(crate) use stack::Stack;
pub use stages::{Stage, StageId};
pub use template::{Placeholder, Template};
pub(crate) use view::View;
pub use without_shipped::shipped_left_out;
pub use written::{
    WrittenAdjust, WrittenCase, WrittenCaution, WrittenFact, WrittenFigure, WrittenLoosening,
    WrittenMerged, WrittenNotice, WrittenRuleset,
};
pub use written_stages::WrittenStages;
