//! For which values a plan passes: the club's demo as text and as JSON, maps, choices, bad input.

use crate::running::{Folder, Ran};

const TORCH: &str = "marshal-torch.yaml";

/// In a folder with the demo of the club.
fn range(args: &[&str]) -> Ran {
    Folder::with(TORCH, include_str!("../../demo/club/marshal-torch.yaml"))
        .and("bench.yaml", include_str!("../../demo/club/bench.yaml"))
        .and("cells.csv", include_str!("../../demo/club/cells.csv"))
        .and("readings.csv", include_str!("../../demo/club/readings.csv"))
        .run(&[&["range"], args].concat())
}

fn json(args: &[&str]) -> serde_json::Value {
    let ran = range(&[args, &["--format", "json"]].concat());
    serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{}", ran.whole()))
}

#[test]
fn the_draw_of_the_marshals_torch() {
    let ran = range(&[TORCH, "light.draw"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!("range_draw_of_the_torch", ran.out);
}

#[test]
fn a_map_of_draw_and_ambient() {
    let args = ["light.draw", "--and", "conditions.ambient"];
    let ran = range(&[&[TORCH], &args[..]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!("range_map_of_the_torch", ran.out);
}

/// The bench says `look: sound`, one word for the sleeve and more: what is varied counts instead of
/// its part.
#[test]
fn a_choice_lists_its_options() {
    let ran = range(&[TORCH, "cells[M2].wrap"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!("range_sleeve_of_a_cell", ran.out);
}

#[test]
fn a_program_gets_the_pieces_in_the_unit_that_was_asked_for() {
    let ends = [
        "--from",
        "1000 mW",
        "--to",
        "5000 mW",
        "--resolution",
        "100 mW",
    ];
    let told = json(&[&[TORCH, "light.draw"], &ends[..]].concat());
    assert_eq!(told["fact"]["unit"], "mW");
    assert_eq!(told["fact"]["path"], "light.draw");
    let pieces = told["pieces"].as_array().expect("pieces");
    assert_eq!(pieces[0]["from"]["text"], "1000 mW");
    assert_eq!(pieces[0]["found"]["class"], "pass");
    assert_eq!(pieces.last().expect("one")["to"]["value"], 5000.0);
    for pair in pieces.windows(2) {
        assert_eq!(pair[0]["to"], pair[1]["from"], "pieces meet at their ends");
    }
    let notice = told["search"]["notice"].as_array().expect("the notice");
    assert!(notice.len() >= 4);
}

/// By hand: the tester of the bench reads 2120 mAh to 3 %, so that the cell holds 2056.4 to 2183.6 mAh.
/// Half of that an hour, which the rules allow (`charge_rate_most`), is 1.0282 A to 1.0918 A: up to the
/// one the charge surely passes, above the other it surely warns.
#[test]
fn a_charge_passes_up_to_half_of_the_capacity_an_hour() {
    let ends = [
        "--from",
        "0.9 A",
        "--to",
        "1.2 A",
        "--resolution",
        "0.001 A",
    ];
    let told = json(&[&[TORCH, "charging.current"], &ends[..]].concat());
    let pieces = told["pieces"].as_array().expect("pieces");
    let ends: Vec<(&str, f64)> = pieces
        .iter()
        .map(|one| {
            let class = one["found"]["class"].as_str().expect("a class");
            (class, one["to"]["value"].as_f64().expect("a number"))
        })
        .collect();
    assert_eq!(ends, [("pass", 1.028), ("open", 1.092), ("warn", 1.2)]);
    let caution = &pieces[2]["found"]["cautions"][0];
    assert_eq!(caution["caution"], "charge-current-high");
    assert_eq!(caution["subjects"], serde_json::json!(["M2"]));
}

#[test]
fn temperatures_go_below_zero() {
    let ends = ["--from", "-10 degC", "--to", "40 degC"];
    let told = json(&[&[TORCH, "conditions.ambient"], &ends[..]].concat());
    assert_eq!(told["fact"]["range"]["from"]["value"], -10.0);
}

#[test]
fn bad_input_gets_a_place_and_help() {
    let table: [(&[&str], &str); 6] = [
        (&["light.drw"], "did you mean `light.draw`?"),
        (&["light.draw", "--from", "3 V"], "--from:1:1"),
        (
            &["light.draw", "--from", "3 W", "--to", "2 W"],
            "a last one above it",
        ),
        (&["light.drive", "--from", "1 A"], "each of `direct`"),
        (
            &["light.draw", "--and", "light.drive"],
            "its options are then listed",
        ),
        (&["light.draw", "--and", "light.draw"], "name two facts"),
    ];
    for (args, help) in table {
        let ran = range(&[&[TORCH], args].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(ran.err.contains(help), "{args:?}: {}", ran.err);
    }
    let told = json(&[TORCH, "light.drw"]);
    assert_eq!(told["problems"][0]["fault"], "unknown-name");
}

#[test]
fn a_second_range_needs_a_second_fact() {
    let ran = range(&[TORCH, "light.draw", "--and-from", "3 W"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("--and"), "{}", ran.err);
}
