//! `merged`: rulesets as one.

use std::io;

use crate::args::MergedArgs;
use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

pub(super) fn run(args: &MergedArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    match input::load_rules(&args.rulesets.names, &args.rulesets.within) {
        Ok(rules) => {
            terminal.write(&rules.merged_json())?;
            Ok(ExitStatus::Success)
        }
        Err(problems) => {
            terminal.report_problems(&problems);
            Ok(ExitStatus::BadInput)
        }
    }
}
