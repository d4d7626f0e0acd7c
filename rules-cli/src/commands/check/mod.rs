//! `check`: proposals against rulesets.

mod asked_for;
mod in_place;
mod several;
mod told;

use std::io;
use std::path::{Path, PathBuf};

use rules_core::check::{Options, Report, figures};
use rules_core::document::ProblemList;
use rulesets::jobs::Trial;
use rulesets::jobs::range::run_time_by_draw;
use rulesets::pages;

pub(super) use self::asked_for::WAYS;
use self::asked_for::{options, page, report_with_changes};
use super::each_proposal::{is_several, named, one_page_each, unusable, with_rules_for};
use crate::args::{CheckArgs, Format};
use crate::exit_status::ExitStatus;
use crate::folder::files_of;
use crate::plans::{Asked, Plans};
use crate::terminal::Terminal;

pub(super) fn run(args: &CheckArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let several = is_several(&args.files);
    let files = files_of(&named(&args.files));
    if let Some(form) = args.form.of_tools() {
        return told::check_all(form, files, args, terminal);
    }
    let paths: Vec<PathBuf> = files.iter().map(|file| file.path().to_owned()).collect();
    if several && args.form.is_page() {
        return one_page_each(terminal);
    }
    let asked = (paths.as_slice(), args.form.own());
    with_rules_for(
        &args.rules,
        asked,
        terminal,
        |plans, terminal| match paths.as_slice() {
            [path] if !several => check_one(plans, path, args, terminal),
            _ => several::check_all(plans, files, args, terminal),
        },
    )
}

fn check_one(
    plans: &mut Plans<'_>,
    path: &Path,
    args: &CheckArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let stages = args.stages.names();
    let options = options(args, &stages);
    let read = plans.read(path, terminal);
    let format = args.form.own();
    let answer = read.and_then(|plan| {
        plan.answer(|asked| {
            let report = report_with_changes(asked, options)?;
            let drawn = args.form.is_page().then(|| drawn(asked, &report));
            Ok((report, drawn.transpose()?))
        })
    });
    let (report, drawn) = match answer {
        Ok(answer) => answer,
        Err(problems) => return unusable(path, problems, format, terminal),
    };
    match (drawn, format) {
        (Some(drawn), _) => terminal.write(&drawn)?,
        (None, Format::Json) => terminal.write_json(&report)?,
        (None, Format::Text) => {
            let (width, style) = (terminal.width(), terminal.style());
            terminal.write(&page(&report, args, width, style))?;
        }
    }
    Ok(ExitStatus::of_report(&report, args.strict))
}

/// A report as a page with plots.
fn drawn(asked: &Asked<'_>, report: &Report) -> Result<String, ProblemList> {
    let options = Options::default();
    let figures = figures(asked.rules, asked.proposal, options)?;
    let run_time = run_time_by_draw(&Trial::of(asked.plan, asked.rules, options)?);
    Ok(pages::check(report, &figures, run_time.as_ref()).document())
}
