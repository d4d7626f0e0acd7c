//! Laws of readings over time, on the demo bench of the club with readings of chance: rows in any
//! order are the same rows, what is later than the day changes nothing, what is written out comes to
//! the same, who has not read something is never better off, and no reading takes back what does not
//! mend.
//!
//! A history is an account: readings are left out by all that was read of one thing, for an older one
//! would take the place of a newer one. Of what does not mend they are left out one by one.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use rules_core::check::{Report, Verdict};
use rules_core::document::{Fault, ProblemList};
use rules_core::ruleset::{NoOthers, Rules, Texts};
use rules_tests::law::{Seen, law};
use rulesets::shipped::Shipped;

use super::{plan, report, shipped, without_places};

const BENCH: &str = include_str!("../../../rules-cli/demo/club/bench.yaml");
const CELLS: &str = include_str!("../../../rules-cli/demo/club/cells.csv");
const PLAN: &str = "
format: 1
title: Helmet lamp
bench: ./bench.yaml
as_of: 2026-09-15
light: helmet-lamp
cells: [K4, K7]
charging: { of: two-lead, at: clubhouse }
conditions: { at: clubhouse, use: head-torch, ambient: 5 degC, run_time: 90 min, idle: 21 d }
";
/// The day of the plan, as rows have it.
const DAY: &str = "2026-09-15";

/// What is read, and what comes out: values that are told apart by some caution.
const READ: [(&str, &[&str]); 7] = [
    ("rest.voltage", &["3.876 V", "3.870 V", "3.31 V", "1.9 V"]),
    (
        "capacity.value",
        &["2310 mAh", "1980 mAh", "900 mAh", "2600 mAh"],
    ),
    ("resistance.value", &["61 mΩ", "78 mΩ", "300 mΩ"]),
    ("idle_rise", &["0 K ± 1 K", "9 K ± 1 K"]),
    ("charge.rise", &["3 K ± 1 K", "25 K ± 1 K"]),
    ("charged", &[""]),
    ("discharged", &[""]),
];

/// Readings by cell, day and what, with value, `after` and tester.
type Rows = BTreeMap<(&'static str, String, &'static str), [&'static str; 3]>;

/// A row for each list of numbers; one of each thing on a day.
fn rows(chance: &[[u8; 5]]) -> Rows {
    let row = |[cell, day, what, value, after]: &[u8; 5]| {
        let (what, values) = READ[usize::from(*what) % READ.len()];
        let cell = ["K4", "K7"][usize::from(*cell) % 2];
        let day = format!("2026-{:02}-{:02}", 7 + day % 4, 1 + day % 28);
        let value = values[usize::from(*value) % values.len()];
        let after = match what {
            "rest.voltage" => ["24 h", "", "1 h"][usize::from(*after) % 3],
            _ => "",
        };
        let tester = match what {
            "capacity.value" | "resistance.value" => "grey",
            _ => "",
        };
        ((cell, day, what), [value, after, tester])
    };
    chance.iter().map(row).collect()
}

fn readings() -> impl Strategy<Value = Vec<[u8; 5]>> {
    prop::collection::vec(any::<[u8; 5]>(), 1..16)
}

fn table<'r>(
    rows: impl Iterator<
        Item = (
            &'r (&'static str, String, &'static str),
            &'r [&'static str; 3],
        ),
    >,
) -> String {
    let mut text = "id,date,what,value,after,tester\n".to_owned();
    for ((cell, day, what), rest) in rows {
        text += &format!("{cell},{day},{what},{}\n", rest.join(","));
    }
    text
}

fn files(readings: &str) -> Texts<Shipped> {
    let files = [
        ("bench.yaml", BENCH),
        ("cells.csv", CELLS),
        ("readings.csv", readings),
    ];
    Texts::of(files).or(Shipped)
}

fn came(rules: &Rules, readings: &str) -> Result<Report, TestCaseError> {
    let plan = plan("plan.yaml", PLAN, &files(readings));
    let report = plan.and_then(|plan| report(rules, &plan));
    report.map_err(|problems| apart(&problems))
}

/// Nothing but a contradiction is wrong with a plan of chance.
fn apart(problems: &ProblemList) -> TestCaseError {
    let known = problems.iter().all(|one| one.fault == Fault::Contradiction);
    assert!(known, "{problems}");
    TestCaseError::reject("contradictory")
}

/// The notes but that of the digest of the bench, which is of its rows as they stand.
fn notes(report: &Report) -> Vec<String> {
    let all = report.remarks.iter().map(|remark| format!("{remark:?}"));
    all.filter(|note| !note.contains("Taken from the bench"))
        .collect()
}

#[test]
fn rows_in_any_order_are_the_same_rows() {
    let rules = shipped();
    let cases = (readings(), any::<u64>());
    law(
        "rows of readings in any order",
        40,
        cases,
        |(chance, turn), seen| {
            let rows = rows(&chance);
            let mut mixed: Vec<_> = rows.iter().collect();
            mixed.sort_by_key(|(_, rest)| rest.join(""));
            mixed.rotate_left(usize::try_from(turn % rows.len() as u64).unwrap());
            let one = came(&rules, &table(rows.iter()))?;
            let other = came(&rules, &table(mixed.into_iter()))?;
            prop_assert_eq!(without_places(&one), without_places(&other));
            prop_assert_eq!(notes(&one), notes(&other));
            seen.count(1);
            Ok(())
        },
    );
}

#[test]
fn what_is_later_than_the_day_changes_nothing_but_the_note() {
    let rules = shipped();
    law(
        "readings later than the day",
        40,
        readings(),
        |chance, seen| {
            let rows = rows(&chance);
            let is_past = |row: &(&(&str, String, &str), &[&str; 3])| *row.0.1 <= *DAY;
            let (all, past) = (
                came(&rules, &table(rows.iter())),
                came(&rules, &table(rows.iter().filter(is_past))),
            );
            let (all, past) = (all?, past?);
            prop_assert_eq!(without_places(&all), without_places(&past));
            let later = |note: &String| note.contains("Later than 2026-09-15, and left out: ");
            let count = rows.len() - rows.iter().filter(is_past).count();
            prop_assert_eq!(
                notes(&all).iter().filter(|note| later(note)).count(),
                count.min(1)
            );
            let mut rest = notes(&all);
            rest.retain(|note| !later(note));
            prop_assert_eq!(rest, notes(&past));
            seen.count(count);
            Ok(())
        },
    );
}

#[test]
fn written_out_readings_come_to_the_same() {
    let rules = shipped();
    law("readings written out", 30, readings(), |chance, seen| {
        let text = table(rows(&chance).iter());
        let files = files(&text);
        let taken = plan("plan.yaml", PLAN, &files).unwrap();
        let one = report(&rules, &taken).map_err(|problems| apart(&problems))?;
        let plain = plan("plan.yaml", &taken.plain_yaml(&rules).unwrap(), &NoOthers).unwrap();
        let other = report(&rules, &plain).unwrap();
        prop_assert_eq!(without_places(&one), without_places(&other));
        prop_assert_eq!(&one.remarks, &other.remarks);
        seen.count(1);
        Ok(())
    });
}

/// By caution and subject the worst that it can still come to. What is not there passes.
fn worst(report: &Report) -> BTreeMap<(String, String), Verdict> {
    let all = report.findings.iter().map(|finding| {
        let of = (
            finding.caution.to_string(),
            format!("{:?}", finding.subject),
        );
        (of, finding.worst)
    });
    all.collect()
}

/// What a low rest voltage shows counts for a cell that was found so too. Who left it out has instead not
/// shown at what voltage the cell rests, which other cautions ask.
const INSTEAD: [(&str, &str); 2] = [
    ("found-deeply-discharged", "deeply-discharged"),
    ("found-low-and-unwatched", "rest-voltage-low"),
];

/// What is left of a caution in a report with less in it.
fn left(less: &BTreeMap<(String, String), Verdict>, of: &(String, String)) -> Verdict {
    let instead = INSTEAD.iter().find(|(caution, _)| *caution == of.0);
    let instead = instead.map(|(_, other)| ((*other).to_owned(), of.1.clone()));
    let all = instead.iter().chain([of]).filter_map(|one| less.get(one));
    all.copied().max().unwrap_or(Verdict::Pass)
}

fn no_better(less: &Report, more: &Report, seen: &Seen) -> Result<(), TestCaseError> {
    prop_assert!(less.gravest().worst >= more.gravest().worst);
    let (less, more) = (worst(less), worst(more));
    for (of, verdict) in &more {
        let left = left(&less, of);
        prop_assert!(
            left >= *verdict,
            "{of:?} comes to {left:?} and came to {verdict:?}"
        );
        seen.count(1);
    }
    Ok(())
}

#[test]
fn who_has_not_read_something_is_never_better_off() {
    let rules = shipped();
    let cases = (readings(), any::<u8>());
    law("readings left out", 40, cases, |(chance, which), seen| {
        let rows = rows(&chance);
        // A charge or a test moves the charge: without it a rest voltage counts that did not.
        let moves = ["charged", "discharged", "capacity.value"];
        let things: BTreeSet<_> = rows.keys().map(|(cell, _, what)| (*cell, *what)).collect();
        let things: Vec<_> = things
            .iter()
            .filter(|(_, what)| !moves.contains(what))
            .collect();
        let Some((cell, what)) = things.get(usize::from(which) % things.len().max(1)) else {
            return Ok(());
        };
        let kept = rows
            .iter()
            .filter(|((of, _, read), _)| (of, read) != (cell, what));
        let (more, less) = (
            came(&rules, &table(rows.iter()))?,
            came(&rules, &table(kept))?,
        );
        no_better(&less, &more, seen)
    });
}

/// What does not mend, however often it is read again.
const LASTING: [&str; 2] = ["idle_rise", "charge.rise"];

#[test]
fn no_reading_takes_back_what_does_not_mend() {
    let rules = shipped();
    let cases = (readings(), any::<u8>());
    law("another reading", 60, cases, |(chance, which), seen| {
        // Half of what chance picks is of what does not mend.
        let lasting = chance.iter().map(|[cell, day, what, value, after]| {
            [*cell, *day, 3 + what % 2, value.wrapping_add(1), *after]
        });
        let rows = rows(&chance.iter().copied().chain(lasting).collect::<Vec<_>>());
        let again = |(cell, day, what): &(&str, String, &str)| {
            let same = rows.keys().filter(|one| (one.0, one.2) == (*cell, *what));
            LASTING.contains(what) && same.filter(|one| one.1 != *day && *one.1 <= *DAY).count() > 0
        };
        let again: Vec<_> = rows.keys().filter(|row| again(row)).collect();
        let Some(row) = again.get(usize::from(which) % again.len().max(1)) else {
            return Ok(());
        };
        let kept = rows.iter().filter(|(one, _)| one != row);
        let (all, without) = (
            came(&rules, &table(rows.iter()))?,
            came(&rules, &table(kept))?,
        );
        no_better(&all, &without, seen)
    });
}
