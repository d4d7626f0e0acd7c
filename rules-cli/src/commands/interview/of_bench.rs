//! What is asked of a bench: which of its lights, cells, chargers and places.

use std::collections::BTreeMap;

use rulesets::bench::Bench;
use serde_json::Value;

use super::asked::{Apart, Asked, Goal};

/// A proposal in the making, and the bench that it takes from.
#[derive(Clone, Copy)]
pub(super) struct OfBench<'b> {
    pub bench: &'b Bench,
    pub value: &'b Value,
}

/// The most names that are listed; Tab completes the others.
const MOST_LISTED: usize = 12;
const CHARGING: &str = "charging";
const CONDITIONS: &str = "conditions";

impl<'b> OfBench<'b> {
    /// Which light it is for.
    pub(super) fn light(self) -> Option<Asked> {
        let lights: Vec<&str> = self.bench.lights().collect();
        let is_open = self.value.get("light").is_none();
        is_open.then(|| choice(&["light"], "Which light of the bench it is", &lights))?
    }

    /// The name of the light that is taken.
    fn taken(self) -> Option<&'b str> {
        self.named("light", "of")
    }

    /// The arrangement of the light that is taken.
    pub(super) fn arrangement(self) -> Option<&'b str> {
        self.bench.written_arrangement(self.taken()?)
    }

    /// Which cells are in it. Those in other lights are not offered, though they can be named.
    pub(super) fn cells(self) -> Option<Asked> {
        if self.value.get("cells").is_some() {
            return None;
        }
        let light = self.taken();
        let (mut own, mut free, mut others) = (Vec::new(), Vec::new(), BTreeMap::new());
        for cell in self.bench.cells() {
            let place = self.bench.light_of(cell);
            match place {
                None => free.push(cell),
                Some(_) if place == light => own.push(cell),
                Some(other) => others.entry(other).or_insert_with(Vec::new).push(cell),
            }
        }
        let wanted = self.value.get("arrangement").and_then(Value::as_str);
        let wanted = wanted.or_else(|| self.arrangement());
        let mut meaning = "Which cells of the bench are in it".to_owned();
        meaning.extend(wanted.map(|wanted| format!(": {wanted}")));
        let others = others.iter();
        let others = others.map(|(light, cells)| format!("{} ({light})", listed(cells)));
        let others = others.collect::<Vec<_>>().join("; ");
        meaning.extend((!others.is_empty()).then(|| format!(". In other lights: {others}")));
        let mut hint = "names with a space between".to_owned();
        hint.extend((!own.is_empty()).then(|| format!(", now in it: {}", listed(&own))));
        hint.extend((!free.is_empty()).then(|| format!(", in no light: {}", listed(&free))));
        let goal = Goal::Entries("cells".to_owned());
        let words = own.into_iter().chain(free).map(str::to_owned).collect();
        Some(Asked {
            words,
            ..Asked::new("cells", &meaning, &hint, goal)
        })
    }

    /// Which charger charges them.
    pub(super) fn charger(self) -> Option<Asked> {
        let chargers: Vec<&str> = self.bench.chargers().collect();
        let is_open = self.value.get(CHARGING).is_none();
        let meaning = "Which charger of the bench charges the cells";
        is_open.then(|| choice(&["charging.of"], meaning, &chargers))?
    }

    /// Where they are charged and used. What is of one place is asked once.
    pub(super) fn places(self) -> Vec<Asked> {
        let (charging, conditions) = (self.places_for(CHARGING), self.places_for(CONDITIONS));
        let (charged, kept) = ("charging.at", "conditions.at");
        if !charging.is_empty() && charging == conditions {
            let meaning = "Which place of the bench they are charged, kept and taken out from";
            return choice(&[charged, kept], meaning, &charging)
                .into_iter()
                .collect();
        }
        let meaning = "Which place of the bench they are charged at";
        let of_charging = choice(&[charged], meaning, &charging);
        let meaning = "Which place of the bench they are kept at and taken out from";
        let of_conditions = choice(&[kept], meaning, &conditions);
        of_charging.into_iter().chain(of_conditions).collect()
    }

    /// The places that say something of a section which nothing says yet, if none was named.
    fn places_for(self, section: &str) -> Vec<&'b str> {
        if self.named(section, "at").is_some() && !self.is_charger_alone(section) {
            return Vec::new();
        }
        let written = self.value.get(section);
        let is_written = |key: &&str| written.is_some_and(|written| written.get(*key).is_some());
        let places = self.bench.places_of(section);
        let useful = places.filter(|(_, keys)| keys.iter().any(|key| !is_written(key)));
        useful.map(|(name, _)| name).collect()
    }

    /// Whether the one word of a section is the name of a charger, which says no place.
    fn is_charger_alone(self, section: &str) -> bool {
        section == CHARGING && self.value.get(section).is_some_and(Value::is_string)
    }

    /// The name that a section takes under a key, or is.
    fn named(self, section: &str, key: &str) -> Option<&'b str> {
        let section = self.value.get(section)?;
        section.as_str().or_else(|| section.get(key)?.as_str())
    }
}

/// A question that one of these names answers.
fn choice(places: &[&str], meaning: &str, names: &[&str]) -> Option<Asked> {
    let first = places.first().filter(|_| !names.is_empty())?;
    let apart = (places.len() > 1).then_some(Apart::Entries);
    let each = apart.map_or("", |_| "; `each`: one after the other");
    let hint = format!("{}{each}", listed(names));
    let paths = places.iter().copied().map(str::to_owned).collect();
    Some(Asked {
        words: names.iter().copied().map(str::to_owned).collect(),
        apart,
        ..Asked::new(first, meaning, &hint, Goal::Fields(paths))
    })
}

fn listed(names: &[&str]) -> String {
    let first: Vec<&str> = names.iter().copied().take(MOST_LISTED).collect();
    match names.len().saturating_sub(MOST_LISTED) {
        0 => first.join(", "),
        more => format!("{} and {more} more", first.join(", ")),
    }
}

/// The names in an answer, with a space or a comma between. Names of a bench may have spaces, and are
/// taken as they stand between commas.
pub(super) fn names_in<'a>(answer: &'a str, bench: Option<&Bench>) -> Vec<&'a str> {
    let is_known = |name: &str| {
        let mut cells = bench.into_iter().flat_map(Bench::cells);
        cells.any(|cell| cell == name)
    };
    let parts = answer.split(',').map(str::trim);
    let names = parts.flat_map(|part| match is_known(part) {
        true => vec![part],
        false => part.split(' ').collect(),
    });
    names.filter(|name| !name.is_empty()).collect()
}
