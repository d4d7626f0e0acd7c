//! The inside of a fold, where it ends, and folds over what there is one of.

use super::*;

use Fault::{KindsDiffer, NestedFold, OutOfScope, UnknownName, UnknownOption};

#[test]
fn the_inside_of_a_faulty_fold_is_looked_at() {
    all_as_expected(&[
        (
            "heater",
            "every lamp has cable.a > 3 V",
            &[(UnknownName, "lamp"), (UnknownName, "cable.a")],
        ),
        (
            "heater",
            "every heater has cable.drop > 3",
            &[(UnknownName, "heater"), (KindsDiffer, "cable.drop > 3")],
        ),
        (
            "heater",
            "any lamp has cable.earthed",
            &[(UnknownName, "lamp")],
        ),
        (
            "heater",
            "(count of lamps where cable.sheath == gone) > 1",
            &[(UnknownName, "lamps"), (UnknownOption, "gone")],
        ),
        (
            "heater",
            "(count of lamps where cable.earthed) > 1 V",
            &[(UnknownName, "lamps")],
        ),
        (
            "heater",
            "every cable has (any cable has cable.a)",
            &[
                (NestedFold, "any cable has cable.a"),
                (UnknownName, "cable.a"),
            ],
        ),
        (
            "heater",
            "every cable has (max of (max of cable.a) > 3 V)",
            &[
                (NestedFold, "max of (max of cable.a)"),
                (NestedFold, "max of cable.a"),
                (UnknownName, "cable.a"),
            ],
        ),
    ]);
}

/// What is after a fold is seen from outside it again.
#[test]
fn a_fold_ends_where_it_ends() {
    all_as_expected(&[
        (
            "heater",
            "max of cable.a > cable.drop",
            &[(UnknownName, "cable.a"), (OutOfScope, "cable.drop")],
        ),
        (
            "heater",
            "every lamp has cable.earthed and cable.earthed",
            &[(UnknownName, "lamp"), (OutOfScope, "cable.earthed")],
        ),
        (
            "heater",
            "every cable has group.a or max of cable.b > 3 V",
            &[(UnknownName, "group.a"), (UnknownName, "cable.b")],
        ),
    ]);
    assert!(
        Setting::new()
            .condition(
                "heater",
                "max of cable.drop > 3 V and any cable has cable.earthed"
            )
            .is_ok()
    );
}

/// An unknown subject may be meant for one of many.
#[test]
fn nothing_to_fold_is_told_where_it_is_sure() {
    all_as_expected(&[
        (
            "heater",
            "max of heater.current > 3 A",
            &[(KindsDiffer, "heater.current")],
        ),
        (
            "heater",
            "max of limit.a > 3 A",
            &[(UnknownName, "limit.a")],
        ),
        (
            "heater",
            "distinct of heater.a > 3",
            &[(UnknownName, "heater.a")],
        ),
        (
            "heater",
            "max of cel.rest_voltage > 3 V",
            &[(UnknownName, "cel.rest_voltage")],
        ),
        (
            "heater",
            "max of (limit.floor + cel.rest_voltage) > 3 V",
            &[(UnknownName, "cel.rest_voltage")],
        ),
    ]);
}
