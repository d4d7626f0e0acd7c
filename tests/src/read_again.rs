//! A report written as JSON and read again is the same report.

use rules_core::check::Report;
use rules_core::report::text::{Plain, USUAL_WIDTH, text};

/// Whether a report that is written, read, and written again has lost nothing.
///
/// # Errors
///
/// What differs.
pub fn read_again(report: &Report) -> Result<(), String> {
    let told = |why: serde_json::Error| format!("it is not read again: {why}");
    let written = serde_json::to_string(report).map_err(told)?;
    let again: Report = serde_json::from_str(&written).map_err(told)?;
    if again != *report {
        return Err(format!("read again it is {again:#?}\nand was {report:#?}"));
    }
    if serde_json::to_string(&again).map_err(told)? != written {
        return Err("written again it differs".to_owned());
    }
    let as_text = |report| text(report, USUAL_WIDTH, &Plain);
    match as_text(&again) == as_text(report) {
        true => Ok(()),
        false => Err(format!("its text is now\n{}", as_text(&again))),
    }
}
