//! `vet`: what rulesets lack.

use std::io;

use rules_core::document::Problem;
use rules_core::report::text::{Part, Role};
use rules_core::vetting;
use serde::Serialize;

use super::edited::{EditedCopy, edited_copies};
use crate::args::{Format, Vet, Within};
use crate::input;
use crate::outcome::Outcome;
use crate::terminal::Terminal;

/// What vetting found.
#[derive(Serialize)]
struct Vetted<'a> {
    ruleset: &'a str,
    /// Whether it can be used at all.
    loads: bool,
    /// The cautions in force, with those of what it extends.
    cautions: usize,
    /// Those that it defines itself.
    own_cautions: usize,
    /// Those that have the name of a shipped ruleset and are not it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    edited_copies: Vec<EditedCopy>,
    problems: Vec<Problem>,
}

pub(super) fn run(args: &Vet, terminal: &mut Terminal) -> io::Result<Outcome> {
    let vetted: Vec<Vetted<'_>> = args
        .rulesets
        .iter()
        .map(|name| vet(name, &args.within))
        .collect();
    match args.form.format {
        Format::Json => terminal.put_json(&vetted)?,
        Format::Text => vetted.iter().try_for_each(|one| put(one, terminal))?,
    }
    Ok(vetted
        .iter()
        .map(Vetted::outcome)
        .fold(Outcome::Fine, Outcome::and))
}

fn vet<'a>(ruleset: &'a str, within: &Within) -> Vetted<'a> {
    match input::vetting(ruleset, within) {
        Ok(vetting) => Vetted {
            ruleset,
            loads: true,
            cautions: vetting.rules().cautions().len(),
            own_cautions: vetting.own_cautions(),
            edited_copies: edited_copies(&vetting),
            problems: vetting::vet(&vetting),
        },
        Err(problems) => Vetted {
            ruleset,
            loads: false,
            cautions: 0,
            own_cautions: 0,
            edited_copies: Vec::new(),
            problems,
        },
    }
}

impl Vetted<'_> {
    fn outcome(&self) -> Outcome {
        if self.loads {
            Outcome::against_if(!self.problems.is_empty())
        } else {
            Outcome::BadInput
        }
    }

    /// What was found, and in how many cautions it was looked for.
    fn words(&self) -> String {
        let found = match self.problems.len() {
            0 => "nothing is wanting".to_owned(),
            1 => "1 thing is wanting".to_owned(),
            count => format!("{count} things are wanting"),
        };
        let own = match self.own_cautions {
            1 => "1 caution".to_owned(),
            count => format!("{count} cautions"),
        };
        let extended = match self.cautions - self.own_cautions {
            0 => String::new(),
            count => format!(" of its own and {count} from what it extends"),
        };
        format!(": {found}. It has {own}{extended}.")
    }
}

fn put(vetted: &Vetted<'_>, terminal: &mut Terminal) -> io::Result<()> {
    if !vetted.loads {
        terminal.complain_of(&vetted.problems);
        return Ok(());
    }
    terminal.put_problems(&vetted.problems)?;
    let mut page = terminal.page();
    page.paragraph(
        0,
        &[
            Part::new(Role::Heading, vetted.ruleset),
            Part::text(vetted.words()),
        ],
    );
    vetted
        .edited_copies
        .iter()
        .for_each(|copy| copy.put(&mut page));
    terminal.put(&page.finish())
}
