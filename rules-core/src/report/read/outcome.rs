//! The outcome of a whole check as it is read.

use super::entries::NoReport;
use crate::check::{Outcome, Verdict};

/// The outcome of the whole; none, if none of its four parts is told.
pub(super) fn outcome(
    parts: (
        Option<Verdict>,
        Option<Verdict>,
        Option<Verdict>,
        Option<bool>,
    ),
) -> Result<Option<Outcome>, NoReport> {
    match parts {
        (Some(verdict), Some(best), Some(worst), Some(nothing_checked)) => Ok(Some(Outcome {
            verdict,
            best,
            worst,
            nothing_checked,
        })),
        (None, None, None, None) => Ok(None),
        _ => Err("of verdict, best, worst and nothing_checked some are told, some are not".into()),
    }
}
