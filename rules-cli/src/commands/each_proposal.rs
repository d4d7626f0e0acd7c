//! Commands that read proposals and answer each.

use std::io;
use std::path::PathBuf;

use rules_core::document::ProblemList;
use rules_core::report::ProblemRecord;
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;
use serde::Serialize;

use super::with_rules::with_rules;
use crate::args::{Format, RulesOptions};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::plans::{Asked, Plans};
use crate::terminal::Terminal;

/// What came of a proposal.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Answer<A> {
    /// What was asked for.
    Given(A),
    /// Why it cannot be used.
    Failed(ProblemRecord),
}

impl<A> Answer<A> {
    /// What was asked for, if it is there.
    pub(super) const fn given(&self) -> Option<&A> {
        match self {
            Self::Given(answer) => Some(answer),
            Self::Failed(_) => None,
        }
    }
}

/// The answers to the proposals of these files, or to standard input if there are no files, in their
/// order. Reports what is wrong with a proposal that cannot be used; the status says whether there
/// was one.
pub(super) fn answer_each<A>(
    files: &[PathBuf],
    plans: &mut Plans<'_>,
    terminal: &mut Terminal,
    answer: impl Fn(&Asked<'_>) -> Result<A, ProblemList>,
) -> (Vec<Answer<A>>, ExitStatus) {
    let (mut answers, mut status) = (Vec::new(), ExitStatus::Success);
    let files = named(files);
    plans.look_over(files.iter().map(PathBuf::as_path), terminal);
    for path in &files {
        let read = plans.read(path, terminal);
        answers.push(match read.and_then(|plan| plan.answer(&answer)) {
            Ok(one) => Answer::Given(one),
            Err(problems) => {
                status = ExitStatus::BadInput;
                terminal.report_problems(&problems);
                Answer::Failed(ProblemRecord::of_proposal(&input::name_of(path), problems))
            }
        });
    }
    (answers, status)
}

/// The proposals named, or standard input.
fn named(files: &[PathBuf]) -> Vec<PathBuf> {
    if files.is_empty() {
        vec![PathBuf::from(input::DASH)]
    } else {
        files.to_vec()
    }
}

/// Does something with proposals and the rulesets that they are checked by. Where the rulesets cannot
/// be used, the faults of the proposals are reported with theirs.
pub(super) fn with_rules_for(
    options: &RulesOptions,
    (files, format): (&[PathBuf], Format),
    terminal: &mut Terminal,
    act: impl FnOnce(&mut Plans<'_>, &mut Terminal) -> io::Result<ExitStatus>,
) -> io::Result<ExitStatus> {
    // Without the folder of the rules, which is told as their problem, proposals are read all the same.
    let library = input::library(&options.within).unwrap_or_else(|_| Box::new(Shipped));
    let mut used = false;
    let status = with_rules(options, format, terminal, |rules, terminal| {
        used = true;
        act(&mut Plans::new(options, rules, &*library), terminal)
    });
    let mut benches = Benches::of(&*library);
    let unread = named(files).into_iter().filter(|_| !used);
    for path in unread.filter(|path| !input::is_typed(path)) {
        let plan = input::read_plan(&path, &mut benches, terminal);
        // A bench or a ruleset in a folder is no proposal with faults.
        let is_other = |plan: &Plan| plan.other_than_proposal().is_some();
        if plan.as_ref().is_ok_and(is_other) {
            continue;
        }
        if let Err(problems) = plan.and_then(|plan| plan.proposal(None)) {
            terminal.report_problems(&problems);
        }
    }
    status
}

/// Writes an array if there were several files, otherwise an object.
pub(super) fn write_json_answers<A: Serialize>(
    answers: &[Answer<A>],
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
