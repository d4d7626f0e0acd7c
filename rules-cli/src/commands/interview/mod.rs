//! `interview`: questions in the terminal, and a proposal of the answers.
//!
//! `talk` holds the conversation in a `console`, of what is `known`; `asked` is one question, `opening`
//! has the first ones, `of_bench` those that a bench has answers to, `meters` those about readings in
//! doubt, `file` reads and writes.

mod asked;
mod console;
mod file;
mod known;
mod meters;
mod of_bench;
mod opening;
mod talk;
#[cfg(test)]
mod tests;

use std::collections::BTreeSet;
use std::io::{self, IsTerminal};
use std::sync::Arc;

use rules_core::check::{Options, Report, check};
use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::report::text::{USUAL_LINES, first_page};
use rulesets::jobs::{Trial, would_lift_without};
use rulesets::proposal::Draft;

#[cfg(feature = "page")]
pub(super) use self::asked::{said, value, words_of};
use self::console::LineEditor;
use self::file::File;
use self::talk::{Broken, Talk};
use super::check::WAYS;
use super::each_proposal::with_rules_for;
use crate::args::{Format, InterviewArgs};
use crate::exit_status::ExitStatus;
use crate::plans::Plans;
use crate::terminal::Terminal;

pub(super) fn run(args: &InterviewArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let file = match has_terminal().and_then(|()| File::of(args)) {
        Ok(file) => file,
        Err(problem) => {
            terminal.report_problems(&[problem]);
            return Ok(ExitStatus::BadInput);
        }
    };
    let asked = (file.begun(), Format::Text);
    with_rules_for(&args.rules, asked, terminal, |plans, terminal| {
        match held(&file, plans, terminal) {
            Ok(report) => end(report.as_ref(), &file, terminal),
            Err(Broken::Console(error)) => Err(error),
            Err(Broken::Proposal(problems)) => {
                terminal.report_problems(&problems);
                Ok(ExitStatus::BadInput)
            }
        }
    })
}

fn has_terminal() -> Result<(), Problem> {
    if io::stdin().is_terminal() && io::stdout().is_terminal() {
        return Ok(());
    }
    Err(Problem::of_file(
        Fault::Unreadable,
        "an interview needs a terminal on both sides, to ask and to be answered",
        "run it in a terminal; without one write the file by hand, from `cellrules start plan`",
    ))
}

fn held(
    file: &File,
    plans: &mut Plans<'_>,
    terminal: &mut Terminal,
) -> Result<Option<Report>, Broken> {
    let draft = file.draft(plans, terminal)?;
    let bench = plans.of_draft(&draft)?.plan.sound_bench()?.map(Arc::clone);
    let (width, style) = (terminal.width(), terminal.style());
    let plans = std::cell::RefCell::new(plans);
    Talk {
        console: &mut LineEditor::new(terminal)?,
        check: &mut |draft, not_known| checked(&mut plans.borrow_mut(), draft, not_known),
        save: &mut |draft| {
            let plan = plans.borrow_mut().of_draft(draft)?;
            file.save(draft, &plan.plan)
        },
        bench,
        copies: file.is_copied(),
        width,
        style,
    }
    .hold(draft)
}

/// The report of what is known, with the answers that would lift its verdict.
fn checked(
    plans: &mut Plans<'_>,
    draft: &Draft,
    not_known: &BTreeSet<String>,
) -> Result<Report, ProblemList> {
    let plan = plans.of_draft(draft)?;
    plan.answer(|asked| {
        let options = Options::default();
        let mut report = check(asked.rules, asked.proposal, options)?;
        let trial = Trial::of(asked.plan, asked.rules, options)?;
        report.would_lift = would_lift_without(&trial, &report, not_known);
        Ok(report)
    })
}

/// The first page as far as there is one, and where the answers are.
fn end(report: Option<&Report>, file: &File, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    if let Some(report) = report {
        let size = (terminal.width(), USUAL_LINES);
        let page = first_page(report, size, WAYS, terminal.style());
        terminal.write(&format!("\n{page}"))?;
    }
    let name = file.out().display();
    let said = match file.out().exists() {
        true => format!("\nThe answers are in {name}.\n"),
        false => "\nNothing was answered, and nothing was written.\n".to_owned(),
    };
    terminal.write(&said)?;
    let status = |report| ExitStatus::of_report(report, false);
    Ok(report.map_or(ExitStatus::NothingChecked, status))
}
