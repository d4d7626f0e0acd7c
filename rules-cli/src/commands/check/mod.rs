//! `check`: proposals against rulesets.

mod asked_for;
mod in_place;
mod several;
mod told;

use std::io;
use std::path::{Path, PathBuf};

pub(super) use self::asked_for::WAYS;
use self::asked_for::{options, page, report_with_changes};
use super::each_proposal::{is_several, named, unusable, with_rules_for};
use crate::args::{CheckArgs, Format};
use crate::exit_status::ExitStatus;
use crate::folder::files_of;
use crate::plans::Plans;
use crate::terminal::Terminal;

pub(super) fn run(args: &CheckArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let several = is_several(&args.files);
    let files = files_of(&named(&args.files));
    if let Some(form) = args.form.of_tools() {
        return told::check_all(form, files, args, terminal);
    }
    let paths: Vec<PathBuf> = files.iter().map(|file| file.path().to_owned()).collect();
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
    let report = read.and_then(|plan| plan.answer(|asked| report_with_changes(asked, options)));
    let format = args.form.own();
    let report = match report {
        Ok(report) => report,
        Err(problems) => return unusable(path, problems, format, terminal),
    };
    match format {
        Format::Json => terminal.write_json(&report)?,
        Format::Text => {
            let (width, style) = (terminal.width(), terminal.style());
            terminal.write(&page(&report, args, width, style))?;
        }
    }
    Ok(ExitStatus::of_report(&report, args.strict))
}
