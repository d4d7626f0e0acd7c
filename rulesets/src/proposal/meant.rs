//! What may have been meant by a key that a section does not have.
//!
//! A key says where a value belongs. A rating in the place of a test is worse than an error, so the
//! whole name counts before a part of it: `rated_capacity` is meant for `rated: { capacity }` and
//! not for `capacity`. If only a word is recognised, all places with this word are named.

use rules_core::document::{Problems, quoted};
use rules_core::facts::{Catalogue, SubjectId};

/// The most places that are named.
const MOST_PLACES: usize = 4;

/// The most letters too few or too many that may be slips.
const MOST_SLIPS: usize = 2;

/// The place of a fact in its section: a key, or one in the map of another.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Place<'k> {
    outer: &'k str,
    inside: Option<&'k str>,
}

impl<'k> Place<'k> {
    fn of(key: &'k str) -> Self {
        match key.split_once('.') {
            Some((outer, inside)) => Self {
                outer,
                inside: Some(inside),
            },
            None => Self {
                outer: key,
                inside: None,
            },
        }
    }

    fn name(self) -> String {
        match self.inside {
            Some(inside) => format!("{}_{inside}", self.outer),
            None => self.outer.to_owned(),
        }
    }

    fn shown(self) -> String {
        match self.inside {
            Some(inside) => format!("`{}: {{ {inside}: ... }}`", self.outer),
            None => format!("`{}`", self.outer),
        }
    }

    /// How many of these words the key has.
    fn shares(self, words: &[String]) -> usize {
        let name = self.inside.unwrap_or(self.outer);
        let own = words_of(name);
        let outer = words_of(self.outer);
        let has = |word: &&String| own.contains(word) || outer.contains(word);
        // A map is meant by its own words, and what is in it by a word of its own.
        let of_its_own = words.iter().any(|word| own.contains(word));
        if of_its_own {
            words.iter().filter(has).count()
        } else {
            0
        }
    }
}

/// What to say of a key that a subject's section does not have. `special` are keys that the table of
/// facts does not hold, `declared` the facts of the rulesets of a check, where they are known.
pub(super) fn help(
    key: &str,
    subject: SubjectId,
    (own, declared): (&Catalogue, Option<&Catalogue>),
    special: &[&str],
    problems: &Problems<'_>,
) -> String {
    if let Some(help) = now_written(own, subject, key) {
        return help;
    }
    let keys = keys(own, subject, special);
    let name = own.full_name(subject, key);
    let fact = own.fact_named(&name).map(|(_, def)| def);
    if let Some(from) = fact.and_then(|def| def.from.as_deref()) {
        return format!("it is worked out from `{from}`; write that");
    }
    let meant = meant(key, &keys, problems);
    if !meant.is_empty() {
        return format!("did you mean {}?", either(&meant));
    }
    if declared.is_some_and(|all| all.fact_named(&name).is_some()) {
        return format!("a ruleset declares it: write `extra: {{ {key}: ... }}`");
    }
    let mut outer: Vec<&str> = Vec::new();
    for place in &keys {
        if !outer.contains(&place.outer) {
            outer.push(place.outer);
        }
    }
    format!(
        "the keys here are {}; what a ruleset declares goes under `extra`",
        quoted(&outer)
    )
}

/// What to write now for a key of former versions, by its full name.
pub(super) fn now_written(own: &Catalogue, subject: SubjectId, key: &str) -> Option<String> {
    let name = own.full_name(subject, &key.replace('.', "_"));
    let successor = own.successor(&name)?;
    if let Some(write) = &successor.write {
        return Some(format!("formats changed: write {write}"));
    }
    let (_, fact) = own.fact_named(&successor.now)?;
    let place = Place::of(fact.key.as_deref()?);
    Some(format!("formats changed: write {}", place.shown()))
}

/// The places of a subject, in the order of the table.
fn keys<'k>(own: &'k Catalogue, subject: SubjectId, special: &[&'k str]) -> Vec<Place<'k>> {
    let facts = own.facts().filter(|(_, def)| def.subject == subject);
    let keys = facts.filter_map(|(_, def)| def.key.as_deref());
    let mut places: Vec<Place<'k>> = keys.map(Place::of).collect();
    places.retain(|place| !is_numbered(place.outer, own, subject));
    let more = special.iter().map(|key| Place::of(key));
    for place in more {
        if places.iter().all(|known| known.outer != place.outer) {
            places.push(place);
        }
    }
    places
}

/// Whether a key is a numbered place, which is written as an entry of a list.
fn is_numbered(key: &str, own: &Catalogue, subject: SubjectId) -> bool {
    let numbered = key
        .rsplit_once('_')
        .filter(|(_, number)| number.parse::<usize>().is_ok());
    numbered.is_some_and(|(base, _)| own.key(subject, base).is_some())
}

fn meant<'k>(key: &str, places: &[Place<'k>], problems: &Problems<'_>) -> Vec<Place<'k>> {
    let outer = |place: &Place<'k>| Place {
        inside: None,
        ..*place
    };
    let mut all: Vec<Place<'k>> = places.to_vec();
    all.extend(places.iter().map(outer));
    let names: Vec<String> = all.iter().map(|place| place.name()).collect();
    let written = words_of(key).join("_");
    let near = problems.near(&written, names.iter().map(String::as_str));
    let at = |near: &str| names.iter().position(|name| name == near);
    let Some(place) = near.and_then(|near| all.get(at(near)?)) else {
        return sharing(&written, &all);
    };
    let name = place.name();
    let apart = name.len().abs_diff(written.len()) > MOST_SLIPS;
    // A word inside another is not a typing slip.
    if apart && (name.contains(&written) || written.contains(&name)) {
        return sharing(&written, &all);
    }
    vec![*place]
}

/// The places that share the most words with a key.
fn sharing<'k>(key: &str, places: &[Place<'k>]) -> Vec<Place<'k>> {
    let words = words_of(key);
    let most = places.iter().map(|place| place.shares(&words)).max();
    let most = most.filter(|most| *most > 0);
    let mut found: Vec<Place<'k>> = Vec::new();
    for place in places
        .iter()
        .filter(|place| Some(place.shares(&words)) == most)
    {
        if !found.contains(place) {
            found.push(*place);
        }
    }
    found.truncate(MOST_PLACES);
    found
}

fn words_of(key: &str) -> Vec<String> {
    let words = key.split(|letter: char| !letter.is_alphanumeric());
    let words = words.filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

fn either(places: &[Place<'_>]) -> String {
    let shown: Vec<String> = places.iter().map(|place| place.shown()).collect();
    match shown.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} or {last}", first.join(", ")),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{CELL, LIGHT, catalogue};
    use rules_core::document::Source;
    use rules_core::facts::{FormerNames, Successor};

    fn of(subject: SubjectId, key: &str) -> String {
        let source = Source::new("plan", String::new());
        let problems = Problems::new(&source);
        help(key, subject, (catalogue(), None), &["draw"], &problems)
    }

    #[test]
    fn the_whole_name_counts_before_a_part_of_it() {
        let table = [
            (CELL, "rated_capacity", "`rated: { capacity: ... }`"),
            (CELL, "rated_capcity", "`rated: { capacity: ... }`"),
            (CELL, "capacity_value", "`capacity: { value: ... }`"),
            (CELL, "rest-voltage", "`rest: { voltage: ... }`"),
            (CELL, "wrapp", "`wrap`"),
            (CELL, "capcity", "`capacity`"),
            (LIGHT, "input_max", "`input: { max: ... }`"),
            (LIGHT, "max_input", "`input: { max: ... }`"),
            (LIGHT, "min", "`input: { min: ... }`"),
            (LIGHT, "drw", "`draw`"),
        ];
        for (subject, key, meant) in table {
            assert_eq!(of(subject, key), format!("did you mean {meant}?"), "{key}");
        }
    }

    #[test]
    fn a_key_of_a_former_version_is_answered_with_its_new_place() {
        let mut own = catalogue().clone();
        let successor = |now: &str, write: Option<&str>| Successor {
            now: now.to_owned(),
            write: write.map(str::to_owned),
        };
        let name = str::to_owned;
        own.set_former_names(FormerNames::from([
            (
                name("cell.rest_volts"),
                successor("cell.rest_voltage", None),
            ),
            (
                name("cell.worn"),
                successor("cell.capacity", Some("a test")),
            ),
        ]));
        let written = |key| now_written(&own, CELL, key);
        let place = "formats changed: write `rest: { voltage: ... }`";
        assert_eq!(written("rest_volts").as_deref(), Some(place));
        assert_eq!(written("rest.volts").as_deref(), Some(place));
        let text = "formats changed: write a test";
        assert_eq!(written("worn").as_deref(), Some(text));
        assert_eq!(written("colour"), None);
        assert_eq!(now_written(&own, LIGHT, "worn"), None);
    }

    #[test]
    fn what_may_be_a_rating_or_a_test_is_not_guessed() {
        assert_eq!(
            of(CELL, "nominal_capacity"),
            "did you mean `rated: { capacity: ... }` or `capacity`?"
        );
        assert_eq!(
            of(CELL, "voltage"),
            "did you mean `found: { voltage: ... }` or `rest: { voltage: ... }`?"
        );
    }

    #[test]
    fn what_is_worked_out_or_declared_has_its_own_place() {
        assert_eq!(
            of(CELL, "code_length"),
            "it is worked out from `size.code`; write that"
        );
        assert!(of(CELL, "colour").ends_with("what a ruleset declares goes under `extra`"));
    }
}
