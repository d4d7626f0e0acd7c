//! Vetting finds each thing it promises to find, and nothing in a ruleset that lacks nothing.

use rules_core::document::Fault;

use super::vetted::{BASIS, CASES, LIMIT, found, with_cases};

#[test]
fn a_whole_ruleset_lacks_nothing() {
    assert_eq!(
        with_cases("refuse_unless: cell.rest_voltage >= limit.floor"),
        []
    );
}

#[test]
fn each_promise_is_kept() {
    let sure = "refuse_unless: cell.rest_voltage >= limit.floor";
    assert_eq!(
        found(LIMIT, &format!("{sure}\n{CASES}")),
        [Fault::MissingBasis]
    );
    assert_eq!(
        found(LIMIT, &format!("{sure}\n{BASIS}")),
        [Fault::OutcomeNotShown]
    );
    assert!(
        with_cases(&format!("{sure} or cell.rest_voltage >= -5 V")).contains(&Fault::NeverFails)
    );
    // No cell holds 20 V. Of that no case can show a pass, and none is asked for.
    let never = found(
        "",
        &format!("refuse_unless: cell.rest_voltage > 20 V\n{BASIS}"),
    );
    assert_eq!(never, [Fault::NeverKept]);
    assert!(
        with_cases(&format!("{sure}\napplies_when: cell.rest_voltage > 20 V"))
            .contains(&Fault::NeverApplies)
    );
    assert!(
        with_cases(&format!("{sure}\nwarn_unless: cell.rest_voltage >= 2.9 V"))
            .contains(&Fault::LaxWarning)
    );
    assert!(
        !with_cases(&format!("{sure}\nwarn_unless: cell.rest_voltage >= 3.1 V"))
            .contains(&Fault::LaxWarning)
    );
    assert!(with_cases("refuse_unless: cell.rest_voltage >= 3.1 V").contains(&Fault::CaseFails));
    assert!(with_cases("refuse_unless: cell.rest_voltage >= 3 V").contains(&Fault::Unused));
}

#[test]
fn a_limit_used_against_its_strictness_is_found() {
    for (rungs, wrong) in [
        ("refuse_unless: cell.rest_voltage >= limit.floor", false),
        ("refuse_unless: limit.floor <= cell.rest_voltage", false),
        ("refuse_unless: not cell.rest_voltage < limit.floor", false),
        (
            "refuse_unless: cell.wrap == intact\napplies_when: cell.rest_voltage < limit.floor",
            false,
        ),
        ("refuse_unless: cell.rest_voltage <= limit.floor", true),
        ("refuse_unless: limit.floor >= cell.rest_voltage", true),
        ("refuse_unless: not cell.rest_voltage > limit.floor", true),
        (
            "refuse_unless: cell.wrap == intact\napplies_when: cell.rest_voltage >= limit.floor",
            true,
        ),
        (
            "refuse_unless: cell.wrap == intact and cell.rest_voltage <= limit.floor",
            true,
        ),
        (
            "refuse_unless: cell.wrap == intact or cell.rest_voltage <= limit.floor",
            true,
        ),
        (
            "refuse_unless: every cell has cell.rest_voltage <= limit.floor",
            true,
        ),
        (
            "refuse_unless: any cell has cell.rest_voltage <= limit.floor",
            true,
        ),
        (
            "refuse_unless: not any cell has cell.rest_voltage <= limit.floor",
            false,
        ),
        (
            "refuse_unless: every cell has (cell.wrap == intact or not cell.rest_voltage < limit.floor)",
            false,
        ),
        ("refuse_unless: cell.rest_voltage == limit.floor", false),
    ] {
        assert_eq!(
            with_cases(rungs).contains(&Fault::AgainstStrictness),
            wrong,
            "{rungs}"
        );
    }
}

#[test]
fn a_plain_number_for_a_percentage_is_found() {
    let limit = |value: &str| {
        format!(
            "limits:\n  share: {{ value: {value}, stricter: higher, meaning: Share, basis: [{{ common_practice: example }}] }}\n"
        )
    };
    let caution =
        format!("refuse_unless: cell.capacity / cell.rated_capacity >= limit.share\n{BASIS}");
    assert!(found(&limit("80"), &caution).contains(&Fault::KindsDiffer));
    assert!(!found(&limit("80 %"), &caution).contains(&Fault::KindsDiffer));
    assert!(!found(&limit("0.8"), &caution).contains(&Fault::KindsDiffer));
    // All of it is a share that can be meant.
    assert!(!found(&limit("1"), &caution).contains(&Fault::KindsDiffer));
    assert!(found(&limit("1.01"), &caution).contains(&Fault::KindsDiffer));
    let share = "cell.capacity / cell.rated_capacity";
    for rung in [
        format!("cell.wrap == intact and {share} >= limit.share"),
        format!("cell.wrap == intact or {share} >= limit.share"),
        format!("not {share} < limit.share"),
        format!("limit.share <= {share}"),
        format!("every cell has {share} >= limit.share"),
        format!("any cell has {share} >= limit.share"),
    ] {
        assert!(
            found(&limit("80"), &format!("refuse_unless: {rung}\n{BASIS}"))
                .contains(&Fault::KindsDiffer),
            "{rung}"
        );
    }
    // Of a count, 80 is 80.
    assert!(
        !found(
            &limit("80"),
            &format!("refuse_unless: build.cells >= limit.share\n{BASIS}")
        )
        .contains(&Fault::KindsDiffer)
    );
}

#[test]
fn a_lax_warning_is_found_in_either_direction() {
    for (rungs, lax) in [
        (
            "refuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: cell.rest_voltage >= 3.00 V",
            true,
        ),
        (
            "refuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: cell.rest_voltage >= 3.01 V",
            false,
        ),
        (
            "refuse_unless: cell.rest_voltage > limit.floor\nwarn_unless: cell.rest_voltage > 2.99 V",
            true,
        ),
        (
            "refuse_unless: cell.rest_voltage <= 4.20 V\nwarn_unless: cell.rest_voltage <= 4.20 V",
            true,
        ),
        (
            "refuse_unless: cell.rest_voltage <= 4.20 V\nwarn_unless: cell.rest_voltage <= 4.25 V",
            true,
        ),
        (
            "refuse_unless: cell.rest_voltage <= 4.20 V\nwarn_unless: cell.rest_voltage <= 4.10 V",
            false,
        ),
        (
            "refuse_unless: cell.rest_voltage < 4.20 V\nwarn_unless: cell.rest_voltage < 4.25 V",
            true,
        ),
        // Of another value, or asked the other way, a rung is not laxer.
        (
            "refuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: cell.drift_fall >= 2.00 V",
            false,
        ),
        (
            "refuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: cell.rest_voltage <= 2.00 V",
            false,
        ),
    ] {
        assert_eq!(
            with_cases(rungs).contains(&Fault::LaxWarning),
            lax,
            "{rungs}"
        );
    }
}

/// A figure is used through another one, and in a text; a limit through a figure.
#[test]
fn what_is_used_by_a_way_round_is_used() {
    let figure = |name: &str, is: &str| {
        format!("  {name}: {{ about: each cell, is: \"{is}\", meaning: A figure }}\n")
    };
    let over = figure("over", "cell.rest_voltage - limit.floor");
    let twice = figure("twice", "cell.over * 2");
    let is_unused = |figures: &str, rung: &str| {
        found(
            &format!("{LIMIT}figures:\n{figures}"),
            &format!("refuse_unless: {rung}\n{BASIS}"),
        )
        .contains(&Fault::Unused)
    };
    assert!(!is_unused(&format!("{over}{twice}"), "cell.twice >= 0 V"));
    assert!(is_unused(&format!("{over}{twice}"), "cell.over >= 0 V"));
    let asked = figure("low", "cell.rest_voltage < limit.floor");
    assert!(!is_unused(&asked, "not cell.low"));
    assert!(is_unused(&asked, "cell.rest_voltage >= limit.floor"));
    assert!(is_unused(
        &figure("low", "cell.rest_voltage < 3 V"),
        "not cell.low"
    ));
}
