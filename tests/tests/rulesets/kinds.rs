//! The message for a comparison or a sum of things that are not of one kind.

use rules_core::document::Fault;

use super::setting::{caution, head, load};

/// The only problem of a caution about each cell with this rung.
fn of_rung(rung: &str) -> (Fault, String, String) {
    let text = format!("{}{}", head("one"), caution("each cell", rung));
    let problems = load(&[("one", text)], &["one"]).expect_err(rung);
    assert_eq!(problems.len(), 1, "{rung}");
    (
        problems[0].fault,
        problems[0].message.clone(),
        problems[0].help.clone().unwrap_or_default(),
    )
}

/// A rung whose sides are not of one kind, the message, and the help.
const DIFFERENT_KINDS: [(&str, &str, &str); 9] = [
    (
        "cell.rest_voltage >= 2 A",
        "`cell.rest_voltage` is a voltage and this side is a current: they cannot be compared",
        "both sides must be of one kind",
    ),
    (
        "cell.rest_voltage >= 2",
        "`cell.rest_voltage` is a voltage and this side is a plain number: they cannot be compared",
        "a voltage needs a unit: V, mV, µV, kV",
    ),
    (
        "2 <= cell.capacity",
        "this side is a plain number and `cell.capacity` is a charge: they cannot be compared",
        "a charge needs a unit: Ah, mAh",
    ),
    (
        "cell.rest_voltage + 1 A >= 2 V",
        "a voltage and a current do not go together",
        "both sides must be of one kind",
    ),
    (
        "cell.rest_voltage * cell.rest_voltage >= 2 V",
        "this side is a number in V² and this side is a voltage: they cannot be compared",
        "both sides must be of one kind",
    ),
    (
        "cell.rest_voltage * cell.rest_voltage >= 2",
        "this side is a number in V² and this side is a plain number: they cannot be compared",
        "both sides must be of one kind",
    ),
    (
        "cell.wrap == cell.rest_voltage",
        "a choice and a voltage cannot be compared",
        "compare values of one kind",
    ),
    (
        "cell.id == cell.wrap",
        "a text and a choice cannot be compared",
        "compare values of one kind",
    ),
    (
        "cell.protected == cell.id",
        "a condition and a text cannot be compared",
        "compare values of one kind",
    ),
];

#[test]
fn kinds_that_differ_are_named() {
    for (rung, message, help) in DIFFERENT_KINDS {
        assert_eq!(
            of_rung(rung),
            (Fault::KindsDiffer, message.to_owned(), help.to_owned()),
            "{rung}"
        );
    }
    assert_eq!(
        of_rung("cell.rest_voltage").1,
        "a condition belongs here; this is a voltage"
    );
    assert_eq!(
        of_rung("cell.wrap").1,
        "a condition belongs here; this is a choice"
    );
}
