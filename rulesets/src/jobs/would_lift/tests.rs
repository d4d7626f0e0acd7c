//! Small rules of which it is plain which answers lift a refusal. The sets expected were worked out by
//! hand.

use rules_core::check::{Options, check};
use rules_core::document::Syntax;
use rules_core::ruleset::{Rules, Texts};

use super::*;
use crate::bench::{Benches, Plan};
use crate::jobs::small_rules::{WRAP, rules};

const REST: (&str, &str) = (
    "rest",
    "about: each cell, refuse_unless: cell.rest_voltage >= 2.5 V",
);
const WATCH: (&str, &str) = (
    "watch",
    "about: charging, refuse_unless: charging.attended or charging.surface == non-combustible",
);
const WORN: (&str, &str) = (
    "worn",
    "about: each cell, refuse_unless: cell.capacity >= 1 Ah or cell.origin == new",
);
const CHARGE: (&str, &str) = (
    "charge",
    "about: charging, refuse_unless: charging.current <= 1 A and charging.termination <= 4.2 V",
);
const TIMER: (&str, &str) = ("timer", "about: charging, warn_unless: charging.timer");

const TWO: &str = "arrangement: 2S1P, cells: [{ id: K4 }, { id: K7 }]";

struct Asking {
    rules: Rules,
    plan: String,
}

impl Asking {
    fn of(cautions: &[(&str, &str)], plan: &str) -> Self {
        Self {
            rules: rules(cautions),
            plan: format!("{{ format: 1, title: t, {plan} }}"),
        }
    }

    fn found(&self, not_known: &[&str], most: usize) -> Option<WouldLift> {
        let texts = Texts::of([("none", "")]);
        let plan = Plan::read(
            "plan.yaml",
            self.plan.clone().into(),
            Syntax::Yaml,
            &mut Benches::of(&texts),
        );
        let plan = plan.unwrap();
        let options = Options::default();
        let proposal = plan.proposal(Some(&self.rules)).unwrap();
        let report = check(&self.rules, &proposal, options).unwrap();
        let trial = Trial::of(&plan, &self.rules, options).unwrap();
        let not_known = not_known.iter().map(ToString::to_string).collect();
        would_lift_within(&trial, &report, &not_known, most)
    }
}

fn found(cautions: &[(&str, &str)], plan: &str) -> Option<WouldLift> {
    Asking::of(cautions, plan).found(&[], MOST_CHECKS)
}

fn places(found: &WouldLift) -> Vec<&str> {
    let answers = found.answers.iter();
    answers.map(|answer| answer.place.as_str()).collect()
}

/// Each cell needs its own two answers, and of the two about charging one is enough.
#[test]
fn what_each_cell_waits_for_and_one_of_two_that_are_enough() {
    let found = found(&[WRAP, REST, WATCH], TWO).unwrap();
    let expected = [
        "cells[K4].wrap",
        "cells[K7].wrap",
        "charging.attended",
        "cells[K4].rest.voltage",
        "cells[K7].rest.voltage",
    ];
    assert_eq!(places(&found), expected);
    assert_eq!((found.verdict, found.fewest), (Verdict::Pass, true));
}

/// That a cell is new is known at once; its capacity takes hours.
#[test]
fn a_look_comes_before_a_test() {
    let found = found(&[WORN], "arrangement: 1S1P, cells: [{ id: K4 }]").unwrap();
    let tried = TriedAnswer {
        place: "cells[K4].origin".into(),
        tried: "new".into(),
    };
    assert_eq!((found.answers, found.fewest), (vec![tried], true));
}

/// Neither of two numbers is enough by itself, which takes trying each.
#[test]
fn two_answers_that_are_enough_only_together() {
    let found = found(&[CHARGE, TIMER], "arrangement: 1S1P, cells: [{ id: K4 }]").unwrap();
    assert_eq!(places(&found), ["charging.current", "charging.termination"]);
    // Whether there is a timer is open, and warns.
    assert_eq!((found.verdict, found.fewest), (Verdict::Warn, true));
}

#[test]
fn a_warning_is_lifted_too() {
    let found = found(&[TIMER], "arrangement: 1S1P, cells: [{ id: K4 }]").unwrap();
    assert_eq!(places(&found), ["charging.timer"]);
    assert_eq!(found.verdict, Verdict::Pass);
}

#[test]
fn what_nobody_knows_is_answered_otherwise_or_not_at_all() {
    let asking = Asking::of(&[WATCH], "arrangement: 1S1P, cells: [{ id: K4 }]");
    let found = asking.found(&["charging.attended"], MOST_CHECKS).unwrap();
    assert_eq!(places(&found), ["charging.surface"]);
    let neither = ["charging.attended", "charging.surface"];
    assert_eq!(asking.found(&neither, MOST_CHECKS), None);
}

#[test]
fn nothing_is_said_where_no_answer_lifts_it() {
    let surely = "arrangement: 1S1P, cells: [{ id: K4, wrap: torn }]";
    let in_doubt = "arrangement: 1S1P, cells: [{ id: K4, rest: { voltage: 2.50 V } }]";
    let not_listed = "arrangement: 2S1P, cells: [{ id: K4 }]";
    let settled = "arrangement: 1S1P, cells: [{ id: K4, wrap: intact, rest: { voltage: 3 V } }]";
    for plan in [surely, in_doubt, not_listed, settled] {
        assert_eq!(found(&[WRAP, REST], plan), None, "{plan}");
    }
}

/// Without the checks to show it, nothing is told.
#[test]
fn no_more_checks_are_made_than_the_bound() {
    let asking = Asking::of(&[WRAP, REST, WATCH], TWO);
    let whole = asking.found(&[], MOST_CHECKS).unwrap();
    for most in 0..=whole.checks {
        let found = asking.found(&[], most);
        assert_eq!(found.is_some(), most == whole.checks, "{most}");
    }
}
