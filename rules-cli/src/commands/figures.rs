//! `figures`: what can be worked out from proposals.

use std::io;

use rules_core::check::{FigureSheet, Options, figures};
use rules_core::report::text;

use super::each_proposal::{Answer, answer_each, with_rules_for, write_json_answers, write_rule};
use crate::args::{FiguresArgs, Format};
use crate::exit_status::ExitStatus;
use crate::plans::Plans;
use crate::terminal::Terminal;

pub(super) fn run(args: &FiguresArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let asked = (args.files.as_slice(), args.form.format);
    with_rules_for(&args.rules, asked, terminal, |plans, terminal| {
        work_out_each(plans, args, terminal)
    })
}

fn work_out_each(
    plans: &mut Plans<'_>,
    args: &FiguresArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let (answers, status) = answer_each(&args.files, plans, terminal, |asked| {
        let options = Options {
            narrowing: true,
            ..Options::default()
        };
        figures(asked.rules, asked.proposal, options)
    });
    match args.form.format {
        Format::Json => write_json_answers(&answers, &args.files, terminal)?,
        Format::Text => write_text(&answers, terminal)?,
    }
    Ok(status)
}

fn write_text(answers: &[Answer<FigureSheet>], terminal: &mut Terminal) -> io::Result<()> {
    let (width, style) = (terminal.width(), terminal.style());
    for (at, sheet) in answers.iter().filter_map(Answer::given).enumerate() {
        if at > 0 {
            write_rule(terminal)?;
        }
        terminal.write(&text::figures(sheet, width, style))?;
    }
    Ok(())
}
