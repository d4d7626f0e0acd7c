//! Many proposals, checked by all cores: what came of each is written as soon as its turn comes.

use std::io::{self, ErrorKind};

use rules_core::check::{Report, check};
use rules_core::document::{ProblemList, json_text};
use rules_core::report::text::{Style, Totals, list_line};

use super::asked_for::{is_list, options, page, report_with_changes};
use super::in_place::{Checked, InPlace};
use crate::args::{CheckArgs, Format};
use crate::commands::in_turn::each_in_turn;
use crate::exit_status::ExitStatus;
use crate::folder::Asked;
use crate::plans::{Plans, ReadPlan};
use crate::terminal::Terminal;

pub(super) fn check_all(
    plans: &mut Plans<'_>,
    files: Vec<Asked>,
    args: &CheckArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let (width, style) = (terminal.width(), terminal.style());
    let mut answers = InPlace::new(args, files.len(), terminal);
    let work = |plan: &ReadPlan<'_>| checked(plan, args, (width, style));
    let ended = each_in_turn(plans, files, &mut answers, work);
    let ended = ended.and_then(|()| answers.finish(plans.shared_cells().as_deref()));
    match ended {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(answers.status()),
        other => other.map(|()| answers.status()),
    }
}

/// What a worker does: checks a proposal and writes what is asked for of its report, which need not
/// be kept then.
fn checked(
    plan: &ReadPlan<'_>,
    args: &CheckArgs,
    (width, style): (usize, &dyn Style),
) -> Result<Box<Checked>, ProblemList> {
    let stages = args.stages.names();
    let options = options(args, &stages);
    // A line of the list has no room for what would change it, and to find it takes long.
    let report = plan.answer(|asked| match is_list(args) {
        true => check(asked.rules, asked.proposal, options),
        false => report_with_changes(asked, options),
    })?;
    Ok(Box::new(Checked {
        written: written(&report, args, width, style),
        totals: Totals::of(&report),
        status: ExitStatus::of_report(&report, args.strict),
    }))
}

fn written(
    report: &Report,
    args: &CheckArgs,
    width: usize,
    style: &dyn Style,
) -> io::Result<String> {
    Ok(match args.form.format.or_text() {
        Format::Json => json_text(report)?,
        Format::Text if is_list(args) => list_line(report, style),
        Format::Text => page(report, args, width, style),
    })
}
