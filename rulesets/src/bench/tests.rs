//! What a proposal and its bench make, written out by hand.

use std::sync::OnceLock;

use rules_core::document::{ProblemList, Syntax};
use rules_core::ruleset::{Rules, Texts};

use super::{Benches, Plan};
use crate::front::shipped_rules;

mod faults;
mod in_the_making;
mod lasting;
mod over_time;

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

const PLAN: &str = "
format: 1
bench: ./bench.yaml
as_of: 2026-10-31
light: helmet-lamp
charging: { of: four-bay, at: hut, current: 1.0 A }
conditions: { at: hut, run_time: 90 min }
cells: [K4, { of: K7, group: A }]
";

const PLAIN: &str = "format: 1
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

#[test]
fn what_a_proposal_names_is_written_out() {
    let (own, notes) = plain(PLAN);
    let sorted = |text: &str| {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        lines.sort();
        lines
    };
    assert_eq!(sorted(&own), sorted(PLAIN), "{own}");
    // What a person should look at comes first; the second names the bench with its digest.
    assert_eq!(
        (notes.len(), notes[0].as_str(), notes[2].as_str()),
        (
            3,
            "Later than 2026-10-31, and left out: 1 reading of K4.",
            "K4: 2026-09-20 (41 days before) capacity.value 2310 mAh; 2026-10-31 (the same day) \
             rest.voltage 4.144 V; drift from 2026-10-03 to 2026-10-31.",
        )
    );
    assert!(
        notes[1].starts_with("Taken from the bench `Clubhouse` (sha256:"),
        "{}",
        notes[1]
    );
    assert!(
        notes[1].ends_with("with its readings as of 2026-10-31."),
        "{}",
        notes[1]
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
