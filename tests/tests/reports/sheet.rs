//! The sheet of figures: each of its subject, those of the library and those of the rules, and the
//! facts they rest on.

use rules_core::check::{FactState, FigureReport, FigureSheet, Options, figures};
use rules_core::document::Syntax;
use rules_core::formula::Truth;
use rules_core::ruleset::Acceptance;
use rulesets::proposal::Proposal;

use super::setting::{caution, report, rules};

const FIGURES: &str = "figures:
  over: { about: each cell, is: cell.rest_voltage - limit.floor, meaning: How far over }
  low: { about: each cell, is: cell.rest_voltage < limit.floor, meaning: Whether it is low }
  share: { about: build, is: charging.current / build.parallel, meaning: Through each branch }
";

fn sheet(sections: &str, acceptance: Option<Acceptance>) -> FigureSheet {
    let text = format!("format: 1\narrangement: 2S1P\n{sections}");
    let proposal = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    figures(
        &rules(FIGURES),
        &proposal,
        Options {
            acceptance,
            ..Options::default()
        },
    )
    .unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn one<'s>(sheet: &'s FigureSheet, name: &str, subject: &str) -> &'s FigureReport {
    let mut found = sheet
        .figures
        .iter()
        .filter(|figure| figure.name == name && figure.subject.in_words() == subject);
    let first = found
        .next()
        .unwrap_or_else(|| panic!("no {name} of {subject}"));
    assert!(found.next().is_none(), "{name} of {subject} stands twice");
    first
}

/// The names of the subjects of a kind among the facts of a figure.
fn subjects<'s>(figure: &'s FigureReport, kind: &str) -> Vec<&'s str> {
    let mut found: Vec<&str> = figure
        .facts
        .iter()
        .filter(|fact| fact.subject.kind() == kind)
        .filter_map(|fact| fact.subject.own())
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

const CELLS: &str = "cells: [{ id: K1, rest: { voltage: 3.70 V ± 0.02 V } }, { id: K2 }]\ncharging: { current: 1 A }\n";

/// 3.68 V to 3.72 V less 2.50 V; of K2 nothing is known but the domain.
#[test]
fn figures_of_the_rules_are_of_each_subject() {
    let sheet = sheet(CELLS, None);
    let over = one(&sheet, "cell.over", "cell K1");
    let value = over.value.as_ref().expect("a value");
    let near = |end: Option<f64>, expected: f64| (end.expect("an end") - expected).abs() < 1e-9;
    assert!(near(value.low(), 1.18) && near(value.high(), 1.22) && !value.number.missing);
    assert_eq!(
        (over.is.as_deref(), over.meaning.as_str(), over.truth),
        (
            Some("cell.rest_voltage - limit.floor"),
            "How far over",
            None
        )
    );
    assert_eq!(
        (&*over.facts[0].name, over.facts[0].state),
        ("cell.rest_voltage", FactState::Measured)
    );
    let unknown = one(&sheet, "cell.over", "cell K2");
    assert!(unknown.value.as_ref().expect("a value").number.missing);
    assert_eq!(unknown.facts[0].state, FactState::Missing);
    let low = [
        one(&sheet, "cell.low", "cell K1"),
        one(&sheet, "cell.low", "cell K2"),
    ];
    assert_eq!(
        low.map(|figure| (figure.truth, figure.value.is_none())),
        [(Some(Truth::No), true), (Some(Truth::Unmeasured), true)]
    );
    assert_eq!(
        low[0].is.as_deref(),
        Some("cell.rest_voltage < limit.floor")
    );
    let share = one(&sheet, "build.share", "build")
        .value
        .as_ref()
        .expect("a value");
    assert!(near(share.low(), 1.0) && near(share.high(), 1.0));
}

/// A figure of the library: 7.5 W at 5 V is 1.5 A, worked from two facts. Facts that are given come
/// before those that are missing.
#[test]
fn figures_of_the_library_are_of_their_subject() {
    let whole = sheet(
        "light: { draw: 7.5 W, input: { min: 5 V }, cut_off: none }\n",
        None,
    );
    let current = one(&whole, "build.current", "build");
    let value = current.value.as_ref().expect("a value");
    assert_eq!(
        (
            value.low(),
            value.high(),
            current.is.as_deref(),
            current.open
        ),
        (Some(1.5), Some(1.5), None, None)
    );
    let part = sheet("light: { draw: 7.5 W, input: { min: 5 V } }\n", None);
    let states: Vec<FactState> = one(&part, "build.current", "build")
        .facts
        .iter()
        .map(|fact| fact.state)
        .collect();
    assert!(states.contains(&FactState::Stated) && states.contains(&FactState::Missing));
    assert!(
        states.is_sorted_by_key(|state| *state == FactState::Missing),
        "{states:?}"
    );
    assert!(
        whole
            .figures
            .iter()
            .filter(|figure| figure.is.is_none())
            .all(|figure| figure.truth.is_none() && figure.value.is_some())
    );
}

/// In simple acceptance a given value is its nominal value.
#[test]
fn acceptance_may_be_chosen() {
    let simple = sheet(CELLS, Some(Acceptance::Simple));
    let value = one(&simple, "cell.over", "cell K1")
        .value
        .as_ref()
        .expect("a value");
    assert!(
        (value.low().expect("an end") - 1.20).abs() < 1e-9
            && (value.high().expect("an end") - 1.20).abs() < 1e-9
    );
}

/// A figure rests on facts of its own cell, of the cells of its own group, or of all, and names no
/// other.
#[test]
fn figures_rest_on_their_own_cells() {
    let cell = |id: &str, group: &str| {
        format!(
            "  - {{ id: {id}, group: {group}, designation: ICR18650, rest: {{ voltage: 3.90 V }}, capacity: {{ value: 2000 mAh, at: 0.4 A, to: 3.0 V }}, resistance: {{ value: 60 mohm, method: dc-10s }} }}\n"
        )
    };
    let cells = [("K1", "A"), ("K2", "A"), ("K3", "B"), ("K4", "B")]
        .map(|(id, group)| cell(id, group))
        .concat();
    let text = format!(
        "format: 1\narrangement: 2S2P\nlight: {{ draw: 1 A, cut_off: 6 V }}\nconditions: {{ ambient: 20 degC }}\ncells:\n{cells}"
    );
    let proposal = Proposal::read("proposal", text.into_bytes(), Syntax::Yaml)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    let sheet = figures(&rules(FIGURES), &proposal, Options::default())
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    for (group, members) in [("A", ["K1", "K2"]), ("B", ["K3", "K4"])] {
        assert_eq!(
            subjects(
                one(&sheet, "group.start_voltage", &format!("group {group}")),
                "cell"
            ),
            members
        );
        assert_eq!(
            subjects(
                one(&sheet, "group.inrush", &format!("group {group}")),
                "cell"
            ),
            members
        );
        for member in members {
            let of_cell = format!("cell {member}");
            assert_eq!(
                subjects(one(&sheet, "cell.charge_state", &of_cell), "cell"),
                [member]
            );
            assert_eq!(
                subjects(one(&sheet, "cell.over", &of_cell), "cell"),
                [member]
            );
            assert_eq!(
                subjects(one(&sheet, "cell.current", &of_cell), "cell"),
                members
            );
        }
    }
    assert_eq!(
        subjects(one(&sheet, "build.run_time", "build"), "cell"),
        ["K1", "K2", "K3", "K4"]
    );
    assert_eq!(
        subjects(one(&sheet, "build.current", "build"), "cell"),
        Vec::<&str>::new()
    );
}

/// Where the model does not reach, a figure says why it is open: in deep cold, and not in a warm
/// room.
#[test]
fn an_open_figure_says_why() {
    let at = |ambient: &str| {
        let cell = "{ designation: ICR18650, rest: { voltage: 4.10 V }, capacity: { value: 2000 mAh, at: 0.4 A, to: 3.0 V }, resistance: { value: 60 mohm, method: dc-10s }";
        let cells = format!("cells:\n  - {cell}, id: K1 }}\n  - {cell}, id: K2 }}\n");
        let whole = sheet(
            &format!(
                "light: {{ draw: 0.4 A, cut_off: none, input: {{ min: 5 V }} }}\nconditions: {{ ambient: {ambient} }}\n{cells}"
            ),
            None,
        );
        one(&whole, "build.run_time", "build").open.is_some()
    };
    assert!(at("-45 degC") && !at("20 degC"));
}

/// Counts by counts are counts, a quotient of them is a share; a difference and a temperature are a
/// temperature, in either order.
#[test]
fn results_are_shown_in_their_kind() {
    let shown = |is: &str| {
        let figure =
            format!("figures:\n  tried: {{ about: build, is: \"{is}\", meaning: Tried }}\n");
        let text = "format: 1\narrangement: 2S3P\nconditions: { ambient: 20 degC }\n";
        let proposal = Proposal::read("proposal", text.into(), Syntax::Yaml)
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        let sheet = figures(&rules(&figure), &proposal, Options::default())
            .unwrap_or_else(|problems| panic!("{problems:?}"));
        one(&sheet, "build.tried", "build")
            .value
            .as_ref()
            .expect("a value")
            .to_string()
    };
    for (is, expected) in [
        ("build.series * build.parallel", "6"),
        ("build.series + build.parallel", "5"),
        ("build.parallel - build.series", "1"),
        ("build.parallel / build.cells", "50 %"),
        ("conditions.ambient + 5 K", "25 degC"),
        ("5 K + conditions.ambient", "25 degC"),
        ("conditions.ambient - 5 K", "15 degC"),
        ("conditions.ambient - 5 degC", "15 K"),
    ] {
        assert_eq!(shown(is), expected, "{is}");
    }
}

/// What a caution rests on by way of figures of others: every cell that the fold went over.
#[test]
fn a_fold_over_figures_names_the_facts_beneath() {
    let lines = "refuse_unless: max of cell.rest_voltage <= 3.60 V and min of cell.rest_voltage >= limit.floor";
    let found = report(
        &[caution("a", "build", lines)],
        "2S1P",
        "cells: [{ id: K1, rest: { voltage: 3.70 V } }, { id: K2, rest: { voltage: 3.50 V } }]\n",
    );
    let finding = &found.findings[0];
    let names: Vec<(&str, String)> = finding
        .facts
        .iter()
        .map(|fact| (&*fact.name, fact.subject.in_words()))
        .collect();
    assert_eq!(
        names,
        [
            ("cell.rest_voltage", "cell K1".to_owned()),
            ("cell.rest_voltage", "cell K2".to_owned())
        ]
    );
    assert_eq!(finding.clauses.len(), 1);
}
