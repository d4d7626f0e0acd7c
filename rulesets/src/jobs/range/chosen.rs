//! Which fact of a plan is varied, with what the plan has there.

use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::facts::{FactKind, Given};
use rules_core::quantity::{Kind, Quantity};

use super::ends::Vary;
use super::named::{Varied, named, number_kind};
use super::probe::Probe;
use crate::jobs::trial::Trial;

/// A fact that is to be varied, with what the plan has there.
pub(super) struct Chosen<'r> {
    pub(super) fact: Varied<'r>,
    pub(super) own: Option<Given>,
}

/// The fact that is meant, in a plan that has a value of its kind there if it has one at all.
pub(super) fn chosen<'r>(
    trial: &Trial<'r>,
    probe: Probe<'r>,
    asked: &Vary<'_>,
) -> Result<(Probe<'r>, Chosen<'r>), ProblemList> {
    let mut all = named(asked.fact, probe.rules(), probe.sheet())?;
    let ends = [asked.from, asked.to].into_iter().flatten();
    let unit = ends
        .filter_map(|end| Quantity::parse(end.text).ok()?.unit())
        .next();
    let given = |one: &Varied<'_>| {
        let (subject, position) = (one.def.subject, one.position);
        probe.sheet().given(subject, position, one.slot).cloned()
    };
    let suits = |one: &Varied<'_>| {
        let kind = number_kind(one.def);
        unit.is_none_or(|unit| kind.is_none_or(|kind| unit.suits(kind)))
    };
    let is_given = |one: &Varied<'_>| given(one).is_some();
    let at = match (all.iter().position(is_given), all.iter().position(suits)) {
        (Some(given), _) if all.get(given).is_some_and(suits) => given,
        (_, Some(suiting)) if unit.is_some() || all.len() == 1 => suiting,
        (Some(given), None) => given,
        _ if all.len() == 1 => 0,
        _ => return Err(either_kind(asked.fact, &all).into()),
    };
    let fact = all.swap_remove(at);
    has_range(&fact)?;
    let own = given(&fact);
    // What stands there in the other kind gives way.
    let probe = match (all.iter().any(is_given), asked.from.or(asked.to)) {
        (true, Some(end)) => {
            let swapped = trial.with(|draft| draft.set(&fact.path, end.text))?;
            Probe::of(&swapped, probe.most)?
        }
        _ => probe,
    };
    Ok((probe, Chosen { fact, own }))
}

/// That a place takes either of two kinds, and nothing says which is meant.
fn either_kind(fact: &str, all: &[Varied<'_>]) -> Problem {
    let kinds: Vec<String> = all
        .iter()
        .filter_map(|one| number_kind(one.def).map(Kind::with_article))
        .collect();
    let message = format!("`{fact}` can be {}", kinds.join(" or "));
    let help = "name the first or the last value with its unit";
    Problem::of_file(Fault::WrongKind, message, help)
}

fn has_range(varied: &Varied<'_>) -> Result<(), Problem> {
    match &varied.def.kind {
        FactKind::Number(_) | FactKind::Choice(_) | FactKind::YesNo => Ok(()),
        FactKind::Id | FactKind::Text => {
            let message = format!("`{}` is a text, which has no range", varied.path);
            let help = "vary a number or a choice";
            Err(Problem::of_file(Fault::WrongKind, message, help))
        }
    }
}

/// That a fact is no number.
pub(super) fn is_no_side(path: &str) -> Problem {
    let message = format!("`{path}` is a choice, which has no side of a map");
    let help = "vary it by itself: its options are then listed; a map has two numbers";
    Problem::of_file(Fault::WrongKind, message, help)
}
