//! The smallest cases of violations that the laws found, with the results they should have.

use rules_core::check::{Report, Verdict};

use crate::generate::choices::broken;
use crate::generate::setting::{checked, load_text};

/// A check of one caution, given by the lines that are its own, and of a proposal by its cells and
/// what else it has.
fn report(caution: &str, proposal: &str) -> Report {
    let limits = "limits: { floor: { value: 3.0 V, stricter: higher, meaning: generated } }";
    with_limits(limits, caution, proposal)
}

fn with_limits(limits: &str, caution: &str, proposal: &str) -> Report {
    let lines: String = caution
        .lines()
        .map(|line| format!("    {}\n", line.trim()))
        .collect();
    let rules = format!(
        "format: 1\nruleset: one\nversion: 1.0.0\ntitle: one\n{limits}\ncautions:\n  - id: tested\n    title: t\n    reason: r\n{lines}"
    );
    let rules = load_text(&rules, "yaml").unwrap_or_else(|problems| {
        panic!(
            "{}",
            broken(
                "rules",
                &[("problems", &crate::generate::setting::listed(&problems))]
            )
        )
    });
    checked(&rules, &format!("format: 1\ntitle: t\n{proposal}"), None)
        .unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn what_may_apply_to_nothing_is_no_pass() {
    let verdict = |cell: &str| {
        let caution =
            "about: each cell\napplies_when: cell.class == IFR\nrefuse_unless: light.bays >= 1";
        report(
            caution,
            &format!("arrangement: 1S\nlight: {{ bays: 1 }}\ncells: [{cell}]"),
        )
        .gravest()
        .worst
    };
    assert_eq!(verdict("{ id: K1, designation: ICR18650 }"), Verdict::Warn);
    assert_eq!(verdict("{ id: K1 }"), Verdict::Warn);
}

#[test]
fn a_doubt_does_not_hide_what_is_missing() {
    let worst = |volts: &str| {
        let caution = "about: each cell\nwarn_unless: cell.rest_voltage >= 3 V and cell.capacity >= 1 Ah\nif_unmeasured: refuse";
        report(
            caution,
            &format!("arrangement: 1S\ncells: [{{ id: K1, rest: {{ voltage: {volts} }} }}]"),
        )
        .gravest()
        .worst
    };
    assert!(worst("3.5 V ± 0.1 V") <= worst("3.5 V ± 0.6 V"));
}

#[test]
fn a_tighter_limit_does_not_soften_a_refusal() {
    let verdict = |floor: &str| {
        let caution = "about: each cell\nrefuse_unless: cell.rest_voltage >= limit.floor or cell.capacity >= 1 Ah\nif_unmeasured: warn";
        let limits = format!(
            "limits: {{ floor: {{ value: {floor}, stricter: higher, meaning: generated }} }}"
        );
        with_limits(
            &limits,
            caution,
            "arrangement: 1S\ncells: [{ id: K1, rest: { voltage: 3.0 V ± 0.1 V } }]",
        )
        .gravest()
        .verdict
    };
    let (loose, tight) = (verdict("3.0 V"), verdict("3.2 V"));
    assert!(loose <= tight, "{loose:?} becomes {tight:?}");
}

#[test]
fn a_group_without_a_name_has_none() {
    let verdict = |group: &str| {
        report(
            "about: each cell\nrefuse_unless: group.id != cell.pack",
            &format!("arrangement: 1S\ncells: [{{ id: K1, pack: A{group} }}]"),
        )
        .gravest()
        .verdict
    };
    assert_eq!(verdict(", group: A"), Verdict::Refuse);
    assert_ne!(verdict(""), Verdict::Pass);
}

#[test]
fn a_worse_meter_does_not_narrow_a_difference() {
    let worst = |percent: &str| {
        let proposal = format!(
            "arrangement: 2S\nmeters: {{ voltage: ± ({percent} % + 1 mV) }}\ncells: [{{ id: K1, rest: {{ voltage: 3.850 V }} }}, {{ id: K2, rest: {{ voltage: 3.9 V }} }}]"
        );
        report(
            "about: build\nrefuse_unless: spread of cell.rest_voltage <= 0.102 V",
            &proposal,
        )
        .gravest()
        .worst
    };
    assert!(worst("0.5") <= worst("2"));
}

#[test]
fn the_same_facts_are_listed_in_any_order() {
    let facts = |order: &[usize]| {
        let cells: Vec<String> = order.iter().map(|at| format!("{{ id: K{at} }}")).collect();
        let report = report(
            "about: each cell\nrefuse_unless: max of cell.capacity <= cell.capacity",
            &format!("arrangement: 25P\ncells: [{}]", cells.join(", ")),
        );
        let finding = report
            .findings
            .iter()
            .find(|finding| finding.subject.name() == Some("K25"))
            .unwrap();
        let mut subjects: Vec<String> = finding
            .facts
            .iter()
            .map(|fact| fact.subject.to_string())
            .collect();
        subjects.sort();
        (subjects, finding.more_facts)
    };
    let forward: Vec<usize> = (1..=25).collect();
    let backward: Vec<usize> = (1..=25).rev().collect();
    assert_eq!(facts(&forward), facts(&backward));
    assert_eq!(facts(&forward).1, 1);
}

#[test]
fn groups_are_missing_of_the_same_cells_in_any_order() {
    let facts = |cells: [&str; 4]| {
        let cells = cells.map(|cell| format!("{{ id: {cell} }}")).join(", ");
        let report = report(
            "about: each group\nrefuse_unless: sum of cell.capacity >= 1 Ah",
            &format!("arrangement: 2S2P\ncells: [{cells}]"),
        );
        let mut subjects: Vec<String> = report.findings[0]
            .facts
            .iter()
            .map(|fact| fact.subject.to_string())
            .collect();
        subjects.sort();
        subjects
    };
    assert_eq!(
        facts(["K1", "K2", "K3", "K4"]),
        facts(["K4", "K3", "K2", "K1"])
    );
}

/// A slow capacity test lowers the upper end of a run time and leaves the lower one. Where the
/// middle of the two decided, taking the test made a passing plan fail.
#[test]
fn a_test_that_is_left_out_does_not_pay_under_simple_acceptance() {
    let worst = |minutes: u32, slow: &str| {
        let rules = format!(
            "format: 1\nruleset: one\nversion: 1.0.0\ntitle: one\nacceptance: simple\ncautions:\n  - {{ id: tested, title: t, about: build, refuse_unless: build.run_time >= {minutes} min, reason: r }}\n"
        );
        let rules = load_text(&rules, "yaml").expect("the rules load");
        let proposal = format!(
            "format: 1\narrangement: 1S1P\nlight: {{ draw: 0.5 A, cut_off: 2.9 V, input: {{ min: 2.6 V }} }}\nconditions: {{ ambient: 20 degC }}\ncells: [{{ id: K1, designation: ICR18650, capacity: [{{ value: 2310 mAh, at: 1 A, to: 3.0 V }}{slow}], resistance: {{ value: 61 mΩ, method: dc-10s }} }}]\n"
        );
        checked(&rules, &proposal, None)
            .unwrap_or_else(|error| panic!("{error}"))
            .gravest()
            .worst
    };
    let slow = ", { value: 2350 mAh, at: 0.4 A, to: 3.0 V }";
    for minutes in (200..=400).step_by(5) {
        assert!(
            worst(minutes, slow) <= worst(minutes, ""),
            "at {minutes} min"
        );
    }
    assert_eq!(
        [200, 400].map(|minutes| worst(minutes, slow)),
        [Verdict::Pass, Verdict::Refuse]
    );
}

#[test]
#[ignore = "vetting advises against it; loading allows it, for a formula may need a limit in both directions"]
fn a_limit_stands_only_where_the_stricter_is_harder_to_keep() {
    let verdict = |floor: &str| {
        let limits = format!(
            "limits: {{ floor: {{ value: {floor}, stricter: higher, meaning: generated }} }}"
        );
        with_limits(
            &limits,
            "about: each cell\nrefuse_unless: cell.rest_voltage <= limit.floor",
            "arrangement: 1S\ncells: [{ id: K1, rest: { voltage: 3.1 V } }]",
        )
        .gravest()
        .verdict
    };
    assert!(verdict("3.0 V") <= verdict("3.2 V"));
}
