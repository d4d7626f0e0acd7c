//! `cases`: the examples that rulesets carry.

use std::io;

use rules_core::bounds::MOST_PROBLEMS;
use rules_core::document::{Fault, Problem};
use rules_core::report::text::{Part, Role};
use rules_core::vetting::{Vetting, run_cases};
use serde::Serialize;

use super::edited::{EditedCopy, edited_copies};
use crate::args::{Cases, Format};
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// How the cases of a ruleset came out.
#[derive(Serialize)]
struct Tried<'a> {
    ruleset: &'a str,
    cases: usize,
    /// Those that have the name of a shipped ruleset and are not it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    edited_copies: Vec<EditedCopy>,
    /// Those that came out otherwise, as many as are told of one file.
    failed: Vec<Failed>,
    /// How many more did.
    #[serde(skip_serializing_if = "is_zero")]
    more_failed: usize,
}

#[derive(Serialize)]
struct Failed {
    caution: String,
    problem: Problem,
}

// The signature is serde's.
#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes a reference"
)]
fn is_zero(count: &usize) -> bool {
    *count == 0
}

pub(super) fn run(args: &Cases, terminal: &mut Terminal) -> io::Result<Outcome> {
    let mut outcome = Outcome::Fine;
    let mut all = Vec::new();
    for ruleset in &args.rulesets {
        match input::vetting(ruleset, &args.within) {
            Ok(vetting) => {
                let tried = tried(ruleset, &vetting);
                outcome = outcome.and(tried.outcome());
                all.push(tried);
            }
            Err(problems) => {
                outcome = Outcome::BadInput;
                terminal.complain_of(&problems);
            }
        }
    }
    match args.form.format {
        Format::Json => terminal.put_json(&all)?,
        Format::Text => all.iter().try_for_each(|one| put(one, terminal))?,
    }
    Ok(outcome)
}

fn tried<'a>(ruleset: &'a str, vetting: &Vetting) -> Tried<'a> {
    let mut tried = Tried {
        ruleset,
        cases: 0,
        edited_copies: edited_copies(vetting),
        failed: Vec::new(),
        more_failed: 0,
    };
    for outcome in run_cases(vetting) {
        tried.cases += 1;
        match outcome.problem {
            Some(problem) if tried.failed.len() < MOST_PROBLEMS => tried.failed.push(Failed {
                caution: outcome.caution.to_string(),
                problem,
            }),
            Some(_) => tried.more_failed += 1,
            None => {}
        }
    }
    tried
}

impl Tried<'_> {
    fn outcome(&self) -> Outcome {
        if self.cases == 0 {
            Outcome::NothingChecked
        } else {
            Outcome::against_if(!self.failed.is_empty())
        }
    }
}

fn put(tried: &Tried<'_>, terminal: &mut Terminal) -> io::Result<()> {
    let mut problems: Vec<Problem> = tried
        .failed
        .iter()
        .map(|failed| failed.problem.clone())
        .collect();
    if tried.more_failed > 0 {
        let message = format!("{} more cases come out otherwise", tried.more_failed);
        problems.push(Problem::of_file(
            Fault::TooLarge,
            message,
            "mend these first",
        ));
    }
    terminal.put_problems(&problems)?;
    let text = match tried.cases {
        0 => ": it has no cases, so nothing was tried".to_owned(),
        cases => format!(
            ": {} of {cases} cases came out as they say",
            cases - tried.failed.len() - tried.more_failed
        ),
    };
    let mut page = terminal.page();
    page.paragraph(
        0,
        &[Part::new(Role::Heading, tried.ruleset), Part::text(text)],
    );
    tried
        .edited_copies
        .iter()
        .for_each(|copy| copy.put(&mut page));
    terminal.put(&page.finish())
}
