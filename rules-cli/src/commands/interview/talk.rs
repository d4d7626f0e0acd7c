//! The conversation: a question, an answer, where the verdict stands.

use std::collections::BTreeSet;
use std::io;
use std::sync::Arc;

use rules_core::check::Report;
use rules_core::document::{Problem, ProblemList, harmless};
use rules_core::report::text::{Page, Part, Role, Style, so_far};
use rulesets::bench::Bench;
use rulesets::proposal::Draft;

use super::asked::Asked;
use super::console::Console;
use super::known::{Known, NOT_KNOWN};

/// What else can be answered to every question.
const BACK: &str = "back";
const QUIT: &str = "quit";
/// What can be answered to some.
const EACH: &str = "each";
const MORE: &str = "more";

const GREETING: &str = "Answer with a value, or with `?` where you do not know. `back` takes the last \
                        answer back, `quit` stops; what is answered is in the file at once. Tab completes words.";
const END: &str = "Nothing else is left to ask that could change the verdict.";

/// Checks a draft, of which at some places nobody knows what belongs there.
pub(super) type Check<'t> =
    dyn FnMut(&Draft, &BTreeSet<String>) -> Result<Report, ProblemList> + 't;

/// What an interview works with.
pub(super) struct Talk<'t> {
    pub console: &'t mut dyn Console,
    /// Checks what is known.
    pub check: &'t mut Check<'t>,
    /// Writes what is known to the file.
    pub save: &'t mut dyn FnMut(&Draft) -> Result<(), ProblemList>,
    /// What the proposal takes from.
    pub bench: Option<Arc<Bench>>,
    /// Whether what was begun is in another file than what is written.
    pub copies: bool,
    pub width: usize,
    pub style: &'t dyn Style,
}

/// Where a conversation is.
struct State {
    known: Known,
    report: Option<Report>,
    /// What was known before each answer.
    before: Vec<Known>,
}

/// Why a conversation could not be held.
pub(super) enum Broken {
    /// The terminal fails.
    Console(io::Error),
    /// The proposal cannot be checked as it was begun, or not be written.
    Proposal(ProblemList),
}

impl From<io::Error> for Broken {
    fn from(error: io::Error) -> Self {
        Self::Console(error)
    }
}

impl From<ProblemList> for Broken {
    fn from(problems: ProblemList) -> Self {
        Self::Proposal(problems)
    }
}

/// What a person wants next.
enum Wish {
    GoOn,
    Stop,
}

impl Talk<'_> {
    /// Asks until nothing is left or the person stops. Gives the last report, if enough was said for
    /// one.
    pub(super) fn hold(&mut self, draft: Draft) -> Result<Option<Report>, Broken> {
        let known = Known::of(draft, self.bench.clone());
        let report = self.report(&known)?;
        if self.copies {
            (self.save)(&known.draft)?;
        }
        let mut state = State {
            known,
            report,
            before: Vec::new(),
        };
        self.paragraph(0, Role::Text, GREETING)?;
        self.tell_standing(&state)?;
        loop {
            let report = state.report.as_ref();
            let wish = match state.known.next(report) {
                Some((asked, count)) => self.put(&asked, count, &mut state)?,
                None => self.end(&mut state)?,
            };
            if matches!(wish, Wish::Stop) {
                return Ok(state.report);
            }
        }
    }

    fn report(&mut self, known: &Known) -> Result<Option<Report>, ProblemList> {
        match known.can_be_checked() {
            true => (self.check)(&known.draft, known.not_known()).map(Some),
            false => Ok(None),
        }
    }

    /// Puts a question until it is answered in some way.
    fn put(&mut self, asked: &Asked, count: usize, state: &mut State) -> Result<Wish, Broken> {
        let far = far(asked, count, state);
        self.console
            .say(&asked.text(&far, self.width, self.style))?;
        let mut words = asked.words.clone();
        words.extend(asked.apart.map(|_| EACH.to_owned()));
        words.extend([BACK.to_owned(), QUIT.to_owned()]);
        loop {
            let Some(line) = self.console.ask(&words)? else {
                return Ok(Wish::Stop);
            };
            match (line.trim(), asked.apart) {
                ("", _) => continue,
                (QUIT, _) => return Ok(Wish::Stop),
                (BACK, _) => self.back(state)?,
                (NOT_KNOWN, _) if asked.is_needed() => {
                    self.paragraph(2, Role::Text, "Nothing can be checked without it.")?;
                    continue;
                }
                (NOT_KNOWN, _) => {
                    state.go_on(|known| known.leave_open(asked));
                    state.report = self.report(&state.known)?;
                }
                (EACH, Some(apart)) => state.known.take_apart(asked, apart),
                (answer, _) if !self.took(asked, answer, state)? => continue,
                _ => {}
            }
            return Ok(Wish::GoOn);
        }
    }

    /// Takes an answer, or says what is wrong with it.
    fn took(&mut self, asked: &Asked, answer: &str, state: &mut State) -> Result<bool, Broken> {
        let mut known = state.known.clone();
        let checked = known
            .answer(asked, answer)
            .and_then(|()| self.report(&known));
        match checked {
            Ok(report) => {
                (self.save)(&known.draft)?;
                state
                    .before
                    .push(std::mem::replace(&mut state.known, known));
                state.report = report;
                self.tell_standing(state)?;
                Ok(true)
            }
            Err(problems) => {
                for problem in problems.iter() {
                    self.paragraph(2, Role::Text, &in_words(problem))?;
                }
                Ok(false)
            }
        }
    }

    fn back(&mut self, state: &mut State) -> Result<(), Broken> {
        let Some(known) = state.before.pop() else {
            self.paragraph(2, Role::Text, "Nothing was answered yet.")?;
            return Ok(());
        };
        (self.save)(&known.draft)?;
        state.report = self.report(&known)?;
        state.known = known;
        Ok(())
    }

    /// Says that nothing is left to ask, and what can be done now.
    fn end(&mut self, state: &mut State) -> Result<Wish, Broken> {
        let report = state.report.as_ref();
        let more = report.is_some_and(|report| state.known.could_ask_more(report));
        let ways = match more {
            true => {
                "Enter ends, `more` asks what is left all the same, `back` takes the last answer back."
            }
            false => "Enter ends, `back` takes the last answer back.",
        };
        self.console.say("\n")?;
        self.paragraph(0, Role::Text, &format!("{END} {ways}"))?;
        let words = [MORE, BACK, QUIT].map(str::to_owned);
        let line = self.console.ask(&words)?.unwrap_or_default();
        match line.trim() {
            BACK => self.back(state)?,
            MORE if more => state.known.ask_all(),
            "" | QUIT => return Ok(Wish::Stop),
            _ => {}
        }
        Ok(Wish::GoOn)
    }

    fn tell_standing(&mut self, state: &State) -> io::Result<()> {
        match &state.report {
            Some(report) if state.known.is_opened() => {
                let waiting = state.known.waiting(report);
                let standing = so_far(report, waiting, self.width, self.style);
                self.console.say(&standing)
            }
            _ => Ok(()),
        }
    }

    fn paragraph(&mut self, indent: usize, role: Role, text: &str) -> io::Result<()> {
        let mut page = Page::new(self.width, self.style);
        page.paragraph(indent, &[Part::new(role, text)]);
        self.console.say(&page.finish())
    }
}

impl State {
    /// Goes on with something else known, and can come back.
    fn go_on(&mut self, change: impl FnOnce(&mut Known)) {
        self.before.push(self.known.clone());
        change(&mut self.known);
    }
}

/// `sorting, 3 of about 9`.
fn far(asked: &Asked, count: usize, state: &State) -> String {
    let at = state.before.len();
    let stages = state.report.as_ref().map(|report| &report.stages);
    let stage = stages.and_then(|stages| stages.get(asked.stage?));
    let stage = stage.map_or_else(String::new, |stage| format!("{}, ", stage.stage));
    format!("{stage}{} of about {}", at + 1, at + count)
}

/// What is wrong with an answer, and how it is mended.
fn in_words(problem: &Problem) -> String {
    let help = problem.help.as_ref();
    let help = help.map_or_else(String::new, |help| format!(" {}.", capital(help)));
    harmless(&format!("{}.{help}", capital(&problem.message))).into_owned()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
