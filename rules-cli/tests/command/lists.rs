//! What there is: cautions, facts, schemas, merged rules; explanations; vetting.

use crate::running::{Folder, RULES, Ran};

const LOCAL: &str = "
format: 1
ruleset: relay
version: 1.0.0
title: The night relay
extends: [./rules.yaml]
adjust:
  limits: { rest_least: { to: 2.60 V } }
facts:
  cell.club_tag: { kind: text, meaning: Number on the club's tag }
figures:
  margin: { about: each cell, is: cell.rest_voltage - limit.rest_least, meaning: How far over the limit the cell rests }
cautions:
  - id: tag-missing
    title: Cell without a tag
    about: each cell
    applies_when: cell.margin < 1 V or build.current > 1 A
    warn_unless: cell.club_tag is known
    reason: \"{cell.id} has no tag.\"
    basis: [{ common_practice: one number for life }]
    cases:
      - { given: { cell.club_tag: NR-07, cell.rest_voltage: 3.0 V, light.draw_current: 0.5 A }, expect: pass, note: a tag }
      - { given: { cell.rest_voltage: 3.0 V, light.draw_current: 0.5 A }, expect: warn, unmeasured: [cell.club_tag] }
";

fn run(args: &[&str]) -> Ran {
    let ran = Folder::with("rules.yaml", RULES)
        .and("local.yaml", LOCAL)
        .run(args);
    assert!(ran.err.is_empty() || ran.code != 0, "{}", ran.whole());
    ran
}

fn json(args: &[&str]) -> serde_json::Value {
    let ran = run(&[args, &["--format", "json"]].concat());
    serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{}", ran.whole()))
}

#[test]
fn cautions_are_listed() {
    insta::assert_snapshot!(run(&["cautions", "--rules", "local.yaml"]).out, @r"
    local.yaml: 1 caution
      tag-missing  each cell: can warn
          Cell without a tag

    rules.yaml: 2 cautions
      bare-cell    each cell: can refuse
          Cell without protection
      rest-low     each cell: can refuse or warn
          Rest voltage low

    3 cautions in all. `cellrules explain CAUTION` shows one in full.
    ");
    let all = json(&["cautions", "--rules", "local.yaml"]);
    assert_eq!(all.as_array().map(Vec::len), Some(3));
    assert_eq!(
        (&all[2]["id"], &all[2]["about"], &all[2]["can_refuse"]),
        (&"tag-missing".into(), &"each cell".into(), &false.into())
    );
    assert!(run(&["cautions"]).out.contains("deeply-discharged"));
}

#[test]
fn limits_are_listed() {
    insta::assert_snapshot!(run(&["limits", "--rules", "local.yaml"]).out, @r"
    limit.rest_least 2.60 V (higher is stricter): Rest voltage under which a cell is
        retired.
        Adjusted by relay from 2.50 V to 2.60 V.
        Common practice: the club's.
        Defined at rules.yaml:7:3

    1 limit. To adjust one, write a ruleset that extends these. Under `adjust` and
    `limits`, give the name of the limit (without `limit.`) its new value in `to`
    and, if that loosens it, the reason in `because`.
    ");
    let all = json(&["limits", "--rules", "local.yaml"]);
    let limit = &all["limits"][0];
    assert_eq!(
        (&limit["name"], &limit["value"], &limit["stricter"]),
        (&"rest_least".into(), &"2.60 V".into(), &"higher".into())
    );
    assert_eq!(
        (&limit["fixed"], &limit["basis"][0]["common_practice"]),
        (&false.into(), &"the club's".into())
    );
    assert!(
        run(&["limits"]).out.contains(
            "limit.rest_floor 2.00 V (higher is stricter; fixed: it cannot be loosened): "
        )
    );
    let shipped = json(&["limits"]);
    for limit in shipped["limits"].as_array().expect("limits") {
        for source in limit["basis"]
            .as_array()
            .expect("a basis")
            .iter()
            .filter_map(|basis| basis["source"].as_str())
        {
            assert!(shipped["sources"][source]["title"].is_string(), "{source}");
        }
    }
}

/// Section 6 of the language: what `if_unmeasured` says, for a caution with one rung and with two.
#[test]
fn explaining_says_what_a_missing_measurement_gives() {
    let (refuse, warn) = (
        "    refuse_unless: cell.protected\n",
        "    warn_unless: cell.rest_voltage >= 3 V\n",
    );
    let (if_refuse, if_warn) = ("    if_unmeasured: refuse\n", "    if_unmeasured: warn\n");
    for (rungs, words) in [
        (refuse.to_owned(), "refuses"),
        (warn.to_owned(), "warns"),
        (
            format!("{refuse}{warn}"),
            "refuses; if only the warning is left open, warns",
        ),
        (
            format!("{refuse}{if_warn}"),
            "warns, and says that it could refuse",
        ),
        (
            format!("{refuse}{warn}{if_warn}"),
            "warns, and says that it could refuse",
        ),
        (format!("{warn}{if_warn}"), "warns"),
        (format!("{refuse}{if_refuse}"), "refuses"),
        (format!("{refuse}{warn}{if_refuse}"), "refuses"),
        (format!("{warn}{if_refuse}"), "refuses"),
    ] {
        let rules = format!(
            "format: 1\nruleset: one\nversion: 1\ntitle: One\ncautions:\n  - id: one\n    title: One\n    about: each cell\n{rungs}    reason: why\n    basis: [{{ common_practice: x }}]\n"
        );
        let ran = Folder::with("one.yaml", rules)
            .run(&["explain", "one", "--rules", "one.yaml", "--width", "120"]);
        assert!(
            ran.out.contains(&format!("  If unmeasured:  {words}\n")),
            "{rungs}{}",
            ran.whole()
        );
    }
}

#[test]
fn a_ruleset_without_its_option_gets_a_tip() {
    for command in [
        ["cautions"].as_slice(),
        &["limits"],
        &["facts"],
        &["explain", "rest-low"],
        &["--width", "60", "cautions"],
    ] {
        let ran = run(&[command, &["rescued-cells"]].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""));
        assert!(ran.err.contains("`--rules rescued-cells`"), "{}", ran.err);
    }
    for args in [
        ["completions", "bash", "report"].as_slice(),
        &["cautions", "--rule", "local.yaml"],
    ] {
        let ran = run(args);
        assert!(
            ran.code == 2 && !ran.err.contains("`--rules "),
            "{}",
            ran.err
        );
    }
}

#[test]
fn a_caution_is_explained() {
    insta::assert_snapshot!(run(&["explain", "tag-missing", "--rules", "local.yaml"]).out);
    insta::assert_snapshot!(
        "explain_rest_low",
        run(&["explain", "rest-low", "--rules", "local.yaml"]).out
    );
    let explained = json(&["explain", "tag-missing", "--rules", "local.yaml"]);
    assert_eq!(explained["limits"]["rest_least"]["value"], "2.60 V");
    assert_eq!(
        explained["figures"]["cell.margin"]["is"],
        "cell.rest_voltage - limit.rest_least"
    );
    assert_eq!(explained["caution"]["cases"][0]["expect"], "pass");
}

#[test]
fn an_unknown_caution_gets_the_one_that_was_meant() {
    let ran = run(&["explain", "tag-mising", "--rules", "local.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert_eq!(
        ran.err,
        "error: the rules in use have no caution `tag-mising`\n    help: did you mean `tag-missing`?\n"
    );
}

#[test]
fn facts_are_listed() {
    let out = run(&["facts", "--rules", "local.yaml"]).out;
    for line in [
        "  cell.rest_voltage (voltage, -5..6 V, measured): Voltage at rest.\n      In a proposal: cells[].rest.voltage\n",
        "  cell.club_tag (text, stated): Number on the club's tag.\n      In a proposal: cells[].extra.club_tag\n",
        "  cell.margin (figure): How far over the limit the cell rests.\n      is cell.rest_voltage - limit.rest_least\n",
        "  build.series (count, 1..10000, stated): Groups in series.\n      In a proposal: worked out from `arrangement`\n",
        "  light.vented (yes-no, stated): ",
    ] {
        assert!(out.contains(line), "{line}\n{out}");
    }
    let subjects = json(&["facts", "--rules", "local.yaml"]);
    let all: Vec<&serde_json::Value> = subjects
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|subject| subject["facts"].as_array())
        .flatten()
        .collect();
    let fact = |name: &str| *all.iter().find(|fact| fact["name"] == name).expect(name);
    assert_eq!(
        fact("cell.rest_voltage")["domain"],
        serde_json::json!({ "text": "-5..6 V", "low": -5.0, "high": 6.0, "unit": "V" })
    );
    assert_eq!(
        fact("light.drive")["options"],
        serde_json::json!(["direct", "linear", "buck", "boost", "buck-boost"])
    );
    let figures = subjects
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|subject| subject["figures"].as_array())
        .flatten();
    assert!(
        figures
            .into_iter()
            .any(|figure| figure["name"] == "build.current"
                && figure["needs"][0] == "light.draw_current")
    );
}

#[test]
fn merged_rules_are_rules_again() {
    let folder = Folder::with("rules.yaml", RULES).and("local.yaml", LOCAL);
    let merged = folder.run(&["merged", "local.yaml"]);
    assert_eq!((merged.code, merged.err.as_str()), (0, ""));
    let folder = folder.and("merged.json", &merged.out);
    assert_eq!(folder.run(&["merged", "merged.json"]).code, 0);
    // The same cautions, now in one file.
    let cautions = |file: &str| {
        let ran = folder.run(&["cautions", "--format", "json", "--rules", file]);
        let mut all: Vec<serde_json::Value> = serde_json::from_str(&ran.out).expect("JSON");
        all.iter_mut()
            .for_each(|one| drop(one.as_object_mut().expect("a caution").remove("place")));
        all
    };
    assert_eq!(cautions("merged.json"), cautions("local.yaml"));
    assert!(
        folder
            .run(&["cautions", "--rules", "merged.json"])
            .out
            .starts_with("merged.json: 3 cautions\n")
    );
    // The order in which they are named does not matter.
    assert_eq!(
        folder.run(&["merged", "rules.yaml", "local.yaml"]).out,
        folder.run(&["merged", "local.yaml", "rules.yaml"]).out
    );
}

#[test]
fn schemas_are_printed() {
    assert_eq!(
        run(&["schema"]).out,
        "proposal\nbench\nbench-proposal\nruleset\nreport\nlean\nprose\nchanges\nfigures\nlabel\nrange\nmap\nsorted\ntags\nchoice\nproblems\n"
    );
    for name in [
        "proposal", "bench", "ruleset", "report", "changes", "figures", "label", "range", "map",
        "sorted", "tags", "choice",
    ] {
        let schema: serde_json::Value =
            serde_json::from_str(&run(&["schema", name]).out).expect("JSON");
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
    }
    let of_rules = run(&["schema", "ruleset", "--rules", "rescued-cells"]).out;
    let schema: serde_json::Value = serde_json::from_str(&of_rules).expect("JSON");
    let limits = &schema["$defs"]["adjust"]["properties"]["limits"];
    assert!(limits["properties"].get("rest_match").is_some());
    let ran = run(&["schema", "report", "--rules", "rescued-cells"]);
    assert_eq!(ran.code, 2);
    assert_eq!(
        ran.err,
        "error: there is no schema of `report`\n    help: there are schemas of `proposal`, `bench`, \
         `bench-proposal`, `ruleset`\n"
    );
    let ran = run(&["schema", "propsal"]);
    assert_eq!(
        (ran.code, ran.err.as_str()),
        (
            2,
            "error: there is no schema of `propsal`\n    help: did you mean `proposal`?\n"
        )
    );
}

#[test]
fn vetting_shows_what_is_missing_at_its_place() {
    insta::assert_snapshot!(run(&["vet", "local.yaml"]).out);
    let vetted = json(&["vet", "local.yaml", "missing.yaml"]);
    assert_eq!(
        (&vetted[0]["cautions"], &vetted[0]["own_cautions"]),
        (&3.into(), &1.into())
    );
    assert_eq!(
        (&vetted[0]["loads"], &vetted[1]["loads"]),
        (&true.into(), &false.into())
    );
    assert_eq!(vetted[1]["problems"][0]["fault"], "unreadable");
}

#[test]
fn a_case_that_gives_something_else_is_shown() {
    let folder = Folder::with("rules.yaml", RULES)
        .and("local.yaml", LOCAL.replace("expect: pass", "expect: warn"));
    let ran = folder.run(&["cases", "local.yaml"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    insta::assert_snapshot!(ran.out);
    assert_eq!(
        run(&["cases", "local.yaml"]).out,
        "local.yaml: 2 of 2 cases gave what they expect\n"
    );
}
