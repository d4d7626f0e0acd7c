//! At, just inside and just outside each bound schema and loader say the same.

use serde_json::{Value, json};

use super::agreement::{Loaded, catalogue, every_fact, every_key, load_proposal, load_ruleset};
use super::setting::library_validator;

/// A value at a place, and whether it may be there.
type Bound = (&'static str, Value, bool);

fn assert_bounds(name: &str, document: &Value, bounds: &[Bound], load: impl Fn(&Value) -> Loaded) {
    let validator = library_validator(name);
    for (place, value, allowed) in bounds {
        let mut changed = document.clone();
        let (map, key) = place.rsplit_once('/').expect("a place");
        changed
            .pointer_mut(map)
            .unwrap_or_else(|| panic!("{map} is there"))[key] = value.clone();
        assert_eq!(
            validator.is_valid(&changed),
            *allowed,
            "the schema: {place}: {value}"
        );
        let loaded = load(&changed);
        assert_eq!(
            loaded.is_ok(),
            *allowed,
            "the loader: {place}: {value}: {loaded:?}"
        );
    }
}

/// The sizes in designations are those of IEC 61960 as the library reads it; the most cells,
/// characters and options are bounds of the format.
#[test]
fn schema_and_loader_bound_proposals_alike() {
    let catalogue = catalogue();
    let mut document = every_fact(&catalogue, 2);
    document["arrangement"] = json!("2S1P");
    let bounds = [
        ("/cells/0/id", json!("x".repeat(200)), true),
        ("/cells/0/id", json!("x".repeat(201)), false),
        ("/cells/0/id", json!(format!(" {} ", "é".repeat(198))), true),
        (
            "/cells/0/id",
            json!(format!(" {} ", "é".repeat(199))),
            false,
        ),
        ("/cells/0/id", json!("x\t"), false),
        ("/cells/0/id", json!("x"), true),
        ("/cells/0/id", json!(" "), false),
        ("/cells/0/pack", json!("a\u{9f}b"), false),
        ("/cells/0/pack", json!("a\u{a0}b"), false),
        ("/light/bays", json!(1), true),
        ("/light/bays", json!(0), false),
        ("/light/bays", json!(10_000), true),
        ("/light/bays", json!(10_001), false),
        ("/arrangement", json!("10000S"), true),
        ("/arrangement", json!("10001S"), false),
        ("/arrangement", json!("0S1P"), false),
        ("/arrangement", json!("02s01p"), true),
        ("/cells/0/designation", json!("INR5/5"), true),
        ("/cells/0/designation", json!("INR4/5"), false),
        ("/cells/0/designation", json!("INR5/4"), false),
        ("/cells/0/designation", json!("INR99/250"), true),
        ("/cells/0/designation", json!("INR100/250"), false),
        ("/cells/0/designation", json!("INR99/251"), false),
        ("/cells/0/designation", json!("1INR19/66"), true),
        ("/cells/0/designation", json!("2INR19/66"), false),
        ("/cells/0/designation", json!("INR19/66-2"), false),
        ("/cells/0/designation", json!("IFpR10001"), true),
        ("/cells/0/designation", json!("IFR10000"), false),
        ("/cells/0/designation", json!("IFR1800"), false),
        ("/cells/0/designation", json!("IFR1865"), true),
        ("/cells/0/designation", json!("IFR186500"), false),
    ];
    assert_bounds("proposal", &document, &bounds, |document| {
        load_proposal(document, &catalogue)
    });
}

#[test]
fn schema_and_loader_bound_rulesets_alike() {
    let options = |count: usize| {
        json!(
            (0..count)
                .map(|number| format!("o{number}"))
                .collect::<Vec<_>>()
        )
    };
    let fact = |count: usize| json!({ "kind": "choice", "meaning": "a colour", "options": options(count) });
    let limit = json!({ "value": "1 V", "stricter": "lower", "meaning": "a limit" });
    let formula = |length: usize| json!(format!("{:length$}", "build.lowest > 1 V"));
    let (longest, too_long): (&'static str, &'static str) = (
        "/limits/a123456789012345678901234567890123456789012345678901234567890123",
        "/limits/a1234567890123456789012345678901234567890123456789012345678901234",
    );
    let bounds = [
        ("/ruleset", json!("x".repeat(64)), true),
        ("/ruleset", json!("x".repeat(65)), false),
        ("/ruleset", json!("1x"), false),
        (longest, limit.clone(), true),
        (too_long, limit.clone(), false),
        ("/limits/a-b", limit, false),
        ("/facts/cell.tape", fact(1), true),
        ("/facts/cell.tape", fact(0), false),
        ("/facts/cell.tape", fact(64), true),
        ("/facts/cell.tape", fact(65), false),
        ("/facts/lamp.tape", fact(1), false),
        ("/facts/tape", fact(1), false),
        ("/cautions/1/warn_unless", formula(4096), true),
        ("/cautions/1/warn_unless", formula(4097), false),
    ];
    assert_bounds("ruleset", &every_key(), &bounds, |document| {
        load_ruleset(document).map(drop)
    });
}
