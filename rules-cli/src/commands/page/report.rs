//! The report of a plan as a page that stands by itself, to print.

use rules_core::check::{Options, figures};
use rules_core::document::ProblemList;
use rulesets::jobs::range::run_time_by_draw;
use rulesets::jobs::tried;
use rulesets::pages::{self, parts};

use super::answer::{Answer, Kind, Refusal};
use super::desk::Desk;
use super::kept::Kept;
use super::opened::begun;
use super::plan::AtHand;
use super::shell;

/// The report of what is filled in, saved or not.
pub(super) fn report(name: &str, desk: &Desk) -> Result<Answer, Refusal> {
    if desk.folder.plan_path(name).is_err() {
        return Err(Refusal::NOTHING);
    }
    let kept = Kept::of(name, &desk.folder).map_or_else(|| begun(name, &desk.folder), Ok);
    Ok(match kept.and_then(|kept| written(name, &kept, desk)) {
        Ok(page) => Answer::of(Kind::Finished, page),
        Err(problems) => {
            let says = parts::problems("There is no report yet", &problems);
            Answer::of(Kind::Html, shell::cannot(name, says))
        }
    })
}

fn written(name: &str, kept: &Kept, desk: &Desk) -> Result<String, ProblemList> {
    let at_hand = AtHand::of(name, &kept.plan, desk)?;
    let trial = at_hand.trial();
    let report = tried(trial.report()?, || Ok::<_, ProblemList>(at_hand.trial()))?;
    let figures = figures(&at_hand.rules, &trial.proposal()?, Options::default())?;
    let run_time = run_time_by_draw(&trial);
    Ok(pages::check(&report, &figures, run_time.as_ref()).document())
}
