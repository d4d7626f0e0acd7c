//! `check`: proposals against rulesets.

use std::io;

use rules_core::check::{Options, Report, check};
use rules_core::report::text::{USUAL_LINES, Ways, first_page, overview, question_page, text};

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
    let stages = args.stages.names();
    let options = Options {
        acceptance: args.acceptance(),
        stages: &stages,
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
    let status = |report: &Report| ExitStatus::of_report(report, args.strict);
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
    for report in reports {
        if several {
            write_rule(terminal)?;
        }
        let shown = match (args.full, args.questions) {
            (true, _) => text(report, width, style),
            (false, true) => question_page(report, width, style),
            (false, false) => first_page(report, (width, USUAL_LINES), WAYS, style),
        };
        terminal.write(&shown)?;
    }
    Ok(())
}

/// How to get at what a first page leaves out.
pub(super) const WAYS: Ways<'_> = Ways {
    questions: "--questions",
    all: "All reasons, values and sources: --full. One caution: cellrules explain NAME",
};
