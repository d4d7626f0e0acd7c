//! Benches of which the answer was written down before the choice was made, and benches that leave
//! nothing to choose.

use std::sync::Arc;

use rules_core::check::Options;
use rules_core::ruleset::{Rules, Texts};
use rulesets::jobs::Trial;
use rulesets::jobs::choose::{Choice, Stands, Wish, choose, text};
use rulesets::{Bench, Draft, Plain, rules_from_texts, shipped_rules};
use serde_json::{Value, json};

use super::setting::{Chance, lamp, like_cells, sound_cell, trial};

/// Ratings are stated and so exact: margins can be worked out by hand.
const TWO_CAUTIONS: &str = "
format: 1
ruleset: two-cautions
version: 1.0.0
title: Two cautions whose margins are plain
limits:
  apart: { value: 100 mAh, stricter: lower, meaning: Most apart, basis: [{ common_practice: a test }] }
  least: { value: 2.0 A, stricter: higher, meaning: Least rating, basis: [{ common_practice: a test }] }
cautions:
  - id: ratings-apart
    title: Ratings apart
    about: build
    refuse_unless: spread of cell.rated_capacity <= limit.apart
    reason: They are apart.
    basis: [{ common_practice: a test }]
  - id: rating-low
    title: Rating low
    about: each cell
    refuse_unless: cell.rated_discharge >= limit.least
    reason: It is low.
    basis: [{ common_practice: a test }]
";

const BENCH: &str = "
format: 1
bench: Six cells
lights:
  helmet-lamp: { bays: 2, arrangement: 2S1P }
  other-lamp: { bays: 1, arrangement: 1S1P }
cells:
  - { id: A, rated: { capacity: 2000 mAh, discharge: 2.1 A } }
  - { id: B, rated: { capacity: 2040 mAh, discharge: 4 A } }
  - { id: C, rated: { capacity: 2100 mAh, discharge: 4 A } }
  - { id: D, rated: { capacity: 2150 mAh, discharge: 4 A } }
  - { id: E, rated: { capacity: 2190 mAh, discharge: 2.06 A } }
  - { id: F, rated: { capacity: 2600 mAh, discharge: 4 A } }
  - { id: G, in: other-lamp, rated: { capacity: 2100 mAh, discharge: 4 A } }
";

fn chosen(rules: &Rules, bench: &str, light: &str, wish: Wish) -> Choice {
    let files = Texts::of([("bench.yaml", bench)]);
    let bench = Arc::new(Bench::load("bench.yaml", &files).expect("a bench"));
    let plan = json!({ "format": 1, "title": "by hand", "light": light });
    let trial = Trial::beside(
        Some(&bench),
        Draft::of("plan", plan),
        rules,
        Options::default(),
    );
    choose(&trial, &wish).expect("a choice")
}

fn sets(choice: &Choice) -> Vec<String> {
    choice
        .sets
        .iter()
        .map(|set| set.groups.concat().concat())
        .collect()
}

/// C and D are 50 mAh apart, half of what may be: 50 %. B and C: 40 %. A is 5 % over its limit, E 3 %;
/// with E the next margins decide, 60 % of D beside it before 10 % of C. A and C are apart by all that
/// may be. All others are too far apart, or F.
#[test]
fn of_six_cells() {
    let rules = rules_from_texts(&["two.yaml"], Texts::of([("two.yaml", TWO_CAUTIONS)]));
    let rules = rules.expect("rules");
    let wish = Wish {
        sets: 9,
        ..Wish::default()
    };
    let choice = chosen(&rules, BENCH, "helmet-lamp", wish);
    assert_eq!(sets(&choice), ["CD", "BC", "AB", "DE", "CE", "AC"]);
    let narrowest = choice.sets.iter().filter_map(|set| set.narrowest.as_ref());
    let percent: Vec<f64> = narrowest.map(|margin| margin.percent).collect();
    assert_eq!(percent, [50.0, 40.0, 5.0, 3.0, 3.0, 0.0]);
    assert_eq!((choice.searched.sets, choice.searched.unsearched), (15, 0));
    // G is in another lamp. Offered, it is as far from D as C is, and it is none from C.
    assert_eq!(choice.in_other_lights.len(), 1);
    let wish = Wish {
        sets: 3,
        from_other_lights: true,
        ..Wish::default()
    };
    let choice = chosen(&rules, BENCH, "helmet-lamp", wish);
    assert_eq!(sets(&choice), ["CG", "CD", "DG"]);
}

#[test]
fn an_empty_bench_has_no_set() {
    let rules = shipped_rules().expect("the shipped rules");
    let bench = "{ format: 1, bench: Empty, lights: { lamp: { arrangement: 2S1P } } }";
    let choice = chosen(&rules, bench, "lamp", Wish::default());
    assert_eq!(
        (choice.offered, choice.sets.len(), choice.searched.sets),
        (0, 0, 0)
    );
    let page = text(&choice, 80, &Plain);
    assert!(
        page.starts_with("No set: 2S1P needs cells, and none is offered."),
        "{page}"
    );
}

#[test]
fn a_light_that_no_cell_fits_says_so_of_each_cell() {
    let rules = shipped_rules().expect("the shipped rules");
    let cells = (0..5).map(|at| sound_cell(&format!("K{at}"))).collect();
    let trial = trial(lamp(2, 1, cells), &rules);
    let short = trial
        .with(|draft| draft.set("light.bay.length", "50.0 mm"))
        .expect("a plan");
    let choice = choose(&short, &Wish::default()).expect("a choice");
    assert_eq!(choice.sets[0].stands, Stands::Refused);
    assert_eq!(choice.in_the_way.refused_cells, 5);
    let first = &choice.in_the_way.by[0];
    assert_eq!(
        (&*first.caution, first.cells.len()),
        ("cell-does-not-fit", 5)
    );
    let page = text(&choice, 80, &Plain);
    assert!(
        page.contains("5 of 5 cells can go into no set of this light:"),
        "{page}"
    );
}

/// Of cells of which nothing is known no set is said to pass or to be refused. There are more than
/// can be searched, and none is the best.
#[test]
fn of_unknown_cells_it_says_what_was_left() {
    let rules = shipped_rules().expect("the shipped rules");
    let cells: Vec<Value> = (0..60)
        .map(|at| json!({ "id": format!("K{at:02}") }))
        .collect();
    let trial = trial(lamp(3, 2, cells), &rules);
    let wish = Wish {
        sets: 2,
        most_checks: 2_500,
        ..Wish::default()
    };
    let choice = choose(&trial, &wish).expect("a choice");
    assert_eq!(choice.sets[0].stands, Stands::NothingAgainst);
    assert!(choice.sets[0].questions > 0);
    // 60! / (54! 2!^3 3!)
    assert_eq!(choice.searched.sets, 750_957_900);
    // All are alike, so that each of the others could be as good as those that were checked.
    let searched = choice.searched;
    assert!(searched.checked >= 1, "{searched:?}");
    assert_eq!(searched.unsearched, searched.sets - searched.checked);
    let page = text(&choice, 80, &Plain);
    assert!(page.starts_with("REFUSE until "), "{page}");
    assert!(page.contains("unsearched"), "{page}");
}

/// What may be searched is what is asked for: with more of it, what was left is proved.
#[test]
fn more_checks_search_further() {
    let rules = shipped_rules().expect("the shipped rules");
    let trial = trial(lamp(2, 2, like_cells(24, &mut Chance::of(24))), &rules);
    let unsearched = |most_checks| {
        let wish = Wish {
            most_checks,
            ..Wish::default()
        };
        choose(&trial, &wish).expect("a choice").searched.unsearched
    };
    // 24! / (20! 2!^2 2!)
    assert!((1..=31_878).contains(&unsearched(1)));
    assert_eq!(unsearched(30_000), 0);
}

/// A cell that is described better is never left for one of which less is known, and what it asks is
/// counted.
#[test]
fn knowing_less_never_helps() {
    let rules = shipped_rules().expect("the shipped rules");
    let mut cells = like_cells(3, &mut Chance::of(3));
    cells.push(json!({ "id": "K99" }));
    let trial = trial(lamp(2, 1, cells), &rules);
    let wish = Wish {
        sets: 6,
        not_passing: true,
        ..Wish::default()
    };
    let choice = choose(&trial, &wish).expect("a choice");
    let blank = |set: &Vec<Vec<String>>| set.concat().contains(&"K99".to_owned());
    let blanks: Vec<bool> = choice.sets.iter().map(|set| blank(&set.groups)).collect();
    assert_eq!(blanks, [false, false, false, true, true, true]);
}

#[test]
fn what_is_wrong_with_one_cell_leaves_the_others() {
    let rules = shipped_rules().expect("the shipped rules");
    let mut cells = like_cells(3, &mut Chance::of(3));
    cells[1]["wrap"] = json!("torne");
    let trial = trial(lamp(2, 1, cells), &rules);
    let choice = choose(&trial, &Wish::default()).expect("a choice");
    assert_eq!((choice.offered, choice.searched.sets), (2, 1));
    assert_eq!(choice.unreadable[0].cell, "K01");
    assert!(
        choice.unreadable[0].says[0].contains("torne"),
        "{:?}",
        choice.unreadable
    );
}

#[test]
fn a_choice_conforms_to_its_schema() {
    let rules = shipped_rules().expect("the shipped rules");
    let schema = rulesets::schema::by_name("choice").expect("a schema");
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    let trial = trial(lamp(2, 1, like_cells(3, &mut Chance::of(3))), &rules);
    let choice = choose(&trial, &Wish::default()).expect("a choice");
    let value = serde_json::to_value(&choice).expect("JSON");
    let objections: Vec<String> = validator
        .iter_errors(&value)
        .map(|error| error.to_string())
        .collect();
    assert_eq!(objections, Vec::<String>::new());
}
