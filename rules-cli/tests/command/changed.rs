//! What changed between two reports on one plan. The rules of the tests are small, so that each
//! expected line follows from them.

use serde_json::{Value, json};

use crate::running::{Folder, RULES, Ran, good, one_cell};

/// A plan with cells of these keys.
fn plan(cells: &[(&str, &str)]) -> String {
    let cells: String = cells
        .iter()
        .map(|(id, keys)| format!("  - {{ id: {id}, {keys} }}\n"))
        .collect();
    format!("format: 1\ntitle: Marshal's torch\narrangement: 2S1P\ncells:\n{cells}")
}

/// The report on a plan by the rules of the tests, under a name.
fn with_report(folder: Folder, name: &str, plan: &str, more: &[&str]) -> Folder {
    let folder = folder.and("torch.yaml", plan);
    let rules = ["check", "-r", "rules.yaml", "--format", "json"];
    let ran = folder.run(&[&rules[..], more, &["torch.yaml"]].concat());
    assert!(ran.err.is_empty(), "{}", ran.err);
    folder.and(name, ran.out)
}

fn compared(old: &str, new: &str) -> Folder {
    let folder = Folder::with("rules.yaml", RULES);
    let folder = with_report(folder, "old.json", old, &[]);
    with_report(folder, "new.json", new, &[])
}

fn changed(folder: &Folder) -> (Ran, Value) {
    let text = folder.run(&["changed", "old.json", "new.json"]);
    let json = folder.run(&["changed", "--format", "json", "old.json", "new.json"]);
    assert_eq!(text.code, json.code, "{}", json.whole());
    let value = serde_json::from_str(&json.out).unwrap_or_else(|_| panic!("{}", json.whole()));
    (text, value)
}

/// One caution is met, one comes, one is settled, and one stays: K4 is not protected.
#[test]
fn what_went_came_and_changed_is_told() {
    let old = plan(&[
        ("K4", "protected: no, rest: { voltage: 2.90 V }"),
        ("K7", "protected: yes"),
    ]);
    let new = plan(&[
        ("K4", "protected: no, rest: { voltage: 3.90 V }"),
        ("K7", "protected: no, rest: { voltage: 2.10 V }"),
    ]);
    let (text, changes) = changed(&compared(&old, &new));
    assert_eq!(text.code, 0, "it was refused, and is: {}", text.whole());
    let of = |list: &str| {
        let all = changes[list].as_array().expect("a list").iter();
        all.map(|one| (one["caution"].clone(), one["subject"]["name"].clone()))
            .collect::<Vec<_>>()
    };
    assert_eq!(of("went"), [(json!("rest-low"), json!("K4"))]);
    assert_eq!(of("came"), [(json!("bare-cell"), json!("K7"))]);
    assert_eq!(of("changed"), [(json!("rest-low"), json!("K7"))]);
    assert_eq!(changes["unchanged"], 1, "K4 is bare in both");
    assert_eq!(changes["changed"][0]["before"]["status"], "unmeasured");
    assert_eq!(changes["changed"][0]["after"]["verdict"], "refuse");
    assert_eq!(changes["went"][0]["after"], "of-others");
    insta::assert_snapshot!(text.out);
}

#[test]
fn a_graver_verdict_is_an_objection() {
    let bad = one_cell("protected: no, rest: { voltage: 3.87 V }");
    let (worse, changes) = changed(&compared(&good(), &bad));
    assert_eq!(worse.code, 1, "{}", worse.whole());
    assert!(worse.out.contains("\nREFUSE, was PASS.\n"), "{}", worse.out);
    assert_eq!(changes["before"]["outcome"]["verdict"], "pass");
    assert_eq!(changes["came"][0]["before"], "passed");
    let (better, changes) = changed(&compared(&bad, &good()));
    assert_eq!(better.code, 0, "{}", better.whole());
    assert!(
        better.out.contains("\nPASS, was REFUSE.\n"),
        "{}",
        better.out
    );
    assert!(better.out.contains("met now"), "{}", better.out);
    assert_eq!(changes["went"][0]["after"], "passed");
}

#[test]
fn two_of_the_same_differ_in_nothing() {
    let bad = one_cell("protected: no");
    for (plan, said) in [
        (&bad, "Nothing changed: all 2 findings came to the same."),
        (&good(), "Nothing changed: there is no finding in either."),
    ] {
        let (text, changes) = changed(&compared(plan, plan));
        assert_eq!(text.code, 0, "{}", text.whole());
        assert!(text.out.contains(said), "{}", text.out);
        assert_eq!(changes["same_rules"], true);
        for list in ["stages", "went", "came", "changed"] {
            assert_eq!(changes[list], json!([]), "{list}");
        }
    }
}

/// A finding that went because nobody looked is no better plan.
#[test]
fn rules_and_stages_that_differ_are_told() {
    let folder = Folder::with("rules.yaml", RULES);
    let bad = one_cell("protected: no, rest: { voltage: 3.87 V }");
    let folder = with_report(folder, "old.json", &bad, &[]);
    let fewer = RULES
        .split_once("  - id: bare-cell")
        .expect("it is there")
        .0;
    let folder = folder.and("rules.yaml", fewer);
    let folder = with_report(folder, "new.json", &bad, &[]);
    let (text, changes) = changed(&folder);
    assert_eq!(changes["same_rules"], false);
    assert_eq!(changes["went"][0]["after"], "not-checked");
    assert!(
        text.out.contains("The rules differ, by their digests"),
        "{}",
        text.out
    );
    assert!(text.out.contains("not checked any more"), "{}", text.out);

    let folder = Folder::with("torch.yaml", bad);
    let report = |args: &[&str]| {
        folder
            .run(&[&["check", "--format", "json", "torch.yaml"], args].concat())
            .out
    };
    let (all, some) = (report(&[]), report(&["-s", "sorting"]));
    let folder = folder.and("old.json", all).and("new.json", some);
    let (text, changes) = changed(&folder);
    assert_eq!(changes["after"]["asked"], json!(["sorting"]));
    assert!(changes["after"].get("outcome").is_none());
    let said = "No verdict on the whole now; it was REFUSE.\nChecked was all, now sorting only.\n";
    assert!(text.out.contains(said), "{}", text.out);
}

#[test]
fn two_plans_are_told() {
    let other = good().replace("Marshal's torch", "Helmet lamp");
    let renamed = changed(&compared(&good(), &other)).0;
    assert!(
        renamed.out.contains("The title was Marshal's torch."),
        "{}",
        renamed.out
    );
    let folder = Folder::with("rules.yaml", RULES).and("lamp.yaml", other);
    let folder = with_report(folder, "old.json", &good(), &[]);
    let lamp = folder.run(&["check", "-r", "rules.yaml", "--format", "json", "lamp.yaml"]);
    let (text, changes) = changed(&folder.and("new.json", lamp.out));
    assert_eq!(changes["same_proposal"], false);
    let said = "These are reports on two plans: the older one is on Marshal's torch (torch.yaml).";
    let words = text.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains(said), "{words}");
}

#[test]
fn what_is_no_report_is_told() {
    let folder = compared(&good(), &good())
        .and("several.json", "[]")
        .and("text.json", "PASS")
        .and("other.json", "{\"format\": 1}")
        .and("hue.yaml", one_cell("hue: 3"));
    let failed = folder.run(&["check", "-r", "rules.yaml", "--format", "json", "hue.yaml"]);
    let folder = folder.and("failed.json", failed.out);
    for (file, said) in [
        ("several.json", "these are the reports of several plans"),
        ("text.json", "this is no JSON"),
        ("other.json", "this is no report: missing field"),
        ("failed.json", "its plan could not be used"),
        ("none.json", "there is no such file"),
    ] {
        let ran = folder.run(&["changed", file, "new.json"]);
        assert!(ran.code == 2 && ran.out.is_empty(), "{}", ran.whole());
        assert!(
            ran.err.contains(said) && ran.err.contains(file),
            "{}",
            ran.err
        );
        let json = folder.run(&["changed", "--format", "json", "old.json", file]);
        let record: Value = serde_json::from_str(&json.out).expect("a record");
        assert!(
            json.code == 2 && record["problems"].is_array(),
            "{}",
            json.whole()
        );
    }
}
