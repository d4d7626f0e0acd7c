//! What `vet` and `cases` find, in forms for other tools.

use serde_json::json;

use crate::for_tools::sarif;
use crate::running::{Folder, Ran};

/// Its second case, on line 16, expects what the caution does not give.
const CLUB: &str = "
format: 1
ruleset: club
version: 1.0.0
title: The club
extends: [rescued-cells]
cautions:
  - id: bay-count
    title: Bays
    about: light
    refuse_unless: light.bays < 9
    reason: Too many.
    basis: [{ common_practice: nobody carries so many }]
    cases:
      - { given: { light.bays: 8 }, expect: pass }
      - { given: { light.bays: 9 }, expect: pass }
      - { given: { light.bays: 10 }, expect: refuse }
      - { given: {}, expect: refuse, unmeasured: [light.bays] }
";

fn run(club: &str, command: &str, form: &str) -> Ran {
    let folder = Folder::with("club.yaml", club);
    folder.run(&[command, "club.yaml", "--format", form])
}

#[test]
fn a_case_that_fails_is_told_at_its_place() {
    for command in ["vet", "cases"] {
        let ran = run(CLUB, command, "sarif");
        assert_eq!(ran.code, 1, "{}", ran.whole());
        let found = sarif(&ran.out);
        let results = found["results"].as_array().expect("results");
        let [result] = results.as_slice() else {
            panic!("{}", ran.whole());
        };
        assert_eq!(result["ruleId"], "case-fails");
        assert_eq!(result["level"], "error");
        let location = &result["locations"][0]["physicalLocation"];
        assert_eq!(location["artifactLocation"], json!({ "uri": "club.yaml" }));
        assert_eq!(location["region"]["startLine"], 16);
        let ran = run(CLUB, command, "annotations");
        let start = "::error file=club.yaml,line=16,";
        assert!(ran.out.starts_with(start), "{}", ran.whole());
    }
    let ran = run(CLUB, "cases", "junit");
    for expected in [
        "name=\"club.yaml\" tests=\"1\" failures=\"1\" errors=\"0\"",
        "<testcase classname=\"cases\" name=\"bay-count\">\n<failure type=\"case-fails\"",
    ] {
        assert!(ran.out.contains(expected), "{}", ran.whole());
    }
}

#[test]
fn a_ruleset_without_a_fault_has_a_green_suite() {
    let mended = CLUB.replace("9 }, expect: pass", "9 }, expect: refuse");
    for command in ["vet", "cases"] {
        let ran = run(&mended, command, "junit");
        assert_eq!(ran.code, 0, "{}", ran.whole());
        let expected = "tests=\"1\" failures=\"0\" errors=\"0\"";
        assert!(ran.out.contains(expected), "{}", ran.whole());
    }
}

#[test]
fn a_ruleset_that_cannot_be_used_is_an_error() {
    for command in ["vet", "cases"] {
        let ran = run("format: 1\nhue: 3\n", command, "junit");
        assert_eq!(ran.code, 2, "{}", ran.whole());
        let expected = "<error type=\"unknown-key\"";
        assert!(ran.out.contains(expected), "{}", ran.whole());
        let found = sarif(&run("format: 1\nhue: 3\n", command, "sarif").out);
        assert_eq!(found["invocations"][0]["executionSuccessful"], false);
        assert_eq!(found["results"][0]["level"], "error");
    }
}
