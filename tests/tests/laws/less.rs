//! A proposal that says less than another, and which of its outcomes are no better.

use std::collections::BTreeSet;

use rules_core::quantity::Kind;

use crate::generate::choices::Choices;
use crate::generate::proposal::{Cell, Draft, Facts, Given};
use crate::generate::quantity::Quantity;
use crate::generate::vocabulary::{FACTS, FactAt, fact_named};

/// Whose facts.
#[derive(Debug, Clone, Copy)]
enum Owner {
    Singles,
    Cell(usize),
    Pack(usize),
}

fn facts(draft: &mut Draft, owner: Owner) -> &mut Facts {
    match owner {
        Owner::Singles => &mut draft.singles,
        Owner::Cell(at) => &mut draft.cells[at].facts,
        Owner::Pack(at) => &mut draft.packs[at].facts,
    }
}

/// How a number comes to be known less well.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Widen {
    /// In any way.
    AnyHow,
    /// With the nominal value that it has.
    RoundNominal,
}

/// A proposal that says less, and in what way; none where there is nothing to take away.
pub(crate) fn less(
    draft: &Draft,
    choices: &mut Choices<'_>,
    likely: &BTreeSet<FactAt>,
    widen: Widen,
) -> Option<(Draft, String)> {
    taken(draft, choices, likely, widen).filter(|(after, _)| !is_another_plan(draft, after))
}

/// Whether the rest is another plan, not one that says less: the entry of a pack is gone that no
/// cell can have come out of, or the last mention of any pack ("Leaving out" in LANGUAGE.md).
fn is_another_plan(before: &Draft, after: &Draft) -> bool {
    let (had, has) = (before.pack_names(), after.pack_names());
    let lost_one = has.len() < had.len();
    lost_one && (has.is_empty() || !after.has_nameless_pack())
}

/// Takes a pack or all packs off the list, now and then.
fn without_packs(draft: &mut Draft, choices: &mut Choices<'_>) -> Option<String> {
    if !draft.packs.is_empty() && choices.one_in(8) {
        let gone = draft.packs.remove(choices.below(draft.packs.len()));
        return Some(format!("the pack {} is not listed", gone.id));
    }
    if !draft.packs.is_empty() && choices.one_in(16) {
        draft.packs.clear();
        return Some("no pack is listed".to_owned());
    }
    None
}

/// States a meter no more, of a kind for which one is assumed.
fn without_meter(draft: &mut Draft, choices: &mut Choices<'_>) -> Option<String> {
    let assumed: Vec<Kind> = draft.assumed.keys().copied().collect();
    if assumed.is_empty() || !choices.one_in(6) {
        return None;
    }
    let kind = *choices.pick(&assumed);
    let gone = draft.meters.remove(&kind)?;
    Some(format!("the meter {} is not stated", gone.text))
}

fn taken(
    draft: &Draft,
    choices: &mut Choices<'_>,
    likely: &BTreeSet<FactAt>,
    widen: Widen,
) -> Option<(Draft, String)> {
    let mut after = draft.clone();
    if let Some(what) = without_meter(&mut after, choices) {
        return Some((after, what));
    }
    if let Some(what) = without_packs(&mut after, choices) {
        return Some((after, what));
    }
    let listed: Vec<usize> = (0..draft.cells.len())
        .filter(|at| draft.cells[*at].listed)
        .collect();
    // How many cells are listed is a fact of its own, which leaving one off would change and not
    // hide.
    let counts = likely.contains(&fact_named("build.listed")) || draft.cells.len() > draft.called();
    if choices.one_in(8) && !counts && !listed.is_empty() {
        let at = *choices.pick(&listed);
        after.cells[at] = Cell {
            id: draft.cells[at].id.clone(),
            listed: false,
            facts: Facts::new(),
        };
        return Some((after, format!("{} is not listed", draft.cells[at].id)));
    }
    let owned =
        |owner: Owner, facts: &Facts| facts.keys().map(move |at| (owner, *at)).collect::<Vec<_>>();
    let mut all = owned(Owner::Singles, &draft.singles);
    listed
        .iter()
        .for_each(|at| all.extend(owned(Owner::Cell(*at), &draft.cells[*at].facts)));
    for (at, pack) in draft.packs.iter().enumerate() {
        all.extend(owned(Owner::Pack(at), &pack.facts));
    }
    let used: Vec<(Owner, FactAt)> = all
        .iter()
        .copied()
        .filter(|(_, at)| {
            likely.contains(at) || ["cell.group", "cell.pack"].contains(&FACTS[*at].name.as_str())
        })
        .collect();
    let from = if used.is_empty() || choices.one_in(6) {
        &all
    } else {
        &used
    };
    if from.is_empty() {
        return None;
    }
    let (owner, at) = *choices.pick(from);
    let given = facts(&mut after, owner).remove(&at);
    let name = &FACTS[at].name;
    let wide = given
        .filter(|_| choices.below(5) < 3)
        .and_then(|given| wider(&given, at, draft, choices, widen));
    if let Some((quantity, wide)) = wide {
        let what = format!(
            "{name} of {owner:?} is wider, {} for {}",
            wide.text, quantity.text
        );
        facts(&mut after, owner).insert(at, Given::Number(wide));
        return Some((after, what));
    }
    Some((after, format!("{name} of {owner:?} is left out")))
}

/// A number, and the same known less well; none where it is no number or cannot be.
fn wider(
    given: &Given,
    at: FactAt,
    draft: &Draft,
    choices: &mut Choices<'_>,
    widen: Widen,
) -> Option<(Quantity, Quantity)> {
    let Given::Number(quantity) = given else {
        return None;
    };
    let fact = &FACTS[at];
    let read_by = draft.read_by(fact);
    let wide = match widen {
        Widen::AnyHow => Some(quantity.widened(fact, read_by, choices)),
        Widen::RoundNominal => quantity.widened_round_nominal(fact, read_by, choices),
    };
    Some((quantity.clone(), wide?))
}
