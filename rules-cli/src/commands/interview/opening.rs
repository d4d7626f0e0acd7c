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
        all.push(asked("title", meaning, hint, goal));
    }
    let of_bench = bench.map(|bench| OfBench { bench, value });
    all.extend(of_bench.and_then(|of_bench| of_bench.light()));
    if !can_be_checked(value, bench) {
        let meaning = "How many cells in series, and how many in parallel";
        let hint = "as 1S1P for a single cell, 2S1P for two in series";
        let goal = Goal::Needed("arrangement".to_owned());
        all.push(asked("arrangement", meaning, hint, goal));
    }
    if let Some(of_bench) = of_bench {
        all.extend(of_bench.cells());
        all.extend(of_bench.charger());
        all.extend(of_bench.places());
    } else if missing("cells") {
        let meaning = "The names of the cells, as they stand on them or on their tags";
        let hint = "names with a space between, as K4 K7";
        all.push(asked(
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

pub(super) fn asked(place: &str, meaning: &str, hint: &str, goal: Goal) -> Asked {
    Asked {
        place: place.to_owned(),
        meaning: meaning.to_owned(),
        hint: hint.to_owned(),
        words: Vec::new(),
        goal,
        parts: Vec::new(),
        apart: None,
        stage: None,
    }
}
