//! `stream`: a proposal on each line in, a record on each line out.

mod record;
mod tally;

use std::io::{self, ErrorKind, Read, Write};
use std::sync::Arc;

use rules_core::check::{Options, know_stages};
use rules_core::document::{Fault, Problem, ProblemList, write_json_line};
use rules_core::report::text::counted;
use rules_core::ruleset::{Rules, open_file};
use rulesets::bench::{Bench, rules_in_force};

use self::record::Record;
use self::tally::Tally;
use super::progress::Progress;
use super::with_rules::with_named_rules;
use crate::args::{Format, StreamArgs};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::lines::{Batch, Line, PieceWriter, StreamError, in_order};
use crate::terminal::Terminal;

pub(super) fn run(args: &StreamArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let bench = match bench(args) {
        Ok(bench) => bench,
        Err(problems) => {
            terminal.report_problems(&problems);
            return Ok(ExitStatus::BadInput);
        }
    };
    let names = rules_in_force(bench.as_deref(), &args.rules.asked);
    // A record answers a line: where no line is read, none is written.
    let asked = (names.as_slice(), &args.rules.within);
    with_named_rules(asked, Format::Text, terminal, |rules, terminal| {
        check_file(&Checking { rules, bench, args }, terminal)
    })
}

/// What every line is checked by.
struct Checking<'a> {
    rules: &'a Rules,
    bench: Option<Arc<Bench>>,
    args: &'a StreamArgs,
}

/// The bench that all proposals take from, if there is one.
fn bench(args: &StreamArgs) -> Result<Option<Arc<Bench>>, ProblemList> {
    let Some(name) = &args.bench else {
        return Ok(None);
    };
    let library = input::library(&args.rules.within)?;
    Ok(Some(Arc::new(Bench::load(name, &*library)?)))
}

fn check_file(by: &Checking<'_>, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let file = by.args.file.as_deref();
    match file.filter(|path| !input::is_stdin(path)) {
        None => check_lines(by, io::stdin(), terminal),
        Some(path) => match open_file(path) {
            Ok(file) => check_lines(by, file, terminal),
            Err(problem) => {
                terminal.report_problems(&[problem]);
                Ok(ExitStatus::BadInput)
            }
        },
    }
}

fn check_lines(
    by: &Checking<'_>,
    input: impl Read + Send,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let stages = by.args.stages.names();
    if let Err(problems) = know_stages(by.rules, &stages) {
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
        |batch, output| write_records((by, options), batch, output),
        |text, tally| {
            if let Some(tally) = tally {
                total.add(tally);
                progress.show(|| counted(total.lines(), "line"), terminal);
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
            terminal.report_problems(&[cannot_be_read(by.args, &error)]);
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
    (by, options): (&Checking<'_>, Options<'_>),
    batch: Batch,
    output: &mut PieceWriter<'_>,
) -> io::Result<Tally> {
    let mut tally = Tally::default();
    for line in batch {
        if is_blank(&line) {
            tally.count_blank();
            continue;
        }
        let record = Record::of(line, (by.rules, by.bench.as_ref()), options, by.args.full);
        tally.count(&record, by.args.strict);
        write_json_line(&mut *output, &record)?;
        output.write_all(b"\n")?;
    }
    Ok(tally)
}

fn is_blank(line: &Line) -> bool {
    let bytes = line.bytes.as_deref();
    bytes.is_some_and(|bytes| bytes.trim_ascii().is_empty())
}
