//! Sort: the cells of a bench by what the rules say of each, and the lights that each may go into.
//!
//! ```text
//! a cell alone ------ checked: sorting, ... -- weighed -- graded -- sound, watch, to test, ...
//! a cell in a light - checked: fitting ------- weighed -- suited -- pass, with others, refuse, ...
//! ```
//!
//! Grades come from findings alone. What becomes of a cell that a caution refuses is what the rules
//! say under `refused`, and else follows from what the caution looks at; here no stage and no caution
//! is known by its name.

mod asking;
mod cells;
mod csv;
mod grade;
mod limits;
mod reason;
mod report;
mod rules_for;
mod scope;
mod suits;
mod text;
mod weighed;

pub use cells::{Sorting, sort};
pub use csv::csv;
pub use grade::Grade;
pub use limits::{CellLimit, limits};
pub use reason::reason;
pub use report::{
    CellKnown, CellReading, DecidedBy, GradeCounts, KeptOutBy, LightEntry, NextReading, SortReport,
    SortedCell, SortedLight,
};
pub use suits::Suits;
pub use text::{opening, text};
