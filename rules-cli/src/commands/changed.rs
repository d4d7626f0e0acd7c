//! `changed`: what changed between two reports on one plan.

use std::io;
use std::path::Path;

use rules_core::check::Report;
use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::report::text::changed;
use rules_core::report::{ProblemRecord, changes};

use crate::args::{ChangedArgs, Format};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

pub(super) fn run(args: &ChangedArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let reports = (report(&args.old, terminal), report(&args.new, terminal));
    let (old, new) = match reports {
        (Ok(old), Ok(new)) => (old, new),
        (old, new) => {
            let problems: ProblemList = old.err().into_iter().chain(new.err()).collect();
            terminal.report_problems(&problems);
            terminal.write_record(&ProblemRecord::of(problems), args.form.format)?;
            return Ok(ExitStatus::BadInput);
        }
    };
    let changes = changes(&old, &new);
    match args.form.format {
        Format::Json => terminal.write_json(&changes)?,
        Format::Text => {
            let text = changed(&changes, terminal.width(), terminal.style());
            terminal.write(&text)?;
        }
    }
    Ok(ExitStatus::objection_if(changes.is_graver()))
}

fn report(path: &Path, terminal: &mut Terminal) -> Result<Report, Problem> {
    let bytes = input::read_bytes(path, "a report", terminal)?;
    serde_json::from_slice(&bytes).map_err(|error| no_report(&input::name_of(path), &bytes, &error))
}

/// What a file is that is no report, as far as that can be said.
fn no_report(name: &str, bytes: &[u8], error: &serde_json::Error) -> Problem {
    const HOW: &str = "write one with `cellrules check --format json PLAN`";
    if bytes.trim_ascii_start().starts_with(b"[") {
        let message = "these are the reports of several plans";
        let help = "take one plan alone, or cut its report out";
        return Problem::at_start(name, Fault::WrongShape, message, help);
    }
    if serde_json::from_slice::<ProblemRecord>(bytes).is_ok() {
        let message = "this is no report: its plan could not be used";
        let help = "correct the plan, check it again, and compare then";
        return Problem::at_start(name, Fault::WrongShape, message, help);
    }
    let message = match error.classify() {
        serde_json::error::Category::Data => format!("this is no report: {error}"),
        _ => format!("this is no JSON: {error}"),
    };
    Problem::at_start(name, Fault::Syntax, message, HOW)
}
