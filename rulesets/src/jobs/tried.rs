//! What trying a plan adds to its report.

use rules_core::check::{Report, Verdict};

use super::{Trial, would_change, would_lift};

/// Adds what would change the verdict and which answers would lift it, where there is a refusal or
/// something is open. The trial is made only then: for that the plan is read once more.
///
/// # Errors
///
/// Those of making the trial.
pub fn tried<'r, E>(
    mut report: Report,
    trial: impl FnOnce() -> Result<Trial<'r>, E>,
) -> Result<Report, E> {
    let now = report.gravest();
    if now.verdict < Verdict::Refuse && now.best == now.verdict {
        return Ok(report);
    }
    let trial = trial()?;
    report.would_change = would_change(&trial, &report);
    report.would_lift = would_lift(&trial, &report);
    Ok(report)
}
