//! Who knows less of a cell has no better grade.
//!
//! What is taken away can hide why a cell is retired: it is then to be tested. So the law speaks of the
//! worst that what is known allows, and of cells that are sound.

use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use rules_tests::law::law;
use rulesets::jobs::sort::{Grade, SortedCell};
use serde_json::{Value, json};

use super::{good_cell, sorted, with};

/// What can be wrong with a cell.
pub(super) fn faults() -> Vec<(&'static str, Value)> {
    let of = |path, value: &str| (path, Value::from(value));
    vec![
        of("found.voltage", "1.62 V"),
        of("found.voltage", "2.31 V"),
        of("found.voltage", "2.00 V ± 0.02 V"),
        of("rest.voltage", "2.45 V"),
        of("rest.voltage", "4.27 V"),
        of("capacity.value", "1300 mAh"),
        of("capacity.value", "1900 mAh"),
        of("capacity.by", "label"),
        of("resistance.value", "140 mΩ"),
        of("resistance.method", "charger-display"),
        of("drift.to", "3.700 V"),
        of("charge.taken", "3100 mAh"),
        of("charge.rise", "14 K ± 1 K"),
        of("charge.rise", "9 K ± 2 K"),
        of("idle_rise", "5 K ± 1 K"),
        of("class", "IFR"),
        of("class_from", "guess"),
        of("ends_with", "household-waste"),
        of("look", "sound"),
    ]
}

/// The fields of a cell that can be left out.
pub(super) fn fields() -> Vec<&'static str> {
    vec![
        "mark",
        "class",
        "class_from",
        "size",
        "size.code",
        "size.length",
        "origin",
        "protected",
        "rated",
        "rated.capacity",
        "rated.full",
        "quarantined_for",
        "card",
        "ends_with",
        "look",
        "past",
        "found",
        "rest",
        "rest.voltage",
        "rest.after",
        "drift",
        "drift.from",
        "drift.to",
        "drift.over",
        "idle_rise",
        "capacity",
        "capacity.value",
        "capacity.by",
        "capacity.to",
        "tested_ago",
        "resistance",
        "resistance.value",
        "resistance.method",
        "charge",
        "charge.rise",
        "charge.taken",
    ]
}

pub(super) fn without(cell: &Value, path: &str) -> Value {
    let (parent, _) = path.rsplit_once('.').unwrap_or(("", path));
    match parent.is_empty() || cell.get(parent).is_some() {
        true => with(cell.clone(), path, Value::Null),
        false => cell.clone(),
    }
}

fn graded(cell: &Value) -> Option<SortedCell> {
    let report = sorted(std::slice::from_ref(cell), json!({})).ok()?;
    report.cells.into_iter().next()
}

#[test]
fn taking_away_never_improves_a_grade() {
    let faults = faults();
    let count = faults.len();
    law(
        "who knows less of a cell has no better grade",
        200,
        (
            subsequence(faults, 0..=3.min(count)),
            subsequence(fields(), 0..=4),
            select(fields()),
        ),
        |(faults, gone, one), seen| {
            let cell = faults
                .into_iter()
                .fold(good_cell("A1"), |cell, (path, value)| {
                    with(cell, path, value)
                });
            let known = gone.iter().fold(cell, |cell, path| without(&cell, path));
            let less = without(&known, one);
            let (Some(before), Some(after)) = (graded(&known), graded(&less)) else {
                return Err(TestCaseError::reject(
                    "two readings that cannot both be true",
                ));
            };
            prop_assert!(
                after.worst >= before.worst,
                "{known}\n{one}\n{before:?}\n{after:?}"
            );
            prop_assert!(
                after.best <= before.best,
                "{known}\n{one}\n{before:?}\n{after:?}"
            );
            let is_sound = |cell: &SortedCell| cell.grade == Grade::Sound;
            prop_assert!(
                is_sound(&before) || !is_sound(&after),
                "{known}\n{one}\n{after:?}"
            );
            for cell in [&before, &after] {
                prop_assert!(
                    cell.best <= cell.grade && cell.grade <= cell.worst,
                    "{cell:?}"
                );
            }
            seen.count(usize::from(less != known));
            Ok(())
        },
    );
}
