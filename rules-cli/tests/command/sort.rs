//! Sorting the cells of a bench and writing their tags, by the command.

use serde_json::Value;

use crate::running::{Folder, Ran};

/// The club's bench in a folder.
fn clubhouse() -> Folder {
    let club = |name: &str| {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/club/");
        std::fs::read_to_string(format!("{folder}{name}")).expect("a file of the demo")
    };
    let files = ["bench.yaml", "cells.csv", "readings.csv"];
    let folder = Folder::new();
    files
        .into_iter()
        .fold(folder, |folder, name| folder.and(name, club(name)))
}

fn json(ran: &Ran) -> Value {
    serde_json::from_str(&ran.out).expect("JSON")
}

#[test]
fn the_clubs_cells_are_sorted() {
    let ran = clubhouse().run(&["sort"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.whole());
    for line in [
        "  sound      6   M1 M2 M3 M5 M6 M8",
        "  set aside  2   K7 M7",
        "  retire     6   T1 T2 T3 T4 T5 T6",
        "                   K5 N2: not known yet: rest.voltage",
        "In a light already: K4 K7 in helmet-lamp, M2 in marshal-torch.",
        "  M2 2120 mAh  refuse       with others  pass           with others",
        "No cell goes into gate-lamp: Single cell whose discharge nothing stops.",
    ] {
        assert!(
            ran.out.lines().any(|one| one == line),
            "{line}\n{}",
            ran.out
        );
    }
    assert!(ran.out.contains("Regulators advise against loose cells."));
}

#[test]
fn each_form_says_the_same() {
    let folder = clubhouse();
    let sorted = json(&folder.run(&["sort", "bench.yaml", "--format", "json"]));
    let table = folder.run(&["sort", "bench.yaml", "--format", "csv"]);
    let rows: Vec<&str> = table.out.lines().collect();
    let cells = sorted["cells"].as_array().expect("cells");
    assert_eq!(rows.len(), cells.len() + 1);
    for (row, cell) in rows[1..].iter().zip(cells) {
        let [id, grade] = [&cell["id"], &cell["grade"]].map(|one| one.as_str().expect("a text"));
        assert!(row.starts_with(&format!("{id},{grade},")), "{row}");
    }
    assert!(
        table.err.contains("Regulators advise against loose cells."),
        "{}",
        table.err
    );
    assert!(
        sorted["notice"]
            .as_array()
            .is_some_and(|notice| !notice.is_empty())
    );
}

#[test]
fn tags_are_written_for_those_that_are_asked_for() {
    let folder = clubhouse();
    let ran = folder.run(&["tag", "bench.yaml", "K7", "K4", "--columns", "40"]);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    let lines: Vec<&str> = ran.out.lines().collect();
    assert_eq!(lines.len(), 12, "{}", ran.out);
    assert_eq!(
        (lines[0], lines[6]),
        ("K4 watch, read 2026-09-26", "K7 set aside, read 2026-09-26")
    );
    assert!(ran.err.contains("Regulators advise against loose cells."));
    let all = json(&folder.run(&["tag", "--format", "json"]));
    assert_eq!(all["tags"].as_array().map(Vec::len), Some(24));
}

#[test]
fn what_cannot_be_sorted_is_told() {
    let folder = clubhouse();
    let told = |args: &[&str], code: u8, words: &str| {
        let ran = folder.run(args);
        assert_eq!(ran.code, i32::from(code), "{}", ran.whole());
        assert!(ran.whole().contains(words), "{}", ran.whole());
    };
    told(&["sort", "club.yaml"], 2, "`club.yaml` cannot be read");
    told(
        &["sort", "--as-of", "2026-02-30"],
        2,
        "write it as `2026-11-29`",
    );
    told(&["tag", "bench.yaml", "K44"], 2, "did you mean `K4`?");
    told(
        &["tag", "bench.yaml", "K4", "--columns", "13", "--lines", "3"],
        2,
        "--lines",
    );
    told(&["sort", "--rules", "club-practice"], 2, "club-practice");
    let ran = folder.run(&["sort", "cells.csv", "--format", "json"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(json(&ran)["problems"].is_array());
}

#[test]
fn a_bench_without_cells_is_told_and_nothing_is_sorted() {
    let folder = Folder::with("bench.yaml", "format: 1\nbench: An empty shelf\n");
    let ran = folder.run(&["sort"]);
    assert_eq!(ran.code, 3, "{}", ran.whole());
    assert!(
        ran.out
            .starts_with("No cells: the bench `An empty shelf` lists none"),
        "{}",
        ran.out
    );
    assert_eq!(folder.run(&["tag"]).code, 3);
}

/// Who names the plan in place of its bench is told so, and nothing of what no bench has.
#[test]
fn a_plan_in_place_of_its_bench_is_told_in_one_message() {
    let plan = "format: 1\ntitle: T\nbench: ./bench.yaml\nlight: helmet-lamp\ncells: [K4]\n";
    let ran = clubhouse()
        .and("plan.yaml", plan)
        .run(&["sort", "plan.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
    assert_eq!(ran.err.matches("error").count(), 1, "{}", ran.err);
    let said = "plan.yaml:3:8: error: this is a plan, which takes from the bench `./bench.yaml`";
    assert!(ran.err.contains(said), "{}", ran.err);
}

/// What a refusal means for a cell is said, be it of the caution or of its stage.
#[test]
fn explain_says_what_becomes_of_a_refused_cell() {
    for (caution, refused) in [
        ("rest-voltage-over", "retire"),
        ("rest-voltage-low", "set-aside"),
        ("battery-outside-input", "keep-out"),
        ("spares-loose", ""),
    ] {
        let ran = Folder::new().run(&["explain", caution]);
        let line = ran.out.lines().find(|line| line.contains("Refused:"));
        let said = line.map_or("", |line| line.trim_start_matches("  Refused:").trim());
        assert_eq!(said.split(':').next(), Some(refused), "{}", ran.whole());
    }
}
