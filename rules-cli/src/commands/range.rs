//! `range`: for which values of a fact a proposal passes.

use std::io;
use std::path::Path;

use rules_core::check::Options;
use rules_core::document::ProblemList;
use rules_core::report::ProblemRecord;
use rulesets::jobs::Trial;
use rulesets::jobs::range::{
    self, MapReport, RangeReport, USUAL_CHECKS, USUAL_MAP_CHECKS, Vary, Written,
};
use rulesets::pages;
use serde::Serialize;

use super::each_proposal::with_rules_for;
use crate::args::{Format, PageFormat, RangeArgs};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::plans::Plans;
use crate::terminal::Terminal;

pub(super) fn run(args: &RangeArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let format = args.form.format;
    let asked = (std::slice::from_ref(&args.file), format.or_text());
    with_rules_for(
        &args.rules,
        asked,
        terminal,
        |plans, terminal| match answer(args, plans, terminal) {
            Ok(answer) => write(&answer, format, terminal),
            Err(problems) => cannot_answer(&args.file, problems, format.or_text(), terminal),
        },
    )
}

/// A range, or a map of two.
#[derive(Serialize)]
#[serde(untagged)]
enum Answer {
    Range(Box<RangeReport>),
    Map(Box<MapReport>),
}

fn answer(
    args: &RangeArgs,
    plans: &mut Plans<'_>,
    terminal: &mut Terminal,
) -> Result<Answer, ProblemList> {
    let read = plans.read(&args.file, terminal)?;
    let stages = args.stages.names();
    read.answer(|asked| {
        let options = Options {
            stages: &stages,
            ..Options::default()
        };
        let trial = Trial::of(asked.plan, asked.rules, options)?;
        let first = Vary {
            fact: &args.fact,
            from: written("--from", args.ends.from.as_deref()),
            to: written("--to", args.ends.to.as_deref()),
            resolution: written("--resolution", args.ends.resolution.as_deref()),
        };
        let Some(second) = &args.second else {
            let most = args.checks.unwrap_or(USUAL_CHECKS);
            let report = range::range(&trial, &first, most)?;
            return Ok(Answer::Range(Box::new(report)));
        };
        let second = Vary {
            fact: second,
            from: written("--and-from", args.and_from.as_deref()),
            to: written("--and-to", args.and_to.as_deref()),
            resolution: written("--and-resolution", args.and_resolution.as_deref()),
        };
        let most = args.checks.unwrap_or(USUAL_MAP_CHECKS);
        let report = range::map(&trial, &first, &second, most)?;
        Ok(Answer::Map(Box::new(report)))
    })
}

fn written<'a>(called: &'a str, text: Option<&'a str>) -> Option<Written<'a>> {
    text.map(|text| Written { called, text })
}

fn write(answer: &Answer, format: PageFormat, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let (width, style) = (terminal.width(), terminal.style());
    match (format, answer) {
        (PageFormat::Html, Answer::Range(report)) => {
            terminal.write(&pages::range(report).document())?
        }
        (PageFormat::Html, Answer::Map(report)) => {
            terminal.write(&pages::map(report).document())?
        }
        (PageFormat::Json, answer) => terminal.write_json(answer)?,
        (PageFormat::Text, Answer::Range(report)) => {
            terminal.write(&range::text(report, width, style))?;
        }
        (PageFormat::Text, Answer::Map(report)) => {
            terminal.write(&range::map_text(report, width, style))?;
        }
    }
    Ok(ExitStatus::Success)
}

fn cannot_answer(
    file: &Path,
    problems: ProblemList,
    format: Format,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    terminal.report_problems(&problems);
    let record = ProblemRecord::of_proposal(&input::name_of(file), problems);
    terminal.write_record(&record, format)?;
    Ok(ExitStatus::BadInput)
}
