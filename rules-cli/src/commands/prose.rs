//! `prose`: the words of rulesets, for whoever holds lean records.

use std::io;

use rules_core::report::Prose;

use super::with_rules::with_rules;
use crate::args::{Format, ProseArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &ProseArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    with_rules(&args.rules, Format::Json, terminal, |rules, terminal| {
        terminal.write_json(&Prose::of(rules))?;
        Ok(ExitStatus::Success)
    })
}
