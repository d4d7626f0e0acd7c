//! A proposal that is written field by field.

use rules_core::document::{Fault, Problem, ProblemList, near_miss};
use rules_core::ruleset::Rules;
use serde_json::{Map, Value, json};

use super::read::Proposal;

/// The lists of a proposal, of which an entry is named by its `id`.
const LISTS: [&str; 2] = ["cells", "packs"];

/// A proposal in the making: what a form holds. Its fields are set by the paths that reports name,
/// such as `light.draw` and `cells[K4].rest.voltage`, and it can be checked as often as one changes.
///
/// ```
/// use rulesets::{Draft, Options, Verdict, check, shipped_rules};
///
/// let rules = shipped_rules()?;
/// let mut draft = Draft::new("marshal's torch", "1S1P");
/// draft.set("cells[K4].rest.voltage", "1.87 V")?;
/// draft.set("cells[K4].rest.after", "24 h")?;
/// let report = check(&rules, &draft.proposal(&rules)?, Options::default())?;
/// assert_eq!(report.verdict(), Some(Verdict::Refuse)); // it was found deeply discharged
/// let asked: Vec<_> = report.measure_next.iter().filter_map(|next| report.place_of(next)).collect();
/// assert!(asked.contains(&"cells[K4].capacity.value".to_owned()));
/// draft.set("cells[K4].capacity.value", "2300 mAh")?; // and it is checked again
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    name: String,
    value: Value,
}

impl Draft {
    /// A proposal of which the arrangement is known. Messages call it by this name.
    #[must_use]
    pub fn new(name: &str, arrangement: &str) -> Self {
        Self::of(
            name,
            json!({ "format": 1, "title": name, "arrangement": arrangement }),
        )
    }

    /// A proposal that was begun elsewhere.
    #[must_use]
    pub fn of(name: &str, value: Value) -> Self {
        Self {
            name: name.to_owned(),
            value,
        }
    }

    /// What messages call it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What was written so far.
    #[must_use]
    pub const fn value(&self) -> &Value {
        &self.value
    }

    /// Sets the field that a path leads to. An entry of a list that is not there yet is added. What is
    /// taken from a bench by its name alone, as `light: helmet-lamp`, becomes a map that still takes
    /// it: `light: { of: helmet-lamp, draw: 1.2 A }`.
    ///
    /// # Errors
    ///
    /// A path that is none, or that leads through what holds no fields.
    pub fn set(&mut self, path: &str, value: impl Into<Value>) -> Result<(), ProblemList> {
        let steps = steps(path)?;
        if let [Step::Key(section), _, ..] = steps.as_slice() {
            self.make_room(section);
        }
        let place = steps
            .iter()
            .try_fold(&mut self.value, |at, step| step.into(at))
            .ok_or_else(|| no_way(path))?;
        *place = value.into();
        Ok(())
    }

    /// Makes room for fields beside the name of a bench that stands for a whole section.
    fn make_room(&mut self, section: &str) {
        let named = NAMED.iter().find(|(named, _)| *named == section);
        let at = self.value.get_mut(section);
        if let (Some((_, key)), Some(at)) = (named, at) {
            give_way(at, key);
        }
    }

    /// Takes away what a path leads to, if anything is there.
    ///
    /// # Errors
    ///
    /// A path that is none.
    pub fn remove(&mut self, path: &str) -> Result<Option<Value>, ProblemList> {
        let steps = steps(path)?;
        let Some((last, before)) = steps.split_last() else {
            return Ok(None);
        };
        let within = before
            .iter()
            .try_fold(&mut self.value, |at, step| step.existing(at));
        Ok(within.and_then(|within| last.taken_from(within)))
    }

    /// The proposal, to be checked by these rules.
    ///
    /// # Errors
    ///
    /// Every problem found, each with its path.
    pub fn proposal(&self, rules: &Rules) -> Result<Proposal, ProblemList> {
        Proposal::from_value_for(rules, &self.name, &self.value)
    }
}

/// A step of a path.
#[derive(Debug, PartialEq)]
enum Step<'p> {
    /// The value of a key.
    Key(&'p str),
    /// The entry of a list with this `id`.
    Entry(&'p str),
}

impl<'p> Step<'p> {
    /// Where the step leads, made if it is not there.
    fn into<'v>(&self, at: &'v mut Value) -> Option<&'v mut Value> {
        match self {
            Self::Key(key) => {
                let map = made(at, || Value::Object(Map::new())).as_object_mut()?;
                Some(map.entry(*key).or_insert(Value::Null))
            }
            Self::Entry(id) => {
                let list = made(at, || Value::Array(Vec::new())).as_array_mut()?;
                if !list.iter().any(|entry| has_id(entry, id)) {
                    list.push(json!({ "id": id }));
                }
                let entry = list.iter_mut().find(|entry| has_id(entry, id))?;
                give_way(entry, "of");
                Some(entry)
            }
        }
    }

    fn existing<'v>(&self, at: &'v mut Value) -> Option<&'v mut Value> {
        match self {
            Self::Key(key) => at.get_mut(*key),
            Self::Entry(id) => at
                .as_array_mut()?
                .iter_mut()
                .find(|entry| has_id(entry, id)),
        }
    }

    fn taken_from(&self, at: &mut Value) -> Option<Value> {
        match self {
            Self::Key(key) => at.as_object_mut()?.remove(*key),
            Self::Entry(id) => {
                let list = at.as_array_mut()?;
                let place = list.iter().position(|entry| has_id(entry, id))?;
                Some(list.remove(place))
            }
        }
    }
}

fn made(at: &mut Value, empty: impl FnOnce() -> Value) -> &mut Value {
    if at.is_null() {
        *at = empty();
    }
    at
}

/// Whether an entry is that of an id; of what a bench has it is the name alone, or stands under `of`.
fn has_id(entry: &Value, id: &str) -> bool {
    let named = entry.get("id").or_else(|| entry.get("of"));
    named.unwrap_or(entry).as_str() == Some(id)
}

/// A name alone, of what a bench has, becomes a map that takes it under a key and has room for more.
fn give_way(at: &mut Value, key: &str) {
    if at.is_string() {
        *at = json!({ key: at.take() });
    }
}

/// The sections that can be a name of the bench, and the key under which a map takes it.
const NAMED: [(&str, &str); 3] = [("light", "of"), ("charging", "of"), ("conditions", "at")];

/// The steps of a path: `cells[K4].rest.voltage`. An id may have dots, and has no brackets.
fn steps(path: &str) -> Result<Vec<Step<'_>>, ProblemList> {
    let Some((list, rest)) = path.split_once('[') else {
        return path.split('.').map(|key| step(key, path)).collect();
    };
    let Some((id, rest)) = rest.split_once(']').filter(|(id, _)| !id.is_empty()) else {
        return Err(no_path(path));
    };
    let mut steps = vec![step(list, path)?, Step::Entry(id)];
    if !LISTS.contains(&list) {
        return Err(no_path(path));
    }
    match rest.strip_prefix('.') {
        Some(keys) => {
            for key in keys.split('.') {
                steps.push(step(key, path)?);
            }
            Ok(steps)
        }
        None if rest.is_empty() => Ok(steps),
        None => Err(no_path(path)),
    }
}

fn step<'p>(key: &'p str, path: &str) -> Result<Step<'p>, ProblemList> {
    let part = |letter: char| letter.is_alphanumeric() || "_- ".contains(letter);
    match !key.is_empty() && key.trim() == key && key.chars().all(part) {
        true => Ok(Step::Key(key)),
        false => Err(no_path(path)),
    }
}

fn no_path(path: &str) -> ProblemList {
    let list = path.split('[').next().unwrap_or(path);
    let help = match near_miss(list, LISTS).filter(|near| *near != list) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "write it as `light.draw` or `cells[K4].rest.voltage`".to_owned(),
    };
    let message = format!("`{path}` is no path of a field");
    Problem::of_file(Fault::Syntax, message, help).into()
}

fn no_way(path: &str) -> ProblemList {
    let message = format!("`{path}` leads through a value that holds no fields");
    let help = "take that value away first";
    Problem::of_file(Fault::WrongShape, message, help).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_set_and_taken_away() {
        let mut draft = Draft::new("torch", "1S1P");
        draft.set("light.draw", "1.2 A").unwrap();
        draft.set("cells[K.4].rest.voltage", "3.71 V").unwrap();
        draft.set("cells[K.4].rest.voltage", "3.72 V").unwrap();
        draft.set("cells[K5].wrap", "intact").unwrap();
        let written = json!({
            "format": 1, "title": "torch", "arrangement": "1S1P",
            "light": { "draw": "1.2 A" },
            "cells": [{ "id": "K.4", "rest": { "voltage": "3.72 V" } }, { "id": "K5", "wrap": "intact" }],
        });
        assert_eq!(draft.value(), &written);
        assert_eq!(
            draft.remove("cells[K5]").unwrap(),
            Some(json!({ "id": "K5", "wrap": "intact" }))
        );
        assert_eq!(draft.remove("cells[K5].wrap"), Ok(None));
        assert_eq!(draft.remove("light.draw"), Ok(Some(json!("1.2 A"))));
        assert_eq!(
            (
                &draft.value()["light"],
                draft.value()["cells"].as_array().map(Vec::len)
            ),
            (&json!({}), Some(1))
        );
    }

    #[test]
    fn what_a_bench_has_stays_taken_beside_a_field() {
        let value = json!({
            "light": "helmet-lamp", "charging": "four-bay", "conditions": "clubhouse",
            "cells": ["K4", { "of": "K7" }],
        });
        let mut draft = Draft::of("torch", value);
        let set = [
            "light.draw",
            "charging.timer",
            "conditions.use",
            "cells[K4].wrap",
            "cells[K7].wrap",
        ];
        for path in set {
            draft.set(path, "x").unwrap();
        }
        let written = json!({
            "light": { "of": "helmet-lamp", "draw": "x" },
            "charging": { "of": "four-bay", "timer": "x" },
            "conditions": { "at": "clubhouse", "use": "x" },
            "cells": [{ "of": "K4", "wrap": "x" }, { "of": "K7", "wrap": "x" }],
        });
        assert_eq!(draft.value(), &written);
    }

    #[test]
    fn what_is_no_path_is_refused() {
        let mut draft = Draft::new("torch", "1S1P");
        let none = [
            "",
            ".",
            "light.",
            "cells[]",
            "cells[].wrap",
            "cells[K1",
            "cells[K1]wrap",
            "light[K1].draw",
            "cells[K1].",
            "light. draw",
        ];
        for path in none {
            assert_eq!(
                draft.set(path, 1).unwrap_err()[0].fault,
                Fault::Syntax,
                "{path}"
            );
        }
        let near = draft.set("cell[K1].wrap", "torn").unwrap_err();
        assert_eq!(near[0].help.as_deref(), Some("did you mean `cells`?"));
        let through = draft.set("title.text", "x").unwrap_err();
        assert_eq!(through[0].fault, Fault::WrongShape);
        assert_eq!(draft, Draft::new("torch", "1S1P"));
    }
}
