//! Benches by the command: the club's, proposals that take from it, and what is wrong with them.

use serde_json::Value;

use crate::running::{Folder, Ran};

/// A file of the club's bench.
fn club(name: &str) -> String {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/club/");
    std::fs::read_to_string(format!("{folder}{name}")).expect("a file of the demo")
}

/// The club's bench in a folder, with its proposals.
fn clubhouse() -> Folder {
    let files = [
        "bench.yaml",
        "cells.csv",
        "readings.csv",
        "marshal-torch.yaml",
        "helmet-lamp.yaml",
        "start-hut.yaml",
    ];
    let folder = Folder::new();
    files
        .into_iter()
        .fold(folder, |folder, name| folder.and(name, club(name)))
}

/// The verdict, and the files in which values were written.
fn report(ran: &Ran) -> (Value, Vec<String>) {
    let report: Value = serde_json::from_str(&ran.out).expect("a report");
    let facts = report["facts"].as_array().expect("facts").iter();
    let mut files: Vec<String> = facts
        .flat_map(|fact| match &fact["file"] {
            Value::Array(files) => files.clone(),
            file => vec![file.clone()],
        })
        .filter_map(|file| file.as_str().map(str::to_owned))
        .collect();
    files.sort();
    files.dedup();
    (report, files)
}

fn says(report: &Value, words: &str) -> bool {
    let remarks = report["remarks"].as_array().expect("remarks");
    let said = remarks.iter().filter_map(|remark| remark["says"].as_str());
    said.into_iter().any(|said| said.contains(words))
}

#[test]
fn the_torch_of_the_club_passes_and_each_value_has_its_place() {
    let folder = clubhouse();
    let ran = folder.run(&["check", "--format", "json", "marshal-torch.yaml"]);
    let (report, files) = report(&ran);
    assert_eq!((ran.code, &report["verdict"]), (0, &Value::from("pass")));
    assert_eq!(files, Vec::<String>::new(), "a pass tells no values");
    let ran = folder.run(&["check", "--format", "json", "helmet-lamp.yaml"]);
    let (report, files) = self::report(&ran);
    assert_eq!((ran.code, &report["verdict"]), (1, &Value::from("refuse")));
    // The proposal itself is not named.
    assert_eq!(files, ["bench.yaml", "cells.csv", "readings.csv"]);
}

/// Nothing but places, and what else there is to take, differs where a proposal is written out.
#[test]
fn written_out_the_demos_give_the_same_report() {
    for name in ["marshal-torch", "helmet-lamp", "start-hut"] {
        let folder = clubhouse();
        let file = format!("{name}.yaml");
        let taken = folder.run(&["check", "--format", "json", &file]);
        for form in ["text", "json"] {
            let plain = folder.run(&["plain", "--format", form, &file]);
            assert_eq!(plain.code, 0, "{}", plain.err);
            // JSON is YAML too; it takes the name of the proposal.
            let alone = Folder::with(&file, plain.out);
            let again = alone.run(&["check", "--format", "json", &file]);
            assert_eq!(again.code, taken.code);
            assert_eq!(
                without_places(&again),
                without_places(&taken),
                "{name}, {form}"
            );
        }
    }
}

fn without_places(ran: &Ran) -> Value {
    let (mut report, _) = report(ran);
    // Written out there are no other cells to take.
    report
        .as_object_mut()
        .expect("a report")
        .remove("would_change");
    let facts = report["facts"].as_array_mut().expect("facts");
    for fact in facts.iter_mut().filter_map(Value::as_object_mut) {
        for key in ["file", "line", "column"] {
            fact.remove(key);
        }
    }
    report
}

#[test]
fn what_the_bench_knows_is_told() {
    let folder = clubhouse();
    let ran = folder.run(&[
        "check",
        "--format",
        "json",
        "helmet-lamp.yaml",
        "start-hut.yaml",
    ]);
    let reports: Value = serde_json::from_str(&ran.out).expect("two reports");
    for words in [
        "K4 is in the light `helmet-lamp`, by the bench.",
        "K4 is in the proposal helmet-lamp.yaml too.",
        "K5: capacity.value 2590 mAh of 2026-10-03 is more than the 2180 mAh of 2026-08-20",
        "K5: rest.voltage 3.866 V of 2026-09-26 counts no more",
        "with its readings as of 2026-10-03.",
    ] {
        assert!(says(&reports[1], words), "{words}");
    }
    let other = "K4 is in the proposal start-hut.yaml too.";
    assert!(
        says(&reports[0], other),
        "it is told too, though it is first"
    );
    assert!(!says(&reports[0], "is in the light"), "it is in this one");
    let early = club("start-hut.yaml").replace("light:", "as_of: 2026-09-30\nlight:");
    let folder = folder.and("early.yaml", early);
    let (report, _) = report(&folder.run(&["check", "--format", "json", "early.yaml"]));
    assert!(says(
        &report,
        "Later than 2026-09-30, and left out: 1 reading of K5."
    ));
    assert!(
        !says(&report, "another cell"),
        "the better test is not made yet"
    );
}

/// Each is told, in whatever order they are named: the order of files changes that of the answers.
#[test]
fn plans_that_use_one_cell_are_all_told() {
    let folder = clubhouse();
    let checked = |files: &[&str]| {
        let asked = [&["check", "--format", "json"], files].concat();
        let reports: Value = serde_json::from_str(&folder.run(&asked).out).expect("reports");
        reports.as_array().expect("reports").clone()
    };
    let all = ["helmet-lamp.yaml", "marshal-torch.yaml", "start-hut.yaml"];
    let mut other = all;
    other.reverse();
    let (there, back) = (checked(&all), checked(&other));
    assert!(there.iter().eq(back.iter().rev()), "the order counts");
    assert!(says(&there[0], "K4 is in the proposal start-hut.yaml too."));
    assert!(says(
        &there[2],
        "K4 is in the proposal helmet-lamp.yaml too."
    ));
    assert!(!says(&there[1], " too."), "M2 is in this one alone");
    // The answers to a folder say it in the end, and a plan that is asked for twice is one.
    let told = "In more than one proposal: K4 (helmet-lamp.yaml, start-hut.yaml)\n";
    assert!(folder.run(&["check", "."]).out.contains(told));
    let twice = folder.run(&["check", "helmet-lamp.yaml", "helmet-lamp.yaml"]);
    assert!(!twice.out.contains("In more than one"), "{}", twice.out);
}

/// Standard input can be read once only.
#[test]
fn a_plan_from_standard_input_is_told_too() {
    let folder = clubhouse();
    let asked = ["check", "--format", "json", "-", "start-hut.yaml"];
    let ran = folder.run_with(&asked, club("helmet-lamp.yaml"));
    let reports: Value = serde_json::from_str(&ran.out).expect("two reports");
    assert!(says(
        &reports[0],
        "K4 is in the proposal start-hut.yaml too."
    ));
    assert!(says(&reports[1], "K4 is in the proposal stdin too."));
}

/// A cell of a table is one cell, whichever bench has the table; a cell that two benches write out
/// under one name is two.
#[test]
fn benches_may_share_a_table() {
    let bench = |own: &str| {
        format!(
            "{{ format: 1, bench: b, lights: {{ torch: {{ arrangement: 1S2P }} }}, \
             tables: {{ cells: cells.csv }}, cells: [{{ id: {own} }}] }}"
        )
    };
    let plan = |bench: &str| {
        format!("{{ format: 1, title: t, bench: {bench}, light: torch, cells: [K1, K2] }}")
    };
    let folder = Folder::with("cells.csv", "id\nK1\n")
        .and("one.yaml", bench("K2"))
        .and("other.yaml", bench("K2"))
        .and("a.yaml", plan("./one.yaml"))
        .and("b.yaml", plan("./other.yaml"));
    let ran = folder.run(&["check", "--format", "json", "a.yaml", "b.yaml"]);
    let reports: Value = serde_json::from_str(&ran.out).expect("two reports");
    for (at, other) in [(0, "b"), (1, "a")] {
        let told = format!("K1 is in the proposal {other}.yaml too.");
        assert!(says(&reports[at], &told), "{}", reports[at]["remarks"]);
        assert!(!says(&reports[at], "K2 is in the proposal"));
    }
}

const CLUB: &str = "format: 1
ruleset: club
version: 1.0.0
title: Ours
cautions:
  - { id: ours, title: Ours, about: build, warn_unless: build.parallel == 2, reason: r, basis: [{ common_practice: p }] }
";

fn with_club(bench: &str) -> Folder {
    Folder::with("bench.yaml", bench)
        .and("club.yaml", CLUB)
        .and(
            "plan.yaml",
            "{ format: 1, bench: bench.yaml, arrangement: 1S1P }",
        )
}

fn rulesets(ran: &Ran) -> Vec<String> {
    let (report, _) = report(ran);
    let rules = report["rules"].as_array().expect("rules").iter();
    rules
        .map(|one| one["ruleset"].as_str().expect("a name").to_owned())
        .collect()
}

#[test]
fn the_rulesets_of_a_bench_apply_with_those_asked_for() {
    let folder = with_club("{ format: 1, bench: b, rules: [./club.yaml] }");
    let alone = folder.run(&["check", "--format", "json", "plan.yaml"]);
    assert_eq!(rulesets(&alone), ["club"]);
    let leaves_out = "None of the shipped rulesets takes part (`rescued-cells`, \
                      `rescued-cells-measured`): nothing that they ask for was checked.";
    assert!(says(&report(&alone).0, leaves_out));
    let asked = [
        "check",
        "--format",
        "json",
        "--rules",
        "rescued-cells",
        "plan.yaml",
    ];
    let both = folder.run(&asked);
    let mut found = rulesets(&both);
    found.sort();
    assert_eq!(found, ["club", "rescued-cells"]);
    assert!(!says(&report(&both).0, leaves_out));
    let none = with_club("{ format: 1, bench: b }");
    let usual = none.run(&["check", "--format", "json", "plan.yaml"]);
    assert_eq!(rulesets(&usual), ["rescued-cells"]);
}

#[test]
fn a_stream_takes_from_the_bench_that_it_is_given() {
    let folder = clubhouse();
    let lines = r#"{"format": 1, "light": "marshal-torch", "cells": ["M2"]}
{"format": 1, "bench": "./bench.yaml", "light": "marshal-torch", "cells": ["M2"]}
{"format": 1, "arrangement": "1S1P"}
"#;
    let ran = folder.run_with(&["stream", "--bench", "bench.yaml"], lines);
    let records: Vec<Value> = ran
        .out
        .lines()
        .map(|line| serde_json::from_str(line).expect("a record"))
        .collect();
    assert_eq!(records[0]["verdict"], "refuse", "{}", ran.out);
    assert_eq!(records[1]["problems"][0]["fault"], "defined-twice");
    assert_eq!(records[2]["verdict"], "refuse");
    let without = folder.run_with(&["stream"], lines);
    let records: Vec<Value> = without
        .out
        .lines()
        .map(|line| serde_json::from_str(line).expect("a record"))
        .collect();
    assert_eq!(
        records[1]["problems"][0]["fault"], "wrong-shape",
        "none is at hand"
    );
    let missing = folder.run_with(&["stream", "--bench", "bunch.yaml"], lines);
    assert_eq!((missing.code, missing.out.as_str()), (2, ""));
}

/// A bench that others wrote reads nothing outside its folder.
#[cfg(unix)]
#[test]
fn links_do_not_lead_out_of_the_folder_of_a_bench() {
    let outside = Folder::with("cells.csv", "id\nK4\n").and("club.yaml", CLUB);
    let folder = Folder::with(
        "bench.yaml",
        "{ format: 1, bench: b, tables: { cells: cells.csv } }",
    )
    .and(
        "plan.yaml",
        "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4] }",
    );
    let (from, to) = (
        outside.path().join("cells.csv"),
        folder.path().join("cells.csv"),
    );
    std::os::unix::fs::symlink(from, to).expect("a link");
    let ran = folder.run(&["check", "plan.yaml"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err
            .contains("`cells.csv` is no file in the folder of the bench"),
        "{}",
        ran.err
    );
}

/// The folder that rulesets are read from is that of benches too.
#[test]
fn a_bench_outside_the_folder_for_rules_is_not_read() {
    let outside = Folder::with("bench.yaml", "{ format: 1, bench: b }");
    let bench = outside.path().join("bench.yaml");
    let plan = format!(
        "{{ format: 1, bench: '{}', arrangement: 1S1P }}",
        bench.display()
    );
    let folder = Folder::with("plan.yaml", plan);
    let anywhere = folder.run(&["check", "plan.yaml"]);
    assert_eq!(anywhere.code, 1, "{}", anywhere.err);
    let within = folder.run(&["check", "--rules-within", ".", "plan.yaml"]);
    assert_eq!(within.code, 2);
    assert!(within.err.contains("plan.yaml:1:21"), "{}", within.err);
}

#[test]
fn faults_of_a_table_are_shown_in_it() {
    let folder = Folder::with(
        "bench.yaml",
        "{ format: 1, bench: b, tables: { cells: cells.csv } }",
    )
    .and(
        "cells.csv",
        "id;rest.voltage [V];capcity.value [mAh]\nK4;3,71;2310\nK5;3,7x;2310\nK5;;\n",
    )
    .and(
        "plan.yaml",
        "{ format: 1, bench: bench.yaml, arrangement: 1S1P, cells: [K4, K6] }",
    );
    insta::assert_snapshot!(folder.run(&["check", "plan.yaml"]).whole());
}
