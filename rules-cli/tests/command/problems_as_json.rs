//! What fails under `--format json` fails as JSON, in place of the answer and in its order.

use serde_json::Value;

use crate::running::{Folder, good};

/// What a command said, as JSON. It fails, and tells people too.
fn failed(folder: &Folder, args: &[&str]) -> Value {
    let ran = folder.run(args);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(!ran.err.is_empty(), "{}", ran.whole());
    serde_json::from_str(&ran.out).unwrap_or_else(|why| panic!("{why}: {}", ran.whole()))
}

fn faults(record: &Value) -> Vec<String> {
    let problems = record["problems"].as_array().expect("it has problems");
    let fault = |problem: &'_ Value| problem["fault"].as_str().expect("a code").to_owned();
    problems.iter().map(fault).collect()
}

#[test]
fn of_several_files_each_answer_stands_in_its_place() {
    let folder = Folder::with("first.yaml", good())
        .and("bad.yaml", "format: 1\narrangement: 1S1P\nhue: 3\n")
        .and("last.yaml", good());
    let (first, bad, last) = ("first.yaml", "bad.yaml", "last.yaml");
    for command in ["check", "figures"] {
        let all = failed(&folder, &[command, "--format", "json", first, bad, last]);
        let all = all.as_array().expect("an array");
        let names: Vec<_> = all.iter().map(|one| one["proposal"].as_str()).collect();
        assert_eq!(names, [first, bad, last].map(Some));
        assert_eq!(faults(&all[1]), ["unknown-key"]);
        assert!(all[0].get("problems").is_none() && all[2].get("problems").is_none());
        let alone = failed(&folder, &[command, "--format", "json", bad]);
        assert_eq!(alone, all[1]);
    }
}

#[test]
fn what_has_no_proposal_fails_as_json_too() {
    let folder = Folder::with("rules.yaml", "format: 1\nruleset: x\nhue: 3\n");
    let rules = "rules.yaml";
    let with_rules: [&[&str]; 6] = [
        &["check"],
        &["figures"],
        &["cautions"],
        &["facts"],
        &["limits"],
        &["explain", "rest-low"],
    ];
    for command in with_rules {
        let all = [command, &["--format", "json", "--rules", rules]].concat();
        let record = failed(&folder, &all);
        assert_eq!(
            faults(&record),
            ["missing-key", "missing-key", "unknown-key"],
            "{command:?}"
        );
    }
    let cases = failed(
        &folder,
        &["cases", "--format", "json", "rescued-cells", rules],
    );
    assert_eq!(cases[0]["failed"], Value::Array(Vec::new()));
    assert_eq!(cases[1]["ruleset"].as_str(), Some(rules));
    assert_eq!(faults(&cases[1]).len(), 3);
    let label = failed(
        &folder,
        &["label", "--format", "json", "--voltage", "11.1 A"],
    );
    assert!(!faults(&label).is_empty());
    let explain = failed(&folder, &["explain", "--format", "json", "no-such-caution"]);
    assert_eq!(faults(&explain), ["unknown-name"]);
}
