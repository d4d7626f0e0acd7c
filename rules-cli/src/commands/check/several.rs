//! Many proposals, checked by all cores: what came of each is written as soon as its turn comes.

use std::io::{self, ErrorKind};
use std::thread;

use rules_core::check::{Report, check};
use rules_core::document::{ProblemList, json_text};
use rules_core::report::text::{Style, Totals, list_line};

use super::asked_for::{options, page};
use super::in_place::{Came, InPlace};
use crate::args::{CheckArgs, Format};
use crate::crew::Crew;
use crate::exit_status::ExitStatus;
use crate::folder::Asked;
use crate::input;
use crate::plans::{Plans, ReadPlan};
use crate::terminal::Terminal;

/// A file whose turn comes.
struct Turn<'l> {
    name: String,
    given: Given<'l>,
}

/// What was read of a file.
enum Given<'l> {
    Plan(Box<ReadPlan<'l>>),
    /// What stands in a folder beside proposals.
    Other(&'static str),
    Unusable(ProblemList),
}

pub(super) fn check_all(
    plans: &mut Plans<'_>,
    files: Vec<Asked>,
    args: &CheckArgs,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    let (width, style) = (terminal.width(), terminal.style());
    plans.look_over(files.iter().map(Asked::path), terminal);
    let mut answers = InPlace::new(args, files.len(), terminal);
    let ended = thread::scope(|scope| {
        let mut crew = Crew::of(scope, |turn| came(turn, args, width, style));
        for file in files {
            let turn = read(file, plans, answers.terminal());
            let bytes = turn.bytes();
            while !crew.has_room(bytes) {
                crew.wait()
                    .into_iter()
                    .try_for_each(|came| answers.take(came?))?;
            }
            crew.give(turn, bytes);
            while let Some(came) = crew.ready() {
                answers.take(came?)?;
            }
        }
        while let Some(came) = crew.wait() {
            answers.take(came?)?;
        }
        answers.finish(plans.shared_cells().as_deref())
    });
    match ended {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(answers.status()),
        other => other.map(|()| answers.status()),
    }
}

/// Reads a file. Only one thread does: benches and rules are read once for all.
fn read<'l>(file: Asked, plans: &mut Plans<'l>, terminal: &mut Terminal) -> Turn<'l> {
    let name = input::name_of(file.path()).into_owned();
    let is_of_folder = matches!(file, Asked::OfFolder(_));
    let read = match file {
        Asked::File(path) | Asked::OfFolder(path) => plans.read(&path, terminal),
        Asked::Nothing(_, problem) => Err(problem.into()),
    };
    let given = match read {
        Ok(read) => match read.plan.other_than_proposal().filter(|_| is_of_folder) {
            Some(what) => Given::Other(what),
            None => Given::Plan(Box::new(read)),
        },
        Err(problems) => Given::Unusable(problems),
    };
    Turn { name, given }
}

impl Turn<'_> {
    fn bytes(&self) -> usize {
        match &self.given {
            Given::Plan(read) => read.plan.bytes(),
            Given::Other(_) | Given::Unusable(_) => 0,
        }
    }
}

/// What a worker does: checks a proposal and writes what is asked for of its report, which need not
/// be kept then.
fn came(turn: Turn<'_>, args: &CheckArgs, width: usize, style: &dyn Style) -> Came {
    let Turn { name, given } = turn;
    let stages = args.stages.names();
    let report = match given {
        Given::Other(what) => return Came::Other { name, what },
        Given::Unusable(problems) => Err(problems),
        Given::Plan(read) => {
            read.answer(|asked| check(asked.rules, asked.proposal, options(args, &stages)))
        }
    };
    match report {
        Ok(report) => Came::Report {
            written: written(&report, args, width, style),
            totals: Box::new(Totals::of(&report)),
            status: ExitStatus::of_report(&report, args.strict),
        },
        Err(problems) => Came::Unusable { name, problems },
    }
}

fn written(
    report: &Report,
    args: &CheckArgs,
    width: usize,
    style: &dyn Style,
) -> io::Result<String> {
    Ok(match args.form.format {
        Format::Json => json_text(report)?,
        Format::Text if args.full || args.questions => page(report, args, width, style),
        Format::Text => list_line(report, style),
    })
}
