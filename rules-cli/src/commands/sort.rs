//! `sort`: the cells of a bench, each with its grade.

use std::io;

use rulesets::jobs::sort::{Sorting, csv, limits, sort, text};
use rulesets::pages;

use super::of_a_bench::{WithBench, no_answer, notes_as_message};
use crate::args::{Format, SortArgs, SortForm};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &SortArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let answer = WithBench::read(&args.bench, &args.by).and_then(|with| {
        let report = sort(&with.bench, &with.rules, sorting(&with))?;
        Ok((with, report))
    });
    let (with, report) = match answer {
        Ok(answer) => answer,
        Err(problems) => {
            let format = match args.format {
                SortForm::Json => Format::Json,
                SortForm::Text | SortForm::Csv | SortForm::Html => Format::Text,
            };
            return no_answer(problems, format, terminal);
        }
    };
    match args.format {
        SortForm::Json => terminal.write_json(&report)?,
        SortForm::Text => terminal.write(&text(&report, terminal.width(), terminal.style()))?,
        SortForm::Html => {
            let limits = limits(&with.bench, &with.rules, sorting(&with), &report);
            terminal.write(&pages::sort(&report, &limits.unwrap_or_default()).document())?;
        }
        SortForm::Csv => {
            terminal.write(&csv(&report))?;
            let weakened = (report.acceptance, &*report.loosened);
            notes_as_message(weakened, &report.notice, terminal);
        }
    }
    Ok(match report.cells.is_empty() {
        true => ExitStatus::NothingChecked,
        false => ExitStatus::Success,
    })
}

fn sorting(with: &WithBench) -> Sorting<'static> {
    Sorting {
        as_of: with.as_of,
        ..Sorting::default()
    }
}
