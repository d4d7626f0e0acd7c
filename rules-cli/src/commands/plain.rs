//! `plain`: proposals with what they take from their benches written out.

use std::io;

use super::each_proposal::{Answer, answer_each, with_rules_for, write_json_answers};
use crate::args::{Format, PlainArgs};
use crate::exit_status::ExitStatus;
use crate::terminal::Terminal;

pub(super) fn run(args: &PlainArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let files = args.files();
    let format = args.form.format;
    with_rules_for(
        &args.rules,
        (files, format),
        terminal,
        |plans, terminal| match format {
            Format::Json => {
                let (answers, status) = answer_each(files, plans, terminal, |asked| {
                    asked.plan.plain_value(asked.rules)
                });
                write_json_answers(&answers, files, terminal)?;
                Ok(status)
            }
            Format::Text => {
                let (answers, status) = answer_each(files, plans, terminal, |asked| {
                    asked.plan.plain_yaml(asked.rules)
                });
                for text in answers.iter().filter_map(Answer::given) {
                    terminal.write(text)?;
                }
                Ok(status)
            }
        },
    )
}
