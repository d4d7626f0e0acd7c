//! `check`: proposals against rulesets.

mod asked_for;
mod in_place;
mod several;

use std::io;
use std::path::PathBuf;

pub(super) use self::asked_for::WAYS;
use self::asked_for::{options, page, report_with_changes};
use super::each_proposal::{Answer, answer_each, with_rules_for, write_json_answers};
use crate::args::{CheckArgs, Format};
use crate::exit_status::ExitStatus;
use crate::folder::files_of;
use crate::plans::Plans;
use crate::terminal::Terminal;

pub(super) fn run(args: &CheckArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    // A folder is several, whatever is in it: programs get an array for it.
    let several = args.files.len() > 1 || args.files.iter().any(|path| path.is_dir());
    let files = files_of(&args.files);
    let paths: Vec<PathBuf> = files.iter().map(|file| file.path().to_owned()).collect();
    let format = args.form.format;
    with_rules_for(
        &args.rules,
        (&paths, format),
        terminal,
        |plans, terminal| {
            if several {
                several::check_all(plans, files, args, terminal)
            } else {
                check_one(plans, args, terminal)
            }
        },
    )
}

fn check_one(
    plans: &mut Plans<'_>,
    args: &CheckArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let stages = args.stages.names();
    let options = options(args, &stages);
    let (answers, read) = answer_each(&args.files, plans, terminal, |asked| {
        report_with_changes(asked, options)
    });
    let (width, style) = (terminal.width(), terminal.style());
    let mut status = read;
    for report in answers.iter().filter_map(Answer::given) {
        status = status.graver(ExitStatus::of_report(report, args.strict));
        if args.form.format == Format::Text {
            terminal.write(&page(report, args, width, style))?;
        }
    }
    if args.form.format == Format::Json {
        write_json_answers(&answers, &args.files, terminal)?;
    }
    Ok(status)
}
