//! What to measure next: what alone could improve the verdict first, then by the gravest verdict
//! left open, then by how many findings it leaves open.

use rules_core::check::{MeasureNext, Report, Verdict};

use super::setting::{caution, report};

const LOW: &str = "refuse_unless: cell.rest_voltage >= limit.floor";
const FAST: &str = "warn_unless: charging.current <= limit.slow";
const ONE: &str = "cells: [{ id: K1 }]\n";

/// Each entry: fact, subject, missing, leaves open, findings, could improve.
type Entry<'r> = (&'r str, &'r str, bool, Verdict, usize, bool);

fn next(report: &Report) -> Vec<Entry<'_>> {
    let entry = |one: &'_ MeasureNext| {
        (
            one.missing,
            one.leaves_open,
            one.findings,
            one.could_improve,
        )
    };
    let whole = |one| {
        let (missing, leaves_open, findings, could_improve) = entry(one);
        (
            &*one.fact,
            // The test ends before it matters that this is never freed.
            &*one.subject.in_words().leak(),
            missing,
            leaves_open,
            findings,
            could_improve,
        )
    };
    report.measure_next.iter().map(whole).collect()
}

#[test]
fn what_holds_the_verdict_up_alone_comes_first() {
    let report = report(
        &[
            caution("a", "charging", FAST),
            caution("b", "each cell", LOW),
        ],
        "1S1P",
        ONE,
    );
    assert_eq!(
        (report.gravest().verdict, report.gravest().best),
        (Verdict::Refuse, Verdict::Pass)
    );
    let expected = [
        (
            "cell.rest_voltage",
            "cell K1",
            true,
            Verdict::Refuse,
            1,
            true,
        ),
        (
            "charging.current",
            "charging",
            true,
            Verdict::Warn,
            1,
            false,
        ),
    ];
    assert_eq!(next(&report), expected);
    assert_eq!(report.measure_next[0].meaning, "Voltage at rest");
}

/// Either cell alone leaves the other's refusal standing; two findings of a fact count for more
/// than one.
#[test]
fn of_two_that_refuse_none_improves_alone() {
    let twice = [
        caution("a", "each cell", LOW),
        caution(
            "b",
            "charging",
            "refuse_unless: charging.current <= limit.slow",
        ),
        caution("c", "charging", FAST),
    ];
    let report = report(&twice, "1S1P", ONE);
    let expected = [
        (
            "charging.current",
            "charging",
            true,
            Verdict::Refuse,
            2,
            false,
        ),
        (
            "cell.rest_voltage",
            "cell K1",
            true,
            Verdict::Refuse,
            1,
            false,
        ),
    ];
    assert_eq!(next(&report), expected);
}

/// The keys are those of `facts.yaml`; `draw` is that of both facts it gives.
#[test]
fn what_is_asked_for_says_where_it_is_written() {
    let lines = "refuse_unless: cell.rest_voltage >= 2 V and cell.wrap == intact";
    let draw = "refuse_unless: light.draw_current <= 1 A";
    let cautions = [
        caution("a", "each cell", lines),
        caution("b", "light", draw),
    ];
    let found = report(&cautions, "2S1P", "cells: [{ id: K1 }]\n");
    let mut paths: Vec<_> = found
        .measure_next
        .iter()
        .filter_map(|next| found.place_of(next))
        .collect();
    paths.sort();
    assert_eq!(
        paths,
        [
            "cells[K1].rest.voltage",
            "cells[K1].wrap",
            "cells[].rest.voltage",
            "cells[].wrap",
            "light.draw"
        ]
    );
    let (wrap, rest) = (
        &found.places["cell.wrap"],
        &found.places["cell.rest_voltage"],
    );
    assert_eq!((&*wrap.kind, wrap.unit.as_deref()), ("choice", None));
    let options = ["intact", "rewrapped", "nicked", "torn", "missing"];
    assert_eq!(wrap.options, options);
    assert_eq!(rest.unit.as_deref(), Some("V"));
}

#[test]
fn a_settled_refusal_is_not_improved() {
    let over = caution(
        "b",
        "charging",
        "refuse_unless: charging.termination <= limit.most",
    );
    let report = report(
        &[caution("a", "each cell", LOW), over],
        "1S1P",
        &format!("{ONE}charging: {{ termination: 4.30 V }}\n"),
    );
    assert_eq!(
        next(&report),
        [(
            "cell.rest_voltage",
            "cell K1",
            true,
            Verdict::Refuse,
            1,
            false
        )]
    );
}

#[test]
fn a_finding_that_needs_two_facts_is_not_closed_by_one() {
    let both = "refuse_unless: cell.rest_voltage >= limit.floor and charging.current <= limit.slow";
    let report = report(&[caution("a", "each cell", both)], "1S1P", ONE);
    let expected = [
        (
            "cell.rest_voltage",
            "cell K1",
            true,
            Verdict::Refuse,
            1,
            false,
        ),
        (
            "charging.current",
            "charging",
            true,
            Verdict::Refuse,
            1,
            false,
        ),
    ];
    assert_eq!(next(&report), expected);
}

/// The caution warns for sure, and could refuse: knowing more cannot bring it under the warning.
#[test]
fn a_softened_refusal_does_not_improve_below_a_sure_warning() {
    let soft = "refuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: charging.termination <= limit.most\nif_unmeasured: warn";
    let sure = report(
        &[caution("a", "each cell", soft)],
        "1S1P",
        &format!("{ONE}charging: {{ termination: 4.30 V }}\n"),
    );
    assert_eq!(
        (
            sure.gravest().verdict,
            sure.gravest().best,
            sure.gravest().worst
        ),
        (Verdict::Warn, Verdict::Warn, Verdict::Refuse)
    );
    assert_eq!(
        next(&sure),
        [(
            "cell.rest_voltage",
            "cell K1",
            true,
            Verdict::Refuse,
            1,
            false
        )]
    );
    let open = report(
        &[caution("a", "each cell", soft)],
        "1S1P",
        &format!("{ONE}charging: {{ termination: 4.20 V }}\n"),
    );
    assert_eq!(
        (
            open.gravest().verdict,
            open.gravest().best,
            open.gravest().worst
        ),
        (Verdict::Warn, Verdict::Pass, Verdict::Refuse)
    );
    assert_eq!(
        next(&open),
        [(
            "cell.rest_voltage",
            "cell K1",
            true,
            Verdict::Refuse,
            1,
            true
        )]
    );
}

/// A reading that is too wide is named as given; an exact setting beside it is not, nor is a given
/// fact beside a missing one.
#[test]
fn only_what_is_wide_or_missing_is_named() {
    let lines = "refuse_unless: cell.rest_voltage >= charging.termination - 1.70 V";
    let wide = "cells: [{ id: K1, rest: { voltage: 2.51 V ± 0.02 V } }]\ncharging: { termination: 4.20 V }\n";
    let wide = report(&[caution("a", "each cell", lines)], "1S1P", wide);
    assert_eq!(
        next(&wide),
        [(
            "cell.rest_voltage",
            "cell K1",
            false,
            Verdict::Refuse,
            1,
            true
        )]
    );
    let missing = "cells: [{ id: K1, rest: { voltage: 2.51 V ± 0.02 V } }]\n";
    let missing = report(&[caution("a", "each cell", lines)], "1S1P", missing);
    assert_eq!(
        next(&missing),
        [(
            "charging.termination",
            "charging",
            true,
            Verdict::Refuse,
            1,
            true
        )]
    );
}

#[test]
fn what_is_settled_asks_for_nothing() {
    let report = report(
        &[caution("a", "each cell", LOW)],
        "1S1P",
        "cells: [{ id: K1, rest: { voltage: 2.31 V ± 0.02 V } }]\n",
    );
    assert_eq!(
        (report.gravest().verdict, report.measure_next.len()),
        (Verdict::Refuse, 0)
    );
}

/// What many checks tell of each, without its report: whatever is missing first, and what speaks against it.
#[test]
fn a_check_tells_its_first_missing_fact_without_a_report() {
    use rules_core::check::{Options, checked};
    use rulesets::Proposal;

    let rules = rulesets::shipped_rules().expect("they load");
    let bare =
        "format: 1\narrangement: 1S1P\ncells: [{ id: K1, rest: { voltage: 3.7 V ± 1 V } }]\n";
    let proposal = Proposal::from_text("bare.yaml", bare).expect("it loads");
    let found = checked(&rules, &proposal, Options::default()).expect("it can be checked");
    let (first, findings) = (found.first_missing(), found.findings().to_vec());
    let report = found.report();
    let missing = report.measure_next.iter().find(|next| next.missing);
    let missing = missing.expect("nearly everything is missing");
    assert_eq!(first, report.place_of(missing));
    assert_eq!(findings, report.findings);
}
