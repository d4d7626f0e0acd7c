//! Commands that read proposals and answer each.

use std::io;
use std::path::PathBuf;

use rules_core::document::Problem;
use rulesets::proposal::Proposal;
use serde::Serialize;

use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

/// The answers to the proposals of these files, or to standard input if there are no files. Reports
/// what is wrong with a proposal that cannot be used; the status says whether there was one.
pub(super) fn answer_each<A>(
    files: &[PathBuf],
    terminal: &mut Terminal,
    answer: impl Fn(&Proposal) -> Result<A, Vec<Problem>>,
) -> (Vec<A>, ExitStatus) {
    let stdin = [PathBuf::from(input::DASH)];
    let paths = if files.is_empty() { &stdin } else { files };
    let (mut answers, mut status) = (Vec::new(), ExitStatus::Success);
    for path in paths {
        match input::read_proposal(path, terminal).and_then(|proposal| answer(&proposal)) {
            Ok(one) => answers.push(one),
            Err(problems) => {
                status = ExitStatus::BadInput;
                terminal.report_problems(&problems);
            }
        }
    }
    (answers, status)
}

/// Writes an array if there were several files, otherwise an object, if there is an answer.
pub(super) fn write_json_answers<A: Serialize>(
    answers: &[A],
    files: &[PathBuf],
    terminal: &mut Terminal,
) -> io::Result<()> {
    if files.len() > 1 {
        return terminal.write_json(&answers);
    }
    answers.iter().try_for_each(|one| terminal.write_json(one))
}

/// A line between the answers to several files.
pub(super) fn write_rule(terminal: &mut Terminal) -> io::Result<()> {
    let line = "-".repeat(terminal.width());
    terminal.write(&format!("\n{line}\n\n"))
}
