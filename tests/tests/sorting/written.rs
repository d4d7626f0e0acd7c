//! What is written of sorted cells and tags conforms to its schema, and is the same each time.

use jsonschema::{PatternOptions, Validator};
use rules_core::report::text::Plain;
use rulesets::jobs::sort::{SortReport, Sorting, csv, sort, text};
use rulesets::jobs::tag::{TagSize, tags};
use serde_json::{Value, json};

use super::club;

fn validator(name: &str) -> Validator {
    let mut schema = rulesets::schema::by_name(name).expect("a schema");
    rules_tests::strict::close(&mut schema);
    jsonschema::options()
        .with_pattern_options(PatternOptions::regex())
        .build(&schema)
        .expect("a schema")
}

fn of_the_club() -> SortReport {
    let (bench, rules) = club();
    sort(&bench, &rules, Sorting::default()).expect("sorted")
}

fn conforms(name: &str, value: &Value, changes: &[(&str, Value)]) {
    let validator = validator(name);
    let errors: Vec<String> = validator
        .iter_errors(value)
        .map(|one| one.to_string())
        .collect();
    assert_eq!(errors, Vec::<String>::new());
    for (at, to) in changes {
        let mut changed = value.clone();
        *changed.pointer_mut(at).expect(at) = to.clone();
        assert!(!validator.is_valid(&changed), "{at}");
    }
}

#[test]
fn the_json_is_as_the_schemas_say() {
    let report = of_the_club();
    let value = serde_json::to_value(&report).expect("JSON");
    conforms(
        "sorted",
        &value,
        &[
            ("/format", json!(2)),
            ("/cells/0/grade", json!("good")),
            ("/cells/0/lights/0/suits", json!("maybe")),
            ("/cells/0/more", json!("1")),
            ("/counts/sound", json!(null)),
        ],
    );
    let tags = tags(&report, TagSize::default()).expect("tags");
    let value = serde_json::to_value(&tags).expect("JSON");
    conforms(
        "tags",
        &value,
        &[
            ("/tags/0/lines", json!("K1")),
            ("/tags/0/grade", json!("good")),
        ],
    );
}

#[test]
fn the_same_bench_gives_the_same_bytes() {
    let (one, other) = (of_the_club(), of_the_club());
    assert_eq!(
        serde_json::to_string(&one).ok(),
        serde_json::to_string(&other).ok()
    );
    assert_eq!(csv(&one), csv(&other));
    assert_eq!(text(&one, 80, &Plain), text(&other, 80, &Plain));
}

/// No line is longer than the width, but where a single word is, and the notice stands below.
#[test]
fn the_text_keeps_to_its_width() {
    let report = of_the_club();
    for width in [40, 60, 80, 120] {
        let text = text(&report, width, &Plain);
        for line in text.lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
        assert!(text.trim_end().ends_with("licensed practice."), "{text}");
        let rows = text
            .lines()
            .filter(|line| line.starts_with("  M2 "))
            .count();
        assert!(rows >= 1, "{text}");
    }
}
