//! What rests on a fault has no fault of its own.

use super::*;

use Fault::{KindsDiffer, UnknownName, UnknownOption};

/// One side of it is enough for a part not to be judged.
#[test]
fn what_rests_on_a_fault_is_not_told_again() {
    all_as_expected(&[
        ("cable", "cable.a >= 3 V", &[(UnknownName, "cable.a")]),
        ("cable", "limit.a == intact", &[(UnknownName, "limit.a")]),
        ("cable", "intact == limit.a", &[(UnknownName, "limit.a")]),
        (
            "cable",
            "cable.a in [intact, gone]",
            &[(UnknownName, "cable.a")],
        ),
        ("cable", "cable.a is known", &[(UnknownName, "cable.a")]),
        (
            "cable",
            "3 V + cable.a + 2 A > 1 mm",
            &[(UnknownName, "cable.a")],
        ),
        (
            "cable",
            "min(3 V, cable.a, 2 A) > 1 mm",
            &[(UnknownName, "cable.a")],
        ),
        (
            "cable",
            "(3 V + 2 A) * cable.sheath > (1 mm == 3 V)",
            &[
                (KindsDiffer, "3 V + 2 A"),
                (KindsDiffer, "cable.sheath"),
                (KindsDiffer, "1 mm == 3 V"),
            ],
        ),
        ("cable", "abs(cable.a) > 3 V", &[(UnknownName, "cable.a")]),
        (
            "heater",
            "distinct of cable.a > 3 V",
            &[(UnknownName, "cable.a")],
        ),
        (
            "heater",
            "sum of cable.a > 3 V",
            &[(UnknownName, "cable.a")],
        ),
        (
            "heater",
            "spread of cable.sheath > 3 V",
            &[(KindsDiffer, "cable.sheath")],
        ),
    ]);
}

/// A definition that is at fault is reported where it is.
#[test]
fn what_rests_on_a_faulty_definition_has_no_fault_of_its_own() {
    all_as_expected(&[
        ("cable", "cable.broken >= 3 V", &[]),
        ("heater", "cable.broken", &[]),
        ("heater", "max of lamp.broken > 3 V", &[]),
        (
            "cable",
            "cable.broken >= 3 V and cable.a >= 3 V",
            &[(UnknownName, "cable.a")],
        ),
    ]);
    let broken = parse("cable.broken").expect("a formula");
    let desk = Setting::new();
    assert_eq!(
        desk.resolve("cable", |about, vocabulary| resolve_figure(
            &broken, about, vocabulary
        )),
        Err(Vec::new())
    );
    assert_eq!(
        desk.resolve("cable", |about, vocabulary| resolve_placeholder(
            &broken, about, vocabulary
        )),
        Err(Vec::new())
    );
}

/// Whatever the other side would be.
#[test]
fn what_has_no_order_is_told_beside_a_fault() {
    for order in ["<", "<=", ">", ">="] {
        all_as_expected(&[
            (
                "cable",
                &format!("cable.a {order} cable.sheath"),
                &[(UnknownName, "cable.a"), (KindsDiffer, "cable.sheath")],
            ),
            (
                "cable",
                &format!("cable.id {order} cable.a"),
                &[(UnknownName, "cable.a"), (KindsDiffer, "cable.id")],
            ),
            (
                "cable",
                &format!("cable.a {order} cable.earthed"),
                &[(UnknownName, "cable.a"), (KindsDiffer, "cable.earthed")],
            ),
            (
                "cable",
                &format!("cable.a {order} three"),
                &[(UnknownName, "cable.a"), (UnknownName, "three")],
            ),
            (
                "cable",
                &format!("three {order} 3 V"),
                &[(UnknownName, "three")],
            ),
        ]);
    }
    for equal in ["==", "!="] {
        all_as_expected(&[
            (
                "cable",
                &format!("cable.a {equal} cable.sheath"),
                &[(UnknownName, "cable.a")],
            ),
            (
                "cable",
                &format!("cable.earthed {equal} cable.a"),
                &[(UnknownName, "cable.a")],
            ),
        ]);
    }
}

#[test]
fn what_has_no_order_is_told_of_choices() {
    for order in ["<", "<=", ">", ">="] {
        all_as_expected(&[
            (
                "cable",
                &format!("cable.sheath {order} gone"),
                &[
                    (UnknownOption, "gone"),
                    (KindsDiffer, &format!("cable.sheath {order} gone")),
                ],
            ),
            (
                "cable",
                &format!("gone {order} cable.sheath"),
                &[
                    (UnknownOption, "gone"),
                    (KindsDiffer, &format!("gone {order} cable.sheath")),
                ],
            ),
            (
                "cable",
                &format!("cable.sheath {order} intact"),
                &[(KindsDiffer, &format!("cable.sheath {order} intact"))],
            ),
            (
                "cable",
                &format!("cable.sheath {order} cable.sheath"),
                &[(KindsDiffer, &format!("cable.sheath {order} cable.sheath"))],
            ),
            (
                "cable",
                &format!("cable.sheath {order} 3 V"),
                &[(KindsDiffer, &format!("cable.sheath {order} 3 V"))],
            ),
        ]);
    }
}

/// Nothing is out of sight of what is not known itself.
#[test]
fn about_nothing_everything_is_seen() {
    all_as_expected(&[(
        "lamp",
        "cable.drop > group.a and heater.b > cable.load",
        &[(UnknownName, "group.a"), (UnknownName, "heater.b")],
    )]);
    assert!(
        Setting::new()
            .condition(
                "lamp",
                "cable.drop > limit.floor and max of cable.load > 1 A"
            )
            .is_ok()
    );
}
