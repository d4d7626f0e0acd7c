//! What a check is given.

use std::borrow::Cow;

use super::{Catalogue, Sheet};
use crate::document::Problem;

/// Something proposed, that can be checked: a plan with a title, which gives its facts.
pub trait Proposed {
    /// Its title, for the head of a report.
    fn title(&self) -> &str;

    /// The name of the file or stream it came from.
    fn name(&self) -> &str;

    /// The facts it gives, with those that rulesets declare in the catalogue.
    ///
    /// # Errors
    ///
    /// A fact that the catalogue does not hold, or whose value does not fit.
    fn facts(&self, catalogue: &Catalogue) -> Result<Cow<'_, Sheet>, Vec<Problem>>;
}
