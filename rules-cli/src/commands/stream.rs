//! `stream`: a proposal a line, a record a line.

use std::fmt::Write as _;
use std::io::{self, ErrorKind, IsTerminal, Read, Write as _};
use std::time::{Duration, Instant};

use rules_core::bounds::MOST_BYTES;
use rules_core::check::{Brief, Options, Report, Verdict, brief, check};
use rules_core::document::{Fault, Problem, Syntax, write_json_line};
use rules_core::ruleset::{Rules, open_file};
use rulesets::proposal::Proposal;
use serde::Serialize;

use super::with_input::with_rules;
use crate::args::Stream;
use crate::input;
use crate::lines::{Batch, Broken, Line, Output, in_order};
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// How often progress is shown on a terminal.
const PROGRESS_EVERY: Duration = Duration::from_millis(200);

/// What stands on one line of the output.
#[derive(Serialize)]
#[serde(untagged)]
enum Record<'a> {
    Whole {
        line: usize,
        report: &'a Report,
    },
    Brief {
        line: usize,
        #[serde(flatten)]
        brief: &'a Brief,
    },
    Bad {
        line: usize,
        problems: &'a [Problem],
    },
}

/// What came of a proposal.
enum Checked {
    Whole(Box<Report>),
    Brief(Brief),
}

/// How many lines came to what.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    pass: usize,
    warn: usize,
    refuse: usize,
    bad: usize,
    blank: usize,
}

/// What a batch of lines came to.
struct Done {
    tally: Tally,
    outcome: Outcome,
}

pub(super) fn run(args: &Stream, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| match &args.file {
        Some(name) if !input::is_stdin(name) => match open_file(name) {
            Ok(file) => with(rules, args, file, terminal),
            Err(problem) => {
                terminal.complain_of(&[problem]);
                Ok(Outcome::BadInput)
            }
        },
        _ => with(rules, args, io::stdin(), terminal),
    })
}

fn with(
    rules: &Rules,
    args: &Stream,
    input: impl Read + Send,
    terminal: &mut Terminal,
) -> io::Result<Outcome> {
    let mut total = Tally::default();
    let mut outcome = Outcome::Fine;
    let mut shown = io::stderr().is_terminal().then(Instant::now);
    let worked = in_order(
        input,
        |lines, output| batch(rules, args, lines, output),
        |text, done: Option<Done>| {
            if let Some(done) = done {
                total.add(done.tally);
                outcome = outcome.and(done.outcome);
                progress(&mut shown, total, terminal);
            }
            terminal.put_now(&text)
        },
    );
    let start = if shown.is_some() { "\r" } else { "" };
    match worked {
        Ok(()) => {}
        Err(Broken::Output(error)) if error.kind() == ErrorKind::BrokenPipe => return Ok(outcome),
        Err(Broken::Output(error)) => return Err(error),
        Err(Broken::Input(error)) => {
            terminal.complain(start);
            terminal.complain_of(&[broken_off(args, &error)]);
            outcome = Outcome::BadInput;
        }
    }
    terminal.complain(&format!("{start}{}\n", total.in_words()));
    Ok(outcome.and(total.outcome()))
}

/// Input that cannot be read to its end.
fn broken_off(args: &Stream, error: &io::Error) -> Problem {
    let name = args.file.as_deref().filter(|name| !input::is_stdin(name));
    let message = match name {
        Some(name) => format!("`{}` cannot be read to its end: {error}", name.display()),
        None => format!("standard input cannot be read to its end: {error}"),
    };
    Problem::of_file(Fault::Unreadable, message, "")
}

fn progress(shown: &mut Option<Instant>, total: Tally, terminal: &mut Terminal) {
    if let Some(last) = shown.filter(|last| last.elapsed() >= PROGRESS_EVERY) {
        *shown = Some(last + last.elapsed());
        terminal.complain(&format!("\r{} lines", total.lines()));
    }
}

fn batch(rules: &Rules, args: &Stream, lines: Batch, output: &mut Output<'_>) -> io::Result<Done> {
    let mut done = Done {
        tally: Tally::default(),
        outcome: Outcome::Fine,
    };
    for line in lines {
        one(rules, args, line, &mut done, output)?;
    }
    Ok(done)
}

fn one(
    rules: &Rules,
    args: &Stream,
    line: Line,
    done: &mut Done,
    output: &mut Output<'_>,
) -> io::Result<()> {
    if line
        .bytes
        .as_ref()
        .is_some_and(|bytes| bytes.trim_ascii().is_empty())
    {
        done.tally.blank += 1;
        return Ok(());
    }
    let number = line.number;
    let came = proposal(line).and_then(|proposal| match args.brief {
        true => brief(rules, &proposal, Options::default()).map(Checked::Brief),
        false => check(rules, &proposal, Options::default())
            .map(Box::new)
            .map(Checked::Whole),
    });
    let record = match &came {
        Ok(Checked::Brief(brief)) => {
            done.count(brief.verdict, brief.nothing_checked, args.strict);
            Record::Brief {
                line: number,
                brief,
            }
        }
        Ok(Checked::Whole(report)) => {
            done.count(report.verdict, report.nothing_checked, args.strict);
            Record::Whole {
                line: number,
                report,
            }
        }
        Err(problems) => {
            done.tally.bad += 1;
            done.outcome = Outcome::BadInput;
            Record::Bad {
                line: number,
                problems,
            }
        }
    };
    write_json_line(&mut *output, &record)?;
    output.write_all(b"\n")
}

fn proposal(line: Line) -> Result<Proposal, Vec<Problem>> {
    let name = format!("line {}", line.number);
    let Some(bytes) = line.bytes else {
        let message = format!(
            "{name} is larger than {} MiB ({MOST_BYTES} bytes)",
            MOST_BYTES >> 20
        );
        return Err(vec![Problem::at_start(
            &name,
            Fault::TooLarge,
            message,
            "write one proposal a line",
        )]);
    };
    Proposal::read(&name, bytes, Syntax::Json)
}

impl Done {
    fn count(&mut self, verdict: Verdict, nothing_checked: bool, strict: bool) {
        self.tally.count(verdict);
        self.outcome = self
            .outcome
            .and(Outcome::of(verdict, nothing_checked, strict));
    }
}

impl Tally {
    fn count(&mut self, verdict: Verdict) {
        match verdict {
            Verdict::Pass => self.pass += 1,
            Verdict::Warn => self.warn += 1,
            Verdict::Refuse => self.refuse += 1,
        }
    }

    fn add(&mut self, other: Self) {
        self.pass += other.pass;
        self.warn += other.warn;
        self.refuse += other.refuse;
        self.bad += other.bad;
        self.blank += other.blank;
    }

    const fn lines(self) -> usize {
        self.pass + self.warn + self.refuse + self.bad + self.blank
    }

    const fn nothing_checked(self) -> bool {
        self.lines() == self.blank
    }

    /// A stream without a proposal is no pass.
    const fn outcome(self) -> Outcome {
        if self.nothing_checked() {
            Outcome::NothingChecked
        } else {
            Outcome::Fine
        }
    }

    fn in_words(self) -> String {
        let mut words = format!(
            "{} lines: {} pass, {} warn, {} refuse",
            self.lines(),
            self.pass,
            self.warn,
            self.refuse
        );
        for (count, what) in [(self.bad, "could not be used"), (self.blank, "blank")] {
            if count > 0 {
                let _ = write!(words, ", {count} {what}");
            }
        }
        if self.nothing_checked() {
            words += "; nothing was checked";
        }
        words
    }
}
