//! Small rules of which it is plain what would change a refusal. The values expected were worked out
//! by hand.

use rules_core::check::{Change, Options, Verdict, WouldChange, check};
use rules_core::document::Syntax;
use rules_core::ruleset::{Rules, Texts};

use super::*;
use crate::bench::{Benches, Plan};
use crate::jobs::small_rules::{WRAP, rules};

const DRAW: (&str, &str) = (
    "draw",
    "about: light, refuse_unless: light.draw_current <= 2 A",
);
const TIME: (&str, &str) = (
    "time",
    "about: conditions, refuse_unless: conditions.run_time <= 1 h",
);
const WATCH: (&str, &str) = ("watch", "about: charging, warn_unless: charging.attended");
const SPACER: (&str, &str) = (
    "spacer",
    "about: light, refuse_unless: light.spacer == none",
);
const HEAT: (&str, &str) = (
    "heat",
    "about: light, refuse_unless: light.draw_current <= 1 A or charging.ambient <= 10 degC",
);

const BENCH: &str = "
format: 1
bench: Clubhouse of the night relay
lights:
  torch: { bays: 1, draw: 1 A, arrangement: 1S1P }
  lantern: { draw: 6 A, arrangement: 1S2P }
  helmet-lamp: { draw: 6 A, arrangement: 2S1P }
chargers: { near-door: { on_way_out: yes }, at-desk: { on_way_out: no } }
cells:
  - { id: K4, wrap: torn }
  - { id: K5, wrap: intact }
  - { id: K6, wrap: intact, in: torch }
  - { id: K7, wrap: intact }
";

fn found_in(rules: &Rules, plan: &str, most: usize) -> Option<WouldChange> {
    let texts = Texts::of([("bench.yaml", BENCH)]);
    let arrangement = match plan.contains("arrangement:") {
        true => "",
        false => "arrangement: 1S1P, ",
    };
    let plan = format!("{{ format: 1, title: t, {arrangement}{plan} }}");
    let plan = Plan::read(
        "plan.yaml",
        plan.into(),
        Syntax::Yaml,
        &mut Benches::of(&texts),
    );
    let plan = plan.unwrap();
    let options = Options::default();
    let report = check(rules, &plan.proposal(Some(rules)).unwrap(), options).unwrap();
    let trial = Trial::of(&plan, rules, options).unwrap();
    would_change_within(&trial, &report, most)
}

fn found(cautions: &[(&str, &str)], plan: &str) -> Option<WouldChange> {
    found_in(&rules(cautions), plan, MOST_CHECKS)
}

fn change(place: &str, is: &str, to: &[&str]) -> Change {
    Change {
        place: place.into(),
        is: is.into(),
        to: to.iter().map(ToString::to_string).collect(),
    }
}

fn alone(found: &WouldChange) -> Vec<(Vec<Change>, Verdict)> {
    let all = found.alone.iter();
    all.map(|turn| (turn.changes.clone(), turn.verdict))
        .collect()
}

#[test]
fn the_nearest_value_of_a_number_is_that_at_its_limit() {
    let found = found(&[DRAW], "light: { draw: 5 A }").unwrap();
    assert_eq!(
        alone(&found),
        [(vec![change("light.draw", "5 A", &["2 A"])], Verdict::Pass)]
    );
    assert_eq!((found.against, found.all_tried), (1, true));
    assert_eq!(
        (found.together, found.partly, found.stands),
        (None, None, vec![])
    );
}

#[test]
fn each_value_that_is_enough_by_itself_is_told() {
    let plan = "light: { draw: 2 A }, charging: { ambient: 20 degC }";
    let found = found(&[HEAT], plan).unwrap();
    let draw = change("light.draw", "2 A", &["1 A"]);
    let ambient = change("charging.ambient", "20 degC", &["10 degC"]);
    let both = [(vec![draw], Verdict::Pass), (vec![ambient], Verdict::Pass)];
    assert_eq!(alone(&found), both);
}

#[test]
fn two_refusals_take_two_changes_and_fewer_are_shown_not_to_do() {
    let plan = "light: { draw: 5 A }, conditions: { run_time: 2 h }, charging: { attended: no }";
    let found = found(&[DRAW, TIME, WATCH], plan).unwrap();
    let together = found.together.unwrap();
    let changes = [
        change("light.draw", "5 A", &["2 A"]),
        change("conditions.run_time", "2 h", &["60 min"]),
    ];
    assert_eq!(together.turn.changes, changes);
    // That nobody watches warns still.
    assert_eq!(
        (together.turn.verdict, together.turn.lifts),
        (Verdict::Warn, 2)
    );
    assert!(together.fewest && found.alone.is_empty());
}

#[test]
fn what_reads_nothing_that_can_be_changed_stands() {
    let plan = "light: { draw: 5 A, spacer: metal }, cells: [{ id: K4, wrap: torn }]";
    let found = found(&[DRAW, SPACER, WRAP], plan).unwrap();
    assert_eq!(found.stands, ["spacer"]);
    assert_eq!(found.only_others.unwrap().cautions, ["wrap"]);
    assert_eq!((found.alone, found.together), (vec![], None));
}

#[test]
fn cells_of_the_bench_that_are_in_no_light_are_tried() {
    let plan = "bench: ./bench.yaml, light: { draw: 1 A }, cells: [K4]";
    let found = found(&[DRAW, WRAP], plan).unwrap();
    // K6 is in a light.
    let other = change("cells", "K4", &["K5", "K7"]);
    assert_eq!(alone(&found), [(vec![other], Verdict::Pass)]);
}

#[test]
fn a_cell_and_a_value_together() {
    let plan = "bench: ./bench.yaml, light: { draw: 3 A }, cells: [K4]";
    let found = found(&[DRAW, WRAP], plan).unwrap();
    let together = found.together.unwrap();
    let changes = [
        change("cells", "K4", &["K5"]),
        change("light.draw", "3 A", &["2 A"]),
    ];
    assert_eq!(
        (together.turn.changes, together.fewest),
        (changes.to_vec(), true)
    );
}

/// At most 3 A for each cell in parallel.
const SHARE: (&str, &str) = (
    "share",
    "about: build, refuse_unless: 6 A <= 3 A * build.parallel",
);
const FEW: (&str, &str) = ("few", "about: build, refuse_unless: build.cells <= 1");

#[test]
fn a_cell_of_the_bench_joins_in_parallel() {
    let plan = "bench: ./bench.yaml, cells: [K5]";
    let found = found(&[SHARE, WRAP], plan).unwrap();
    // K4 is torn, and K6 is in a light.
    let changes = [
        change("arrangement", "1S1P", &["1S2P"]),
        change("cells", "", &["K7"]),
    ];
    assert_eq!(alone(&found), [(changes.to_vec(), Verdict::Pass)]);
    assert!(found.all_tried);
}

#[test]
fn each_group_takes_a_cell_more() {
    let plan = "bench: ./bench.yaml, arrangement: 2S1P, cells: [K5, K7]";
    // Only K4 is left, which is not enough for two groups.
    assert_eq!(found(&[SHARE], plan).unwrap().alone, []);
    let plan = "bench: ./bench.yaml, arrangement: 2S1P, cells: [{ id: X1 }, { id: X2 }]";
    let found = found(&[SHARE], plan).unwrap();
    let (changes, verdict) = alone(&found).remove(0);
    let expected = [
        change("arrangement", "2S1P", &["2S2P"]),
        change("cells", "", &["K4"]),
        change("cells", "", &["K5"]),
    ];
    assert_eq!((changes, verdict), (expected.to_vec(), Verdict::Pass));
}

#[test]
fn a_cell_in_parallel_is_left_out() {
    let plan = "bench: ./bench.yaml, arrangement: 1S2P, cells: [K4, K5]";
    let found = found(&[FEW, WRAP], plan).unwrap();
    // Without K5 the torn one would be left.
    let changes = [
        change("arrangement", "1S2P", &["1S1P"]),
        change("cells", "K4", &[]),
    ];
    assert_eq!(alone(&found), [(changes.to_vec(), Verdict::Pass)]);
}

/// Without a bench the count is a number where nobody lists the cells, and else none.
#[test]
fn a_count_that_nobody_lists_is_a_number() {
    let more = |to| (vec![change("arrangement", "1S1P", &[to])], Verdict::Pass);
    assert_eq!(
        alone(&found(&[SHARE], "light: { bays: 2 }").unwrap()),
        [more("1S2P")]
    );
    let listed = found(&[SHARE], "light: { bays: 2 }, cells: [{ id: K4 }]").unwrap();
    assert_eq!(listed.alone, []);
}

#[test]
fn another_charger_of_the_bench_is_tried() {
    let way_out = (
        "way-out",
        "about: charging, refuse_unless: not charging.on_way_out",
    );
    for charging in ["near-door", "{ of: near-door, current: 1 A }"] {
        let plan = format!("bench: ./bench.yaml, light: torch, charging: {charging}, cells: [K5]");
        let found = found(&[way_out], &plan).unwrap();
        let to: Vec<_> = found.alone.iter().flat_map(|turn| &turn.changes).collect();
        assert!(
            to.iter().any(|change| change.to == ["at-desk"]),
            "{charging}: {found:?}"
        );
    }
}

/// What is left open stands for every value, and not for that it is known: a caution that asks this
/// shows nothing.
#[test]
fn that_a_value_is_known_is_no_proof() {
    let known = (
        "known",
        "about: light, refuse_unless: light.cut_off is known and light.cut_off >= 3 V",
    );
    let found = found(&[known], "light: { cut_off: 2.5 V }").unwrap();
    let to = &found.alone.first().unwrap().changes;
    assert_eq!(to[..], [change("light.cut_off", "2.5 V", &["3 V"])]);
}

#[test]
fn nothing_is_said_where_nothing_refuses_or_an_answer_could_lift_it() {
    assert_eq!(found(&[DRAW], "light: { draw: 1 A }"), None);
    assert_eq!(found(&[DRAW], "light: { bays: 1 }"), None);
    assert_eq!(found(&[WATCH], "charging: { attended: no }"), None);
    let half = found(&[DRAW, TIME], "light: { draw: 3 A }").unwrap();
    let [turn] = half.alone.as_slice() else {
        panic!("{half:?}")
    };
    // The time is not known, and holds it still.
    assert_eq!((turn.verdict, turn.best), (Verdict::Refuse, Verdict::Pass));
}

#[test]
fn no_more_checks_are_made_than_the_bound() {
    for most in [0, 1, 2, 5] {
        let found = found_in(&rules(&[DRAW]), "light: { draw: 5 A }", most).unwrap();
        assert_eq!((found.checks, found.all_tried), (most, false));
    }
}
