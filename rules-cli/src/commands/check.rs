//! `check`: proposals against rulesets.

use std::io;

use rules_core::check::{Options, Report, check};
use rules_core::report::text::{brief, overview, text};

use super::each_proposal::{Answer, answer_each, with_rules_for, write_json_answers, write_rule};
use crate::args::{CheckArgs, Format};
use crate::exit_status::ExitStatus;
use crate::plans::Plans;
use crate::terminal::Terminal;

pub(super) fn run(args: &CheckArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let asked = (args.files.as_slice(), args.form.format);
    with_rules_for(&args.rules, asked, terminal, |plans, terminal| {
        check_each(plans, args, terminal)
    })
}

fn check_each(
    plans: &mut Plans<'_>,
    args: &CheckArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let options = Options {
        acceptance: args.acceptance(),
        narrowing: true,
    };
    let (answers, read) = answer_each(&args.files, plans, terminal, |asked| {
        check(asked.rules, asked.proposal, options)
    });
    let reports: Vec<&Report> = answers.iter().filter_map(Answer::given).collect();
    match args.form.format {
        Format::Json => write_json_answers(&answers, &args.files, terminal)?,
        Format::Text => write_text(&reports, args, terminal)?,
    }
    let status =
        |report: &Report| ExitStatus::of_check(report.verdict, report.nothing_checked, args.strict);
    Ok(reports
        .iter()
        .copied()
        .map(status)
        .fold(read, ExitStatus::graver))
}

fn write_text(reports: &[&Report], args: &CheckArgs, terminal: &mut Terminal) -> io::Result<()> {
    let (width, style) = (terminal.width(), terminal.style());
    let several = args.files.len() > 1;
    if several && !reports.is_empty() {
        terminal.write(&overview(reports, width, style))?;
    }
    let as_text = if args.brief { brief } else { text };
    for report in reports {
        if several {
            write_rule(terminal)?;
        }
        terminal.write(&as_text(report, width, style))?;
    }
    Ok(())
}
