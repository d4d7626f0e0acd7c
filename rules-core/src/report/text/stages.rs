//! Which stages were asked for, in words.

use crate::check::{Report, Verdict};

/// The stages asked for, if not all of the proposal was checked: `laying and wiring`.
pub(super) fn asked(report: &Report) -> Option<String> {
    let asked: Vec<&str> = report.asked().collect();
    let (last, before) = asked.split_last()?;
    Some(match before {
        [] => (*last).to_owned(),
        _ => format!("{} and {last}", before.join(", ")),
    })
}

/// What a verdict is of, where it is not of the whole: ` for wiring only`. What speaks against a
/// stage speaks against the whole as well.
pub(super) fn scope(report: &Report) -> Option<String> {
    let asked = asked(report)?;
    let only = match report.gravest().verdict {
        Verdict::Pass => " only",
        Verdict::Warn | Verdict::Refuse => "",
    };
    Some(format!(" for {asked}{only}"))
}
