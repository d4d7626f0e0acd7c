//! `ruleset`: a shipped ruleset as it is written, so that the places in reports can be looked up.

use std::io;

use rules_core::ruleset::Library;
use rulesets::shipped::Shipped;

use crate::args::RulesetArgs;
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &RulesetArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let Some(name) = &args.name else {
        let names: Vec<&str> = Shipped::names().collect();
        terminal.write(&format!("{}\n", names.join("\n")))?;
        return Ok(ExitStatus::Success);
    };
    match Shipped.find(name, None) {
        Ok(text) => {
            terminal.write(&String::from_utf8_lossy(&text.bytes))?;
            Ok(ExitStatus::Success)
        }
        Err(problem) => {
            terminal.report_problems(&[problem]);
            Ok(ExitStatus::BadInput)
        }
    }
}
