//! Counts, and the order of findings: by verdict, settled before open, fixed before the rest, then
//! by name.

use serde_json::json;

use super::setting::{caution, report};

const LOW: &str = "refuse_unless: cell.rest_voltage >= limit.floor";

/// Two cells: one is low, the other is not measured.
const CELLS: &str = "cells: [{ id: K1, rest: { voltage: 2.31 V } }, { id: K2 }]\ncharging: { termination: 4.20 V, current: 2 A }\n";

#[test]
fn every_outcome_is_counted() {
    let cautions = [
        caution("a-low", "each cell", LOW),
        caution(
            "b-met",
            "charging",
            "refuse_unless: charging.termination <= limit.most",
        ),
        caution(
            "c-nowhere",
            "charging",
            "applies_when: charging.termination > limit.most\nrefuse_unless: charging.current <= limit.slow",
        ),
        caution(
            "d-fast",
            "charging",
            "warn_unless: charging.current <= limit.slow",
        ),
        caution(
            "e-nowhere",
            "each cell",
            "applies_when: charging.current < limit.slow\nwarn_unless: cell.rest_voltage >= limit.floor",
        ),
        caution(
            "f-met",
            "each cell",
            "warn_unless: charging.termination <= limit.most",
        ),
        caution(
            "g-softly-open",
            "each cell",
            "refuse_unless: cell.resistance <= 0.1 ohm\nif_unmeasured: warn",
        ),
    ];
    let report = report(&cautions, "2S1P", CELLS);
    // 2 + 1 + 1 + 1 + 2 + 2 + 2 looked at; open are a-low (for K2) and g-softly-open (for both).
    let expected = json!({
        "cautions": 7,
        "applied": 5,
        "not_applicable": 2,
        "undecided": 2,
        "checks": 11,
        "refuse": 2,
        "warn": 3,
    });
    assert_eq!(serde_json::to_value(report.counts).unwrap(), expected);
    assert_eq!(report.passed, ["b-met".into(), "f-met".into()]);
    assert_eq!(
        report.not_applicable,
        ["c-nowhere".into(), "e-nowhere".into()]
    );
}

#[test]
fn the_gravest_finding_stands_first() {
    let cautions = [
        caution(
            "a-warns",
            "charging",
            "warn_unless: charging.current <= limit.slow",
        ),
        caution("b-low", "each cell", LOW),
        caution("c-fixed", "each cell", &format!("{LOW}\nfixed: yes")),
        caution("d-low", "each cell", LOW),
    ];
    let report = report(&cautions, "2S1P", CELLS);
    let order: Vec<_> = report
        .findings
        .iter()
        .map(|finding| (&*finding.caution, finding.subject.in_words()))
        .collect();
    let (settled, open) = ("cell K1", "cell K2");
    let expected = [
        ("c-fixed", settled),
        ("b-low", settled),
        ("d-low", settled),
        ("c-fixed", open),
        ("b-low", open),
        ("d-low", open),
        ("a-warns", "charging"),
    ];
    assert_eq!(
        order,
        expected.map(|(caution, subject)| (caution, subject.to_owned()))
    );
}

#[test]
fn of_one_caution_the_subjects_stand_by_name() {
    let cells =
        "cells: [{ id: K2, rest: { voltage: 2.31 V } }, { id: K1, rest: { voltage: 2.31 V } }]\n";
    let report = report(&[caution("a", "each cell", LOW)], "2S1P", cells);
    let order: Vec<_> = report
        .findings
        .iter()
        .map(|finding| finding.subject.in_words())
        .collect();
    assert_eq!(order, ["cell K1", "cell K2"]);
}
