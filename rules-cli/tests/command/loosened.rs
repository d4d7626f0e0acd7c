//! What local practice loosens, and simple acceptance, are told in every form of a report. What is
//! expected is written by hand from the club's ruleset.

use roxmltree::Document;
use serde_json::{Value, json};

use crate::for_tools::sarif;
use crate::running::{Folder, Ran};

/// The club drops a caution and lets voltages at rest differ by more.
const CLUB: &str = r#"format: 1
ruleset: club-loose
version: 2.1.0
title: Loose
extends: [rescued-cells]
adjust:
  cautions:
    insulation-damaged: { drop: yes, because: "we sleeve | every cell anew" }
  limits:
    rest_match: { to: 20 mV, because: our groups are small }
"#;

const DROPPED: &str = "Loosened by club-loose: caution insulation-damaged, now dropped (was: applies). \
    Reason given: we sleeve | every cell anew";
const WIDER: &str = "Loosened by club-loose: limit rest_match, now 20 mV (was: 10 mV). \
    Reason given: our groups are small";
const SIMPLE: &str =
    "Simple acceptance: nominal values decided, without the uncertainty of readings.";

/// The club's bench with these rules in force.
fn clubhouse(rules: &str) -> Folder {
    let club = |name: &str| {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/club/");
        let text = std::fs::read_to_string(format!("{folder}{name}")).expect("a file of the demo");
        text.replace("rules: [rescued-cells]", rules)
    };
    let files = [
        "bench.yaml",
        "cells.csv",
        "readings.csv",
        "marshal-torch.yaml",
    ];
    let folder = Folder::with("club.yaml", CLUB);
    files
        .into_iter()
        .fold(folder, |folder, name| folder.and(name, club(name)))
}

/// A command by the loose rules.
fn loose(arguments: &[&str]) -> Ran {
    let ran = clubhouse("rules: [./club.yaml]").run(arguments);
    assert!(ran.code < 2, "{}", ran.whole());
    ran
}

/// A check of the torch in a form, under simple acceptance.
fn checked(form: &str) -> String {
    let arguments = ["check", "marshal-torch.yaml", "--acceptance", "simple"];
    loose(&[&arguments[..], &["--format", form]].concat()).out
}

/// A text without the ends of its lines.
fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_table_of_csv_has_a_row_for_each() {
    let text = checked("csv");
    let rows: Vec<&str> = text.lines().skip(2).take(3).collect();
    let row = |of: &str, title: &str, says: &str| {
        format!("loosened,marshal-torch.yaml,,,,,,{of},{title},,\"{says}\",,,,,")
    };
    let loosened = "Loosened by club-loose";
    let expected = [
        row("acceptance", "Simple acceptance", SIMPLE),
        row("caution insulation-damaged", loosened, DROPPED),
        row("limit rest_match", loosened, WIDER),
    ];
    assert_eq!(rows, expected);
}

#[test]
fn junit_has_them_as_properties_and_as_output() {
    let text = checked("junit");
    let document = Document::parse(&text).expect("it is XML");
    let properties = document.descendants();
    let properties = properties.filter(|node| node.has_tag_name("property"));
    let told: Vec<(&str, &str)> = properties
        .map(|node| ["name", "value"].map(|name| node.attribute(name).unwrap_or_default()))
        .map(|[name, value]| (name, value))
        .collect();
    let [club, base, digest, openly @ ..] = told.as_slice() else {
        panic!("{told:?}");
    };
    assert_eq!(
        [club.0, base.0],
        ["ruleset club-loose", "ruleset rescued-cells"]
    );
    assert!(club.1.starts_with("2.1.0 (club.yaml) sha256:"), "{club:?}");
    assert!(digest.1.starts_with("sha256:"), "{digest:?}");
    let expected = [
        ("loosened acceptance", SIMPLE),
        ("loosened caution insulation-damaged", DROPPED),
        ("loosened limit rest_match", WIDER),
    ];
    assert_eq!(openly, expected);
    let outputs = document.descendants();
    let mut outputs = outputs.filter(|node| node.has_tag_name("system-out"));
    let of_suite = outputs.next_back().and_then(|node| node.text());
    let lines: Vec<&str> = of_suite.unwrap_or_default().lines().collect();
    assert_eq!(lines[1..4], [SIMPLE, DROPPED, WIDER]);
}

#[test]
fn sarif_has_them_as_notifications_with_the_plans() {
    let run = sarif(&checked("sarif"));
    let all = &run["invocations"][0]["toolExecutionNotifications"];
    let all = all.as_array().expect("notifications").iter();
    let told = all.filter(|one| one["locations"].is_array());
    let plan = json!([{
        "physicalLocation": { "artifactLocation": { "uri": "marshal-torch.yaml" } }
    }]);
    let expected = |id: &str, text: &str| {
        json!({
            "level": "note", "message": { "text": text },
            "descriptor": { "id": id }, "locations": plan
        })
    };
    let expected = [
        expected("loosened/acceptance", SIMPLE),
        expected("loosened/caution/insulation-damaged", DROPPED),
        expected("loosened/limit/rest_match", WIDER),
    ];
    assert_eq!(told.cloned().collect::<Vec<_>>(), expected);
    let rulesets = run["properties"]["rulesets"].as_array().expect("rulesets");
    let named: Vec<&Value> = rulesets.iter().map(|one| &one["ruleset"]).collect();
    assert_eq!(named, ["club-loose", "rescued-cells"]);
}

#[test]
fn markdown_has_them_under_the_verdict() {
    let text = checked("markdown");
    let paragraphs: Vec<&str> = text.split("\n\n").collect();
    // A stroke would end a cell of a table, and an underline be emphasis.
    let [dropped, wider] =
        [DROPPED, WIDER].map(|text| text.replace('|', "\\|").replace('_', "\\_"));
    assert_eq!(paragraphs[2..5], [SIMPLE, &dropped, &wider]);
    let rules = "Rules: club-loose 2.1.0 (club.yaml), rescued-cells ";
    assert!(paragraphs[5].starts_with(rules), "{}", paragraphs[5]);
    assert!(paragraphs[5].contains("; digest sha256:"));
}

#[test]
fn annotations_have_a_notice_for_each() {
    let text = checked("annotations");
    let line =
        |title: &str, says: &str| format!("::notice file=marshal-torch.yaml,title={title}::{says}");
    let expected = [
        line("Simple acceptance", SIMPLE),
        line("Loosened by club-loose", DROPPED),
        line("Loosened by club-loose", WIDER),
    ];
    assert_eq!(text.lines().take(3).collect::<Vec<_>>(), expected);
}

#[test]
fn the_first_page_names_all_that_a_ruleset_loosened() {
    let ran = loose(&["check", "marshal-torch.yaml"]);
    let expected = "Loosened by club-loose: caution insulation-damaged, now dropped; limit \
        rest_match, now 20 mV.";
    assert!(unwrapped(&ran.out).contains(expected), "{}", ran.whole());
}

#[test]
fn by_rules_that_loosen_nothing_no_form_speaks_of_it() {
    for form in ["csv", "junit", "sarif", "markdown", "annotations"] {
        let folder = clubhouse("rules: [rescued-cells]");
        let ran = folder.run(&["check", "marshal-torch.yaml", "--format", form]);
        assert!(!ran.out.contains("oosened"), "{}", ran.whole());
        assert!(!ran.out.contains("imple acceptance"), "{}", ran.whole());
    }
}

/// Jobs that go through a bench or search a plan.
const JOBS: [&[&str]; 5] = [
    &["choose", "marshal-torch.yaml"],
    &["range", "marshal-torch.yaml", "light.draw"],
    &[
        "range",
        "marshal-torch.yaml",
        "light.draw",
        "--and",
        "conditions.ambient",
    ],
    &["sort", "bench.yaml"],
    &["tag", "bench.yaml"],
];

#[test]
fn each_job_says_it_as_text() {
    for job in JOBS {
        let ran = loose(job);
        // Tags are lines of labels: what is no label is told beside them.
        let said = unwrapped(if job[0] == "tag" { &ran.err } else { &ran.out });
        for expected in [DROPPED, WIDER] {
            assert!(said.contains(expected), "{job:?} {}", ran.whole());
        }
    }
}

#[test]
fn each_job_says_it_as_data() {
    let loosened = json!([
        {
            "by": "club-loose", "what": "caution", "name": "insulation-damaged",
            "from": "applies", "to": "dropped", "because": "we sleeve | every cell anew"
        },
        {
            "by": "club-loose", "what": "limit", "name": "rest_match",
            "from": "10 mV", "to": "20 mV", "because": "our groups are small"
        }
    ]);
    for job in JOBS {
        let ran = loose(&[job, &["--format", "json"]].concat());
        let told: Value = serde_json::from_str(&ran.out).expect("JSON");
        let told = told.get("search").unwrap_or(&told);
        assert_eq!(told["loosened"], loosened, "{job:?}");
    }
}

#[test]
fn each_job_says_it_on_its_page() {
    for job in JOBS {
        let page = loose(&[job, &["--format", "html"]].concat()).out;
        for expected in [
            "caution insulation-damaged: dropped (was: applies), by club-loose. Reason given: we sleeve",
            "limit rest_match: 20 mV (was: 10 mV), by club-loose. Reason given: our groups are small",
        ] {
            assert!(page.contains(expected), "{job:?} {page}");
        }
    }
}

#[test]
fn beside_a_table_of_sorted_cells_it_is_a_message() {
    let ran = loose(&["sort", "bench.yaml", "--format", "csv"]);
    let said = unwrapped(&ran.err);
    assert!(
        said.contains(DROPPED) && said.contains(WIDER),
        "{}",
        ran.whole()
    );
    assert!(!ran.out.contains("oosened"), "{}", ran.whole());
}

/// Of the club's rules, and of others that tighten and move.
const STRICT: &str = r#"format: 1
ruleset: club-strict
version: 1.0.0
title: Strict
extends: [./club.yaml]
adjust:
  cautions:
    retest-due: { stage: keeping, because: we look before winter }
  limits:
    rest_match: { to: 15 mV }
"#;

#[test]
fn a_list_of_limits_says_what_became_of_each() {
    let folder = clubhouse("").and("strict.yaml", STRICT);
    let ran = folder.run(&["limits", "--rules", "strict.yaml"]);
    let expected = "limit.rest_match 15 mV (lower is stricter): Spread of rest voltages that counts as \
        matched. Adjusted by club-loose from 10 mV to 20 mV. Reason given: our groups are small \
        Adjusted by club-strict from 20 mV to 15 mV. Pairing rules";
    assert!(unwrapped(&ran.out).contains(expected), "{}", ran.whole());
    let ran = folder.run(&["limits", "--rules", "strict.yaml", "--format", "json"]);
    let list: Value = serde_json::from_str(&ran.out).expect("JSON");
    let limits = list["limits"].as_array().expect("limits").iter();
    let adjusted = limits.filter_map(|one| Some((one["name"].as_str()?, one.get("adjusted")?)));
    let expected = json!([
        {
            "by": "club-loose", "from": "10 mV", "to": "20 mV",
            "because": "our groups are small"
        },
        { "by": "club-strict", "from": "20 mV", "to": "15 mV" }
    ]);
    assert_eq!(adjusted.collect::<Vec<_>>(), [("rest_match", &expected)]);
}

/// Given beside the base, which keeps its limit, a loosening has no effect, and nothing is said of it.
#[test]
fn a_limit_that_another_ruleset_keeps_was_not_adjusted() {
    let folder = clubhouse("");
    let ran = folder.run(&["limits", "--rules", "club.yaml", "--rules", "rescued-cells"]);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(!ran.out.contains("Adjusted by"), "{}", ran.whole());
}

#[test]
fn an_explanation_says_who_moved_the_caution_and_adjusted_its_limit() {
    let folder = clubhouse("").and("strict.yaml", STRICT);
    let explained = |caution: &str| {
        let ran = folder.run(&["explain", caution, "--rules", "strict.yaml"]);
        assert_eq!(ran.code, 0, "{}", ran.whole());
        unwrapped(&ran.out)
    };
    let moved =
        "from stage sorting to stage keeping by club-strict. Reason given: we look before winter";
    assert!(explained("retest-due").contains(moved));
    let mismatch = explained("parallel-voltages-apart");
    let adjusted = "Adjusted by club-strict from 20 mV to 15 mV.";
    assert!(mismatch.contains(adjusted), "{mismatch}");
    let of_cases = "Cases may rest on what a limit was before it was adjusted.";
    assert!(mismatch.ends_with(of_cases), "{mismatch}");
}

#[test]
fn of_a_dropped_caution_it_is_said_who_dropped_it_and_why() {
    let ran = clubhouse("").run(&["explain", "insulation-damaged", "--rules", "club.yaml"]);
    let expected = "error: the caution `insulation-damaged` was dropped by `club-loose`\n    \
        help: reason given: we sleeve | every cell anew\n";
    assert_eq!((ran.code, ran.err.as_str()), (2, expected));
    let ran = clubhouse("").run(&["cautions", "--rules", "club.yaml"]);
    assert!(unwrapped(&ran.out).ends_with(DROPPED), "{}", ran.whole());
}
