//! `tag`: what is known of each cell, as lines for its label.

use std::io;

use rules_core::document::ProblemList;
use rulesets::jobs::sort::{Sorting, sort};
use rulesets::jobs::tag::{TagReport, TagSize, tags, text};
use rulesets::pages;

use super::of_a_bench::{WithBench, no_answer, notes_as_message};
use crate::args::{PageFormat, TagArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &TagArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let report = match tagged(args) {
        Ok(report) => report,
        Err(problems) => return no_answer(problems, args.form.format.or_text(), terminal),
    };
    match args.form.format {
        PageFormat::Html => terminal.write(&pages::tags(&report).document())?,
        PageFormat::Json => terminal.write_json(&report)?,
        PageFormat::Text => {
            terminal.write(&text(&report))?;
            let weakened = (report.acceptance, &*report.loosened);
            notes_as_message(weakened, &report.notice, terminal);
        }
    }
    Ok(match report.tags.is_empty() {
        true => ExitStatus::NothingChecked,
        false => ExitStatus::Success,
    })
}

fn tagged(args: &TagArgs) -> Result<TagReport, ProblemList> {
    let with = WithBench::read(&args.bench, &args.by)?;
    let sorting = Sorting {
        as_of: with.as_of,
        cells: &args.cells,
    };
    let size = TagSize {
        columns: args.columns.into(),
        lines: args.lines.into(),
    };
    tags(&sort(&with.bench, &with.rules, sorting)?, size)
}
