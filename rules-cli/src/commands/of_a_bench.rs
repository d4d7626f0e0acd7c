//! Jobs that go through a bench, by the rules that it has in force.

use std::io;
use std::sync::Arc;

use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::facts::Notice;
use rules_core::report::ProblemRecord;
use rules_core::report::text::{Page, Plain, notice_in_short, openly};
use rules_core::ruleset::{Acceptance, Loosening, Rules};
use rulesets::bench::{Bench, Date, rules_in_force};
use rulesets::catalogue;

use crate::args::{BenchOptions, Format};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

/// A bench with the rules that it is gone through by.
pub(super) struct WithBench {
    pub(super) bench: Arc<Bench>,
    pub(super) rules: Rules,
    /// The day on which readings count, if one is asked for.
    pub(super) as_of: Option<Date>,
}

impl WithBench {
    /// Reads a bench and its rules.
    pub(super) fn read(name: &str, by: &BenchOptions) -> Result<Self, ProblemList> {
        let library = input::library(&by.rules.within)?;
        let as_of = by.as_of.as_deref().map(day).transpose()?;
        let bench = Bench::load(name, &*library)?;
        let names = rules_in_force(Some(&bench), &by.rules.asked);
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let rules = Rules::load(&names, &*library, &catalogue())?;
        Ok(Self {
            bench: Arc::new(bench),
            rules,
            as_of,
        })
    }
}

fn day(text: &str) -> Result<Date, Problem> {
    Date::parse(text).ok_or_else(|| {
        let message = format!("`{text}` is no day of the calendar, after `--as-of`");
        Problem::of_file(Fault::BadDate, message, "write it as `2026-11-29`")
    })
}

/// Tells why nothing could be done.
pub(super) fn no_answer(
    problems: ProblemList,
    format: Format,
    terminal: &mut Terminal,
) -> io::Result<ExitStatus> {
    terminal.report_problems(&problems);
    terminal.write_record(&ProblemRecord::of(problems), format)?;
    Ok(ExitStatus::BadInput)
}

/// What weakens the check, and the standing notice, where the form of the results has no room for them.
pub(super) fn notes_as_message(
    (acceptance, loosened): (Acceptance, &[Loosening]),
    notice: &[Notice],
    terminal: &mut Terminal,
) {
    let mut page = Page::new(terminal.width(), &Plain);
    openly(acceptance, loosened, &mut page);
    notice_in_short(notice, &mut page);
    terminal.message(&page.finish());
}
