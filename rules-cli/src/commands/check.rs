//! `check`: proposals against rulesets.

use std::io;

use rules_core::check::{Options, check};
use rules_core::document::Problem;
use rules_core::report::Report;
use rules_core::report::text::{brief, overview, text};
use rules_core::ruleset::Rules;

use super::with_rules;
use crate::args::{Check, Format};
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Check, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| with(rules, args, terminal))
}

fn with(rules: &Rules, args: &Check, terminal: &mut Terminal) -> io::Result<Outcome> {
    let stdin = ["-".to_owned()];
    let names = if args.files.is_empty() { stdin.as_slice() } else { args.files.as_slice() };
    let mut outcome = Outcome::Fine;
    let mut reports = Vec::new();
    for name in names {
        match one(name, rules, args, terminal) {
            Ok(report) => {
                outcome = outcome.and(Outcome::of(&report, args.strict));
                reports.push(report);
            }
            Err(problems) => {
                outcome = Outcome::BadInput;
                terminal.complain_of(&problems);
            }
        }
    }
    match args.form.format {
        Format::Json => put_json(&reports, names.len() > 1, terminal)?,
        Format::Text => put_text(&reports, names.len() > 1, args.brief, terminal)?,
    }
    Ok(outcome)
}

fn one(name: &str, rules: &Rules, args: &Check, terminal: &mut Terminal) -> Result<Report, Vec<Problem>> {
    let proposal = input::proposal(name, terminal)?;
    check(rules, &proposal, Options { acceptance: args.acceptance() })
}

/// One object for one proposal, one array for several.
fn put_json(reports: &[Report], several: bool, terminal: &mut Terminal) -> io::Result<()> {
    match reports {
        _ if several => terminal.put_json(&reports),
        [report] => terminal.put_json(report),
        _ => Ok(()),
    }
}

fn put_text(reports: &[Report], several: bool, in_brief: bool, terminal: &mut Terminal) -> io::Result<()> {
    let written = if in_brief { brief } else { text };
    let (width, dress) = (terminal.width(), terminal.dress());
    if several && !reports.is_empty() {
        terminal.put(&overview(reports, width, dress))?;
    }
    for report in reports {
        if several {
            terminal.put(&format!("\n{}\n\n", "-".repeat(width)))?;
        }
        terminal.put(&written(report, width, dress))?;
    }
    Ok(())
}
