//! What findings cite: limits, sources and facts, each once and nothing else.

use std::collections::BTreeMap;

use rules_core::check::{FactReport, FactState, Report};

use super::setting::{caution, of_cell, report};

fn keys<K: AsRef<str>, V>(map: &BTreeMap<K, V>) -> Vec<&str> {
    map.keys().map(AsRef::as_ref).collect()
}

#[test]
fn limits_that_take_part_and_their_sources() {
    let report = of_cell(
        "refuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: cell.rest_voltage <= limit.most",
        "2.31 V ± 0.02 V",
    );
    assert_eq!(keys(&report.limits), ["floor"]);
    let floor = &report.limits["floor"];
    assert_eq!(
        (
            floor.value.as_str(),
            floor.meaning.as_str(),
            floor.basis.len()
        ),
        ("2.50 V", "Floor", 1)
    );
    // The caution rests on the one source, its limit on the other.
    assert_eq!(keys(&report.sources), ["sheet", "table"]);
    assert_eq!(
        (
            &*report.sources["sheet"].title,
            &*report.sources["table"].title
        ),
        ("A sheet", "A table")
    );
}

#[test]
fn two_findings_cite_a_limit_once() {
    let low = "refuse_unless: cell.rest_voltage >= limit.floor";
    let cells =
        "cells: [{ id: K1, rest: { voltage: 2.31 V } }, { id: K2, rest: { voltage: 2.35 V } }]\n";
    let report = report(
        &[
            caution("a", "each cell", low),
            caution("b", "each cell", low),
        ],
        "2S1P",
        cells,
    );
    assert_eq!(report.findings.len(), 4);
    assert_eq!(
        (keys(&report.limits), keys(&report.sources)),
        (vec!["floor"], vec!["sheet", "table"])
    );
}

#[test]
fn a_report_without_findings_cites_nothing() {
    let low = "refuse_unless: cell.rest_voltage >= limit.floor";
    let report = report(
        &[caution("a", "each cell", low)],
        "1S1P",
        "cells: [{ id: K1, rest: { voltage: 3.70 V } }]\n",
    );
    assert!(report.findings.is_empty() && report.limits.is_empty() && report.sources.is_empty());
    assert_eq!(report.passed, ["a".into()]);
}

/// Each fact with its value; without one there is nothing.
fn states(report: &Report) -> Vec<(&str, FactState, String)> {
    let value = |fact: &FactReport| {
        fact.value
            .as_ref()
            .map(ToString::to_string)
            .unwrap_or_default()
    };
    report.findings[0]
        .facts
        .iter()
        .map(|fact| (&*fact.name, fact.state, value(fact)))
        .collect()
}

/// `rest.voltage` is measured, `termination` is a setting, and a pack's voltage is printed on its
/// label.
#[test]
fn facts_say_how_they_are_known() {
    let lines = "refuse_unless: cell.rest_voltage >= charging.termination + 1 A * cell.resistance";
    let proposal = "cells: [{ id: K1, rest: { voltage: 2.31 V ± 0.02 V } }]\ncharging: { termination: 4.20 V }\n";
    let report = report(&[caution("a", "each cell", lines)], "1S1P", proposal);
    let expected = [
        ("cell.resistance", FactState::Missing, String::new()),
        (
            "cell.rest_voltage",
            FactState::Measured,
            "2.31 V ± 0.02 V".into(),
        ),
        ("charging.termination", FactState::Stated, "4.2 V".into()),
    ];
    assert_eq!(states(&report), expected);
    let places: Vec<bool> = report.findings[0]
        .facts
        .iter()
        .map(|fact| fact.place.is_some())
        .collect();
    assert_eq!(places, [false, true, true]);
    assert_eq!(report.findings[0].missing, ["cell.resistance"]);
}

#[test]
fn a_label_is_printed() {
    let lines = "refuse_unless: pack.voltage <= limit.most";
    let report = report(
        &[caution("a", "each pack", lines)],
        "1S1P",
        "packs: [{ id: P-1, voltage: 11.1 V }]\n",
    );
    assert_eq!(
        states(&report),
        [(
            "pack.voltage",
            FactState::Printed,
            "11.10 V ± 0.05 V".into()
        )]
    );
}

/// A part of the condition is distinguished from the rung.
#[test]
fn clauses_of_the_condition_are_marked() {
    let lines = "applies_when: charging.current >= limit.slow\nrefuse_unless: charging.termination <= limit.most";
    let report = report(
        &[caution("a", "charging", lines)],
        "1S1P",
        "charging: { termination: 4.30 V }\n",
    );
    let clauses: Vec<(&str, bool)> = report.findings[0]
        .clauses
        .iter()
        .map(|clause| (&*clause.text, clause.of_condition))
        .collect();
    assert_eq!(
        clauses,
        [
            ("charging.termination <= limit.most", false),
            ("charging.current >= limit.slow", true)
        ]
    );
    assert_eq!(keys(&report.limits), ["most", "slow"]);
}

/// A figure of the library that takes part is shown with its value: 7.5 W at 5 V is 1.5 A.
#[test]
fn library_figures_are_shown() {
    let lines = "refuse_unless: build.current <= limit.slow";
    let light = "light: { draw: 7.5 W, input: { min: 5 V }, cut_off: none }\n";
    let report = report(&[caution("a", "build", lines)], "2S1P", light);
    let figures: Vec<_> = report.findings[0]
        .figures
        .iter()
        .map(|figure| {
            (
                figure.name.as_str(),
                figure.subject.in_words(),
                figure.value.low(),
            )
        })
        .collect();
    assert_eq!(figures, [("build.current", "build".to_owned(), Some(1.5))]);
    assert!(!report.findings[0].figures[0].value.number.missing);
}
