//! What cannot be varied, and ends that make no range.

use rules_core::document::Fault;

use super::*;

/// What is asked for, the fault, and a part of the help.
type Refused = (Vary<'static>, Fault, &'static str);

fn refused(asked: [&'static str; 4], fault: Fault, help: &'static str) -> Refused {
    let [fact, from, to, resolution] = asked;
    (vary(fact, from, to, resolution), fault, help)
}

fn are_refused(table: impl IntoIterator<Item = Refused>) {
    let rules = rules();
    for (asked, fault, help) in table {
        let problems = range(&trial(PLAN, &rules), &asked, USUAL_CHECKS).unwrap_err();
        assert_eq!(problems.len(), 1, "{asked:?}");
        assert_eq!(problems[0].fault, fault, "{asked:?}");
        let told = problems[0].help.as_deref().unwrap_or_default();
        assert!(told.contains(help), "{asked:?}: {told}");
    }
}

#[test]
fn what_is_no_fact_with_a_range_is_refused() {
    use Fault::{UnknownName, WrongKind};
    let of = |fact, fault, help| refused([fact, "", "", ""], fault, help);
    are_refused([
        of("light.drw", UnknownName, "did you mean `light.draw`?"),
        of(
            "cells[K5].capacity.value",
            UnknownName,
            "as `cells[K4].capacity.value`",
        ),
        of("cells[K4].id", WrongKind, "vary a number or a choice"),
        of(
            "build.series",
            WrongKind,
            "the plan with each `arrangement`",
        ),
        of("build.parallel", WrongKind, "one less in parallel"),
        of("build.run_time", WrongKind, "that it is worked out from"),
        refused(
            ["light.drive", "1 A", "", ""],
            WrongKind,
            "each of `direct`",
        ),
    ]);
}

#[test]
fn ends_that_make_no_range_are_refused() {
    use Fault::{BadNumber, OutOfDomain, TooLarge};
    let of = |from, to, resolution, fault, help| {
        refused(["light.draw", from, to, resolution], fault, help)
    };
    are_refused([
        of("3 A", "2 A", "", OutOfDomain, "a last one above it"),
        of("2 A", "2 A", "", OutOfDomain, "a last one above it"),
        of("1 A", "2 V", "", BadNumber, "write it in A"),
        of("1 A", "2000 A", "", OutOfDomain, "stay within"),
        of("1..2 A", "5 A", "", BadNumber, "write it in A"),
        of("1 A", "2 A", "0 A", OutOfDomain, "above zero"),
        of("1 A", "100 A", "1 µA", TooLarge, "coarser resolution"),
    ]);
}

#[test]
fn a_draw_of_which_nothing_is_known_needs_its_unit() {
    let rules = rules();
    let plan = PLAN.replace("draw: 1.0 A, ", "");
    let asked = vary("light.draw", "", "", "");
    let problems = range(&trial(&plan, &rules), &asked, USUAL_CHECKS).unwrap_err();
    assert_eq!(
        problems[0].message,
        "`light.draw` can be a current or a power"
    );
    // What stands there in watts gives way to a current, and is then no value of it.
    let plan = PLAN.replace("draw: 1.0 A", "draw: 3.7 W");
    let report = found(&plan, &vary("light.draw", "0.5 A", "1 A", ""));
    assert_eq!((report.fact.own, report.fact.unit.as_str()), (None, "A"));
}
