//! `stream`: a proposal on each line in, a record on each line out.

mod progress;
mod record;
mod tally;

use std::io::{self, ErrorKind, Read, Write};

use rules_core::check::{Options, know_stages};
use rules_core::document::{Fault, Problem, write_json_line};
use rules_core::ruleset::{Rules, open_file};

use self::progress::Progress;
use self::record::Record;
use self::tally::{Tally, counted};
use super::with_rules::with_rules;
use crate::args::{Format, StreamArgs};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::lines::{Batch, Line, PieceWriter, StreamError, in_order};
use crate::terminal::Terminal;

pub(super) fn run(args: &StreamArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let file = args.file.as_deref().filter(|path| !input::is_stdin(path));
    // A record answers a line: where no line is read, none is written.
    with_rules(
        &args.rules,
        Format::Text,
        terminal,
        |rules, terminal| match file {
            None => check_lines(rules, args, io::stdin(), terminal),
            Some(path) => match open_file(path) {
                Ok(file) => check_lines(rules, args, file, terminal),
                Err(problem) => {
                    terminal.report_problems(&[problem]);
                    Ok(ExitStatus::BadInput)
                }
            },
        },
    )
}

fn check_lines(
    rules: &Rules,
    args: &StreamArgs,
    input: impl Read + Send,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let stages = args.stages.names();
    if let Err(problems) = know_stages(rules, &stages) {
        terminal.report_problems(&problems);
        return Ok(ExitStatus::BadInput);
    }
    let options = Options {
        stages: &stages,
        ..Options::default()
    };
    let mut total = Tally::default();
    let mut progress = Progress::new();
    let ended = in_order(
        input,
        |batch, output| write_records((rules, options), args, batch, output),
        |text, tally| {
            if let Some(tally) = tally {
                total.add(tally);
                progress.show(|| counted(total.lines()), terminal);
            }
            terminal.write_now(&text)
        },
    );
    match ended {
        Ok(()) => {}
        Err(StreamError::Output(error)) if error.kind() == ErrorKind::BrokenPipe => {
            return Ok(total.status());
        }
        Err(StreamError::Output(error)) => return Err(error),
        Err(StreamError::Input(error)) => {
            terminal.message(progress.line_start());
            terminal.report_problems(&[cannot_be_read(args, &error)]);
            total.set_at_least(ExitStatus::BadInput);
        }
    }
    let start = progress.line_start();
    terminal.message(&format!("{start}{}\n", total.in_words()));
    Ok(total.final_status())
}

fn cannot_be_read(args: &StreamArgs, error: &io::Error) -> Problem {
    let file = args.file.as_deref().filter(|path| !input::is_stdin(path));
    let what = match file {
        Some(path) => format!("`{}`", path.display()),
        None => "standard input".to_owned(),
    };
    let message = format!("{what} could not be read to its end: {error}");
    Problem::of_file(Fault::Unreadable, message, "")
}

/// What a worker does with a batch: checks each line and writes its record.
fn write_records(
    (rules, options): (&Rules, Options<'_>),
    args: &StreamArgs,
    batch: Batch,
    output: &mut PieceWriter<'_>,
) -> io::Result<Tally> {
    let mut tally = Tally::default();
    for line in batch {
        if is_blank(&line) {
            tally.count_blank();
            continue;
        }
        let record = Record::of(line, rules, options, args.lean);
        tally.count(&record, args.strict);
        write_json_line(&mut *output, &record)?;
        output.write_all(b"\n")?;
    }
    Ok(tally)
}

fn is_blank(line: &Line) -> bool {
    let bytes = line.bytes.as_deref();
    bytes.is_some_and(|bytes| bytes.trim_ascii().is_empty())
}
