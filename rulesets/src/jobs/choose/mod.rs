//! Choosing cells: of those that a bench has, the set that passes with the widest margins.
//!
//! `outlook` says what can still come of a part of a set, by the `kinds` of cautions, and with `fillers`
//! for the cells that are still to join. `search` finds the sets with the best outlook, `checked` checks
//! them whole until no other can be better, within the work that `effort` counts. `standing` is how good
//! a set is, `result` what is told, `told` makes it, and `text` makes text of it.

mod checked;
mod counting;
mod effort;
mod fillers;
mod kinds;
mod offered;
mod outlook;
mod part;
mod result;
pub(crate) mod said;
mod search;
mod standing;
#[cfg(test)]
mod tests;
mod text;
mod told;
mod wish;

use rules_core::check::Scales;
use rules_core::document::{Fault, Problem, ProblemList};

use self::checked::Checked;
use self::offered::Offered;
pub use self::result::{
    AgainstSet, Choice, ChosenSet, InOtherLight, InTheWay, RefusedCells, Searched, SetMargin,
    Stands, Unreadable,
};
pub use self::text::text;
pub use self::wish::Wish;
use super::trial::Trial;

/// The most cells of a light that are chosen.
const MOST_CHOSEN: usize = 64;

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
    told::told(trial, wish, &offered, &checked)
}
