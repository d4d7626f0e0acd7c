//! The sorted cells of a bench as a page that stands by itself.

use rules_core::document::ProblemList;
use rulesets::jobs::sort::{Sorting, limits, sort};
use rulesets::pages::{self, parts};

use crate::commands::page::answer::{Answer, Kind, Refusal};
use crate::commands::page::desk::Desk;
use crate::commands::page::shell;

/// The page of a bench of the folder.
pub(in crate::commands::page) fn sorted(name: &str, desk: &Desk) -> Result<Answer, Refusal> {
    if !desk.folder.benches().iter().any(|bench| bench == name) {
        return Err(Refusal::NOTHING);
    }
    Ok(match page(name, desk) {
        Ok(page) => Answer::of(Kind::Finished, page),
        Err(problems) => {
            let says = parts::problems("The cells cannot be sorted", &problems);
            Answer::of(Kind::Html, shell::cannot(name, says))
        }
    })
}

fn page(name: &str, desk: &Desk) -> Result<String, ProblemList> {
    let bench = desk.bench(&desk.folder.called(name))?;
    let rules = desk.rules_with(Some(&bench))?;
    let sorting = Sorting::default();
    let report = sort(&bench, &rules, sorting)?;
    let limits = limits(&bench, &rules, sorting, &report)?;
    Ok(pages::sort(&report, &limits).document())
}
