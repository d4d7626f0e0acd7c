//! Edited copies of shipped rulesets, of which `vet` and `cases` say that they are no more than that.

use rules_core::report::text::{Page, Part};
use rules_core::ruleset::LoadedRuleset;
use rules_core::vetting::Vetting;
use serde::Serialize;

/// A file that has the name of a shipped ruleset and is not it.
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
    /// Says what it is, and that nothing is checked by it.
    pub(super) fn put(&self, page: &mut Page<'_>) {
        let Self { ruleset, file } = self;
        let text = format!(
            "{file} is not the shipped `{ruleset}` but an edited copy: `check` refuses it under this name."
        );
        page.item(2, 4, &[Part::text(text)]);
    }
}
