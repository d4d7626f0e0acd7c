//! Checks of some stages alone, and stages in lists, as sections 6 and 7 of the language have them.

use serde_json::{Value, json};

use crate::running::{Folder, Ran};

const RULES: &str = "format: 1
ruleset: rules
version: 1.0.0
title: Rules for the tests of stages
stages: { sorting: Sorting cells, fitting: Fitting cell and light, using: Using }
cautions:
  - id: rest-low
    title: Low cell
    about: each cell
    stage: sorting
    refuse_unless: cell.rest_voltage >= 3 V
    reason: low
  - id: bays-few
    title: Too few bays
    about: light
    stage: fitting
    warn_unless: light.bays >= 2
    reason: few
  - id: body-marked
    title: Dented cell
    about: each cell
    refuse_unless: cell.body == sound
    reason: dented
";

/// Sorting refuses a voltage of 2 V, fitting warns of one bay, and nothing is about using.
fn plan(voltage: &str, bays: u32) -> String {
    format!(
        "{{ \"format\": 1, \"title\": \"Start lamp\", \"arrangement\": \"1S1P\", \"light\": {{ \"bays\": {bays} }}, \"cells\": [{{ \"id\": \"K4\", \"body\": \"sound\", \"rest\": {{ \"voltage\": \"{voltage}\" }} }}] }}\n"
    )
}

fn run(command: &[&str], more: &[&str], stdin: &str) -> Ran {
    let folder = Folder::with("rules.yaml", RULES);
    folder.run_with(&[command, &["--rules", "rules.yaml"], more].concat(), stdin)
}

fn json_of(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

#[test]
fn the_headline_says_what_the_verdict_is_of() {
    let headline = |voltage: &str, stages: &[&str]| {
        let ran = run(&["check"], stages, &plan(voltage, 1));
        (
            ran.out.lines().next().unwrap_or_default().to_owned(),
            ran.code,
        )
    };
    let (sorting, fitting, using) = (
        ["--stage", "sorting"],
        ["--stage", "fitting"],
        ["--stage", "using"],
    );
    let told = |said: &str, code: i32| (said.to_owned(), code);
    assert_eq!(headline("3.7 V", &[]), told("WARN    Start lamp", 0));
    assert_eq!(
        headline("3.7 V", &sorting),
        told("PASS for sorting only", 0)
    );
    assert_eq!(headline("2.0 V", &sorting), told("REFUSE for sorting", 1));
    assert_eq!(headline("2.0 V", &fitting), told("WARN for fitting", 0));
    let strict = [fitting.as_slice(), &["--strict"]].concat();
    assert_eq!(headline("2.0 V", &strict), told("WARN for fitting", 1));
    assert_eq!(headline("3.7 V", &using), told("WARN for using", 3));
    let both = [using, sorting].concat();
    assert_eq!(
        headline("3.7 V", &both),
        told("WARN for sorting and using", 3)
    );
    assert_eq!(
        headline("2.0 V", &both),
        told("REFUSE for sorting and using", 1)
    );
    let all = [using, sorting, fitting].concat();
    assert_eq!(
        headline("3.7 V", &all),
        told("WARN for sorting, fitting and using", 3)
    );
}

#[test]
fn each_stage_has_a_line_on_the_first_page() {
    let ran = run(&["check"], &[], &plan("2.0 V", 1));
    let lines = [
        "sorting  refuse  1 against",
        "fitting  warn    1 against",
        "using    -       nothing applies",
    ];
    for line in lines {
        assert!(ran.out.contains(&format!("\n  {line}\n")), "{}", ran.out);
    }
    let some = run(&["check"], &["--stage", "sorting"], &plan("2.0 V", 1));
    let out = some.out;
    assert!(
        out.contains("sorting  refuse  1 against\n")
            && !out.contains("fitting")
            && !out.contains("bays-few"),
        "{out}"
    );
    let whole = run(
        &["check"],
        &["--full", "--stage", "sorting"],
        &plan("2.0 V", 1),
    )
    .out;
    assert!(
        whole.contains("nothing is said of any other stage"),
        "{whole}"
    );
    assert!(
        whole.contains("2 in the rules for sorting, 2 applied"),
        "{whole}"
    );
    assert!(whole.contains("Whatever the verdict"), "{whole}");
}

#[test]
fn in_data_there_is_no_verdict_on_the_whole() {
    let of = |more: &[&str]| {
        let args = [&["--format", "json"], more].concat();
        json_of(&run(&["check"], &args, &plan("3.7 V", 1)).out)
    };
    let sorting = json!([{
        "stage": "sorting", "title": "Sorting cells",
        "verdict": "pass", "best": "pass", "worst": "pass", "nothing_checked": false,
    }]);
    let some = of(&["--stage", "sorting"]);
    assert_eq!(
        (&some["asked"], &some["stages"]),
        (&json!(["sorting"]), &sorting)
    );
    for key in ["verdict", "best", "worst", "nothing_checked"] {
        assert_eq!(some.get(key), None, "{key}");
    }
    let whole = of(&[]);
    assert_eq!(
        (&whole["verdict"], whole.get("asked")),
        (&json!("warn"), None)
    );
    assert_eq!(whole["stages"].as_array().map(Vec::len), Some(3));
    assert_eq!(whole["cautions"]["bays-few"]["stage"], "fitting");
}

#[test]
fn streams_are_asked_for_stages_too() {
    let lines = [plan("3.7 V", 1), plan("2.0 V", 1)].concat();
    let ran = run(&["stream"], &["--stage", "sorting"], &lines);
    let records: Vec<Value> = ran.out.lines().map(json_of).collect();
    let verdicts: Vec<&Value> = records
        .iter()
        .map(|record| &record["stages"][0]["verdict"])
        .collect();
    assert_eq!(
        (verdicts, ran.code),
        (vec![&json!("pass"), &json!("refuse")], 1)
    );
    assert!(records.iter().all(|record| record.get("verdict").is_none()));
    assert!(ran.err.contains("1 pass, 0 warn, 1 refuse"), "{}", ran.err);
}

#[test]
fn an_unknown_stage_is_told_once_with_the_one_that_was_meant() {
    for command in ["check", "stream"] {
        let ran = run(&[command], &["--stage", "sortin"], &plan("3.7 V", 1));
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{command}");
        assert!(
            ran.err.contains("there is no stage `sortin`"),
            "{}",
            ran.err
        );
        assert!(ran.err.contains("did you mean `sorting`?"), "{}", ran.err);
    }
    let ran = run(&["check"], &["--stage", "gluing"], &plan("3.7 V", 1));
    let known = "the stages are `sorting`, `fitting`";
    assert!(ran.err.contains(known), "{}", ran.err);
}

#[test]
fn lists_say_of_which_stage_a_caution_is() {
    let list = run(&["cautions"], &[], "").out;
    for line in [
        "rest-low     each cell, sorting: can refuse",
        "bays-few     light, fitting: can warn",
        "body-marked  each cell: can refuse",
    ] {
        assert!(list.contains(line), "{list}");
    }
    let list = json_of(&run(&["cautions"], &["--format", "json"], "").out);
    let stage = |id: &str| {
        let mut all = list.as_array().expect("a list").iter();
        all.find(|one| one["id"] == id)
            .expect("it is listed")
            .get("stage")
    };
    assert_eq!(stage("rest-low"), Some(&json!("sorting")));
    assert_eq!(stage("body-marked"), None);
    let explained = run(&["explain", "rest-low"], &[], "").out;
    assert!(explained.contains("sorting (Sorting cells)"), "{explained}");
}

/// The stages of a merged file stand in their order, which is not that of the alphabet, and a caution
/// is where it was moved to.
#[test]
fn a_merged_file_keeps_stages_and_where_a_caution_is() {
    let local = "{ format: 1, ruleset: club, version: 1.0.0, title: Ours, extends: [./rules.yaml], adjust: { cautions: { rest-low: { stage: using, because: we read on the way } } } }";
    let folder = Folder::with("rules.yaml", RULES).and("club.yaml", local);
    let merged = folder.run(&["merged", "club.yaml"]);
    assert_eq!(merged.code, 0, "{}", merged.whole());
    let places = ["\"sorting\": ", "\"fitting\": ", "\"using\": "].map(|key| merged.out.find(key));
    assert!(places[0].is_some() && places.is_sorted(), "{places:?}");
    let folder = folder.and("merged.json", &merged.out);
    let by = |rules: &str| {
        let args = ["check", "--rules", rules, "--format", "json"];
        let report = json_of(&folder.run_with(&args, plan("2.0 V", 1)).out);
        (report["stages"].clone(), report["loosened"].clone())
    };
    let (stages, loosened) = by("club.yaml");
    assert_eq!(
        (&stages, &loosened),
        (&by("merged.json").0, &by("merged.json").1)
    );
    assert_eq!(
        (&loosened[0]["from"], &loosened[0]["to"]),
        (&json!("stage sorting"), &json!("stage using"))
    );
    assert_eq!(
        (&stages[0]["nothing_checked"], &stages[2]["verdict"]),
        (&json!(true), &json!("refuse"))
    );
}
