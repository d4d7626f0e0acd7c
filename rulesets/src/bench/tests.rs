//! What a proposal and its bench make, written out by hand.

use std::sync::OnceLock;

use rules_core::document::{ProblemList, Syntax};
use rules_core::ruleset::{Rules, Texts};

use super::{Benches, Plan};
use crate::front::shipped_rules;

const BENCH: &str = "
format: 1
bench: Clubhouse
meters: { voltage: ± (0.5 % + 10 mV) }
testers:
  grey: { capacity: { at: 0.5 A, to: 3.0 V, by: discharge }, resistance: { method: ac-1khz } }
chargers:
  four-bay: { termination: 4.20 V, current: 0.5 A, timer: yes }
lights:
  helmet-lamp:
    bays: 2
    draw: 7.5 W
    input: { min: 5.4 V, max: 8.6 V }
    arrangement: 2S1P
    protection: { kind: none }
places:
  hut: { charging: { ambient: 18 degC, alarm: yes }, conditions: { ambient: 5 degC } }
packs:
  - { id: P-1, voltage: 14.8 V }
cells:
  - { id: T1, class: ICR, capacity: { value: 2000 mAh, tester: grey } }
tables: { cells: cells.csv, readings: readings.csv }
";

const CELLS: &str = "id;pack;in;wrap;capacity.value [mAh];capacity.tester;rated.capacity [mAh]
K4;P-1;helmet-lamp;intact;;;2600
K7;P-1;;nicked;1980;grey;2600
";

const READINGS: &str = "id,date,what,value,after,tester
K4,2026-10-01,charged,,,
K4,2026-10-03,rest.voltage,4.150 V,,
K4,2026-10-31,rest.voltage,4.144 V,,
K4,2026-09-20,capacity.value,2310 mAh,,grey
K4,2026-11-20,capacity.value,2290 mAh,,grey
";

fn rules() -> &'static Rules {
    static RULES: OnceLock<Rules> = OnceLock::new();
    RULES.get_or_init(|| shipped_rules().expect("the shipped rules"))
}

fn texts(bench: &str, cells: &str, readings: &str) -> Texts {
    Texts::of([
        ("bench.yaml", bench),
        ("cells.csv", cells),
        ("readings.csv", readings),
    ])
}

fn plan(text: &str, library: &Texts) -> Result<Plan, ProblemList> {
    Plan::read(
        "plan.yaml",
        text.into(),
        Syntax::Yaml,
        &mut Benches::of(library),
    )
}

/// The proposal that results, without its notes, and these.
fn plain_of(text: &str, library: &Texts) -> (String, Vec<String>) {
    let plan = plan(text, library).expect("it can be read");
    let rules = rules();
    if let Err(problems) = plan.proposal(Some(rules)) {
        panic!("{problems}");
    }
    let yaml = plan.plain_yaml(rules).expect("it can be written");
    let (own, notes) = yaml.split_once("notes:\n").expect("notes");
    let note = |line: &str| {
        line.trim_start_matches(" - ")
            .trim_start_matches("  - ")
            .replace('"', "")
    };
    let notes = notes.lines().map(note).collect();
    (own.to_owned(), notes)
}

fn plain(text: &str) -> (String, Vec<String>) {
    plain_of(text, &texts(BENCH, CELLS, READINGS))
}

fn problems_of(text: &str, library: &Texts) -> Vec<String> {
    let rules = rules();
    let told = plan(text, library).and_then(|plan| plan.proposal(Some(rules)));
    let problems = told.err().unwrap_or_default();
    let told = |problem: &rules_core::document::Problem| {
        let place = problem.place.as_ref().map(ToString::to_string);
        format!("{} {}", place.unwrap_or_default(), problem.fault)
    };
    problems.iter().map(told).collect()
}

#[test]
fn what_a_proposal_names_is_written_out() {
    let (own, notes) = plain(
        "
format: 1
bench: ./bench.yaml
as_of: 2026-10-31
light: helmet-lamp
charging: { of: four-bay, at: hut, current: 1.0 A }
conditions: { at: hut, run_time: 90 min }
cells: [K4, { of: K7, group: A }]
",
    );
    let wanted = "format: 1
light:
  bays: 2
  draw: 7.5 W
  input: { min: 5.4 V, max: 8.6 V }
charging:
  current: 1.0 A
  termination: 4.20 V
  timer: yes
  ambient: 18 degC
  alarm: yes
conditions:
  run_time: 90 min
  ambient: 5 degC
cells:
  - id: K4
    pack: P-1
    wrap: intact
    rated: { capacity: 2600 mAh }
    rest: { voltage: 4.144 V }
    capacity: { value: 2310 mAh, at: 0.5 A, to: 3.0 V, by: discharge }
    tested_ago: 40..42 d
    drift: { from: 4.150 V, to: 4.144 V, over: 27..29 d }
  - id: K7
    group: A
    pack: P-1
    wrap: nicked
    capacity: { value: 1980 mAh, at: 0.5 A, to: 3.0 V, by: discharge }
    rated: { capacity: 2600 mAh }
arrangement: 2S1P
protection:
  kind: none
meters:
  voltage: ± (0.5 % + 10 mV)
packs:
  - id: P-1
    voltage: 14.8 V
";
    let sorted = |text: &str| {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        lines.sort();
        lines
    };
    assert_eq!(sorted(&own), sorted(wanted), "{own}");
    assert_eq!(
        notes[1..],
        [
            "K4: 2026-09-20 (41 days before) capacity.value 2310 mAh; 2026-10-31 (the same day) \
             rest.voltage 4.144 V; drift from 2026-10-03 to 2026-10-31.",
            "Later than 2026-10-31, and left out: 1 reading of K4.",
        ]
    );
    assert!(
        notes[0].starts_with("Taken from the bench `Clubhouse` (sha256:"),
        "{}",
        notes[0]
    );
    assert!(
        notes[0].ends_with("with its readings as of 2026-10-31."),
        "{}",
        notes[0]
    );
}

/// The newest row is of 20 November; a capacity test lies between the readings of the rest voltage
/// and what follows, and none between them.
#[test]
fn without_a_day_the_newest_row_is_it() {
    let (own, notes) = plain("{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }");
    assert!(own.contains("capacity: { value: 2290 mAh, at"), "{own}");
    assert!(own.contains("tested_ago: 0..1 d"), "{own}");
    assert!(own.contains("over: 27..29 d"), "{own}");
    assert!(
        !own.contains("rest:"),
        "the test of 20 November moved the charge: {own}"
    );
    let void = "K4: rest.voltage 4.144 V of 2026-10-31 counts no more, because the cell was charged or \
                discharged on 2026-11-20.";
    assert!(notes.contains(&void.to_owned()), "{notes:?}");
    let elsewhere = "K4 is in the light `helmet-lamp`, by the bench.".to_owned();
    assert!(notes.contains(&elsewhere), "{notes:?}");
}

fn drift_of(rows: &str) -> Option<String> {
    let readings = format!("id,date,what,value,after\n{rows}");
    let bench = "{ format: 1, bench: b, cells: [{ id: K4 }], tables: { readings: readings.csv } }";
    let text = "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }";
    let (own, _) = plain_of(text, &texts(bench, "", &readings));
    let line = own
        .lines()
        .find_map(|line| line.trim().strip_prefix("drift: "));
    line.map(str::to_owned)
}

#[test]
fn a_fall_is_of_one_charge_and_from_a_rest_of_a_day_on() {
    let rest = |day: &str, voltage: &str, after: &str| {
        format!("K4,2026-{day},rest.voltage,{voltage} V,{after}\n")
    };
    let moved = |day: &str, what: &str| format!("K4,2026-{day},{what},,\n");
    let watched = "{ from: 4.15 V, to: 4.14 V, over: 13..15 d }";
    let (first, last) = (rest("03-02", "4.15", "24 h"), rest("03-16", "4.14", ""));
    let both = format!("{first}{last}");
    assert_eq!(drift_of(&both).as_deref(), Some(watched));
    assert_eq!(
        drift_of(&format!("{last}{first}")).as_deref(),
        Some(watched),
        "in any order"
    );
    let early = rest("03-02", "4.15", "23 h");
    assert_eq!(
        drift_of(&format!("{early}{last}")),
        None,
        "not rested a day"
    );
    let unsaid = rest("03-02", "4.15", "");
    assert_eq!(
        drift_of(&format!("{unsaid}{last}")),
        None,
        "a rest that nothing tells"
    );
    for (day, wanted) in [
        ("02-28", Some(watched)),
        ("03-01", None),
        ("03-02", None),
        ("03-17", None),
    ] {
        let rows = format!("{unsaid}{last}{}", moved(day, "charged"));
        assert_eq!(drift_of(&rows).as_deref(), wanted, "charged on {day}");
    }
    for (day, wanted) in [
        ("03-01", Some(watched)),
        ("03-02", None),
        ("03-09", None),
        ("03-16", None),
        ("03-17", Some(watched)),
    ] {
        for what in ["charged", "discharged"] {
            let rows = format!("{both}{}", moved(day, what));
            assert_eq!(drift_of(&rows).as_deref(), wanted, "{what} on {day}");
        }
        let rows = format!("{both}K4,2026-{day},capacity.value,2 Ah,\n");
        assert_eq!(drift_of(&rows).as_deref(), wanted, "tested on {day}");
    }
    let middle = rest("03-09", "4.149", "");
    assert_eq!(
        drift_of(&format!("{both}{middle}")).as_deref(),
        Some(watched),
        "the longest watch"
    );
    let after = format!("{}{}", moved("03-20", "charged"), rest("03-22", "4.19", ""));
    assert_eq!(
        drift_of(&format!("{both}{after}")).as_deref(),
        Some(watched),
        "the newest watch"
    );
}

#[test]
fn a_test_that_is_better_than_an_earlier_one_is_told() {
    let told = |rows: &str| {
        let readings = format!("id,date,what,value,at,to,temperature,method\n{rows}");
        let bench =
            "{ format: 1, bench: b, cells: [{ id: K4 }], tables: { readings: readings.csv } }";
        let text = "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }";
        let (_, notes) = plain_of(text, &texts(bench, "", &readings));
        notes.iter().any(|note| note.contains("another cell"))
    };
    let pair = |what: &str, first: &str, second: &str| {
        told(&format!(
            "K4,2026-03-01,{what},{first}\nK4,2026-09-01,{what},{second}\n"
        ))
    };
    // 0.9 of 2222.4 is 2000.16, of 2222.6 less half a digit 2000.2: below and above 2000.5.
    assert!(!pair("capacity.value", "2000 mAh,,,,", "2223 mAh,,,,"));
    assert!(pair("capacity.value", "2000 mAh,,,,", "2224 mAh,,,,"));
    assert!(
        !pair("capacity.value", "2224 mAh,,,,", "2000 mAh,,,,"),
        "cells wear"
    );
    // Both at one temperature: 0.97.
    assert!(!pair(
        "capacity.value",
        "2000 mAh,,,23 degC,",
        "2062 mAh,,,23 degC,"
    ));
    assert!(pair(
        "capacity.value",
        "2000 mAh,,,23 degC,",
        "2064 mAh,,,23 degC,"
    ));
    // A gentler test gives more.
    assert!(!pair(
        "capacity.value",
        "2000 mAh,1 A,,,",
        "2300 mAh,0.2 A,,,"
    ));
    assert!(!pair(
        "capacity.value",
        "2000 mAh,,3.0 V,,",
        "2300 mAh,,2.5 V,,"
    ));
    assert!(!pair(
        "capacity.value",
        "2000 mAh,,,5 degC,",
        "2300 mAh,,,23 degC,"
    ));
    assert!(pair(
        "resistance.value",
        "100 mΩ,,,,dc-10s",
        "79 mΩ,,,,dc-10s"
    ));
    assert!(!pair(
        "resistance.value",
        "100 mΩ,,,,dc-10s",
        "80 mΩ,,,,dc-10s"
    ));
    assert!(
        !pair("resistance.value", "100 mΩ,,,,dc-10s", "50 mΩ,,,,ac-1khz"),
        "another method"
    );
}

#[test]
fn each_fault_has_its_place() {
    let with_plan = |text: &str| problems_of(text, &texts(BENCH, CELLS, READINGS));
    let plan = |rest: &str| format!("format: 1\nbench: ./bench.yaml\narrangement: 1S1P\n{rest}\n");
    let all = [
        ("light: helmet-lmp", vec!["plan.yaml:4:8 unknown-name"]),
        (
            "light: { of: helmet-lmp }",
            vec!["plan.yaml:4:14 unknown-name"],
        ),
        (
            "charging: { of: six-bay, at: hat }",
            vec!["plan.yaml:4:17 unknown-name", "plan.yaml:4:30 unknown-name"],
        ),
        (
            "cells: [K4, K5, \"K4 \"]",
            vec![
                "plan.yaml:4:13 unknown-name",
                "plan.yaml:4:17 defined-twice",
            ],
        ),
        (
            "cells: [K4, { id: K4 }]",
            vec!["plan.yaml:4:19 defined-twice"],
        ),
        (
            "cells: [{ id: X, resistance: { value: 50 mΩ, tester: gray } }]",
            vec!["plan.yaml:4:54 unknown-name"],
        ),
        ("packs: [P-2]", vec!["plan.yaml:4:9 unknown-name"]),
        ("as_of: 2026-02-30", vec!["plan.yaml:4:8 bad-date"]),
        (
            "meters: { voltage: ± 1 % }",
            vec!["plan.yaml:4:11 defined-twice"],
        ),
        ("meters: { voltage: ± (0.5 % + 10 mV) }", vec![]),
    ];
    for (rest, wanted) in all {
        assert_eq!(with_plan(&plan(rest)), wanted, "{rest}");
    }
    assert_eq!(
        with_plan("{ format: 1, bench: ./plan.yaml }"),
        ["plan.yaml:1:21 unknown-name"]
    );
    assert_eq!(
        with_plan("{ format: 1, bench: ./bunch.yaml }"),
        ["plan.yaml:1:21 unknown-name"]
    );
    assert_eq!(
        with_plan("{ format: 1, bench: ../bench.yaml }"),
        ["plan.yaml:1:21 unknown-name"]
    );
}

#[test]
fn faults_of_a_bench_are_told_with_those_of_the_proposal() {
    let bench = "
format: 1
bench: b
rules: [./bench.yaml, ../club.yaml, ./club.yaml]
lights: { lamp: { bays: two }, \"a  b\": {} }
testers: { grey: { capacity: { at: 0.5 V } } }
cells: [{ id: K1, in: lump }, { id: K1 }, { wrap: intact }, { id: K9, rest: { voltage: 3.7 V } }]
tables: { cells: ./cells.csv, readings: readings.csv, other: x }
";
    let cells = "id,wrap,rest.voltage,resistance.value [V],capcity.value [mAh]
K1,intact,3.7,1,1
K2,holey,3.7,1,1
K3,intact
";
    let readings = "id,date,what,value
K9,2026-11-01,rest.voltage,3.71 V
K9,2026-11-01,rest.voltage,3.72 V
K9,2026-11-02,rest.voltage,3.7
K9,01.11.2026,rest.voltage,3.7 V
K8,2026-11-02,rest.volts,3.7 V
K9,2026-11-03,charged,3.7 V
K9,2026-11-04,rest.voltage,
";
    let plan = "{ format: 1, bench: bench.yaml, arrangement: 1, cells: [K9] }";
    let found = problems_of(plan, &texts(bench, cells, readings));
    let mut wanted = vec![
        "bench.yaml:4:9 cycle",
        "bench.yaml:4:23 unreadable",
        "bench.yaml:4:37 unknown-ruleset",
        "bench.yaml:5:25 bad-number",
        "bench.yaml:5:32 bad-name",
        "bench.yaml:6:36 wrong-kind",
        "bench.yaml:7:23 unknown-name",
        "bench.yaml:7:37 defined-twice",
        "bench.yaml:7:43 missing-key",
        "bench.yaml:7:77 defined-twice",
        "bench.yaml:8:55 unknown-key",
        "cells.csv:1:9 no-unit",
        "cells.csv:1:22 wrong-kind",
        "cells.csv:1:43 unknown-key",
        "cells.csv:2:1 defined-twice",
        "cells.csv:3:4 unknown-option",
        "cells.csv:4:1 parts-disagree",
        "readings.csv:3:28 defined-twice",
        "readings.csv:4:28 no-unit",
        "readings.csv:5:4 bad-date",
        "readings.csv:6:1 unknown-name",
        "readings.csv:6:15 unknown-option",
        "readings.csv:7:23 wrong-shape",
        "readings.csv:8:1 missing-key",
        "plan.yaml:1:46 syntax",
    ];
    let mut found_sorted = found.clone();
    found_sorted.sort();
    wanted.sort_unstable();
    assert_eq!(found_sorted, wanted);
}

#[test]
fn other_documents_are_told_what_they_are() {
    let problems = |plan: &str, bench: &str| problems_of(plan, &texts(bench, "", ""));
    let plan = "{ format: 1, bench: bench.yaml, arrangement: 1S1P }";
    assert_eq!(
        problems(plan, "{ format: 1, arrangement: 1S1P }"),
        ["bench.yaml:1:14 wrong-shape"]
    );
    assert_eq!(
        problems(plan, "{ format: 1, ruleset: x }"),
        ["bench.yaml:1:14 wrong-shape"]
    );
    assert_eq!(
        problems(plan, "{ format: 1 }"),
        ["bench.yaml:1:1 missing-key"]
    );
    assert_eq!(
        problems(BENCH, ""),
        ["plan.yaml:9:1 wrong-shape"],
        "a bench is no proposal"
    );
}

#[test]
fn rulesets_in_force_apply_with_those_that_are_asked_for() {
    let club = "{ format: 1, ruleset: club, version: 1.0.0, title: Ours }";
    let bench = "{ format: 1, bench: b, rules: [club.yaml] }";
    let library = Texts::of([("spring/bench.yaml", bench), ("spring/club.yaml", club)]);
    let text = "{ format: 1, bench: ./spring/bench.yaml, arrangement: 1S1P }";
    let plan = plan(text, &library).expect("a plan");
    let asked = |names: &[&str]| {
        let names: Vec<String> = names.iter().map(ToString::to_string).collect();
        plan.rules(&names)
    };
    assert_eq!(asked(&[]), ["spring/club.yaml"]);
    assert_eq!(
        asked(&["rescued-cells"]),
        ["spring/club.yaml", "rescued-cells"]
    );
    let none = Plan::read(
        "p",
        b"{ format: 1 }".to_vec(),
        Syntax::Yaml,
        &mut Benches::of(&library),
    );
    assert_eq!(none.expect("a plan").rules(&[]), ["rescued-cells"]);
}
