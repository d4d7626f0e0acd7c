//! Every part of a formula is looked at, and each fault is reported with what was meant.

use super::*;

use Fault::{KindsDiffer, OutOfScope, UnknownName, UnknownOption};

#[test]
fn each_fault_is_told_with_what_was_meant() {
    let text = "cable.drp >= 3 V and cable.lod_ratio >= 80 and limit.flor <= 2 A";
    let faults = Setting::new()
        .condition("cable", text)
        .expect_err("three faults");
    let told: Vec<(&str, &str)> = faults
        .iter()
        .map(|fault| {
            (
                text.get(fault.span.clone()).unwrap_or_default(),
                fault.help.as_str(),
            )
        })
        .collect();
    let expected = [
        ("cable.drp", "did you mean `cable.drop`?"),
        ("cable.lod_ratio", "did you mean `cable.load_ratio`?"),
        ("limit.flor", "did you mean `limit.floor`?"),
    ];
    assert_eq!(told, expected);
}

#[test]
fn every_part_of_a_condition_is_looked_at() {
    all_as_expected(&[
        (
            "cable",
            "cable.a or not cable.b or cable.c",
            &[
                (UnknownName, "cable.a"),
                (UnknownName, "cable.b"),
                (UnknownName, "cable.c"),
            ],
        ),
        (
            "cable",
            "cable.drop >= 3 and (cable.sheath or cable.id == cable.sheath)",
            &[
                (KindsDiffer, "cable.drop >= 3"),
                (KindsDiffer, "cable.sheath"),
                (KindsDiffer, "cable.id == cable.sheath"),
            ],
        ),
        (
            "cable",
            "cable.sheath in [intact, gone, lost]",
            &[(UnknownOption, "gone"), (UnknownOption, "lost")],
        ),
        (
            "cable",
            "cable.sheath == gone or cable.sheath != lost",
            &[(UnknownOption, "gone"), (UnknownOption, "lost")],
        ),
        (
            "heater",
            "cable.drop > 3 V and cable.load > 1 A",
            &[(OutOfScope, "cable.drop"), (OutOfScope, "cable.load")],
        ),
    ]);
}

#[test]
fn every_part_of_a_number_is_looked_at() {
    all_as_expected(&[
        (
            "cable",
            "cable.a + limit.b - cable.c > 3 V",
            &[
                (UnknownName, "cable.a"),
                (UnknownName, "limit.b"),
                (UnknownName, "cable.c"),
            ],
        ),
        (
            "cable",
            "cable.a * cable.sheath / cable.c > 3 V",
            &[
                (UnknownName, "cable.a"),
                (KindsDiffer, "cable.sheath"),
                (UnknownName, "cable.c"),
            ],
        ),
        (
            "cable",
            "heater.ambient * 2 / heater.outside > 3",
            &[
                (KindsDiffer, "heater.ambient"),
                (KindsDiffer, "heater.outside"),
            ],
        ),
        (
            "cable",
            "min(cable.a, 3 V, max(cable.sheath, cable.c)) > -cable.d",
            &[
                (UnknownName, "cable.a"),
                (KindsDiffer, "cable.sheath"),
                (UnknownName, "cable.c"),
                (UnknownName, "cable.d"),
            ],
        ),
    ]);
}

#[test]
fn known_is_asked_of_one_fact() {
    all_as_expected(&[
        (
            "cable",
            "cable.load is known",
            &[(KindsDiffer, "cable.load")],
        ),
        (
            "cable",
            "(cable.a + 1 V) is known",
            &[(UnknownName, "cable.a"), (KindsDiffer, "cable.a + 1 V")],
        ),
        (
            "cable",
            "(cable.earthed == yes) is known",
            &[(KindsDiffer, "cable.earthed == yes")],
        ),
    ]);
}

/// As many unknown names as fit the words and signs of a formula.
#[test]
fn the_fullest_formula_is_told_whole() {
    let names: Vec<String> = (0..crate::bounds::MOST_TOKENS / 2)
        .map(|number| format!("cable.x{number}"))
        .collect();
    let found = Setting::new().faults("cable", &names.join(" or "));
    assert_eq!(
        found.into_iter().map(|(_, at)| at).collect::<Vec<_>>(),
        names
    );
}
