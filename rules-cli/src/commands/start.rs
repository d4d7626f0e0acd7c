//! `start`: commented starters.

use std::io;
use std::path::Path;

use super::written_file::{not_written, write_new};
use crate::args::{StartArgs, StarterName};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &StartArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let text = text(args.what);
    match &args.out {
        None => {
            terminal.write(text)?;
            Ok(ExitStatus::Success)
        }
        Some(path) => Ok(write_to(path, text, terminal)),
    }
}

const fn text(what: StarterName) -> &'static str {
    match what {
        StarterName::Plan => include_str!("../../starters/plan.yaml"),
        StarterName::Bench => include_str!("../../starters/bench.yaml"),
        StarterName::Ruleset => include_str!("../../starters/ruleset.yaml"),
    }
}

fn write_to(path: &Path, text: &str, terminal: &mut Terminal) -> ExitStatus {
    match write_new(path, text) {
        Ok(()) => ExitStatus::Success,
        Err(error) => {
            terminal.report_problems(&[not_written(path, &error)]);
            ExitStatus::BadInput
        }
    }
}
