//! The smallest cases in which the engine has said something else than the language, as they come
//! out by it.

use rules_core::check::{Report, Verdict};

use crate::generate::setting::{checked, load_text};

/// A check of one caution about the build, given by the lines that are its own, with a figure.
fn report(figure: &str, caution: &str, proposal: &str) -> Report {
    let lines: String = caution
        .lines()
        .map(|line| format!("    {}\n", line.trim()))
        .collect();
    let rules = format!(
        "format: 1\nruleset: one\nversion: 1.0.0\ntitle: one\nfigures: {{ f: {{ about: build, is: {figure}, meaning: generated }} }}\ncautions:\n  - id: tested\n    title: t\n    about: build\n    reason: r\n{lines}"
    );
    let rules = load_text(&rules, "yaml").unwrap_or_else(|problems| panic!("{problems:?}"));
    checked(&rules, &format!("format: 1\ntitle: t\n{proposal}"), None)
        .unwrap_or_else(|error| panic!("{error}"))
}

fn facts(figure: &str, caution: &str, proposal: &str) -> Vec<String> {
    let mut names: Vec<String> = report(figure, caution, proposal).findings[0]
        .facts
        .iter()
        .map(|fact| fact.name.to_string())
        .collect();
    names.sort();
    names.dedup();
    names
}

/// Section 6: of a condition that is undecided, the deciding facts are those of the comparisons
/// that leave it so, through figures to the facts beneath. Here that is the one about `input_min`;
/// the one about `cut_off` is no.
#[test]
fn what_is_decided_does_not_leave_a_condition_open() {
    let either = "\"light.cut_off >= 3 V or light.input_min >= 3 V\"";
    let proposal = "arrangement: 1S\nlight: { cut_off: 1 V, vented: no }";
    let of = |condition: &str| {
        facts(
            either,
            &format!("applies_when: {condition}\nrefuse_unless: light.vented"),
            proposal,
        )
    };
    let wanted = ["light.input_min", "light.vented"];
    assert_eq!(of(either), wanted);
    assert_eq!(of("build.f"), wanted);
    assert_eq!(
        of("\"every cell has (light.cut_off >= 3 V or light.input_min >= 3 V)\""),
        wanted
    );
}

/// Section 6: the deciding facts are those that take part in the comparison, and the suite says
/// that of a comparison it is every fact named in it.
#[test]
fn what_is_counted_takes_part() {
    let of = |counted: &str| {
        let caution = format!("refuse_unless: \"(count of cells where {counted}) >= 1\"");
        facts(
            "1 V",
            &caution,
            "arrangement: 1S\ncells: [{ id: K1, protected: no, rest: { voltage: 3.7 V } }]",
        )
    };
    assert_eq!(of("cell.protected"), ["cell.protected"]);
    assert_eq!(
        of("(cell.protected and cell.rest_voltage >= 3 V)"),
        ["cell.protected", "cell.rest_voltage"]
    );
}

/// Section 4: without the lowest input the current is nowhere bounded. Nothing keeps it below 5 A here, so that it must not pass.
#[test]
fn a_current_without_a_bound_is_not_nothing() {
    for acceptance in ["guarded", "simple"] {
        let rules = format!(
            "format: 1\nruleset: one\nversion: 1.0.0\ntitle: one\nacceptance: {acceptance}\ncautions: [{{ id: tested, title: t, about: build, refuse_unless: build.current <= 5 A, reason: r }}]"
        );
        let rules = load_text(&rules, "yaml").unwrap_or_else(|problems| panic!("{problems:?}"));
        let proposal = "format: 1\narrangement: 1S\nlight: { draw: 7.5 W, cut_off: none }\ncells: [{ id: K1 }]";
        let report = checked(&rules, proposal, None).unwrap_or_else(|error| panic!("{error}"));
        assert_ne!(report.gravest().worst, Verdict::Pass, "{acceptance}");
    }
}
