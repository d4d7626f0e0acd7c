//! `figures`: what can be worked out of proposals.

use std::io;

use rules_core::check::{FigureSheet, Options, figures};
use rules_core::report::text;
use rules_core::ruleset::Rules;

use super::with_input::{of_each, put_json, with_rules};
use crate::args::{Figures, Format};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

pub(super) fn run(args: &Figures, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| {
        with(rules, args, terminal)
    })
}

fn with(rules: &Rules, args: &Figures, terminal: &mut Terminal) -> io::Result<Outcome> {
    let (sheets, outcome) = of_each(&args.files, terminal, |proposal| {
        figures(rules, proposal, Options::default())
    });
    match args.form.format {
        Format::Json => put_json(&sheets, args.files.len() > 1, terminal)?,
        Format::Text => put_text(&sheets, terminal)?,
    }
    Ok(outcome)
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
