//! Readings that were given and that no figure can use: as data, in JSON and in text.

use rules_core::check::{Options, Report, figures};
use rules_core::document::Syntax;
use rules_core::report::text::{Plain, figures as figures_as_text, text};
use rules_tests::restored;
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

use super::setting::{caution, report, rules};

const CELLS: &str = "cells:
  - { id: K1, loaded: { open: 3.90 V, closed: 3.70 V } }
  - { id: K2, loaded: { open: 3.90 V, closed: 3.70 V } }
  - { id: K3, loaded: { open: 3.90 V, closed: 3.70 V, resistor: 5 ohm } }
  - { id: K4, loaded: { open: 3.90 V, closed: 3.90 V, resistor: 5 ohm } }
  - { id: K5, capacity: [{}, { value: 2300 mAh, to: 3.0 V }] }
";

fn checked(sections: &str, arrangement: &str) -> Report {
    let lines = "warn_unless: light.bays >= 1";
    report(&[caution("tested", "light", lines)], arrangement, sections)
}

fn words(list: &Value) -> Vec<&str> {
    let list = list.as_array().unwrap().iter();
    list.map(|word| word.as_str().unwrap()).collect()
}

/// The facts and subjects of each, and why, out of a report or a sheet of figures as written.
fn told(written: &Value) -> Vec<(Vec<&str>, Vec<&str>, &str)> {
    let at = |number: &Value| usize::try_from(number.as_u64().unwrap()).unwrap();
    let all = written["unused"].as_array().unwrap().iter();
    all.map(|one| {
        let set = written["sets"][at(&one["subjects"])].as_array().unwrap();
        let subjects = set
            .iter()
            .map(|place| &*restored::subject(&written["subjects"][at(place)]).leak());
        let why = one["why"].as_str().unwrap();
        (words(&one["facts"]), subjects.collect(), why)
    })
    .collect()
}

#[test]
fn what_cannot_be_used_is_told() {
    let report = serde_json::to_value(checked(CELLS, "5S1P")).unwrap();
    let [fall, part, slow] = [
        "the load does not surely lower",
        "a reading across a load needs both",
        "a further capacity test needs",
    ];
    let expected = [
        (
            vec!["cell.capacity_2", "cell.capacity_2_to"],
            vec!["cell K5"],
            slow,
        ),
        (
            vec!["cell.loaded_open", "cell.loaded_closed"],
            vec!["cell K1", "cell K2"],
            part,
        ),
        (
            vec![
                "cell.loaded_open",
                "cell.loaded_closed",
                "cell.loaded_resistor",
            ],
            vec!["cell K4"],
            fall,
        ),
    ];
    let found = told(&report);
    assert_eq!(found.len(), expected.len(), "{found:#?}");
    for ((facts, subjects, why), (wanted, of, begins)) in found.iter().zip(&expected) {
        assert_eq!((facts, subjects), (wanted, of));
        assert!(why.starts_with(begins), "{why}");
    }
}

#[test]
fn what_can_be_used_is_not() {
    let whole = "cells:
  - { id: K1, resistance: { value: 61 mohm }, loaded: { open: 3.90 V, closed: 3.80 V, resistor: 5 ohm }, capacity: [{}, { value: 2300 mAh, at: 0.4 A, to: 3.0 V }] }
  - { id: K2 }
packs: [{ id: P-1, voltage: 11.1 V, capacity: 5.2 Ah, energy: 58 Wh, cells: 6 }]
";
    assert_eq!(checked(whole, "2S1P").unused, []);
}

/// A number that is on no label gives no arrangement, nor does a count that is a range. A voltage
/// that would reach down to nothing is cut to its domain, and used.
#[test]
fn numbers_of_a_label_that_tell_nothing_are_told() {
    let packs = "packs:
  - { id: P-1, voltage: 11.1 V ± 12 V, capacity: 5.2 Ah, designation: 3INR19/66-2 }
  - { id: P-2, voltage: 11.1 V, capacity: 900 Ah, cells: 4..6 }
";
    let report = serde_json::to_value(checked(packs, "1S1P")).unwrap();
    let found = told(&report);
    let facts: Vec<_> = found
        .iter()
        .map(|(facts, of, _)| (facts.clone(), of.clone()))
        .collect();
    assert_eq!(
        facts,
        [
            (vec!["pack.capacity"], vec!["pack P-2"]),
            (vec!["pack.cells"], vec!["pack P-2"]),
        ]
    );
}

#[test]
fn the_texts_and_the_sheet_of_figures_tell_it() {
    let report = checked(CELLS, "5S1P");
    let proposal = format!("format: 1\narrangement: 5S1P\n{CELLS}");
    let proposal = Proposal::read("proposal", proposal.into_bytes(), Syntax::Yaml).unwrap();
    let sheet = figures(&rules(""), &proposal, Options::default()).unwrap();
    assert_eq!(told(&json!(sheet)), told(&json!(report)));
    let said = "cell.loaded_open, cell.loaded_closed of cell K1, K2: a reading across a load needs";
    for text in [
        text(&report, 200, &Plain),
        figures_as_text(&sheet, 200, &Plain),
    ] {
        assert!(
            text.contains("Readings that could not be used") && text.contains(said),
            "{text}"
        );
    }
}
