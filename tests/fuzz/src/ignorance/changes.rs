//! What is done to a plan: something is left out, known less well, said twice or said in another
//! order.

use rules_core::facts::FactKind;
use rules_core::quantity::Kind;

use super::choices::Choices;
use super::plans::kind;
use super::tree::{Place, Tree};

/// What was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// A fact, an entry or a section is left out.
    LeftOut,
    /// A number is known less well.
    Widened,
    /// A meter is worse in each part of what it says.
    WorseMeter,
    /// A key is written twice.
    KeyTwice,
    /// An entry of a list is written twice.
    EntryTwice,
    /// An entry is written again under a name that looks the same.
    Twin,
    /// A name is written with further spaces.
    Spaced,
    /// Keys and entries are in another order.
    Shuffled,
}

/// What has to come of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Expected {
    /// No better verdict.
    NoBetter,
    /// The same.
    Same,
    /// No verdict: an error.
    Error,
}

/// A plan after a change.
pub(super) struct Change {
    pub(super) what: What,
    /// The keys of the place: `cells[].rest.voltage`.
    pub(super) keys: String,
    pub(super) after: Tree,
}

impl What {
    pub(super) const fn expected(self) -> Expected {
        match self {
            Self::LeftOut | Self::Widened | Self::WorseMeter => Expected::NoBetter,
            Self::KeyTwice | Self::EntryTwice | Self::Twin => Expected::Error,
            Self::Spaced | Self::Shuffled => Expected::Same,
        }
    }
}

/// As often as they are of use: what is left out or widened is compared most.
const WHATS: [What; 16] = [
    What::LeftOut,
    What::Widened,
    What::LeftOut,
    What::Widened,
    What::LeftOut,
    What::Widened,
    What::LeftOut,
    What::Widened,
    What::LeftOut,
    What::Widened,
    What::WorseMeter,
    What::Shuffled,
    What::Twin,
    What::Spaced,
    What::KeyTwice,
    What::EntryTwice,
];

/// A change of a plan; none where the bytes choose what this plan does not have.
pub(super) fn chosen(plan: &Tree, choices: &mut Choices<'_>) -> Option<Change> {
    let what = *choices.pick(&WHATS)?;
    let mut after = plan.clone();
    if what == What::Shuffled {
        shuffle(&mut after, choices);
        let keys = String::new();
        return Some(Change { what, keys, after });
    }
    let places = plan.places();
    let (place, keys) = place(&places, what, choices)?;
    let here = plan.at(place)?;
    let (last, outer) = place.split_last()?;
    match what {
        What::LeftOut if counts(keys) => after.empty(place),
        What::LeftOut => after.remove(place),
        What::Widened => {
            *after.at_mut(place)? = Tree::Text(widened(keys, here.text()?, choices)?);
        }
        What::WorseMeter => *after.at_mut(place)? = Tree::Text(worse(here.text()?)),
        What::Spaced => *after.at_mut(place)? = Tree::Text(spaced(here.text()?, choices)?),
        What::KeyTwice => {
            let Tree::Map(entries) = after.at_mut(outer)? else {
                return None;
            };
            entries.push(entries.get(*last)?.clone());
        }
        What::EntryTwice | What::Twin => {
            let mut entry = here.clone();
            if what == What::Twin {
                let id = entry.place_of(&[], "id")?;
                let name = twin(entry.at(&id)?.text()?, choices)?;
                *entry.at_mut(&id)? = Tree::Text(name);
            }
            let Tree::List(items) = after.at_mut(outer)? else {
                return None;
            };
            items.insert(choices.below(items.len() + 1), entry);
        }
        What::Shuffled => return None,
    }
    let keys = keys.clone();
    Some(Change { what, keys, after })
}

/// A place at which it can be done: any, or any of one section, so that sections with few keys come
/// up as well.
fn place<'p>(
    places: &'p [(Place, String)],
    what: What,
    choices: &mut Choices<'_>,
) -> Option<&'p (Place, String)> {
    let section = |keys: &str| keys.split(['.', '[']).next().map(str::to_owned);
    let mut fitting: Vec<_> = places
        .iter()
        .filter(|(_, keys)| suits(what, keys))
        .collect();
    if choices.below(2) == 1 {
        let mut sections: Vec<_> = fitting.iter().map(|(_, keys)| section(keys)).collect();
        sections.dedup();
        let one = choices.pick(&sections)?;
        fitting.retain(|(_, keys)| section(keys) == *one);
    }
    choices.pick(&fitting).copied()
}

/// Whether something of the kind can be done at a place of these keys.
fn suits(what: What, keys: &str) -> bool {
    let is_item = keys.ends_with("[]");
    match what {
        What::LeftOut => !["format", "title"].contains(&keys),
        What::Widened => matches!(kind(keys), Some(FactKind::Number(_))) || keys == "light.draw",
        What::WorseMeter => keys.starts_with("meters."),
        What::KeyTwice => !is_item,
        What::EntryTwice | What::Twin => is_item && !counts(keys),
        What::Spaced => {
            ["cells[].id", "cells[].group", "cells[].pack", "packs[].id"].contains(&keys)
        }
        What::Shuffled => false,
    }
}

/// Whether an entry is one of a list in which the first counts otherwise than the second.
fn counts(keys: &str) -> bool {
    keys.ends_with("capacity[]")
}

fn shuffle(tree: &mut Tree, choices: &mut Choices<'_>) {
    match tree {
        Tree::Nothing | Tree::Text(_) => {}
        Tree::List(items) => {
            items.iter_mut().for_each(|item| shuffle(item, choices));
            choices.shuffle(items);
        }
        Tree::Map(entries) => {
            entries
                .iter_mut()
                .filter(|(key, _)| key != "capacity")
                .for_each(|(_, inner)| shuffle(inner, choices));
            choices.shuffle(entries);
        }
    }
}

/// The number that a text starts with, and the rest.
pub(super) fn number(text: &str) -> Option<(&str, &str)> {
    let end = text
        .find(|letter: char| !letter.is_ascii_digit() && !"+-.".contains(letter))
        .unwrap_or(text.len());
    // The dots of a range are no part of its low end.
    let end = text.find("..").map_or(end, |dots| end.min(dots));
    let (number, rest) = text.split_at(end);
    number.parse::<f64>().ok().map(|_| (number, rest))
}

/// A text for a number that is known less well: with a tolerance, as a range, or as a wider one of
/// either. Whether it holds the number of before is for `less` to see.
fn widened(keys: &str, text: &str, choices: &mut Choices<'_>) -> Option<String> {
    const PARTS: [f64; 8] = [0.03, 0.01, 0.1, 0.3, 0.003, 0.6, 1.0, 3.0];
    let part = *choices.pick(&PARTS)?;
    if text == "none" {
        let Some(FactKind::Number(number)) = kind(keys) else {
            return None;
        };
        return Some(format!(
            "0..{} {}",
            3.0 * part,
            number.unit_names().first()?
        ));
    }
    let is_temperature = matches!(kind(keys), Some(FactKind::Number(Kind::Temperature)));
    let width = |of: f64| part * if is_temperature { 30.0 } else { of.abs() };
    if let Some((low, high)) = text.split_once("..") {
        let (low, (high, unit)) = (number(low.trim())?.0, number(high.trim())?);
        let (low, high): (f64, f64) = (low.parse().ok()?, high.parse().ok()?);
        let (down, up) = ends(width(high), choices);
        return Some(format!("{}..{}{unit}", low - down, high + up));
    }
    let amount = text.split('±').next()?.trim();
    let (digits, unit) = number(amount)?;
    let value: f64 = digits.parse().ok()?;
    if choices.below(2) == 0 {
        let unit = if is_temperature { " K" } else { unit };
        return Some(format!("{amount} ± {}{unit}", width(value)));
    }
    let (down, up) = ends(width(value), choices);
    Some(format!("{}..{}{unit}", value - down, value + up))
}

/// How far a range reaches down and up: alike, or to one side.
fn ends(width: f64, choices: &mut Choices<'_>) -> (f64, f64) {
    match choices.below(4) {
        0 => (width, 0.1 * width),
        1 => (0.1 * width, width),
        _ => (width, width),
    }
}

/// The statement of a meter with every number in it doubled.
fn worse(statement: &str) -> String {
    let mut said = String::new();
    let mut rest = statement;
    while let Some(start) = rest.find(|letter: char| letter.is_ascii_digit()) {
        let (before, from) = rest.split_at(start);
        said.push_str(before);
        let Some((digits, after)) = number(from) else {
            break;
        };
        let doubled = digits.parse::<f64>().unwrap_or_default() * 2.0;
        said.push_str(&doubled.to_string());
        rest = after;
    }
    said + rest
}

/// The same name with a space before, after or inside.
fn spaced(name: &str, choices: &mut Choices<'_>) -> Option<String> {
    let spaced = match choices.below(3) {
        0 => format!("{name} "),
        1 => format!(" {name}"),
        _ => name.replace(' ', "  "),
    };
    Some(spaced).filter(|spaced| spaced != name)
}

/// A name that looks the same: with a space, or a tab.
fn twin(name: &str, choices: &mut Choices<'_>) -> Option<String> {
    match choices.below(4) {
        0 => Some(format!("{name}\t")),
        _ => spaced(name, choices),
    }
}
