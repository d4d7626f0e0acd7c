//! What is written of a label: in text and in JSON, with the notice.

use jsonschema::{PatternOptions, Validator};
use proptest::prelude::*;
use rules_core::report::text::Plain;
use rules_tests::law::law;
use rulesets::facts::catalogue;
use rulesets::label::{Label, LabelFault, LabelReport, MOST_COUNTED, Printed, decode, text};
use serde_json::{Value, json};

use super::made::{any_label, labels};

#[test]
fn nothing_panics_and_nothing_is_without_bound() {
    const MOST: usize = 2 * MOST_COUNTED as usize * MOST_COUNTED as usize;
    law(
        "any label is decoded or refused",
        1000,
        (any_label(), 1..200_usize),
        |(made, columns), seen| {
            let decoded = match made.decode() {
                Ok(decoded) => decoded,
                Err(faults) => {
                    let told = |fault: &LabelFault| {
                        !fault.help().is_empty() && !fault.to_string().is_empty()
                    };
                    prop_assert!(!faults.is_empty() && faults.iter().all(told));
                    return Ok(());
                }
            };
            prop_assert!(decoded.readings.len() <= MOST);
            prop_assert!(!decoded.readings.is_empty() || !decoded.contradictions.is_empty());
            let report = LabelReport::new(&made.label(), &decoded, catalogue().notice());
            prop_assert!(text(&report, columns, &Plain).contains("A label proves"));
            seen.count(1);
            Ok(())
        },
    );
}

#[test]
fn the_json_is_as_its_schema_says() {
    let validator = validator();
    law(
        "the JSON of a label is as its schema says",
        1000,
        labels(),
        |(made, _), seen| {
            let Ok(decoded) = made.decode() else {
                return Ok(());
            };
            let report = LabelReport::new(&made.label(), &decoded, catalogue().notice());
            let report = serde_json::to_value(report).unwrap();
            let objections: Vec<String> = validator
                .iter_errors(&report)
                .map(|error| format!("{}: {error}", error.instance_path()))
                .collect();
            prop_assert_eq!(objections, Vec::<String>::new());
            seen.count(1);
            Ok(())
        },
    );
}

fn validator() -> Validator {
    let mut schema = rulesets::schema::by_name("label").expect("a schema");
    rules_tests::strict::close(&mut schema);
    jsonschema::options()
        .with_pattern_options(PatternOptions::regex())
        .build(&schema)
        .expect("a schema")
}

/// The schema is strict enough to notice a change.
#[test]
fn a_changed_label_does_not_conform() {
    let label = Label {
        voltage: Printed::Voltage.read("11.1 V").ok(),
        capacity: Printed::Capacity.read("5.6 Ah").ok(),
        cells: Some(5),
        code: Some("3INR19/66-2"),
        energy: None,
    };
    let report = serde_json::to_value(LabelReport::new(
        &label,
        &decode(&label).unwrap(),
        catalogue().notice(),
    ))
    .unwrap();
    let validator = validator();
    assert!(validator.is_valid(&report));
    let changes: [(&str, Value); 6] = [
        ("/format", json!(2)),
        ("/believable", json!("no")),
        ("/readings/0/plausible", json!("maybe")),
        ("/readings/0/parallel", json!(null)),
        ("/contradictions/0/about", json!("colour")),
        ("/voltage/low", json!("11.05")),
    ];
    for (at, value) in changes {
        let mut changed = report.clone();
        *changed
            .pointer_mut(at)
            .unwrap_or_else(|| panic!("{at} is there")) = value;
        assert!(!validator.is_valid(&changed), "{at}");
    }
    let mut more = report;
    more["readings"][0]["colour"] = json!("red");
    assert!(!validator.is_valid(&more));
}

#[test]
fn the_notice_is_on_every_label() {
    let label = Label {
        code: Some("3INR19/66-2"),
        ..Label::default()
    };
    let report = LabelReport::new(&label, &decode(&label).unwrap(), catalogue().notice());
    assert_eq!(report.notice, catalogue().notice());
    let page = text(&report, 200, &Plain);
    assert!(
        catalogue()
            .notice()
            .iter()
            .all(|one| page.replace("\n      ", " ").contains(&one.says)),
        "{page}"
    );
}
