//! The tables themselves: every row has an id of its own, a way of knowing and a source, and every
//! list of rows is run.
//!
//! This finds slips of filing. It cannot say whether a source is right.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use serde_json::{Map, Value};

use super::table::read;

/// The lists of each table. Each is run by a test in the file of the table's name.
const LISTS: [(&str, &[&str]); 6] = [
    ("decision_rules", &["others", "rows", "strict"]),
    ("designations", &["pairs", "rounding", "rows"]),
    ("interval", &["rows", "unbounded", "zero_divisors"]),
    (
        "labels",
        &[
            "capacities",
            "energies",
            "labels",
            "refused",
            "series",
            "worked_out",
        ],
    ),
    ("trade_boundaries", &["rows"]),
    (
        "units",
        &[
            "amounts",
            "confusions",
            "prefixes",
            "prefixes_beyond_the_language",
            "refused",
            "relations",
            "temperatures",
            "tolerances",
            "units",
            "worked",
        ],
    ),
];

/// The table that a script makes says once for all rows how they are known.
const MADE_BY_SCRIPT: &str = "interval";

const VERDICTS: [&str; 3] = ["pass", "warn", "refuse"];

fn rows(table: &Value) -> impl Iterator<Item = &Map<String, Value>> {
    table
        .as_object()
        .unwrap()
        .values()
        .filter_map(Value::as_array)
        .flatten()
        .map(|row| row.as_object().unwrap())
}

fn text<'r>(row: &'r Map<String, Value>, key: &str) -> &'r str {
    row.get(key)
        .and_then(Value::as_str)
        .unwrap_or_else(|| panic!("no text under `{key}` in {row:?}"))
}

#[test]
fn every_list_is_named_here() {
    for (name, lists) in LISTS {
        let table = read(name);
        let found: Vec<&str> = table
            .as_object()
            .unwrap()
            .iter()
            .filter(|(_, value)| value.is_array())
            .map(|(key, _)| key.as_str())
            .collect();
        assert_eq!(
            found.into_iter().collect::<BTreeSet<_>>(),
            lists.iter().copied().collect(),
            "{name}.json"
        );
    }
}

/// Some file of this suite asks for each list by its name.
#[test]
fn every_list_is_run() {
    let suite = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference");
    let sources = sources(&suite);
    for (name, lists) in LISTS {
        for list in lists {
            let asked = format!("Part::read(\"{name}\", \"{list}\"");
            assert!(
                sources.contains(&asked),
                "nothing runs `{list}` of {name}.json"
            );
        }
    }
}

/// The text of every source in a folder and below it, one after another.
fn sources(folder: &Path) -> String {
    let paths = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let texts = paths.map(|path| {
        if path.is_dir() {
            sources(&path)
        } else {
            fs::read_to_string(&path).unwrap()
        }
    });
    texts.collect()
}

#[test]
fn every_row_has_an_id_of_its_own() {
    for (name, _) in LISTS {
        let table = read(name);
        let ids: Vec<&str> = rows(&table).map(|row| text(row, "id")).collect();
        assert_eq!(
            ids.iter().collect::<BTreeSet<_>>().len(),
            ids.len(),
            "{name}.json: an id stands twice"
        );
    }
}

#[test]
fn every_row_and_source_says_how_it_is_known() {
    for (name, _) in LISTS.iter().filter(|(name, _)| *name != MADE_BY_SCRIPT) {
        let table = read(name);
        let ways = table["known_meaning"].as_object().unwrap();
        let sources = table["sources"].as_object().unwrap();
        let of_sources = sources.values().map(|source| source.as_object().unwrap());
        for one in rows(&table).chain(of_sources) {
            assert!(
                ways.contains_key(text(one, "known")),
                "{name}.json: {one:?}"
            );
        }
        assert!(
            sources.values().all(|source| source["title"].is_string()),
            "{name}.json: a source has no title"
        );
    }
}

#[test]
fn every_source_is_listed_and_used() {
    for (name, _) in LISTS.iter().filter(|(name, _)| *name != MADE_BY_SCRIPT) {
        let table = read(name);
        let mut used = BTreeSet::new();
        for row in rows(&table) {
            let sources = row
                .get("sources")
                .or(row.get("source"))
                .unwrap_or_else(|| panic!("{name}.json: no source in {row:?}"));
            let of_row: Vec<&str> = sources
                .as_str()
                .into_iter()
                .chain(
                    sources
                        .as_array()
                        .into_iter()
                        .flatten()
                        .filter_map(Value::as_str),
                )
                .collect();
            assert!(!of_row.is_empty(), "{name}.json: no source in {row:?}");
            used.extend(of_row);
        }
        assert_eq!(
            used,
            table["sources"]
                .as_object()
                .unwrap()
                .keys()
                .map(String::as_str)
                .collect(),
            "{name}.json"
        );
    }
}

/// What a row asks of the ruleset follows from what its sources say, as the table's `policy` has
/// it.
#[test]
fn boundaries_ask_no_more_than_their_sources_say() {
    let table = read("trade_boundaries");
    for row in rows(&table) {
        let id = text(row, "id");
        let place = |word: &str| {
            VERDICTS
                .iter()
                .position(|verdict| *verdict == word)
                .unwrap_or_else(|| panic!("{id}: `{word}`"))
        };
        let least = place(text(row, "at_least"));
        let most = row.get("at_most").map(|word| place(word.as_str().unwrap()));
        let (least_at_most, needs_most) = match text(row, "source_says") {
            "allowed" => (0, true),
            "silent" => (0, false),
            "caution" => (1, false),
            "not allowed" => (2, false),
            other => panic!("{id}: `{other}`"),
        };
        assert!(
            least <= least_at_most,
            "{id}: asks for more than its sources do"
        );
        assert!(
            least <= most.unwrap_or(2),
            "{id}: asks for what it does not allow"
        );
        assert!(
            ["inside", "on", "outside"].contains(&text(row, "side")),
            "{id}"
        );
        let has_caution = !text(row, "caution").is_empty();
        assert!(
            most.is_some() || !(needs_most && has_caution),
            "{id}: is allowed, so that the caution must not refuse it; `at_most` is missing"
        );
    }
}
