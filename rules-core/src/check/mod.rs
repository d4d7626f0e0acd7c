//! Checking: a proposal against rules gives a report.
//!
//! `given` takes the facts of a proposal, of which none contradict each other; `judge` decides one
//! caution for one subject, as LANGUAGE.md section 6 says; `tally` goes over all cautions and
//! subjects; `finding` turns a judgement that is not a pass into data; `next` says what to measure;
//! `unused` which readings could not be used; `remarks` what is told without a verdict; `run` makes
//! the report of it; `steps` keeps it within bounds.

mod cited;
mod figures;
mod finding;
mod given;
mod judge;
mod next;
mod remarks;
mod run;
mod steps;
mod tally;
mod unused;

pub use figures::figures;
pub(crate) use finding::Finder;
pub use given::{faults, given};
pub use judge::{Judgement, judge};
pub use run::{Options, brief, check};
