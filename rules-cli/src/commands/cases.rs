//! `cases`: runs the examples that rulesets carry.

use std::io;

use rules_core::bounds::MOST_PROBLEMS;
use rules_core::document::{Fault, Problem};
use rules_core::report::ProblemRecord;
use rules_core::vetting::{Vetting, run_cases};
use serde::Serialize;

use super::edited_copies::{EditedCopy, edited_copies, write_found};
use crate::args::{CasesArgs, Format};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

/// What came of a ruleset.
#[derive(Serialize)]
#[serde(untagged)]
enum Ran<'a> {
    /// Its cases were run.
    Run(CasesRun<'a>),
    /// It cannot be used.
    Failed(ProblemRecord),
}

/// What the cases of a ruleset gave.
#[derive(Serialize)]
struct CasesRun<'a> {
    ruleset: &'a str,
    cases: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    edited_copies: Vec<EditedCopy>,
    /// Cases that gave something else than they expect, as many as are shown of one file.
    failed: Vec<FailedCase>,
    /// How many more did.
    #[serde(skip_serializing_if = "is_zero")]
    more_failed: usize,
}

#[derive(Serialize)]
struct FailedCase {
    caution: String,
    problem: Problem,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes a reference"
)]
fn is_zero(count: &usize) -> bool {
    *count == 0
}

pub(super) fn run(args: &CasesArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let mut status = ExitStatus::Success;
    let mut runs = Vec::new();
    for ruleset in &args.rulesets.names {
        match input::load_for_vetting(ruleset, &args.rulesets.within) {
            Ok(vetting) => {
                let run = CasesRun::of(ruleset, &vetting);
                status = status.graver(run.exit_status());
                runs.push(Ran::Run(run));
            }
            Err(problems) => {
                status = ExitStatus::BadInput;
                terminal.report_problems(&problems);
                runs.push(Ran::Failed(ProblemRecord::of_ruleset(ruleset, problems)));
            }
        }
    }
    match args.form.format {
        Format::Json => terminal.write_json(&runs)?,
        Format::Text => runs.iter().try_for_each(|run| match run {
            Ran::Run(run) => run.write(terminal),
            Ran::Failed(_) => Ok(()),
        })?,
    }
    Ok(status)
}

impl<'a> CasesRun<'a> {
    fn of(ruleset: &'a str, vetting: &Vetting) -> Self {
        let mut run = Self {
            ruleset,
            cases: 0,
            edited_copies: edited_copies(vetting),
            failed: Vec::new(),
            more_failed: 0,
        };
        for outcome in run_cases(vetting) {
            run.cases += 1;
            match outcome.problem {
                Some(problem) if run.failed.len() < MOST_PROBLEMS => run.failed.push(FailedCase {
                    caution: outcome.caution.to_string(),
                    problem,
                }),
                Some(_) => run.more_failed += 1,
                None => {}
            }
        }
        run
    }

    const fn exit_status(&self) -> ExitStatus {
        if self.cases == 0 {
            ExitStatus::NothingChecked
        } else {
            ExitStatus::objection_if(!self.failed.is_empty())
        }
    }

    fn write(&self, terminal: &mut Terminal) -> io::Result<()> {
        let (problems, sentence) = (&self.problems(), self.in_words());
        write_found(
            self.ruleset,
            problems,
            sentence,
            &self.edited_copies,
            terminal,
        )
    }

    fn problems(&self) -> Vec<Problem> {
        let failed = self.failed.iter();
        let mut problems: Vec<Problem> = failed.map(|case| case.problem.clone()).collect();
        if self.more_failed > 0 {
            let message = format!(
                "{} more cases did not give what they expect",
                self.more_failed
            );
            let help = "correct the cases above first";
            problems.push(Problem::of_file(Fault::TooLarge, message, help));
        }
        problems
    }

    fn in_words(&self) -> String {
        match self.cases {
            0 => ": it has no cases, so none were run".to_owned(),
            cases => format!(
                ": {} of {cases} cases gave what they expect",
                cases - self.failed.len() - self.more_failed
            ),
        }
    }
}
