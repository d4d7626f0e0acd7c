//! `check`: proposals against rulesets.

use std::io;

use rules_core::check::{Options, Report, check};
use rules_core::report::text::{brief, overview, text};
use rules_core::ruleset::Rules;

use super::with_input::{of_each, put_json, with_rules};
use crate::args::{Check, Format};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Check, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| {
        with(rules, args, terminal)
    })
}

fn with(rules: &Rules, args: &Check, terminal: &mut Terminal) -> io::Result<Outcome> {
    let options = Options {
        acceptance: args.acceptance(),
    };
    let (reports, read) = of_each(&args.files, terminal, |proposal| {
        check(rules, proposal, options)
    });
    let outcome = reports.iter().fold(read, |outcome, report| {
        outcome.and(Outcome::of(
            report.verdict,
            report.nothing_checked,
            args.strict,
        ))
    });
    let several = args.files.len() > 1;
    match args.form.format {
        Format::Json => put_json(&reports, several, terminal)?,
        Format::Text => put_text(&reports, several, args.brief, terminal)?,
    }
    Ok(outcome)
}

fn put_text(
    reports: &[Report],
    several: bool,
    in_brief: bool,
    terminal: &mut Terminal,
) -> io::Result<()> {
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
