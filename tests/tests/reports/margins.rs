//! Margins: by how much a comparison is met at the worst, from the near ends of the two intervals;
//! in per cent of the right side, where that is not zero.

use rules_core::check::Margin;

use super::setting::{caution, of_cell, report};

fn of_report(report: &rules_core::check::Report) -> Option<Margin> {
    assert_eq!(
        (report.findings.len(), report.findings[0].clauses.len()),
        (1, 1)
    );
    report.findings[0].clauses[0].margin.clone()
}

fn margin(rung: &str, voltage: &str) -> Option<Margin> {
    let report = of_cell(&format!("refuse_unless: {rung}"), voltage);
    // What there is none of is left out of the JSON.
    let written = serde_json::to_string(&report).expect("JSON");
    assert!(!written.contains("\"percent\":null"), "{rung}");
    of_report(&report)
}

/// Of what is charged, with exact settings.
fn of_charging(rung: &str, charging: &str) -> Option<Margin> {
    of_report(&report(
        &[caution(
            "tested",
            "charging",
            &format!("refuse_unless: {rung}"),
        )],
        "1S1P",
        &format!("charging: {{ {charging} }}\n"),
    ))
}

/// A rung, a rest voltage, and its margin as text, in volts and in per cent.
const NEAR_ENDS: [(&str, &str, &str, f64, f64); 11] = [
    // 2.29 V against 2.50 V, and 4.27 V against 4.20 V.
    (
        "cell.rest_voltage >= limit.floor",
        "2.31 V ± 0.02 V",
        "-0.21 V",
        -0.21,
        -8.4,
    ),
    (
        "cell.rest_voltage > limit.floor",
        "2.31 V ± 0.02 V",
        "-0.21 V",
        -0.21,
        -8.4,
    ),
    (
        "cell.rest_voltage <= limit.most",
        "4.25 V ± 0.02 V",
        "-70 mV",
        -0.07,
        -100.0 * 0.07 / 4.20,
    ),
    (
        "cell.rest_voltage < limit.most",
        "4.25 V ± 0.02 V",
        "-70 mV",
        -0.07,
        -100.0 * 0.07 / 4.20,
    ),
    // The other way round the right side is the reading: its end that counts.
    (
        "limit.floor <= cell.rest_voltage",
        "2.31 V ± 0.02 V",
        "-0.21 V",
        -0.21,
        -100.0 * 0.21 / 2.29,
    ),
    (
        "limit.most >= cell.rest_voltage",
        "4.25 V ± 0.02 V",
        "-70 mV",
        -0.07,
        -100.0 * 0.07 / 4.27,
    ),
    // In doubt: the worst end is still on the wrong side.
    (
        "cell.rest_voltage >= limit.floor",
        "2.51 V ± 0.02 V",
        "-10 mV",
        -0.01,
        -0.4,
    ),
    (
        "not cell.rest_voltage < limit.floor",
        "2.31 V ± 0.02 V",
        "-0.21 V",
        -0.21,
        -8.4,
    ),
    (
        "not cell.rest_voltage > limit.most",
        "4.25 V ± 0.02 V",
        "-70 mV",
        -0.07,
        -100.0 * 0.07 / 4.20,
    ),
    (
        "not cell.rest_voltage <= limit.floor",
        "2.31 V ± 0.02 V",
        "-0.21 V",
        -0.21,
        -8.4,
    ),
    (
        "not cell.rest_voltage >= limit.most",
        "4.25 V ± 0.02 V",
        "-70 mV",
        -0.07,
        -100.0 * 0.07 / 4.20,
    ),
];

#[test]
fn a_margin_is_between_the_near_ends() {
    for (rung, voltage, text, amount, percent) in NEAR_ENDS {
        let margin = margin(rung, voltage).unwrap_or_else(|| panic!("no margin of {rung}"));
        assert_eq!(
            (margin.to_string().as_str(), &*margin.unit()),
            (text, "V"),
            "{rung}"
        );
        assert!(
            (margin.amount - amount).abs() < 1e-8,
            "{rung}: {}",
            margin.amount
        );
        assert!(
            (margin.percent.expect("a percentage") - percent).abs() < 1e-6,
            "{rung}: {:?}",
            margin.percent
        );
    }
}

#[test]
fn against_nothing_there_is_no_percentage() {
    let margin = margin("cell.rest_voltage <= limit.nothing", "4.25 V ± 0.02 V").expect("a margin");
    assert_eq!(
        (margin.to_string().as_str(), margin.percent),
        ("-4.27 V", None)
    );
}

/// What comparisons take for zero (LANGUAGE.md, section 5: closer than 10^-12) is no size that a
/// margin could be a part of, and no percentage is beyond the doubles.
#[test]
fn against_next_to_nothing_there_is_no_percentage() {
    for (rung, percent) in [
        ("cell.rest_voltage <= 1e-320 V", None),
        ("cell.rest_voltage <= 0.5e-12 V", None),
        ("cell.rest_voltage <= -0.5e-12 V", None),
        ("cell.rest_voltage <= 2e-12 V", Some(-2.135e14)),
        ("cell.rest_voltage * 1e300 <= 1 V", Some(-4.27e302)),
        ("cell.rest_voltage * 1e307 <= 1 V", None),
    ] {
        let margin = margin(rung, "4.25 V ± 0.02 V").unwrap_or_else(|| panic!("{rung}"));
        match (margin.percent, percent) {
            (Some(found), Some(expected)) => {
                assert!((found / expected - 1.0).abs() < 1e-9, "{rung}: {found}");
            }
            (found, expected) => assert_eq!(found, expected, "{rung}"),
        }
    }
}

/// A temperature's zero is a convention: its margin is a difference, and no percentage.
#[test]
fn temperatures_differ_in_kelvins() {
    let lines = "refuse_unless: conditions.ambient >= limit.cold";
    let report = report(
        &[caution("tested", "conditions", lines)],
        "1S1P",
        "conditions: { ambient: -5 degC ± 1 K }\n",
    );
    let margin = of_report(&report).expect("a margin");
    assert_eq!(
        (
            margin.to_string().as_str(),
            margin.amount,
            &*margin.unit(),
            margin.percent
        ),
        ("-6 K", -6.0, "K", None)
    );
    let far = "refuse_unless: conditions.ambient >= 20 degC";
    let report = super::setting::report(
        &[caution("tested", "conditions", far)],
        "1S1P",
        "conditions: { ambient: 15 degC }\n",
    );
    assert_eq!(of_report(&report).expect("a margin").percent, None);
}

#[test]
fn on_the_limit_the_margin_is_nothing() {
    let margin =
        of_charging("charging.termination < limit.most", "termination: 4.20 V").expect("a margin");
    assert_eq!(
        (margin.to_string().as_str(), margin.amount, margin.percent),
        ("0 V", 0.0, Some(0.0))
    );
    // Closer than one part in 10^9 is equal, and so not below, though the margin is on the right
    // side.
    let margin = of_charging(
        "charging.termination < limit.most",
        "termination: 4.199999999 V",
    )
    .expect("a margin");
    assert_eq!(margin.to_string(), "+0.000001 mV");
}

#[test]
fn no_margin_without_order_or_bounds() {
    assert_eq!(
        of_charging("charging.termination == limit.most", "termination: 4.10 V"),
        None
    );
    assert_eq!(
        of_charging("charging.termination <= limit.most", "current: 1 A"),
        None
    );
    // A division by 1 - 1 cells can give anything.
    assert_eq!(
        of_charging(
            "charging.termination <= limit.most / (build.series - 1)",
            "termination: 4.10 V"
        ),
        None
    );
    assert_eq!(
        of_charging(
            "charging.termination / (build.series - 1) <= limit.most",
            "termination: 4.10 V"
        ),
        None
    );
    // A side that rests on a missing fact has no margin even if the domain of the fact gives it
    // bounds.
    assert_eq!(
        of_charging("limit.most >= charging.termination", "current: 1 A"),
        None
    );
}

#[test]
fn the_limit_is_named_on_its_side() {
    let report = of_cell(
        "refuse_unless: cell.rest_voltage >= limit.floor",
        "2.31 V ± 0.02 V",
    );
    let clause = &report.findings[0].clauses[0];
    let (left, right) = (
        clause.left.as_ref().expect("a left side"),
        clause.right.as_ref().expect("a right side"),
    );
    assert_eq!(
        (left.limit.as_deref(), right.limit.as_deref()),
        (None, Some("floor"))
    );
    assert_eq!(&*clause.text, "cell.rest_voltage >= limit.floor");
    let report = of_cell(
        "refuse_unless: cell.rest_voltage >= limit.floor + 1 V",
        "2.31 V ± 0.02 V",
    );
    assert_eq!(
        report.findings[0].clauses[0]
            .right
            .as_ref()
            .expect("a right side")
            .limit,
        None
    );
}
