//! Edited copies of shipped rulesets. `vet` and `cases` read them, and say that `check` does not.

use std::io;

use rules_core::document::Problem;
use rules_core::report::text::{Page, Part, Role};
use rules_core::ruleset::LoadedRuleset;
use rules_core::vetting::Vetting;
use serde::Serialize;

use crate::terminal::Terminal;

/// A file that has the name of a shipped ruleset and other rules.
#[derive(Serialize)]
pub(super) struct EditedCopy {
    ruleset: String,
    file: String,
}

pub(super) fn edited_copies(vetting: &Vetting) -> Vec<EditedCopy> {
    let copy = |loaded: &LoadedRuleset| EditedCopy {
        ruleset: loaded.ruleset.clone(),
        file: loaded.file.clone().unwrap_or_default(),
    };
    vetting.edited_copies().map(copy).collect()
}

/// Writes what was found in a ruleset: its problems, then its name with a sentence, and what is an
/// edited copy.
pub(super) fn write_found(
    ruleset: &str,
    problems: &[Problem],
    sentence: String,
    copies: &[EditedCopy],
    terminal: &mut Terminal,
) -> io::Result<()> {
    terminal.write_problems(problems)?;
    let mut page = terminal.page();
    let name = Part::new(Role::Heading, ruleset);
    page.paragraph(0, &[name, Part::text(sentence)]);
    for copy in copies {
        copy.write(&mut page);
    }
    terminal.write_page(page)
}

impl EditedCopy {
    /// Says what it is, and how to use it all the same.
    fn write(&self, page: &mut Page<'_>) {
        let Self { ruleset, file } = self;
        let text = format!(
            "{file} is not the shipped `{ruleset}` but an edited copy: `check` does not accept it \
             under this name. Give it a name of its own."
        );
        page.item(2, 4, &[Part::text(text)]);
    }
}
