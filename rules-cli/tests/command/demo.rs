//! The demo and the shipped rules, as people first see them.

use crate::running::{Ran, run};

const HELMET_LAMP: &str = "demo/helmet-lamp.yaml";

/// Runs the command where the demo is.
fn cellrules(args: &[&str]) -> Ran {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_cellrules"));
    run(
        command.current_dir(env!("CARGO_MANIFEST_DIR")).args(args),
        b"",
    )
}

/// The digest, and places in the shipped rules, change with every word of them.
fn steady() -> insta::internals::SettingsBindDropGuard {
    let mut settings = insta::Settings::clone_current();
    settings.add_filter("sha256:[0-9a-f]+", "sha256:[digest]");
    settings.add_filter(r"rescued-cells:\d+:\d+", "rescued-cells:[line]:[column]");
    settings.bind_to_scope()
}

#[test]
fn the_helmet_lamp_is_refused() {
    let _steady = steady();
    let ran = cellrules(&["check", "--full", HELMET_LAMP]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(
        ran.out
            .starts_with("REFUSE  Helmet lamp for the spring night relay")
    );
    insta::assert_snapshot!(ran.out);
}

/// What people see: the first page of each demo.
#[test]
fn first_pages() {
    let demos = ["helmet-lamp", "course-setter-bike-light", "marshal-torch"];
    let pages = demos.map(|demo| cellrules(&["check", &format!("demo/{demo}.yaml")]).out);
    insta::assert_snapshot!(pages.join("\n=====\n\n"));
}

/// However much there is to say, a refusal keeps its number; remarks and cures give way first.
#[test]
fn refusals_of_a_crowded_page_keep_their_numbers() {
    let page = cellrules(&["check", "demo/club/start-hut.yaml"]).out;
    assert!(page.lines().count() <= 40, "{page}");
    let line = "  refuse  Cells in parallel of different capacity, group 1: 11.";
    assert!(page.contains(line), "{page}");
    assert!(page.contains("(limit 10 %)"), "{page}");
    assert!(page.contains("And 7 more remarks."), "{page}");
}

#[test]
fn the_helmet_lamp_as_json() {
    let _steady = steady();
    let ran = cellrules(&["check", "--format", "json", HELMET_LAMP]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    let report: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    // One finding in full; the schema of the whole is tested elsewhere.
    let findings = report["findings"].as_array().expect("findings");
    let one = findings
        .iter()
        .find(|finding| finding["caution"] == "series-capacities-apart")
        .expect("the finding");
    let cautions = &report["cautions"];
    let mut caution = cautions["series-capacities-apart"].clone();
    let place = &mut caution["rungs"]["refuse_unless"];
    assert_eq!(place["file"], "rescued-cells");
    *place = "[place in the shipped rules]".into();
    let set = one["subjects"]
        .as_u64()
        .and_then(|set| report["sets"].get(usize::try_from(set).ok()?));
    let told = serde_json::json!({
        "the finding": one,
        "the caution": caution,
        "the set": set,
        "all subjects": report["subjects"],
        "a fact": report["facts"].as_array().expect("facts").iter().find(|fact| fact["name"] == "cell.capacity"),
    });
    insta::assert_snapshot!(serde_json::to_string_pretty(&told).expect("JSON"));
    for finding in findings {
        for source in cautions[finding["caution"].as_str().expect("a name")]["basis"]
            .as_array()
            .expect("basis")
            .iter()
            .filter_map(|basis| basis["source"].as_str())
        {
            assert!(report["sources"][source]["title"].is_string(), "{source}");
        }
        for limit in finding["clauses"]
            .as_array()
            .expect("clauses")
            .iter()
            .flat_map(|clause| clause["limits"].as_array())
            .flatten()
        {
            assert!(
                report["limits"][limit.as_str().expect("a name")]["value"].is_string(),
                "{limit}"
            );
        }
    }
}

#[test]
fn a_proposal_passes_and_the_notice_stands_all_the_same() {
    let _steady = steady();
    let ran = cellrules(&["check", "--full", "demo/marshal-torch.yaml"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!(ran.out);
}

#[test]
fn yaml_and_json_of_one_proposal_say_the_same() {
    let report = |file: &str| {
        cellrules(&["check", "--strict", file])
            .out
            .replace(file, "FILE")
    };
    assert_eq!(
        report("demo/marshal-torch.yaml"),
        report("demo/marshal-torch.json")
    );
}

#[test]
fn what_is_unmeasured_says_what_to_measure() {
    let _steady = steady();
    let ran = cellrules(&["check", "--full", "demo/course-setter-bike-light.yaml"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    // The list of findings, and what to measure; the findings in full look as those of the lamp.
    let (list, rest) = ran.out.split_once("\n 1. ").expect("the first finding");
    let (_, next) = rest
        .split_once("\nWhat to measure or state next\n")
        .expect("what to measure");
    let (next, _) = next.split_once("\n\n").expect("the end of a section");
    insta::assert_snapshot!(format!("{list}\n[...]\n{next}"));
}

#[test]
fn several_proposals_as_json() {
    let ran = cellrules(&[
        "check",
        "--format",
        "json",
        "demo/marshal-torch.yaml",
        HELMET_LAMP,
    ]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    let reports: Vec<serde_json::Value> = serde_json::from_str(&ran.out).expect("an array");
    let verdicts: Vec<&str> = reports
        .iter()
        .filter_map(|report| report["verdict"].as_str())
        .collect();
    assert_eq!(verdicts, ["pass", "refuse"]);
}

#[test]
fn the_same_bytes_come_out_every_time() {
    let run = || cellrules(&["check", "--format", "json", HELMET_LAMP]).out;
    assert_eq!(run(), run());
}
