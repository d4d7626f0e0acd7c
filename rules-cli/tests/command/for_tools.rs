//! Findings in forms for other tools. What is expected of the small plan is written by hand from the
//! plan, the ruleset and the definition of each form: SARIF 2.1.0 (OASIS), RFC 4180, XML 1.0, and the
//! workflow commands that GitHub Actions documents. Of JUnit XML there is no standard: what servers
//! read is common practice.

use roxmltree::Document;
use serde_json::{Value, json};

use crate::running::{Folder, good};

const FORMS: [&str; 5] = ["sarif", "junit", "csv", "markdown", "annotations"];

/// Texts with what each form gives a meaning.
const RULES: &str = r#"format: 1
ruleset: small
version: 1.0.0
title: Small
stages:
  sorting: Sorting
notice:
  own_words: { says: "No pass overrules <local> codes, ever.", source: the club }
sources:
  leaflet: { title: Leaflet, link: "https://example.org/leaflet?a=1", read: in source }
cautions:
  - id: sleeve-damaged
    title: 'Sleeve <damaged> & "bare" ]]>'
    about: each cell
    stage: sorting
    refuse_unless: cell.wrap == intact
    reason: "Cell {cell.id} has a sleeve that is {cell.wrap}."
    remedy: "=Retire {cell.id}, or\nask."
    basis: [{ source: leaflet, at: page 1 }]
  - id: revived-before
    title: Woken cell
    about: each cell
    warn_unless: cell.revived == never
    reason: "Cell {cell.id}: {cell.revived}."
    basis: [{ common_practice: woken cells are retired }]
  - id: bay-count
    title: Bays
    about: light
    applies_when: light.bays > 5
    refuse_unless: light.bays < 9
    reason: Too many.
    basis: [{ common_practice: nobody carries so many }]
  - id: vented-case
    title: Case that holds gas
    about: light
    stage: sorting
    warn_unless: light.vented
    reason: The case is closed.
    basis: [{ from_memory: a vent }]
"#;

const PLAN: &str = r#"format: 1
title: "Lamp, for <night> | relay"
light: { bays: 2, vented: yes }
arrangement: 2S1P
cells:
  - { id: K4, wrap: nicked, revived: never }
  - { id: K7, wrap: intact }
"#;

const UNKNOWN_KEY: &str = "format: 1\narrangement: 1S1P\nhue: 3\n";

fn folder() -> Folder {
    Folder::with("small.yaml", RULES).and("a plan.yaml", PLAN)
}

/// What a check of the plan gives in a form.
fn checked(form: &str) -> String {
    let arguments = ["check", "--rules", "small.yaml", "a plan.yaml", "--format"];
    let ran = folder().run(&[&arguments[..], &[form]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{form}");
    ran.out
}

/// The digests of the ruleset and of the rules, as the report has them.
fn digests() -> (String, String) {
    let report: Value = serde_json::from_str(&checked("json")).expect("a report");
    let of = |value: &Value| value["digest"].as_str().expect("a digest").to_owned();
    (of(&report["rules"][0]), of(&report))
}

pub(crate) fn sarif(text: &str) -> Value {
    let all: Value = serde_json::from_str(text).unwrap_or_else(|why| panic!("{why}: {text}"));
    let runs = all["runs"].as_array().expect("runs");
    assert_eq!((&all["version"], runs.len()), (&json!("2.1.0"), 1));
    runs[0].clone()
}

/// A text begins so; what follows is the notice.
fn begins(text: &str, expected: &str) {
    let begin = text.get(..expected.len().min(text.len()));
    assert_eq!(begin, Some(expected));
}

fn place(uri: &str, line: usize, column: usize) -> Value {
    json!({
        "artifactLocation": { "uri": uri },
        "region": { "startLine": line, "startColumn": column }
    })
}

#[test]
fn sarif_has_findings_with_their_places_and_rules() {
    let run = sarif(&checked("sarif"));
    // `nicked` has six characters.
    let mut value = place("a%20plan.yaml", 6, 21);
    value["region"]["endColumn"] = json!(27);
    let expected = json!([
        {
            "ruleId": "sleeve-damaged",
            "level": "error",
            "message": { "text": "Sleeve <damaged> & \"bare\" ]]>: cell K4. Cell K4 has a sleeve that is nicked." },
            "locations": [{ "physicalLocation": value }],
            "relatedLocations": [{
                "id": 1,
                "message": { "text": "refuse_unless of sleeve-damaged" },
                "physicalLocation": place("small.yaml", 16, 20)
            }],
            "partialFingerprints": { "cautionAndSubject/v1": "sleeve-damaged/cell K4" },
            "properties": {
                "verdict": "refuse", "best": "refuse", "worst": "refuse", "status": "decided",
                "subject": "cell K4", "stage": "sorting", "remedy": "=Retire K4, or\nask.",
                "proposal": "a plan.yaml"
            }
        },
        {
            "ruleId": "revived-before",
            "level": "warning",
            "message": { "text": "Woken cell: cell K7. Not known: cells[K7].revived. (unmeasured: could be pass)" },
            "locations": [{ "physicalLocation": { "artifactLocation": { "uri": "a%20plan.yaml" } } }],
            "relatedLocations": [{
                "id": 1,
                "message": { "text": "warn_unless of revived-before" },
                "physicalLocation": place("small.yaml", 23, 18)
            }],
            "partialFingerprints": { "cautionAndSubject/v1": "revived-before/cell K7" },
            "properties": {
                "verdict": "warn", "best": "pass", "worst": "warn", "status": "unmeasured",
                "subject": "cell K7", "missing": ["cells[K7].revived"], "proposal": "a plan.yaml"
            }
        }
    ]);
    assert_eq!(run["results"], expected);
}

#[test]
fn sarif_has_the_cautions_as_rules() {
    let run = sarif(&checked("sarif"));
    let rules = json!([
        {
            "id": "revived-before",
            "shortDescription": { "text": "Woken cell" },
            "fullDescription": { "text": "Cell …: …." },
            "help": { "text": "Common practice: woken cells are retired." },
            "defaultConfiguration": { "level": "warning" },
            "properties": { "stage": "every stage", "fixed": false }
        },
        {
            "id": "sleeve-damaged",
            "shortDescription": { "text": "Sleeve <damaged> & \"bare\" ]]>" },
            "fullDescription": { "text": "Cell … has a sleeve that is …." },
            "helpUri": "https://example.org/leaflet?a=1",
            "help": { "text": "=Retire …, or ask. Leaflet (read in the source): page 1." },
            "defaultConfiguration": { "level": "error" },
            "properties": { "stage": "sorting", "fixed": false }
        }
    ]);
    assert_eq!(run["tool"]["driver"]["rules"], rules);
    assert_eq!(run["tool"]["driver"]["name"], "cellrules");
    assert_eq!(run["columnKind"], "unicodeCodePoints");
    let (digest, _) = digests();
    let rulesets = json!([{
        "ruleset": "small", "version": "1.0.0", "digest": digest, "file": "small.yaml"
    }]);
    assert_eq!(run["properties"]["rulesets"], rulesets);
    assert_eq!(run["invocations"][0]["executionSuccessful"], true);
    // What is not named needs no base.
    assert!(run.get("originalUriBaseIds").is_none());
}

#[test]
fn junit_has_a_test_for_each_caution() {
    let text = checked("junit");
    let (of_ruleset, of_rules) = digests();
    let properties = format!(
        r#"<properties>
<property name="ruleset small" value="1.0.0 (small.yaml) {of_ruleset}"/>
<property name="digest of the rules" value="{of_rules}"/>
<property name="loosened rules" value="None of the shipped rulesets takes part (`rescued-cells`, `rescued-cells-measured`): nothing that they ask for was checked."/>
</properties>
"#
    );
    let expected = r#"<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="cellrules">
<testsuite name="a plan.yaml" tests="4" failures="1" errors="0" skipped="1">
PROPERTIES<testcase classname="every stage" name="bay-count">
<skipped message="it applies to nothing"/>
</testcase>
<testcase classname="every stage" name="revived-before">
<system-out>warn: Woken cell: cell K7. Not known: cells[K7].revived. (unmeasured: could be pass)</system-out>
</testcase>
<testcase classname="sorting" name="sleeve-damaged">
<failure type="refuse" message="Sleeve &lt;damaged&gt; &amp; &quot;bare&quot; ]]&gt;: cell K4">refuse: Sleeve &lt;damaged&gt; &amp; &quot;bare&quot; ]]&gt;: cell K4. Cell K4 has a sleeve that is nicked. Do: =Retire K4, or ask. [a plan.yaml:6:21]</failure>
</testcase>
<testcase classname="sorting" name="vented-case"/>
<system-out>refuse: Lamp, for &lt;night&gt; | relay
"#;
    begins(&text, &expected.replace("PROPERTIES", &properties));
    let document = Document::parse(&text).expect("it is XML");
    let failure = document
        .descendants()
        .find(|node| node.has_tag_name("failure"));
    let message = failure.and_then(|node| node.attribute("message"));
    assert_eq!(message, Some(r#"Sleeve <damaged> & "bare" ]]>: cell K4"#));
}

#[test]
fn a_table_of_csv_has_a_row_for_each_finding_and_no_formula() {
    let expected = r#"row,document,level,best,worst,status,stage,id,title,subject,says,remedy,missing,file,line,column
verdict,a plan.yaml,refuse,refuse,refuse,,,,"Lamp, for <night> | relay",,,,,,,
loosened,a plan.yaml,,,,,,rules,Without the shipped rules,,"None of the shipped rulesets takes part (`rescued-cells`, `rescued-cells-measured`): nothing that they ask for was checked.",,,,,
finding,a plan.yaml,refuse,refuse,refuse,decided,sorting,sleeve-damaged,"Sleeve <damaged> & ""bare"" ]]>",cell K4,Cell K4 has a sleeve that is nicked.,"'=Retire K4, or
ask.",,a plan.yaml,6,21
finding,a plan.yaml,warn,pass,warn,unmeasured,,revived-before,Woken cell,cell K7,Not known: cells[K7].revived. (unmeasured: could be pass),,cells[K7].revived,,,
notice,"#;
    let text = checked("csv");
    begins(&text, expected);
}

#[test]
fn markdown_has_a_table_of_findings() {
    let expected = r#"## Lamp, for \<night\> \| relay

**REFUSE**, a plan.yaml

None of the shipped rulesets takes part (\`rescued-cells\`, \`rescued-cells-measured\`): nothing that they ask for was checked.

Rules: small 1.0.0 (small.yaml); digest DIGEST (shortened).

| Verdict | Stage | Caution | Of | Why | What to do |
| --- | --- | --- | --- | --- | --- |
| refuse | sorting | Sleeve \<damaged\> \& "bare" \]\]\> (sleeve-damaged) | cell K4 | Cell K4 has a sleeve that is nicked. | =Retire K4, or ask. |
| warn |  | Woken cell (revived-before) | cell K7 | Not known: cells\[K7\].revived. (unmeasured: could be pass) |  |

## Whatever the verdict
"#;
    let text = checked("markdown");
    let (_, digest) = digests();
    // The word and twelve digits.
    begins(
        &text,
        &expected.replace("DIGEST", digest.get(..19).expect("digits")),
    );
}

#[test]
fn annotations_mark_the_lines() {
    let expected = r#"::notice file=a plan.yaml,title=Without the shipped rules::None of the shipped rulesets takes part (`rescued-cells`, `rescued-cells-measured`): nothing that they ask for was checked.
::error file=a plan.yaml,line=6,col=21,title=Sleeve <damaged> & "bare" ]]>::cell K4: Cell K4 has a sleeve that is nicked. Do: =Retire K4, or ask. [sleeve-damaged]
::warning file=a plan.yaml,title=Woken cell::cell K7: Not known: cells[K7].revived. (unmeasured: could be pass) [revived-before]
::notice title=Whatever the verdict::"#;
    let text = checked("annotations");
    begins(&text, expected);
}

/// The shipped points and that of the ruleset, whatever is read and whatever comes of it.
#[test]
fn every_document_carries_the_notice() {
    let folder = folder()
        .and("bad.yaml", UNKNOWN_KEY)
        .and("broken.yaml", "format: 1\nruleset: [\n");
    let cases: [&[&str]; 6] = [
        &["check", "a plan.yaml", "--rules", "small.yaml"],
        &["check", "bad.yaml"],
        &["check", "a plan.yaml", "--rules", "broken.yaml"],
        &["vet", "small.yaml"],
        &["vet", "broken.yaml"],
        &["cases", "small.yaml"],
    ];
    for arguments in cases {
        for form in FORMS {
            let ran = folder.run(&[arguments, &["--format", form]].concat());
            let shipped = match form {
                "annotations" => "Regulators advise against loose cells.",
                _ => "Consumers are told not to buy or use loose cells",
            };
            assert!(ran.out.contains(shipped), "{arguments:?} {}", ran.whole());
            if arguments.contains(&"small.yaml") {
                assert!(ran.out.contains("No pass overrules"), "{}", ran.whole());
            }
        }
    }
}

#[test]
fn the_exit_status_is_that_of_the_text() {
    let folder = folder()
        .and("bad.yaml", UNKNOWN_KEY)
        .and("good.yaml", good())
        .and("broken.yaml", "format: 1\nruleset: [\n");
    let cases: [&[&str]; 9] = [
        &["check", "good.yaml"],
        &["check", "good.yaml", "--stage", "sorting", "--strict"],
        &["check", "a plan.yaml", "--rules", "small.yaml"],
        &["check", "a plan.yaml", "bad.yaml", "none.yaml"],
        &["check", "good.yaml", "--rules", "broken.yaml"],
        &["check", "good.yaml", "--stage", "nowhere"],
        &["vet", "small.yaml", "rescued-cells"],
        &["vet", "broken.yaml", "small.yaml"],
        &["cases", "small.yaml"],
    ];
    for arguments in cases {
        let wanted = folder.run(arguments).code;
        for form in FORMS {
            let ran = folder.run(&[arguments, &["--format", form]].concat());
            assert_eq!(ran.code, wanted, "{arguments:?} {}", ran.whole());
        }
    }
}

#[test]
fn many_files_are_one_document_with_what_cannot_be_used_in_its_place() {
    let folder = folder().and("bad.yaml", UNKNOWN_KEY).and("last.yaml", PLAN);
    let run = |form: &str| {
        let files = ["a plan.yaml", "bad.yaml", "last.yaml"];
        let options = ["--rules", "small.yaml", "--format", form];
        let ran = folder.run(&[&["check"], &files[..], &options].concat());
        assert_eq!(ran.code, 2, "{}", ran.whole());
        assert!(ran.err.contains("bad.yaml:3:1"), "{}", ran.whole());
        ran.out
    };
    let all = sarif(&run("sarif"));
    let results = all["results"].as_array().expect("results");
    let proposals = results.iter().map(|one| &one["properties"]["proposal"]);
    let expected = ["a plan.yaml", "a plan.yaml", "last.yaml", "last.yaml"];
    assert_eq!(proposals.collect::<Vec<_>>(), expected);
    assert_eq!(
        all["tool"]["driver"]["rules"].as_array().map(Vec::len),
        Some(2)
    );
    let invocation = &all["invocations"][0];
    assert_eq!(invocation["executionSuccessful"], false);
    let told = &invocation["toolExecutionNotifications"][0];
    assert_eq!(
        (&told["level"], &told["descriptor"]["id"]),
        (&json!("error"), &json!("unknown-key"))
    );
    // `hue` has three letters; the end is the column after them (3.30.8 of the standard).
    let region = json!({ "startLine": 3, "startColumn": 1, "endColumn": 4 });
    assert_eq!(told["locations"][0]["physicalLocation"]["region"], region);

    let junit = run("junit");
    let document = Document::parse(&junit).expect("it is XML");
    let suites = document
        .descendants()
        .filter(|node| node.has_tag_name("testsuite"));
    let counts = suites.map(|suite| {
        ["name", "tests", "failures", "errors"]
            .map(|name| suite.attribute(name).unwrap_or_default())
    });
    let expected = [
        ["a plan.yaml", "4", "1", "0"],
        ["bad.yaml", "1", "0", "1"],
        ["last.yaml", "4", "1", "0"],
    ];
    assert_eq!(counts.collect::<Vec<_>>(), expected);
    let annotations = run("annotations");
    assert!(annotations.contains("::error file=bad.yaml,line=3,col=1,title=unknown-key::"));
}

/// A suite that is green where nothing was checked would be a pass by accident.
#[test]
fn that_nothing_was_checked_is_no_success() {
    let only_bays = RULES.split("cautions:").next().expect("a head").to_owned()
        + "cautions:\n  - { id: bays, title: Bays, about: light, applies_when: light.bays > 5, refuse_unless: light.bays < 9, reason: No., basis: [{ from_memory: it }] }\n";
    let folder = folder().and("bays.yaml", only_bays);
    let ran = folder.run(&[
        "check",
        "--rules",
        "bays.yaml",
        "a plan.yaml",
        "--format",
        "junit",
    ]);
    assert_eq!(ran.code, 3, "{}", ran.whole());
    assert!(
        ran.out
            .contains("tests=\"2\" failures=\"0\" errors=\"1\" skipped=\"1\""),
        "{}",
        ran.whole()
    );
    let lamps = folder.path().join("lamps");
    std::fs::create_dir(&lamps).expect("a folder");
    let bench =
        "format: 1\nbench: Clubhouse\nlights: { start-hut: { bays: 2, arrangement: 1S2P } }\n";
    std::fs::write(lamps.join("bench.yaml"), bench).expect("a file");
    let ran = folder.run(&["check", "lamps", "--format", "junit"]);
    assert_eq!(ran.code, 3, "{}", ran.whole());
    let expected = "tests=\"1\" failures=\"0\" errors=\"1\" skipped=\"0\"";
    assert!(ran.out.contains(expected), "{}", ran.whole());
}

#[test]
fn nothing_that_acts_on_a_reader_is_written() {
    let plan = PLAN.replace("Lamp, for", "\\e[2J\\u202E\\r\\nLamp\\t%0A::error::x");
    let folder = folder().and("acts.yaml", plan);
    for form in FORMS {
        let ran = folder.run(&[
            "check",
            "--rules",
            "small.yaml",
            "acts.yaml",
            "--format",
            form,
        ]);
        let acts = |letter: char| letter.is_control() && letter != '\n' || letter == '\u{202e}';
        assert!(!ran.out.contains(acts), "{}", ran.whole());
        assert!(
            !ran.out.lines().any(|line| line.starts_with("::error::x")),
            "{}",
            ran.whole()
        );
    }
}

#[test]
fn a_document_goes_to_the_file_that_is_named() {
    let folder = folder();
    let ran = folder.run(&[
        "check",
        "--rules",
        "small.yaml",
        "a plan.yaml",
        "--format",
        "sarif",
        "-o",
        "found.sarif",
    ]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    let written = std::fs::read_to_string(folder.path().join("found.sarif")).expect("a file");
    assert_eq!(written, checked("sarif"));
}
