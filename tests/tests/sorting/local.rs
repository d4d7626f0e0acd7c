//! What cautions of local practice come to that do not say what becomes of a cell that they refuse.

use std::fmt::Write as _;

use rules_core::check::{Options, Verdict, check};
use rules_core::ruleset::{Rules, Texts};
use rulesets::bench::Plan;
use rulesets::jobs::sort::{Grade, SortedCell, Sorting, Suits, sort};
use rulesets::proposal::Draft;
use rulesets::rules_from_texts;
use serde_json::{Value, json};

use super::less::{faults, fields, without};
use super::{bench, good_cell, torch, with};

/// A ruleset of a club that extends the shipped one.
fn club(rest: &str) -> Rules {
    let text = format!(
        "format: 1\nruleset: night-relay-club\nversion: 1.0.0\ntitle: The club's practice\n\
         extends: [rescued-cells]\n{rest}"
    );
    let texts = Texts::of([("club.yaml", text)]);
    rules_from_texts(&["club.yaml"], texts).unwrap_or_else(|problems| panic!("{problems}"))
}

/// With one caution about each cell, which has these keys.
fn with_caution(keys: &[&str]) -> Rules {
    let mut text = "cautions:\n  - id: not-for-the-relay\n    title: Not for the relay\n    \
                    about: each cell\n    reason: it is not\n    \
                    basis: [{ common_practice: example of the suite }]\n"
        .to_owned();
    for key in keys {
        writeln!(text, "    {key}").expect("a line");
    }
    club(&text)
}

/// A torch of one cell and one of two, of which all is known that their fit asks for.
fn lights() -> Value {
    let torch = torch();
    let two = with(with(torch.clone(), "bays", 2), "arrangement", "1S2P");
    let two = with(two, "made_for", Value::Null);
    json!({ "relay-torch": torch, "start-lamp": two })
}

fn sorted(cell: Value, rules: &Rules) -> SortedCell {
    let bench = bench(&[cell], lights()).expect("a bench");
    let report = sort(&bench, rules, Sorting::default());
    let report = report.unwrap_or_else(|problems| panic!("{problems}"));
    report.cells.into_iter().next().expect("a cell")
}

fn outcome(cell: Value, rules: &Rules) -> (Grade, [Suits; 2]) {
    let cell = sorted(cell, rules);
    let suits: Vec<Suits> = cell.lights.iter().map(|entry| entry.suits).collect();
    (cell.grade, suits.try_into().expect("two lights"))
}

fn of_capacity(value: &str) -> Value {
    with(good_cell("A1"), "capacity.value", value)
}

const STAGES: [&str; 7] = [
    "opening", "sorting", "fitting", "building", "charging", "using", "keeping",
];

/// In whichever stage it stands, or in none.
#[test]
fn what_refuses_a_cell_for_itself_sets_it_aside() {
    use Suits::{Pass, Refuse, ToTest, WithOthers};
    let stages = STAGES.map(|stage| format!("stage: {stage}"));
    for stage in stages.iter().map(String::as_str).chain(["# no stage"]) {
        let rules = with_caution(&[stage, "refuse_unless: cell.capacity >= 2300 mAh"]);
        let of = |value: &str| outcome(of_capacity(value), &rules);
        let fine = (Grade::Sound, [Pass, WithOthers]);
        assert_eq!(of("2301 mAh ± 0 mAh"), fine, "{stage}");
        assert_eq!(of("2300 mAh ± 0 mAh"), fine, "{stage}");
        let out = (Grade::SetAside, [Refuse, Refuse]);
        assert_eq!(of("2299 mAh ± 0 mAh"), out, "{stage}");
        let open = (Grade::ToTest, [ToTest, ToTest]);
        assert_eq!(of("2300 mAh ± 1 mAh"), open, "{stage}");
    }
}

#[test]
fn what_the_rules_say_becomes_of_it_goes_before() {
    let keys = |refused| ["refuse_unless: cell.capacity >= 2400 mAh", refused];
    let grade = |refused| outcome(of_capacity("2300 mAh"), &with_caution(&keys(refused))).0;
    assert_eq!(grade("refused: retire"), Grade::Retire);
    assert_eq!(grade("stage: retiring"), Grade::Retire);
    assert_eq!(grade("refused: set-aside"), Grade::SetAside);
    // What keeps it out of every light sets it aside.
    assert_eq!(grade("refused: keep-out"), Grade::SetAside);
}

#[test]
fn what_warns_of_a_cell_for_itself_watches_it() {
    let rules = with_caution(&["warn_unless: cell.capacity >= 2400 mAh"]);
    let found = outcome(of_capacity("2300 mAh"), &rules);
    assert_eq!(found, (Grade::Watch, [Suits::Warn, Suits::WithOthers]));
}

/// The cell is 64.9 to 65.3 mm long and the bay 67.9 to 68.1 mm: shorter by 2.6 mm at the least.
#[test]
fn what_a_light_decides_stays_with_the_light() {
    use Suits::{Pass, Refuse, ToTest, WithOthers};
    let of = |room: &str| {
        let asked = format!("refuse_unless: light.bay_length - cell.size_length >= {room}");
        sorted(good_cell("A1"), &with_caution(&[&asked, "stage: using"]))
    };
    for (room, suits) in [
        ("2.6 mm", [Pass, WithOthers]),
        ("2.7 mm", [ToTest, WithOthers]),
        ("3.3 mm", [Refuse, Refuse]),
    ] {
        let cell = of(room);
        let found: Vec<Suits> = cell.lights.iter().map(|entry| entry.suits).collect();
        assert_eq!(
            (cell.grade, &found[..]),
            (Grade::Sound, &suits[..]),
            "{room}"
        );
    }
    let by = of("3.3 mm").lights[0]
        .kept_out_by
        .clone()
        .expect("a caution");
    assert_eq!(by.caution, "not-for-the-relay");
}

/// Nobody knows yet where the light will be used.
#[test]
fn what_the_plan_decides_waits_for_the_plan() {
    let asked = "refuse_unless: cell.capacity >= 2400 mAh or conditions.ambient >= 0 degC";
    let found = outcome(of_capacity("2300 mAh"), &with_caution(&[asked]));
    assert_eq!(found, (Grade::Sound, [Suits::Pass, Suits::WithOthers]));
    let asked = [
        "applies_when: conditions.ambient < 0 degC",
        "refuse_unless: cell.capacity >= 2400 mAh",
    ];
    let found = outcome(of_capacity("2300 mAh"), &with_caution(&asked));
    assert_eq!(found, (Grade::Sound, [Suits::Pass, Suits::WithOthers]));
}

/// Of two things that must hold, the cell decides the first by itself.
#[test]
fn a_part_that_is_about_the_cell_alone_counts_by_itself() {
    use Suits::{Pass, Refuse, ToTest, WithOthers};
    for more in ["conditions.ambient >= 0 degC", "light.vented"] {
        let asked = format!("refuse_unless: cell.capacity >= 2300 mAh and {more}");
        let rules = with_caution(&[&asked]);
        let of = |value: &str| outcome(of_capacity(value), &rules);
        assert_eq!(of("2299 mAh ± 0 mAh"), (Grade::SetAside, [Refuse; 2]));
        assert_eq!(of("2300 mAh ± 0 mAh"), (Grade::Sound, [Pass, WithOthers]));
        assert_eq!(of("2300 mAh ± 1 mAh"), (Grade::ToTest, [ToTest; 2]));
    }
    let asked = "refuse_unless: cell.capacity >= 2300 mAh and not light.vented";
    let found = outcome(of_capacity("2300 mAh ± 0 mAh"), &with_caution(&[asked]));
    assert_eq!(found, (Grade::Sound, [Refuse, Refuse]));
}

/// A figure that is yes or no is looked through.
#[test]
fn a_part_within_a_figure_counts_by_itself() {
    let figure = "figures:
  fit_for_the_relay:
    about: each cell
    is: cell.capacity >= 2300 mAh and light.vented
    meaning: Whether the cell does for the relay
cautions:
  - id: not-for-the-relay
    title: Not for the relay
    about: each cell
    refuse_unless: cell.fit_for_the_relay
    reason: it is not
    basis: [{ common_practice: example of the suite }]
";
    let rules = club(figure);
    let grade = |value: &str| outcome(of_capacity(value), &rules).0;
    assert_eq!(grade("2299 mAh ± 0 mAh"), Grade::SetAside);
    assert_eq!(grade("2300 mAh ± 0 mAh"), Grade::Sound);
}

/// Whether a check of the cell in the torch refuses it by the club's caution.
fn is_refused_by_a_check(cell: Value, rules: &Rules) -> bool {
    let bench = bench(&[cell], lights()).expect("a bench");
    let plan = json!({ "format": 1, "light": "relay-torch", "cells": ["A1"] });
    let plan = Plan::of_draft_beside(&Draft::of("plan", plan), &bench).expect("a plan");
    let proposal = plan.proposal(Some(rules)).expect("a proposal");
    let report = check(rules, &proposal, Options::default()).expect("a report");
    let mut findings = report.findings.iter();
    findings.any(|one| &*one.caution == "not-for-the-relay" && one.best == Verdict::Refuse)
}

/// What a check surely refuses has no `pass` in the table, whatever the caution looks at but the plan.
#[test]
fn a_pass_in_the_table_is_refused_by_no_check() {
    let mut refused = 0;
    for stage in STAGES {
        for asked in [
            "cell.capacity >= 2400 mAh",
            "light.bay_length - cell.size_length >= 3.3 mm",
            "cell.capacity >= 2400 mAh and conditions.ambient >= 0 degC",
            "cell.capacity >= 2200 mAh",
        ] {
            let stage = format!("stage: {stage}");
            let rules = with_caution(&[&stage, &format!("refuse_unless: {asked}")]);
            let cell = of_capacity("2300 mAh");
            let by_a_check = is_refused_by_a_check(cell.clone(), &rules);
            let [in_torch, _] = outcome(cell, &rules).1;
            let expected = [Suits::Pass, Suits::Refuse][usize::from(by_a_check)];
            assert_eq!(in_torch, expected, "{stage}: {asked}");
            refused += usize::from(by_a_check);
        }
    }
    assert_eq!(refused, 3 * STAGES.len());
}

/// Who knows less of a cell has no better grade by these cautions either, and no better light.
#[test]
fn to_know_less_makes_no_cell_sound_and_no_light_pass() {
    let mut compared = 0;
    for asked in [
        "cell.capacity >= 2400 mAh",
        "light.bay_length - cell.size_length >= 3.3 mm",
        "cell.capacity >= 2400 mAh and conditions.ambient >= 0 degC",
        "light.vented and cell.capacity / cell.rated_capacity >= 95 %",
    ] {
        let rules = with_caution(&[&format!("refuse_unless: {asked}"), "stage: using"]);
        let known = good_cell("A1");
        let (grade, suits) = outcome(known.clone(), &rules);
        assert!(grade.is_out() || suits[0] == Suits::Refuse, "{asked}");
        for field in fields() {
            let (less_grade, less_suits) = outcome(without(&known, field), &rules);
            let is_better = less_grade == Grade::Sound && grade != Grade::Sound;
            assert!(
                !is_better && less_suits[0] != Suits::Pass,
                "{asked}: {field}"
            );
            compared += 1;
        }
    }
    assert_eq!(compared, 4 * fields().len());
}

/// Every caution of the stage `sorting` that may be moved, seen in another stage.
fn moved_to(stage: &str) -> Rules {
    let shipped = &super::RULES;
    let cautions = shipped.cautions().iter();
    let movable = cautions.filter(|caution| {
        let own = shipped.stage_of(caution);
        !caution.fixed && own.is_some_and(|own| &*own.id == "sorting")
    });
    let mut text = "adjust:\n  cautions:\n".to_owned();
    for caution in movable {
        let id = &caution.id;
        writeln!(
            text,
            "    {id}: {{ stage: {stage}, because: we look then }}"
        )
        .expect("a line");
    }
    club(&text)
}

#[test]
fn a_move_to_another_stage_improves_no_grade() {
    let mut compared = 0;
    for stage in STAGES.into_iter().filter(|stage| *stage != "sorting") {
        let rules = moved_to(stage);
        for (path, value) in faults() {
            let cell = with(good_cell("A1"), path, value.clone());
            let (before, after) = (sorted(cell.clone(), &super::RULES), sorted(cell, &rules));
            assert!(after.grade >= before.grade, "{stage}: {path}: {value}");
            compared += usize::from(before.grade.is_out());
        }
    }
    assert!(compared > 20, "{compared}");
}
