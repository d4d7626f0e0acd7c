//! `vet`: what rulesets lack.

use std::io;

use rules_core::document::ProblemList;
use rules_core::facts::Notice;
use rules_core::outputs::{Form, OfRuleset, Piece};
use rules_core::report::text::{Part, Role};
use rules_core::ruleset::LoadedRuleset;
use rules_core::vetting;
use serde::Serialize;

use super::edited_copies::{EditedCopy, edited_copies, write_found};
use super::told::{document, usual_notice};
use crate::args::{Format, RulesWithin, VetArgs};
use crate::crew::each;
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
    /// It with those that it extends.
    #[serde(skip)]
    layers: Vec<LoadedRuleset>,
    #[serde(skip)]
    notice: Vec<Notice>,
}

pub(super) fn run(args: &VetArgs, terminal: &mut Terminal) -> io::Result<ExitStatus> {
    let names = args.rulesets.names.iter();
    let vetted: Vec<Vetted<'_>> = each(names, |name| vet(name, &args.rulesets.within))?;
    match (args.form.of_tools(), args.form.own()) {
        (Some(form), _) => tell(form, &vetted, terminal)?,
        (None, Format::Json) => terminal.write_json(&vetted)?,
        (None, Format::Text) => vetted.iter().try_for_each(|one| one.write(terminal))?,
    }
    let statuses = vetted.iter().map(Vetted::exit_status);
    Ok(statuses.fold(ExitStatus::Success, ExitStatus::graver))
}

/// Writes a document for other tools. People are told what cannot be used.
fn tell(form: Form, vetted: &[Vetted<'_>], terminal: &mut Terminal) -> io::Result<()> {
    let mut document = document(form, &usual_notice());
    for one in vetted {
        if !one.loads {
            terminal.report_problems(&one.problems);
        }
        terminal.write(&document.add(Piece::of_ruleset(form, one.found())))?;
    }
    terminal.write(&document.finish())
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
            layers: vetting.rules().layers().to_vec(),
            notice: vetting.rules().notice().to_vec(),
        },
        Err(problems) => Vetted {
            ruleset,
            loads: false,
            cautions: 0,
            own_cautions: 0,
            edited_copies: Vec::new(),
            problems,
            worth_a_look: ProblemList::default(),
            layers: Vec::new(),
            notice: usual_notice(),
        },
    }
}

impl Vetted<'_> {
    fn found(&self) -> OfRuleset<'_> {
        OfRuleset {
            ruleset: self.ruleset,
            loads: self.loads,
            problems: &self.problems,
            worth_a_look: &self.worth_a_look,
            cases: &[],
            layers: &self.layers,
            notice: &self.notice,
        }
    }

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
