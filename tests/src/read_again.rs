//! A report written as JSON and read again is the same report, also by way of its lean record, which needs
//! no report.

use rules_core::check::{Options, Report, check, checked};
use rules_core::facts::Proposed;
use rules_core::report::text::{Plain, USUAL_WIDTH, text};
use rules_core::report::{Lean, LeanRecord, Prose};
use rules_core::ruleset::Rules;
use serde::Serialize;

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

/// Whether what a check found is written, without a report, as the lean record of its report, to the
/// byte. A proposal that has no report has no such record either.
///
/// # Errors
///
/// What differs.
pub fn lean_needs_no_report(rules: &Rules, proposal: &dyn Proposed) -> Result<(), String> {
    let of_report = check(rules, proposal, Options::default());
    let of_report = of_report.map(|report| json(&Lean(&report)));
    let direct = checked(rules, proposal, Options::default());
    let direct = direct.map(|found| json(&Lean(&found)));
    match direct == of_report {
        true => Ok(()),
        false => Err(format!(
            "it is\n{direct:?}\nand of its report\n{of_report:?}"
        )),
    }
}

fn json(record: &impl Serialize) -> Result<String, String> {
    serde_json::to_string(record).map_err(|why| format!("it is not written: {why}"))
}

/// Whether a report's lean record, with the words of its rules, is the whole report again: its text
/// and its JSON to the byte.
///
/// # Errors
///
/// What differs.
pub fn lean_is_full(report: &Report, rules: &Rules) -> Result<(), String> {
    let told = |why: serde_json::Error| format!("it is not read again: {why}");
    let prose = serde_json::to_string(&Prose::of(rules)).map_err(told)?;
    let prose: Prose = serde_json::from_str(&prose).map_err(told)?;
    let lean = serde_json::to_string(&Lean(report)).map_err(told)?;
    let record: LeanRecord = serde_json::from_str(&lean).map_err(told)?;
    let full = record.report(&prose)?;
    let as_text = |report| text(report, USUAL_WIDTH, &Plain);
    if as_text(&full) != as_text(report) {
        return Err(format!("its text is now\n{}", as_text(&full)));
    }
    let as_json = |report| serde_json::to_string(report).map_err(told);
    if as_json(&full)? != as_json(report)? {
        return Err(format!("its JSON is now\n{}", as_json(&full)?));
    }
    match full == *report {
        true => Ok(()),
        false => Err(format!("it is {full:#?}\nand was {report:#?}")),
    }
}
