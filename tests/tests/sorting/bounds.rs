//! The bounds of each grade. The limits are those of `rescued-cells`.

use rules_core::check::Status;
use rules_core::ruleset::Texts;
use rulesets::jobs::sort::{Grade, Sorting, sort};
use rulesets::rules_from_texts;
use serde_json::{Value, json};

use super::{bench, good_cell, grade, one, sorted, with};

fn changed(path: &str, value: impl Into<Value>) -> Grade {
    grade(with(good_cell("A1"), path, value))
}

#[test]
fn a_cell_with_nothing_against_it_is_sound() {
    let cell = one(good_cell("A1"));
    assert_eq!(
        (cell.grade, cell.best, cell.worst),
        (Grade::Sound, Grade::Sound, Grade::Sound)
    );
    assert_eq!(
        (cell.decided_by, cell.next.len(), cell.questions.len()),
        (None, 0, 0)
    );
}

/// Worn under 60 % is retired, under 80 % watched: 1500 and 2000 of 2500 mAh.
#[test]
fn of_capacity() {
    let of = |capacity: &str| {
        let cell = with(good_cell("A1"), "capacity.value", capacity);
        // What was taken in goes with what is given.
        grade(with(cell, "charge.taken", Value::Null))
    };
    let sound = |capacity: &str| of(capacity) == Grade::Watch;
    // Without the charge taken in nothing is better than watched; the limit shows between the others.
    assert!(sound("2000 mAh ± 0 mAh") && sound("1999 mAh ± 0 mAh") && sound("1500 mAh ± 0 mAh"));
    assert_eq!(of("1500 mAh ± 1 mAh"), Grade::ToTest);
    assert_eq!(of("1499 mAh ± 0 mAh"), Grade::Retire);
    let of = |capacity: &str, taken: &str| {
        let cell = with(good_cell("A1"), "capacity.value", capacity);
        grade(with(cell, "charge.taken", taken))
    };
    assert_eq!(of("2000 mAh ± 0 mAh", "2010 mAh"), Grade::Sound);
    assert_eq!(of("1999 mAh ± 0 mAh", "2010 mAh"), Grade::Watch);
}

/// Under 2.00 V a cell is retired, under 2.50 V set aside, under 3.00 V watched.
#[test]
fn of_the_rest_voltage() {
    assert_eq!(changed("rest.voltage", "3.00 V ± 0 V"), Grade::Sound);
    assert_eq!(changed("rest.voltage", "2.99 V ± 0 V"), Grade::Watch);
    assert_eq!(changed("rest.voltage", "2.50 V ± 0 V"), Grade::Watch);
    assert_eq!(changed("rest.voltage", "2.50 V ± 0.01 V"), Grade::ToTest);
    assert_eq!(changed("rest.voltage", "2.49 V ± 0 V"), Grade::SetAside);
    assert_eq!(changed("rest.voltage", "2.00 V ± 0 V"), Grade::SetAside);
    assert_eq!(changed("rest.voltage", "1.99 V ± 0 V"), Grade::Retire);
    assert_eq!(changed("rest.voltage", Value::Null), Grade::ToTest);
}

/// A cell found under 2.00 V is retired, whatever came after; under 2.50 V a watch can lift it, and one
/// that is a day too short leaves it set aside.
#[test]
fn of_the_voltage_when_found() {
    assert_eq!(changed("found.voltage", "2.00 V ± 0 V"), Grade::Sound);
    assert_eq!(changed("found.voltage", "1.99 V ± 0 V"), Grade::Retire);
    assert_eq!(changed("found.voltage", "2.00 V ± 0.01 V"), Grade::ToTest);
    assert_eq!(changed("found.voltage", Value::Null), Grade::ToTest);
    let low = |over: &str| {
        let cell = with(good_cell("A1"), "found.voltage", "2.30 V");
        grade(with(cell, "drift.over", over))
    };
    assert_eq!((low("14 d"), low("13 d")), (Grade::Sound, Grade::SetAside));
}

/// How warm it got in a charge is of the cell; how warm the room was is of the plan. Over 10 K refuses,
/// whatever the room.
#[test]
fn what_only_a_plan_knows_is_left_to_it() {
    assert_eq!(changed("charge.rise", "10 K ± 0 K"), Grade::Sound);
    assert_eq!(changed("charge.rise", "10.1 K ± 0 K"), Grade::Retire);
    assert_eq!(
        changed("charge.rise", "10 K ± 1 K"),
        Grade::Watch.max(Grade::ToTest)
    );
    assert_eq!(changed("charge.rise", Value::Null), Grade::Watch);
}

#[test]
fn what_is_never_mended_retires_and_what_can_be_is_set_aside() {
    let cell = || with(good_cell("A1"), "look", Value::Null);
    let looked = |wrap: &str, body: &str| {
        let cell = with(with(cell(), "wrap", wrap), "body", body);
        let cell = with(with(cell, "top_ring", "present"), "tabs", "clean");
        grade(with(cell, "weld_marks", "flat"))
    };
    assert_eq!(looked("intact", "sound"), Grade::Sound);
    assert_eq!(looked("rewrapped", "sound"), Grade::Watch);
    assert_eq!(looked("nicked", "sound"), Grade::SetAside);
    assert_eq!(looked("intact", "dented"), Grade::Retire);
    assert_eq!(looked("nicked", "dented"), Grade::Retire);
    assert_eq!(grade(cell()), Grade::ToTest);
}

/// The caution of the class is of every stage, and says itself what becomes of the cell.
#[test]
fn a_cell_of_another_class_is_set_aside() {
    assert_eq!(changed("class", "IFR"), Grade::SetAside);
}

#[test]
fn in_the_bin_is_retired() {
    assert_eq!(changed("ends_with", "household-waste"), Grade::Retire);
    assert_eq!(changed("ends_with", "shelf"), Grade::Watch);
}

/// What nobody looked at is a question, and what is too wide is in doubt.
#[test]
fn a_question_is_no_finding() {
    let cell = one(json!({ "id": "A1" }));
    assert_eq!(
        (cell.grade, cell.best, cell.worst),
        (Grade::ToTest, Grade::Sound, Grade::Retire)
    );
    assert_eq!(
        cell.decided_by.map(|decided| decided.status),
        Some(Status::Unmeasured)
    );
    assert!(
        !cell.next.is_empty() && cell.questions.len() > 10,
        "{:?}",
        cell.questions
    );
    assert!(
        cell.questions
            .iter()
            .all(|one| one.missing && one.place.starts_with("cells[A1]."))
    );
}

#[test]
fn an_empty_bench_has_no_cells() {
    let report = sorted(&[], json!({})).expect("sorted");
    assert_eq!((report.cells.len(), report.counts.cells), (0, 0));
}

#[test]
fn cells_stand_in_the_order_in_which_people_count() {
    let cells = ["K10", "K2", "B3", "K1"].map(good_cell);
    let report = sorted(&cells, json!({})).expect("sorted");
    let ids: Vec<&str> = report.cells.iter().map(|cell| cell.id.as_str()).collect();
    assert_eq!(ids, ["B3", "K1", "K2", "K10"]);
}

#[test]
fn a_cell_that_is_not_there_is_told_with_the_one_that_was_meant() {
    let bench = bench(&[good_cell("K4")], json!({})).expect("a bench");
    let rules = rulesets::shipped_rules().expect("rules");
    let asked = |id: &str| {
        let cells = [id.to_owned()];
        let sorting = Sorting {
            as_of: None,
            cells: &cells,
        };
        sort(&bench, &rules, sorting)
            .expect_err("no such cell")
            .to_string()
    };
    assert!(
        asked("K44").contains("the bench has no cell `K44`"),
        "{}",
        asked("K44")
    );
    assert!(asked("K44").contains("did you mean `K4`?"));
}

const PLAIN: &str = "
format: 1
ruleset: night-relay-club
version: 1.0.0
title: One rule of the club
stages:
  sorting: STAGE
cautions:
  - id: rest-low
    title: Cell too low
    about: each cell
    stage: sorting
    refuse_unless: cell.rest_voltage >= 3.00 V
    reason: it is too low
    basis: [{ common_practice: example of the suite }]
";

/// Rules give only the grades that they speak of, and without any they sort nothing.
#[test]
fn the_rules_say_what_becomes_of_a_cell() {
    let bench = bench(
        &[json!({ "id": "A1", "rest": { "voltage": "2.90 V" } })],
        json!({}),
    );
    let bench = bench.expect("a bench");
    let graded = |stage: &str| {
        let texts = Texts::of([("club.yaml", PLAIN.replace("STAGE", stage))]);
        let rules = rules_from_texts(&["club.yaml"], texts).unwrap_or_else(|all| panic!("{all}"));
        sort(&bench, &rules, Sorting::default()).map(|report| report.cells[0].grade)
    };
    let said = |word: &str| format!("{{ title: Sorting, refused: {word} }}");
    assert_eq!(graded(&said("set-aside")).expect("sorted"), Grade::SetAside);
    assert_eq!(graded(&said("retire")).expect("sorted"), Grade::Retire);
    for stage in ["Sorting".to_owned(), said("keep-out")] {
        let problems = graded(&stage).expect_err("nothing says it").to_string();
        assert!(problems.contains("`refused: retire`"), "{problems}");
    }
}
