//! What is asked before a proposal can be checked at all.

use rulesets::bench::Bench;
use serde_json::Value;

use super::asked::{Asked, Goal};
use super::of_bench::OfBench;

/// The first questions that a proposal leaves open, in their order. Of a bench its names are the
/// answers.
pub(super) fn opening(value: &Value, bench: Option<&Bench>) -> Vec<Asked> {
    let missing = |key: &str| value.get(key).is_none();
    let mut all = Vec::new();
    if missing("title") {
        let meaning = "What you will know this use by: which light, for what";
        let hint = "a text, as Torch of the marshal at the last control";
        let goal = Goal::Needed("title".to_owned());
        all.push(Asked::new("title", meaning, hint, goal));
    }
    let of_bench = bench.map(|bench| OfBench { bench, value });
    all.extend(of_bench.and_then(|of_bench| of_bench.light()));
    if !can_be_checked(value, bench) {
        let meaning = "How many cells in series, and how many in parallel";
        let hint = "as 1S1P for a single cell, 2S1P for two in series";
        let goal = Goal::Needed("arrangement".to_owned());
        all.push(Asked::new("arrangement", meaning, hint, goal));
    }
    if let Some(of_bench) = of_bench {
        all.extend(of_bench.cells());
        all.extend(of_bench.charger());
        all.extend(of_bench.places());
    } else if missing("cells") {
        let meaning = "The names of the cells, as they stand on them or on their tags";
        let hint = "names with a space between, as K4 K7";
        all.push(Asked::new(
            "cells",
            meaning,
            hint,
            Goal::Entries("cells".to_owned()),
        ));
    }
    all
}

/// Whether enough is said for a check: the arrangement, be it that of a light of the bench.
pub(super) fn can_be_checked(value: &Value, bench: Option<&Bench>) -> bool {
    let of_light = bench.and_then(|bench| OfBench { bench, value }.arrangement());
    value.get("arrangement").is_some() || of_light.is_some()
}

#[cfg(test)]
mod tests {
    use rulesets::Texts;
    use serde_json::json;

    use super::super::of_bench::names_in;
    use super::*;

    const BENCH: &str = "
format: 1
bench: Clubhouse
lights:
  torch: { bays: 1, arrangement: 1S1P }
  lantern: { bays: 4 }
chargers: { four-bay: { termination: 4.20 V } }
places:
  hut: { charging: { ambient: 18 degC, alarm: yes }, conditions: { ambient: 5 degC } }
  cellar: { conditions: { stored_in: 12 degC } }
cells: [{ id: K1, in: torch }, { id: K2 }, { id: K 3 }, { id: K4, in: lantern }]
";

    /// The questions by their places, with what is asked and what can be written.
    fn questions(value: &Value) -> Vec<Asked> {
        let texts = Texts::of([("bench.yaml", BENCH)]);
        let bench = Bench::load("bench.yaml", &texts).unwrap();
        opening(value, Some(&bench))
    }

    fn places(value: &Value) -> Vec<String> {
        let asked = questions(value).into_iter();
        asked.map(|asked| asked.place).collect()
    }

    #[test]
    fn what_a_bench_has_is_asked_by_name() {
        let begun = json!({ "format": 1, "bench": "./bench.yaml", "title": "T" });
        let all = "light arrangement cells charging.of charging.at conditions.at";
        assert_eq!(places(&begun).join(" "), all);
        let named = json!({
            "title": "T", "light": "torch", "cells": ["K2"], "charging": "four-bay",
            "conditions": { "ambient": "5 degC" },
        });
        // The cellar says something of `conditions` that is not written, and the hut does not.
        assert_eq!(places(&named), ["charging.at", "conditions.at"]);
        let asked = questions(&named);
        assert_eq!((&*asked[0].hint, &*asked[1].hint), ("hut", "cellar"));
        let whole = json!({
            "title": "T", "light": { "of": "torch" }, "cells": [],
            "charging": { "of": "four-bay", "at": "hut" }, "conditions": "hut",
        });
        assert!(places(&whole).is_empty(), "{:?}", places(&whole));
    }

    #[test]
    fn cells_in_other_lights_are_told_and_not_offered() {
        let of_torch = json!({ "light": "torch" });
        let all = questions(&of_torch);
        let cells = all.iter().find(|asked| asked.place == "cells").unwrap();
        assert_eq!(cells.words, ["K1", "K 3", "K2"]);
        assert!(cells.meaning.contains("1S1P"), "{}", cells.meaning);
        assert!(cells.meaning.contains("K4 (lantern)"), "{}", cells.meaning);
        assert!(!cells.hint.contains("K4"), "{}", cells.hint);
    }

    #[test]
    fn a_light_may_leave_its_arrangement_open() {
        let texts = Texts::of([("bench.yaml", BENCH)]);
        let bench = Bench::load("bench.yaml", &texts).unwrap();
        for (value, expected) in [
            (json!({ "light": "torch" }), true),
            (json!({ "light": { "of": "torch" } }), true),
            (json!({ "light": "lantern" }), false),
            (json!({ "light": "lantern", "arrangement": "1S4P" }), true),
            (json!({}), false),
        ] {
            assert_eq!(can_be_checked(&value, Some(&bench)), expected, "{value}");
        }
    }

    #[test]
    fn names_may_have_spaces() {
        let texts = Texts::of([("bench.yaml", BENCH)]);
        let bench = Bench::load("bench.yaml", &texts).unwrap();
        assert_eq!(
            names_in("K1, K 3,K2 K4", Some(&bench)),
            ["K1", "K 3", "K2", "K4"]
        );
        assert_eq!(names_in("K 3", Some(&bench)), ["K 3"]);
        assert_eq!(names_in("K 3", None), ["K", "3"]);
    }
}
