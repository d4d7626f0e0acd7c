//! `cases`: the examples that rulesets carry.

use std::io;

use rules_core::check::{self, CaseOutcome};
use rules_core::document::Problem;
use rules_core::report::text::{Part, Role};
use rules_core::ruleset::Vetting;
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
    /// Those that came out otherwise.
    failed: Vec<Failed>,
}

#[derive(Serialize)]
struct Failed {
    caution: String,
    problem: Problem,
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
    let outcomes = check::run_cases(vetting);
    let cases = outcomes.len();
    let failed = |outcome: CaseOutcome| {
        Some(Failed {
            caution: outcome.caution.to_string(),
            problem: outcome.problem?,
        })
    };
    Tried {
        ruleset,
        cases,
        edited_copies: edited_copies(vetting),
        failed: outcomes.into_iter().filter_map(failed).collect(),
    }
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
    let problems: Vec<Problem> = tried
        .failed
        .iter()
        .map(|failed| failed.problem.clone())
        .collect();
    terminal.put_problems(&problems)?;
    let text = match tried.cases {
        0 => ": it has no cases, so nothing was tried".to_owned(),
        cases => format!(
            ": {} of {cases} cases came out as they say",
            cases - problems.len()
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
