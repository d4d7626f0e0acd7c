//! `cases`: runs the examples that rulesets carry.

use std::io;
use std::sync::Arc;

use rules_core::bounds::MOST_PROBLEMS;
use rules_core::document::{Fault, Problem};
use rules_core::facts::Notice;
use rules_core::outputs::{CasesOf, Form, OfRuleset, Piece};
use rules_core::report::ProblemRecord;
use rules_core::ruleset::LoadedRuleset;
use rules_core::vetting::{Vetting, run_cases};
use serde::Serialize;

use super::edited_copies::{EditedCopy, edited_copies, write_found};
use super::told::{document, usual_notice};
use crate::args::{CasesArgs, Format};
use crate::crew::each;
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
    /// Whether it defines cautions, which can have cases: one that only adjusts others defines none.
    #[serde(skip)]
    has_cautions: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    edited_copies: Vec<EditedCopy>,
    /// Cases that gave something else than they expect, as many as are shown of one file.
    failed: Vec<FailedCase>,
    /// How many more did.
    #[serde(skip_serializing_if = "is_zero")]
    more_failed: usize,
    /// How many cases each caution has, in their order.
    #[serde(skip)]
    of_cautions: Vec<(Arc<str>, usize)>,
    /// The ruleset with those that it extends.
    #[serde(skip)]
    layers: Vec<LoadedRuleset>,
    #[serde(skip)]
    notice: Vec<Notice>,
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
    let names = args.rulesets.names.iter();
    let ran = each(names, |ruleset| {
        let vetting = input::load_for_vetting(ruleset, &args.rulesets.within);
        (
            ruleset,
            vetting.map(|vetting| CasesRun::of(ruleset, &vetting)),
        )
    })?;
    for (ruleset, ran) in ran {
        match ran {
            Ok(run) => {
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
    match (args.form.of_tools(), args.form.own()) {
        (Some(form), _) => tell(form, &runs, terminal)?,
        (None, Format::Json) => terminal.write_json(&runs)?,
        (None, Format::Text) => runs.iter().try_for_each(|run| match run {
            Ran::Run(run) => run.write(terminal),
            Ran::Failed(_) => Ok(()),
        })?,
    }
    Ok(status)
}

/// Writes a document for other tools.
fn tell(form: Form, runs: &[Ran<'_>], terminal: &mut Terminal) -> io::Result<()> {
    let usual = usual_notice();
    let mut document = document(form, &usual);
    for ran in runs {
        let piece = match ran {
            Ran::Run(run) => run.piece(form),
            Ran::Failed(record) => Piece::of_ruleset(
                form,
                OfRuleset {
                    ruleset: record.ruleset.as_deref().unwrap_or_default(),
                    loads: false,
                    problems: &record.problems,
                    worth_a_look: &[],
                    cases: &[],
                    layers: &[],
                    notice: &usual,
                },
            ),
        };
        terminal.write(&document.add(piece))?;
    }
    terminal.write(&document.finish())
}

impl<'a> CasesRun<'a> {
    fn of(ruleset: &'a str, vetting: &Vetting) -> Self {
        let mut run = Self {
            ruleset,
            cases: 0,
            has_cautions: vetting.own_cautions() > 0,
            edited_copies: edited_copies(vetting),
            failed: Vec::new(),
            more_failed: 0,
            of_cautions: Vec::new(),
            layers: vetting.rules().layers().to_vec(),
            notice: vetting.rules().notice().to_vec(),
        };
        for outcome in run_cases(vetting) {
            run.cases += 1;
            match run.of_cautions.last_mut() {
                Some((caution, cases)) if *caution == outcome.caution => *cases += 1,
                _ => run.of_cautions.push((Arc::clone(&outcome.caution), 1)),
            }
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

    /// A test for the cases of each caution; that there are none, or more failed than are kept, is a
    /// problem.
    fn piece(&self, form: Form) -> Piece {
        let of = |(caution, cases): &(Arc<str>, usize)| {
            let failed = self.failed.iter();
            let failed = failed.filter(|one| *one.caution == **caution);
            CasesOf {
                caution: Arc::clone(caution),
                cases: *cases,
                failed: failed.map(|one| one.problem.clone()).collect(),
            }
        };
        let cases: Vec<CasesOf> = self.of_cautions.iter().map(of).collect();
        let mut problems: Vec<Problem> = self.counted().into_iter().collect();
        if self.lacks_cases() {
            let message = format!("`{}` has no cases, so none were run", self.ruleset);
            let help = "add `cases` to its cautions";
            problems.push(Problem::of_file(Fault::OutcomeNotShown, message, help));
        }
        Piece::of_ruleset(
            form,
            OfRuleset {
                ruleset: self.ruleset,
                loads: true,
                problems: &problems,
                worth_a_look: &[],
                cases: &cases,
                layers: &self.layers,
                notice: &self.notice,
            },
        )
    }

    /// Whether cases were to be expected, and there are none.
    const fn lacks_cases(&self) -> bool {
        self.cases == 0 && self.has_cautions
    }

    const fn exit_status(&self) -> ExitStatus {
        if self.lacks_cases() {
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
        problems.extend(self.counted());
        problems
    }

    /// How many more failed than are kept.
    fn counted(&self) -> Option<Problem> {
        let message = format!(
            "{} more cases did not give what they expect",
            self.more_failed
        );
        let help = "correct the cases above first";
        let problem = || Problem::of_file(Fault::TooLarge, message, help);
        (self.more_failed > 0).then(problem)
    }

    fn in_words(&self) -> String {
        match self.cases {
            0 if !self.has_cautions => ": it has no cautions of its own, and no cases".to_owned(),
            0 => ": it has no cases, so none were run".to_owned(),
            cases => format!(
                ": {} of {cases} cases gave what they expect",
                cases - self.failed.len() - self.more_failed
            ),
        }
    }
}
