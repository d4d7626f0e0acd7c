//! What a check is given.

use std::borrow::Cow;
use std::sync::Arc;

use super::{Catalogue, Sheet};
use crate::document::{ProblemList, Problems, Source};

/// Something proposed, that can be checked: a plan with a title, which gives its facts.
pub trait Proposed {
    /// Its title, for the head of a report.
    fn title(&self) -> &str;

    /// The name of the file or stream it came from.
    fn name(&self) -> &str;

    /// The text it was read from, if it was: what is wrong with its facts is reported there.
    fn source(&self) -> Option<&Source> {
        None
    }

    /// What is to be told with any report on it, and decides nothing.
    fn notes(&self) -> &[Arc<str>] {
        &[]
    }

    /// The facts it gives, with those that rulesets declare in the catalogue. One that the
    /// catalogue does not hold, or whose value does not fit, is left out and reported.
    fn facts_and_faults(
        &self,
        catalogue: &Catalogue,
        problems: &mut Problems<'_>,
    ) -> Cow<'_, Sheet>;

    /// The facts it gives, if none is at fault.
    ///
    /// # Errors
    ///
    /// A fact that the catalogue does not hold, or whose value does not fit.
    fn facts(&self, catalogue: &Catalogue) -> Result<Cow<'_, Sheet>, ProblemList> {
        let nowhere = Source::new(self.name(), String::new());
        let mut problems = Problems::new(self.source().unwrap_or(&nowhere));
        let sheet = self.facts_and_faults(catalogue, &mut problems);
        let found = problems.finish();
        if found.is_empty() {
            Ok(sheet)
        } else {
            Err(found)
        }
    }
}
