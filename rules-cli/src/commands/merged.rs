//! `merged`: rulesets as one.

use std::io;

use crate::args::Merged;
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Merged, terminal: &mut Terminal) -> io::Result<Outcome> {
    match input::rules(&args.rulesets, &args.within) {
        Ok(rules) => {
            terminal.put(&rules.merged_json())?;
            Ok(Outcome::Fine)
        }
        Err(problems) => {
            terminal.complain_of(&problems);
            Ok(Outcome::BadInput)
        }
    }
}
