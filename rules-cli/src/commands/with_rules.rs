//! Commands that need rulesets.

use std::io;

use rules_core::report::ProblemRecord;
use rules_core::ruleset::Rules;

use crate::args::{Format, RulesOptions, RulesWithin};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

/// Does something with the rulesets that the options name, or reports what is wrong with them.
pub(super) fn with_rules(
    options: &RulesOptions,
    format: Format,
    terminal: &mut Terminal,
    act: impl FnOnce(&Rules, &mut Terminal) -> io::Result<ExitStatus>,
) -> io::Result<ExitStatus> {
    with_named_rules((&options.names(), &options.within), format, terminal, act)
}

/// Does something with rulesets of these names.
pub(super) fn with_named_rules(
    (names, within): (&[String], &RulesWithin),
    format: Format,
    terminal: &mut Terminal,
    act: impl FnOnce(&Rules, &mut Terminal) -> io::Result<ExitStatus>,
) -> io::Result<ExitStatus> {
    match input::load_rules(names, within) {
        Ok(rules) => {
            let status = act(&rules, terminal);
            // The process ends here. To take the rules apart piece by piece first would only cost
            // time.
            std::mem::forget(rules);
            status
        }
        Err(problems) => {
            terminal.report_problems(&problems);
            terminal.write_record(&ProblemRecord::of(problems), format)?;
            Ok(ExitStatus::BadInput)
        }
    }
}
