//! A discharge as it was logged, reduced to the facts that a capacity test has.
//!
//! ```text
//! a table - log - a log, row by row - run - the rows under load, - shown, step - facts
//!                                           with the charge given
//! ```
//!
//! What is read off between two rows lies between what the two show. The facts hold that, the
//! digits and the meters, so that whoever checks them needs no curve.

mod assumed;
mod log;
mod run;
mod shown;
mod step;
#[cfg(test)]
mod tests;
mod told;

use rules_core::document::Problems;
use rules_core::facts::StatedMeters;

use self::log::Log;
use self::run::Run;
use crate::table::Table;

pub(crate) use self::assumed::{ASSUMED, meter};
pub(crate) use self::shown::BY;
pub(crate) use self::told::{Beside, Fact, Shown};

/// Reduces a table; none with what is wrong in it reported.
pub(crate) fn shown(
    table: &mut Table<'_>,
    meters: &StatedMeters,
    beside: &Beside,
    problems: &mut Problems<'_>,
) -> Option<Shown> {
    let before = problems.len();
    let log = Log::read(table, meters, problems)?;
    let run = Run::of(&log, beside, problems)?;
    (problems.len() == before).then(|| Shown {
        test: shown::facts(&run),
        resistance: step::resistance(&run).unwrap_or_default(),
    })
}
