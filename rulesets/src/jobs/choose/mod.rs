//! Choosing cells: of those that a bench has, the set that passes with the widest margins.
//!
//! `outlook` says what can still come of a part of a set, `search` finds the sets with the best
//! outlook, `checked` checks them whole until no other can be better. `standing` is how good a set is,
//! `result` what is told, `text` the same as text.

mod checked;
mod counting;
mod offered;
mod outlook;
mod result;
mod search;
mod standing;
mod text;

use rules_core::check::Scales;
use rules_core::document::{Fault, Problem, ProblemList};

use self::checked::Checked;
use self::offered::Offered;
pub use self::result::{
    AgainstSet, Choice, ChosenSet, InOtherLight, InTheWay, RefusedCells, Searched, SetMargin,
    Stands, Unreadable,
};
pub use self::text::text;
use super::trial::Trial;

/// The most cells of a light that are chosen.
const MOST_CHOSEN: usize = 64;

/// What is wished of a choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wish {
    /// How many sets are told, at most.
    pub sets: usize,
    /// How many whole sets are checked, at most.
    pub most_checks: usize,
    /// Whether cells that are in another light are offered.
    pub from_other_lights: bool,
    /// Whether sets that do not pass are told where others do.
    pub not_passing: bool,
}

impl Default for Wish {
    fn default() -> Self {
        Self {
            sets: 5,
            most_checks: 2_000,
            from_other_lights: false,
            not_passing: false,
        }
    }
}

/// Chooses the cells of a plan: of those that its bench has, or of those that it lists itself where it
/// takes from none. Which cells it lists decides nothing else.
///
/// # Errors
///
/// Those of the plan without its cells; a light that takes more cells than are chosen.
pub fn choose(trial: &Trial<'_>, wish: &Wish) -> Result<Choice, ProblemList> {
    let offered = Offered::of(trial, wish)?;
    let cells = offered.sets.arrangement().cells();
    if cells > MOST_CHOSEN {
        let message = format!("the light takes {cells} cells; at most {MOST_CHOSEN} are chosen");
        let help = "choose the cells of one string or block of it at a time";
        return Err(Problem::of_file(Fault::TooLarge, message, help).into());
    }
    let scales = Scales::of(trial.rules(), trial.options())?;
    let checked = Checked::of(trial.rules(), &scales, &offered, wish)?;
    result::told(trial, wish, &offered, &checked)
}
