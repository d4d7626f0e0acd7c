//! `stream`: a proposal a line, a record a line.

use std::fmt::Write as _;
use std::fs::File;
use std::io::{self, ErrorKind, IsTerminal, Read};
use std::time::{Duration, Instant};

use rules_core::bounds::MOST_BYTES;
use rules_core::check::{Options, brief, check};
use rules_core::document::{Fault, Problem, Syntax};
use rules_core::proposal::Proposal;
use rules_core::report::{Brief, Report, Verdict};
use rules_core::ruleset::Rules;
use serde::Serialize;

use super::with_rules;
use crate::args::Stream;
use crate::lines::{Batch, Line, in_order};
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

/// How many lines came to what.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    pass: usize,
    warn: usize,
    refuse: usize,
    bad: usize,
    blank: usize,
}

/// A batch of lines, worked.
struct Done {
    text: Vec<u8>,
    tally: Tally,
    outcome: Outcome,
}

pub(super) fn run(args: &Stream, terminal: &mut Terminal) -> io::Result<Outcome> {
    with_rules(&args.rules, terminal, |rules, terminal| match &args.file {
        Some(name) if name != "-" => match File::open(name) {
            Ok(file) => with(rules, args, file, terminal),
            Err(error) => {
                terminal.complain_of(&[Problem::of_file(
                    Fault::Unreadable,
                    format!("`{name}` cannot be read: {error}"),
                    "",
                )]);
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
    let written = in_order(
        input,
        |lines| batch(rules, args, lines),
        |done| {
            total.add(done.tally);
            outcome = outcome.and(done.outcome);
            progress(&mut shown, total, terminal);
            terminal.put_now(&done.text)
        },
    );
    match written {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => return Ok(outcome),
        written => written?,
    }
    terminal.complain(&format!(
        "{}{}\n",
        if shown.is_some() { "\r" } else { "" },
        total.in_words()
    ));
    Ok(outcome)
}

fn progress(shown: &mut Option<Instant>, total: Tally, terminal: &mut Terminal) {
    if let Some(last) = shown.filter(|last| last.elapsed() >= PROGRESS_EVERY) {
        *shown = Some(last + last.elapsed());
        terminal.complain(&format!("\r{} lines", total.lines()));
    }
}

fn batch(rules: &Rules, args: &Stream, lines: Batch) -> Done {
    let mut done = Done {
        text: Vec::new(),
        tally: Tally::default(),
        outcome: Outcome::Fine,
    };
    for line in lines {
        one(rules, args, line, &mut done);
    }
    done
}

fn one(rules: &Rules, args: &Stream, line: Line, done: &mut Done) {
    if line
        .bytes
        .as_ref()
        .is_some_and(|bytes| bytes.trim_ascii().is_empty())
    {
        done.tally.blank += 1;
        return;
    }
    let number = line.number;
    let came = proposal(line).and_then(|proposal| match args.brief {
        true => brief(rules, &proposal, Options::default())
            .map(|brief| done.brief(number, &brief, args.strict)),
        false => check(rules, &proposal, Options::default())
            .map(|report| done.whole(number, &report, args.strict)),
    });
    if let Err(problems) = came {
        done.tally.bad += 1;
        done.outcome = Outcome::BadInput;
        done.write(&Record::Bad {
            line: number,
            problems: &problems,
        });
    }
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
    fn whole(&mut self, line: usize, report: &Report, strict: bool) {
        self.count(report.verdict, report.nothing_checked, strict);
        self.write(&Record::Whole { line, report });
    }

    fn brief(&mut self, line: usize, brief: &Brief, strict: bool) {
        self.count(brief.verdict, brief.nothing_checked, strict);
        self.write(&Record::Brief { line, brief });
    }

    fn count(&mut self, verdict: Verdict, nothing_checked: bool, strict: bool) {
        self.tally.count(verdict);
        self.outcome = self
            .outcome
            .and(Outcome::of(verdict, nothing_checked, strict));
    }

    fn write(&mut self, record: &Record<'_>) {
        let before = self.text.len();
        if let Err(error) = serde_json::to_writer(&mut self.text, record) {
            // Records hold nothing that JSON could refuse; should one, its line says so.
            self.text.truncate(before);
            self.text
                .extend(format!("{{\"problems\":[{:?}]}}", error.to_string()).bytes());
        }
        self.text.push(b'\n');
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
        words
    }
}
