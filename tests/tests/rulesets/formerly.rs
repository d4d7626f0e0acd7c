//! What the list of changes says was renamed is answered with its new name, wherever an old document
//! may hold it.

use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Rules, Texts};
use rulesets::catalogue;
use rulesets::shipped::Shipped;

const CHANGES: &str = include_str!("../../../rulesets/CHANGELOG.md");

/// Every rename of the list of changes that a ruleset or a proposal may hold, by its new name.
/// Codes of faults and keys of reports are in neither. No key of a proposal has been renamed so far:
/// those are tried in `rulesets/src/proposal/meant.rs`.
const LIMITS: [(&str, &str); 2] = [("drift_high", "leak_most"), ("drift_watch", "leak_watch")];
const FIGURES: [(&str, &str); 1] = [("cell.drift_rate", "cell.fall_rate")];

/// The help for a club's ruleset on top of the shipped one, which has one fault.
fn help(rest: &str) -> String {
    let head = "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [rescued-cells]\n";
    let texts = Texts::of([("club", format!("{head}{rest}"))]).or(Shipped);
    let problems: Vec<Problem> = Rules::load(&["club"], &texts, &catalogue()).expect_err(rest);
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert_eq!(problems[0].fault, Fault::UnknownName);
    problems[0].help.clone().unwrap_or_default()
}

fn about_a_cell(formula: &str) -> String {
    format!(
        "cautions: [{{ id: club-leak, title: Leak, about: each cell, refuse_unless: \"{formula}\", \
         reason: r, basis: [{{ common_practice: example }}] }}]\n"
    )
}

#[test]
fn a_limit_is_answered_with_its_new_name() {
    for (old, now) in LIMITS {
        let adjusted = format!("adjust: {{ limits: {{ {old}: {{ to: 1 % }} }} }}\n");
        assert_eq!(help(&adjusted), format!("it is now called `{now}`"));
        let named = about_a_cell(&format!("cell.loss_in_30_days <= limit.{old}"));
        assert_eq!(help(&named), format!("it is now called `limit.{now}`"));
    }
}

#[test]
fn a_figure_is_answered_with_its_new_name() {
    for (old, now) in FIGURES {
        let named = about_a_cell(&format!("{old} <= 1 mV/d"));
        assert_eq!(help(&named), format!("it is now called `{now}`"));
    }
}

/// Each pair above is in the list of changes, and what is new is there.
#[test]
fn what_was_renamed_is_in_the_list_of_changes() {
    let rules = Rules::load(&["rescued-cells"], &Shipped, &catalogue()).expect("rules");
    let last = |name: &str| name.rsplit('.').next().unwrap_or(name).to_owned();
    for (old, now) in LIMITS.into_iter().chain(FIGURES) {
        for name in [old, now] {
            assert!(CHANGES.contains(&format!("`{}`", last(name))), "{name}");
        }
        let known = rules.limits().iter().any(|limit| limit.name == now)
            || rules.figures().iter().any(|figure| figure.name == now);
        assert!(known, "{now} is neither a limit nor a figure");
    }
}
