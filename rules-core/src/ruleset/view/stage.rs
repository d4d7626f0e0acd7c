//! The stages that a ruleset may name: those that it declares, and those of what it extends.

use super::adjust::Adjusting;
use super::seen::View;
use crate::document::{Fault, Problems};
use crate::ruleset::layer::{AdjustCaution, Named, StageText};
use crate::ruleset::loosening::Loosened;

/// The stage that is named, if there is such a one.
pub(super) fn known_stage(
    named: &StageText,
    view: &View,
    problems: &mut Problems<'_>,
) -> Option<String> {
    let id = &named.id;
    if view.stages.contains(id) {
        return Some(id.clone());
    }
    if !view.unsure.stages.may_hold(id) {
        let help = match problems.near(id, view.stages.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "declare it under `stages`, here or in a ruleset that is extended".to_owned(),
        };
        let message = format!("there is no stage `{id}`");
        problems.add(Fault::UnknownName, named.span, message, help);
    }
    None
}

impl Adjusting<'_, '_> {
    /// Moves a caution. Whoever asks for the stage that it was of misses it from then on, so that is a
    /// loosening.
    pub(super) fn move_caution(&mut self, adjusted: &Named<AdjustCaution>, to: &StageText) {
        let known = known_stage(to, self.view, self.problems);
        let seen = self.view.cautions.get(&adjusted.name).cloned();
        let (Some(to), Some(seen)) = (known, seen) else {
            return;
        };
        if seen.stage.as_ref() == Some(&to) {
            return;
        }
        let from = seen.stage.as_ref().map_or_else(every_stage, |id| stage(id));
        let loosening = self.loosening(
            Loosened::Caution(adjusted.name.clone()),
            (&from, &stage(&to)),
            adjusted.body.because.as_deref(),
            self.is_fixed(&seen),
            adjusted.span,
        );
        if let (Some(loosening), Some(seen)) =
            (loosening, self.view.cautions.get_mut(&adjusted.name))
        {
            seen.stage = Some(to);
            seen.moved.push(loosening);
        }
    }
}

fn stage(id: &str) -> String {
    format!("stage {id}")
}

fn every_stage() -> String {
    "every stage".to_owned()
}
