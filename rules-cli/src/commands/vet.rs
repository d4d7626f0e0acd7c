//! `vet`: what rulesets lack.

use std::io;

use rules_core::document::ProblemList;
use rules_core::report::text::{Part, Role};
use rules_core::vetting;
use serde::Serialize;

use super::edited_copies::{EditedCopy, edited_copies, write_found};
use crate::args::{Format, RulesWithin, VetArgs};
use crate::exit_status::ExitStatus;
use crate::input;
use crate::terminal::Terminal;

/// A ruleset and what it lacks.
#[derive(Serialize)]
struct Vetted<'a> {
    ruleset: &'a str,
    /// Whether it can be used at all.
    loads: bool,
    /// How many cautions are in force, with those of the rulesets that it extends.
    cautions: usize,
    /// How many of them it defines itself.
    own_cautions: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    edited_copies: Vec<EditedCopy>,
    problems: ProblemList,
    /// What is worth a look and no fault.
    worth_a_look: ProblemList,
}

pub(super) fn run(args: &VetArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let names = args.rulesets.names.iter();
    let vetted: Vec<Vetted<'_>> = names.map(|name| vet(name, &args.rulesets.within)).collect();
    match args.form.format {
        Format::Json => terminal.write_json(&vetted)?,
        Format::Text => vetted.iter().try_for_each(|one| one.write(terminal))?,
    }
    let statuses = vetted.iter().map(Vetted::exit_status);
    Ok(statuses.fold(ExitStatus::Success, ExitStatus::graver))
}

fn vet<'a>(ruleset: &'a str, within: &RulesWithin) -> Vetted<'a> {
    match input::load_for_vetting(ruleset, within) {
        Ok(vetting) => Vetted {
            ruleset,
            loads: true,
            cautions: vetting.rules().cautions().len(),
            own_cautions: vetting.own_cautions(),
            edited_copies: edited_copies(&vetting),
            problems: vetting::vet(&vetting).into(),
            worth_a_look: vetting::worth_a_look(&vetting).into(),
        },
        Err(problems) => Vetted {
            ruleset,
            loads: false,
            cautions: 0,
            own_cautions: 0,
            edited_copies: Vec::new(),
            problems,
            worth_a_look: ProblemList::default(),
        },
    }
}

impl Vetted<'_> {
    fn exit_status(&self) -> ExitStatus {
        if self.loads {
            ExitStatus::objection_if(!self.problems.is_empty())
        } else {
            ExitStatus::BadInput
        }
    }

    fn write(&self, terminal: &mut Terminal) -> io::Result<()> {
        if !self.loads {
            terminal.report_problems(&self.problems);
            return Ok(());
        }
        let (problems, sentence) = (&self.problems, self.in_words());
        write_found(
            self.ruleset,
            problems,
            sentence,
            &self.edited_copies,
            terminal,
        )?;
        self.write_looks(terminal)
    }

    /// Lists apart what may be right and is worth a look.
    fn write_looks(&self, terminal: &mut Terminal) -> io::Result<()> {
        if self.worth_a_look.is_empty() {
            return Ok(());
        }
        let mut page = terminal.page();
        let text = "Worth a look, and no fault:";
        page.paragraph(0, &[Part::new(Role::Heading, text)]);
        terminal.write_page(page)?;
        terminal.write_problems(&self.worth_a_look)
    }

    /// How much was found, and in how many cautions.
    fn in_words(&self) -> String {
        let found = match self.problems.len() {
            0 => "nothing to correct".to_owned(),
            1 => "1 thing to correct".to_owned(),
            count => format!("{count} things to correct"),
        };
        let own = match self.own_cautions {
            1 => "1 caution".to_owned(),
            count => format!("{count} cautions"),
        };
        let extended = match self.cautions - self.own_cautions {
            0 => String::new(),
            count => format!(" of its own and {count} from rulesets that it extends"),
        };
        format!(": {found}. It has {own}{extended}.")
    }
}
