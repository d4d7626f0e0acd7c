//! The subcommands.

mod cases;
mod cautions;
mod check;
mod edited;
mod explain;
mod facts;
mod figures;
mod label;
mod limits;
mod merged;
mod schema;
mod stream;
mod vet;

use std::io;
use std::path::PathBuf;

use rules_core::document::Problem;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde::Serialize;

use crate::args::{self, Command};
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// Does what is asked.
pub(crate) fn run(command: &Command, terminal: &mut Terminal) -> io::Result<Outcome> {
    match command {
        Command::Check(args) => check::run(args, terminal),
        Command::Stream(args) => stream::run(args, terminal),
        Command::Figures(args) => figures::run(args, terminal),
        Command::Vet(args) => vet::run(args, terminal),
        Command::Cases(args) => cases::run(args, terminal),
        Command::Cautions(args) => cautions::run(args, terminal),
        Command::Explain(args) => explain::run(args, terminal),
        Command::Limits(args) => limits::run(args, terminal),
        Command::Facts(args) => facts::run(args, terminal),
        Command::Label(args) => label::run(args, terminal),
        Command::Merged(args) => merged::run(args, terminal),
        Command::Schema(args) => schema::run(args, terminal),
    }
}

/// Does something with each proposal, standard input where none is named. What cannot be used is
/// complained of; the outcome says whether anything was.
fn of_each<T>(
    files: &[PathBuf],
    rules: &Rules,
    terminal: &mut Terminal,
    work: impl Fn(&Proposal) -> Result<T, Vec<Problem>>,
) -> (Vec<T>, Outcome) {
    let (mut done, mut outcome) = (Vec::new(), Outcome::Fine);
    for name in &named(files) {
        let read = input::proposal(name, Some(rules), terminal);
        match read.and_then(|proposal| work(&proposal)) {
            Ok(one) => done.push(one),
            Err(problems) => {
                outcome = Outcome::BadInput;
                terminal.complain_of(&problems);
            }
        }
    }
    (done, outcome)
}

/// The proposals named, or standard input.
fn named(files: &[PathBuf]) -> Vec<PathBuf> {
    if files.is_empty() {
        vec![PathBuf::from(input::DASH)]
    } else {
        files.to_vec()
    }
}

/// Does something with rulesets and proposals. Where the rulesets cannot be used, the faults of the
/// proposals are told with theirs.
fn with_rules_for(
    asked: &args::Rules,
    files: &[PathBuf],
    terminal: &mut Terminal,
    act: impl FnOnce(&Rules, &mut Terminal) -> io::Result<Outcome>,
) -> io::Result<Outcome> {
    let mut used = false;
    let outcome = with_rules(asked, terminal, |rules, terminal| {
        used = true;
        act(rules, terminal)
    });
    let unread = named(files).into_iter().filter(|_| !used);
    for name in unread.filter(|name| !input::is_typed(name)) {
        if let Err(problems) = input::proposal(&name, None, terminal) {
            terminal.complain_of(&problems);
        }
    }
    outcome
}

/// One object for one proposal, one array for several.
fn put_json<T: Serialize>(all: &[T], several: bool, terminal: &mut Terminal) -> io::Result<()> {
    match all {
        _ if several => terminal.put_json(&all),
        [one] => terminal.put_json(one),
        _ => Ok(()),
    }
}

/// Does something with the rulesets asked for, or complains of them.
fn with_rules(
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
