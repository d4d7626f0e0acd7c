//! Edited copies of shipped rulesets. `vet` and `cases` read them, and say that `check` does not.

use rules_core::report::text::{Page, Part};
use rules_core::ruleset::LoadedRuleset;
use rules_core::vetting::Vetting;
use serde::Serialize;

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

impl EditedCopy {
    /// Says what it is, and how to use it all the same.
    pub(super) fn write(&self, page: &mut Page<'_>) {
        let Self { ruleset, file } = self;
        let text = format!(
            "{file} is not the shipped `{ruleset}` but an edited copy: `check` does not accept it \
             under this name. Give it a name of its own."
        );
        page.item(2, 4, &[Part::text(text)]);
    }
}
