//! The plans that an input starts from: some that keep all cautions or nearly all, moved about
//! their limits.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rules_core::facts::{Catalogue, FactKind};
use rulesets::facts::{CELL, PACK};

use super::choices::Choices;
use super::tree::{Place, Tree};

macro_rules! plan {
    ($name:literal) => {
        ($name, include_str!(concat!("../../plans/", $name, ".yaml")))
    };
}

macro_rules! demo {
    ($name:literal) => {
        (
            $name,
            include_str!(concat!("../../../../rules-cli/demo/", $name, ".yaml")),
        )
    };
}

/// The text of every plan, by its name.
const TEXTS: [(&str, &str); 14] = [
    plan!("start-line-lamp"),
    plan!("sweeper-bike-light"),
    plan!("first-aid-torch"),
    plan!("map-table-lantern"),
    plan!("control-marker"),
    plan!("finish-arch"),
    plan!("forest-headlamp"),
    plan!("emptied-torch"),
    plan!("lent-helmet-lamp"),
    plan!("half-sorted-light"),
    plan!("relay-lamp"),
    demo!("marshal-torch"),
    demo!("helmet-lamp"),
    demo!("course-setter-bike-light"),
];

/// Every plan, read once.
pub(super) static PLANS: LazyLock<Vec<Tree>> = LazyLock::new(|| {
    TEXTS
        .iter()
        .map(|(name, text)| Tree::of(name, text))
        .collect()
});

/// The kinds of values at the keys of a plan.
static KINDS: LazyLock<BTreeMap<String, FactKind>> = LazyLock::new(|| {
    let catalogue: Catalogue = rulesets::catalogue();
    let keys = catalogue.facts().filter_map(|(_, fact)| {
        let section = match fact.subject {
            CELL => "cells[]",
            PACK => "packs[]",
            single => catalogue.subject_name(single),
        };
        let key = fact.key.as_ref()?;
        Some((format!("{section}.{key}"), fact.kind.clone()))
    });
    keys.collect()
});

/// The kind of value at these keys.
pub(super) fn kind(keys: &str) -> Option<&'static FactKind> {
    KINDS.get(keys)
}

/// A plan, and ways in which it is moved; what makes it an error is left aside.
pub(super) fn chosen(choices: &mut Choices<'_>, is_right: impl Fn(&Tree) -> bool) -> Tree {
    let mut plan = choices.pick(&PLANS).cloned().unwrap_or(Tree::Nothing);
    for _ in 0..choices.below(5) {
        let mut moved = plan.clone();
        if is_moved(&mut moved, choices).is_some() && is_right(&moved) {
            plan = moved;
        }
    }
    plan
}

fn is_moved(plan: &mut Tree, choices: &mut Choices<'_>) -> Option<()> {
    if choices.below(3) == 0 {
        return grafted(plan, choices);
    }
    let (place, keys) = place_in(plan, choices)?;
    let text = match plan.at(&place)? {
        Tree::Text(text) => text.clone(),
        _ => return None,
    };
    let other = match kind(&keys) {
        Some(FactKind::Choice(options)) => choices.pick(options)?.to_string(),
        Some(FactKind::YesNo) => if text == "yes" { "no" } else { "yes" }.to_owned(),
        _ => scaled(&text, choices)?,
    };
    *plan.at_mut(&place)? = Tree::Text(other);
    Some(())
}

/// Any place, or any of one section.
fn place_in(plan: &Tree, choices: &mut Choices<'_>) -> Option<(Place, String)> {
    let mut places = plan.places();
    if choices.below(2) == 1 {
        let Tree::Map(sections) = plan else {
            return None;
        };
        let section = choices.below(sections.len());
        places.retain(|(place, _)| place.first() == Some(&section));
    }
    choices.pick(&places).cloned()
}

/// Something of another plan, at the same keys.
fn grafted(plan: &mut Tree, choices: &mut Choices<'_>) -> Option<()> {
    let from = choices.pick(&PLANS)?;
    let (place, keys) = place_in(from, choices)?;
    let graft = from.at(&place)?.clone();
    let target = place_for(plan, &keys, choices)?;
    *plan.at_mut(&target)? = graft;
    Some(())
}

/// A place with these keys, of a list in one of its items or a new one; made if there is none.
fn place_for(plan: &mut Tree, keys: &str, choices: &mut Choices<'_>) -> Option<Place> {
    let mut here = Place::new();
    for part in keys.split('.') {
        let (key, in_list) = match part.strip_suffix("[]") {
            Some(key) => (key, true),
            None => (part, false),
        };
        if *plan.at_mut(&here)? == Tree::Nothing {
            *plan.at_mut(&here)? = Tree::Map(Vec::new());
        }
        here = plan.place_of(&here, key)?;
        if in_list {
            let Tree::List(items) = plan.at_mut(&here)? else {
                return None;
            };
            let is_new = keys.ends_with("[]");
            if is_new {
                items.push(Tree::Nothing);
            }
            let at = if is_new {
                items.len() - 1
            } else {
                choices.below(items.len())
            };
            here.push(at);
        }
    }
    Some(here)
}

/// The first number of a text, made a little or much greater or less.
fn scaled(text: &str, choices: &mut Choices<'_>) -> Option<String> {
    const FACTORS: [f64; 12] = [
        1.02, 0.98, 1.002, 0.998, 1.1, 0.9, 1.3, 0.7, 2.0, 0.5, 1.005, 0.995,
    ];
    let (number, rest) = super::changes::number(text)?;
    let places = number
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let value: f64 = number.parse().ok()?;
    let factor = choices.pick(&FACTORS)?;
    Some(format!("{:.places$}{rest}", value * factor))
}
