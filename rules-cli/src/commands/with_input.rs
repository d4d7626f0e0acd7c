//! Doing something with the proposals and rulesets that are asked for, or complaining of them.

use std::io;
use std::path::PathBuf;

use rules_core::document::Problem;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde::Serialize;

use crate::args;
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// Does something with each proposal, standard input where none is named. What cannot be used is
/// complained of; the outcome says whether anything was.
pub(super) fn of_each<T>(
    files: &[PathBuf],
    terminal: &mut Terminal,
    work: impl Fn(&Proposal) -> Result<T, Vec<Problem>>,
) -> (Vec<T>, Outcome) {
    let stdin = [PathBuf::from(input::DASH)];
    let names = if files.is_empty() {
        stdin.as_slice()
    } else {
        files
    };
    let (mut done, mut outcome) = (Vec::new(), Outcome::Fine);
    for name in names {
        match input::proposal(name, terminal).and_then(|proposal| work(&proposal)) {
            Ok(one) => done.push(one),
            Err(problems) => {
                outcome = Outcome::BadInput;
                terminal.complain_of(&problems);
            }
        }
    }
    (done, outcome)
}

/// One object for one proposal, one array for several.
pub(super) fn put_json<T: Serialize>(
    all: &[T],
    several: bool,
    terminal: &mut Terminal,
) -> io::Result<()> {
    match all {
        _ if several => terminal.put_json(&all),
        [one] => terminal.put_json(one),
        _ => Ok(()),
    }
}

/// Does something with the rulesets asked for, or complains of them.
pub(super) fn with_rules(
    asked: &args::Rules,
    terminal: &mut Terminal,
    act: impl FnOnce(&Rules, &mut Terminal) -> io::Result<Outcome>,
) -> io::Result<Outcome> {
    match input::rules(&asked.names, &asked.within) {
        Ok(rules) => {
            let outcome = act(&rules, terminal);
            // The process ends here. To take the rules apart piece by piece first would only cost
            // time.
            std::mem::forget(rules);
            outcome
        }
        Err(problems) => {
            terminal.complain_of(&problems);
            Ok(Outcome::BadInput)
        }
    }
}
