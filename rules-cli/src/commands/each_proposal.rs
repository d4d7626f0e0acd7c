//! Commands that read proposals and answer each.

use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use rules_core::document::{Fault, Problem, ProblemList, harmless, json_text};
use rules_core::report::ProblemRecord;
use rulesets::bench::{Benches, Plan};
use rulesets::shipped::Shipped;

use super::in_turn::{Came, CameOf, Taker, each_in_turn};
use super::json_array::JsonArray;
use super::with_rules::with_rules;
use crate::args::{Format, RulesOptions};
use crate::exit_status::ExitStatus;
use crate::folder::files_of;
use crate::input;
use crate::plans::{Asked, Plans};
use crate::terminal::Terminal;

/// What stands between answers in text: of the answer that follows the name, and whether it is the
/// first.
pub(super) type Between = fn(&str, bool, &Terminal) -> String;

/// Answers, written in their places.
struct Answers<'t> {
    terminal: &'t mut Terminal,
    format: Format,
    /// Whether they are of several files: in JSON an array, in text one after the other.
    several: bool,
    between: Between,
    array: JsonArray,
    is_first: bool,
    status: ExitStatus,
}

/// Writes the answer to each proposal of these files and folders, or to standard input if there are
/// none, as soon as its turn comes. The answers are texts, in the format that is asked for. Reports
/// what is wrong with a proposal that cannot be used; the status says whether there was one.
pub(super) fn write_each(
    (files, format): (&[PathBuf], Format),
    between: Between,
    plans: &mut Plans<'_>,
    terminal: &mut Terminal,
    answer: impl Fn(&Asked<'_>) -> Result<io::Result<String>, ProblemList> + Sync,
) -> io::Result<ExitStatus> {
    let mut answers = Answers {
        terminal,
        format,
        several: is_several(files),
        between,
        array: JsonArray::default(),
        is_first: true,
        status: ExitStatus::Success,
    };
    let files = files_of(&named(files));
    let ended = each_in_turn(plans, files, &mut answers, |plan| plan.answer(&answer));
    match ended.and_then(|()| answers.finish()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(answers.status),
        other => other.map(|()| answers.status),
    }
}

impl Taker for Answers<'_> {
    type Answer = io::Result<String>;

    fn terminal(&mut self) -> &mut Terminal {
        self.terminal
    }

    fn take(&mut self, Came { name, of }: Came<Self::Answer>) -> io::Result<()> {
        match of {
            CameOf::Answer(text) => self.write(&name, &text?),
            CameOf::Other(what) => {
                let name = harmless(&name);
                let said = format!("`{name}` is a {what} and was left out\n");
                self.terminal.message(&said);
                Ok(())
            }
            CameOf::Unusable(problems) => {
                self.status = ExitStatus::BadInput;
                self.terminal.report_problems(&problems);
                match self.format {
                    Format::Json => {
                        let record = ProblemRecord::of_proposal(&name, problems);
                        self.write(&name, &json_text(&record)?)
                    }
                    Format::Text => Ok(()),
                }
            }
        }
    }
}

impl Answers<'_> {
    fn write(&mut self, name: &str, text: &str) -> io::Result<()> {
        let text = match (self.format, self.several) {
            (_, false) => text.to_owned(),
            (Format::Json, true) => self.array.element(text),
            (Format::Text, true) => {
                let before = (self.between)(name, self.is_first, self.terminal);
                format!("{before}{text}")
            }
        };
        self.is_first = false;
        self.terminal.write_now(text.as_bytes())
    }

    fn finish(&mut self) -> io::Result<()> {
        match self.format {
            Format::Json if self.several => self.terminal.write_now(self.array.end().as_bytes()),
            Format::Json | Format::Text => Ok(()),
        }
    }
}

/// Whether the answer is one of several: a folder is, whatever is in it.
pub(super) fn is_several(files: &[PathBuf]) -> bool {
    files.len() > 1 || files.iter().any(|path| path.is_dir())
}

/// Says that there is no page of several proposals.
pub(super) fn one_page_each(terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let problem = Problem::of_file(
        Fault::TooLarge,
        "a page of HTML is of one proposal, and several were named",
        "name them one by one, each with a file of its own to write to: `-o NAME.html`",
    );
    terminal.report_problems(&[problem]);
    Ok(ExitStatus::BadInput)
}

/// Says what is wrong with the one proposal that is asked for.
pub(super) fn unusable(
    path: &Path,
    problems: ProblemList,
    format: Format,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    terminal.report_problems(&problems);
    let record = ProblemRecord::of_proposal(&input::name_of(path), problems);
    terminal.write_record(&record, format)?;
    Ok(ExitStatus::BadInput)
}

/// The proposals named, or standard input.
pub(super) fn named(files: &[PathBuf]) -> Vec<PathBuf> {
    if files.is_empty() {
        vec![PathBuf::from(input::DASH)]
    } else {
        files.to_vec()
    }
}

/// Does something with proposals and the rulesets that they are checked by. Where the rulesets cannot
/// be used, the faults of the proposals are reported with theirs.
pub(super) fn with_rules_for(
    options: &RulesOptions,
    (files, format): (&[PathBuf], Format),
    terminal: &mut Terminal,
    act: impl FnOnce(&mut Plans<'_>, &mut Terminal) -> io::Result<ExitStatus>,
) -> io::Result<ExitStatus> {
    // Without the folder of the rules, which is told as their problem, proposals are read all the same.
    let library = input::library(&options.within).unwrap_or_else(|_| Box::new(Shipped));
    let mut used = false;
    let status = with_rules(options, format, terminal, |rules, terminal| {
        used = true;
        act(&mut Plans::new(options, rules, &*library), terminal)
    });
    let mut benches = Benches::of(&*library);
    let unread = named(files).into_iter().filter(|_| !used);
    for path in unread.filter(|path| !input::is_typed(path)) {
        let plan = input::read_plan(&path, &mut benches, terminal);
        // A bench or a ruleset in a folder is no proposal with faults.
        let is_other = |plan: &Plan| plan.other_than_proposal().is_some();
        if plan.as_ref().is_ok_and(is_other) {
            continue;
        }
        if let Err(problems) = plan.and_then(|plan| plan.proposal(None)) {
            terminal.report_problems(&problems);
        }
    }
    status
}

/// A line between the answers to several files.
pub(super) fn rule(_: &str, is_first: bool, terminal: &Terminal) -> String {
    match is_first {
        true => String::new(),
        false => format!("\n{}\n\n", "-".repeat(terminal.width())),
    }
}
