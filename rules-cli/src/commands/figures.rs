//! `figures`: what can be worked out of proposals.

use std::io;

use rules_core::check::{Options, figures};
use rules_core::document::Problem;
use rules_core::report::{FigureSheet, text};
use rules_core::ruleset::Rules;

use super::with_rules;
use crate::args::{Figures, Format};
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Figures, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| with(rules, args, terminal))
}

fn with(rules: &Rules, args: &Figures, terminal: &mut Terminal) -> io::Result<Outcome> {
    let stdin = ["-".to_owned()];
    let names = if args.files.is_empty() { stdin.as_slice() } else { args.files.as_slice() };
    let mut outcome = Outcome::Fine;
    let mut sheets = Vec::new();
    for name in names {
        match one(name, rules, terminal) {
            Ok(sheet) => sheets.push(sheet),
            Err(problems) => {
                outcome = Outcome::BadInput;
                terminal.complain_of(&problems);
            }
        }
    }
    match (args.form.format, sheets.as_slice()) {
        (Format::Json, [sheet]) if names.len() == 1 => terminal.put_json(sheet)?,
        (Format::Json, []) if names.len() == 1 => {}
        (Format::Json, sheets) => terminal.put_json(&sheets)?,
        (Format::Text, sheets) => put_text(sheets, terminal)?,
    }
    Ok(outcome)
}

fn one(name: &str, rules: &Rules, terminal: &mut Terminal) -> Result<FigureSheet, Vec<Problem>> {
    let proposal = input::proposal(name, terminal)?;
    figures(rules, &proposal, Options::default())
}

fn put_text(sheets: &[FigureSheet], terminal: &mut Terminal) -> io::Result<()> {
    let (width, dress) = (terminal.width(), terminal.dress());
    for (at, sheet) in sheets.iter().enumerate() {
        if at > 0 {
            terminal.put(&format!("\n{}\n\n", "-".repeat(width)))?;
        }
        terminal.put(&text::figures(sheet, width, dress))?;
    }
    Ok(())
}
