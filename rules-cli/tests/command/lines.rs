//! `stream`: a proposal a line, a record a line.

use serde_json::{Value, json};

use crate::running::{Folder, RULES, Ran};

fn torch(volts: &str) -> String {
    json!({ "format": 1, "arrangement": "1S1P", "cells": [{ "id": "K4", "protected": "yes", "rest": { "voltage": volts } }] }).to_string()
}

fn streamed(args: &[&str], lines: &str) -> (Ran, Vec<Value>) {
    let all: Vec<&str> = ["stream", "--rules", "rules.yaml"]
        .iter()
        .chain(args)
        .copied()
        .collect();
    let ran = Folder::with("rules.yaml", RULES).run_with(&all, lines);
    let records = ran
        .out
        .lines()
        .map(|line| serde_json::from_str(line).expect("a record is JSON"))
        .collect();
    (ran, records)
}

#[test]
fn records_come_in_the_order_of_the_lines_and_hold_the_report_of_a_check() {
    let volts = ["3.87 V", "2.00 V", "3.87 V"];
    let lines: String = volts.iter().map(|volts| torch(volts) + "\n").collect();
    let (ran, records) = streamed(&["--full"], &lines);
    assert_eq!(ran.code, 1);
    assert_eq!(ran.err, "3 lines: 2 pass, 0 warn, 1 refuse\n");
    for (at, (record, volts)) in records.iter().zip(volts).enumerate() {
        assert_eq!(record["line"], at + 1);
        let checked = Folder::with("rules.yaml", RULES).run_with(
            &["check", "--rules", "rules.yaml", "--format", "json"],
            torch(volts),
        );
        let mut report: Value = serde_json::from_str(&checked.out).expect("JSON");
        // A stream does not try what would change it.
        let changes = report
            .as_object_mut()
            .and_then(|all| all.remove("would_change"));
        assert_eq!(changes.is_some(), volts == "2.00 V");
        // They differ in the name of what was read, nowhere else.
        let named = |value: &Value| {
            value
                .to_string()
                .replace(&format!("\"line {}\"", at + 1), "\"stdin\"")
        };
        assert_eq!(
            named(&record["report"]),
            std::mem::take(&mut report).to_string()
        );
    }
}

#[test]
fn one_line_is_counted_as_one() {
    let (ran, _) = streamed(&[], &torch("3.87 V"));
    assert_eq!(ran.err, "1 line: 1 pass, 0 warn, 0 refuse\n");
}

#[test]
fn a_bad_line_gets_its_problems_in_its_place_and_the_stream_goes_on() {
    let lines = format!(
        "{}\nnot JSON\n\n{}\r\n{}",
        torch("3.87 V"),
        torch("3 A"),
        torch("2.00 V")
    );
    let (ran, records) = streamed(&[], &lines);
    assert_eq!(ran.code, 2);
    assert_eq!(
        ran.err,
        "5 lines: 1 pass, 0 warn, 1 refuse, 2 could not be used, 1 blank\n"
    );
    let told: Vec<(u64, &str)> = records
        .iter()
        .map(|record| {
            let what = record["problems"][0]["fault"]
                .as_str()
                .or(record["verdict"].as_str());
            (
                record["line"].as_u64().expect("a line"),
                what.expect("a verdict or a problem"),
            )
        })
        .collect();
    assert_eq!(
        told,
        [(1, "pass"), (2, "syntax"), (4, "wrong-kind"), (5, "refuse")]
    );
    assert_eq!(records[1]["problems"][0]["place"]["file"], "line 2");
    assert_eq!(
        (&records[3]["subjects"], &records[3]["sets"]),
        (&json!([{ "kind": "cell", "name": "K4" }]), &json!([[0]]))
    );
    assert_eq!(records[3]["findings"][0]["subjects"], 0);
}

#[test]
fn many_lines_keep_their_order() {
    let lines: String = (0..3000)
        .map(|at| torch(if at % 7 == 0 { "2.00 V" } else { "3.87 V" }) + "\n")
        .collect();
    let (ran, records) = streamed(&[], &lines);
    assert_eq!(ran.err, "3000 lines: 2571 pass, 0 warn, 429 refuse\n");
    let in_order = |(at, record): (usize, &Value)| {
        record["line"] == at + 1 && (record["verdict"] == "refuse") == (at % 7 == 0)
    };
    assert!(records.iter().enumerate().all(in_order));
}

/// No more than a case that is not there or a caution that does not apply.
#[test]
fn a_stream_without_a_proposal_is_no_pass() {
    for (lines, said) in [
        (
            "",
            "0 lines: 0 pass, 0 warn, 0 refuse; nothing was checked\n",
        ),
        (
            "\n \t\r\n",
            "2 lines: 0 pass, 0 warn, 0 refuse, 2 blank; nothing was checked\n",
        ),
    ] {
        for args in [[].as_slice(), &["--full"], &["--strict"]] {
            let (ran, records) = streamed(args, lines);
            assert_eq!((ran.code, ran.err.as_str(), records.len()), (3, said, 0));
        }
    }
    let (ran, _) = streamed(&[], &format!("\n{}\n", torch("3.87 V")));
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(streamed(&[], "\nnot JSON\n").0.code, 2);
}

#[test]
fn a_folder_is_said_to_be_one() {
    let folder = Folder::with("rules.yaml", RULES);
    let ran = folder.run(&["stream", "--rules", "rules.yaml", "."]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert_eq!(
        ran.err,
        "error: `.` is a folder\n    help: name a file in it\n"
    );
}

/// A folder as standard input can be opened and not read.
#[cfg(unix)]
#[test]
fn an_input_that_cannot_be_read_is_no_fault_of_the_output() {
    let folder = Folder::with("rules.yaml", RULES);
    let output = folder
        .command()
        .args(["stream", "--rules", "rules.yaml"])
        .stdin(std::fs::File::open(std::env::temp_dir()).expect("a folder"))
        .output()
        .expect("its output");
    let err = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        err.starts_with("error: standard input could not be read to its end: ")
            && err.ends_with("\n0 lines: 0 pass, 0 warn, 0 refuse; nothing was checked\n"),
        "{err}"
    );
}

/// What a line costs has a bound, and the record says what it leaves out.
#[test]
fn a_line_of_many_problems_has_a_record_of_bounded_size() {
    let repeated = format!("{{{}\"a\":1}}\n", "\"a\":1,".repeat(20_000));
    let long = "k".repeat(100_000);
    let (ran, records) = streamed(&[], &format!("{repeated}{{\"{long}\":1,\"{long}\":2}}\n"));
    assert_eq!((ran.code, records.len()), (2, 2));
    let problems = records[0]["problems"].as_array().expect("a list");
    assert_eq!(problems.len(), 1_001);
    // Of 20,000 repeated keys, one unknown key, and `format` and `arrangement` that are missing.
    assert_eq!(
        problems[1_000]["message"],
        "`line 1` has 19003 more problems"
    );
    let longest = ran.out.lines().map(str::len).max();
    assert!(
        longest.is_some_and(|bytes| bytes < 3_000_000),
        "{longest:?}"
    );
    assert!(records[1].to_string().len() < 5_000);
}

#[test]
fn a_missing_file_is_said() {
    let ran =
        Folder::with("rules.yaml", RULES).run(&["stream", "--rules", "rules.yaml", "none.jsonl"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.starts_with("error: `none.jsonl` cannot be read: "),
        "{}",
        ran.err
    );
}

/// Readings that contradict each other have no verdict, in full or not, in a stream or alone;
/// the places of both are reported.
#[test]
fn contradictory_readings_have_no_verdict_anywhere() {
    let line = json!({ "format": 1, "arrangement": "1S1P", "cells": [{
        "id": "K4", "protected": "yes", "rest": { "voltage": "3.87 V" },
        "resistance": { "value": "61 mohm", "method": "dc-10s" },
        "loaded": { "open": "3.90 V", "closed": "1.00 V", "resistor": "1 ohm" },
    }] })
    .to_string();
    let column = |value: &str| line.find(value).expect("it stands there");
    let mut places = [column("\"61 mohm\""), column("\"1.00 V\"")].map(|at| at + 1);
    places.sort_unstable();
    let is_told = |problem: &Value| {
        problem["fault"] == "contradiction"
            && problem["place"]["column"] == places[1]
            && problem["message"]
                .as_str()
                .is_some_and(|said| said.contains(&format!("line 1, column {}", places[0])))
    };
    for args in [&[][..], &["--full"]] {
        let (ran, records) = streamed(args, &line);
        assert_eq!((ran.code, records.len()), (2, 1), "{}", ran.whole());
        let problems = records[0]["problems"].as_array().expect("problems");
        assert!(problems.len() == 1 && is_told(&problems[0]), "{problems:?}");
    }
    let folder = Folder::with("rules.yaml", RULES);
    for command in ["check", "figures"] {
        let ran = folder.run_with(&[command, "--rules", "rules.yaml"], &line);
        assert!(
            ran.code == 2 && ran.out.is_empty() && ran.err.contains("cannot both be true"),
            "{}",
            ran.whole()
        );
    }
}

/// What has no verdict is reported in every form: as text, as JSON and in a stream.
#[test]
fn what_is_told_without_a_verdict_is_told_in_every_form() {
    let cell = |id: &str| json!({ "id": id, "protected": "yes", "rest": { "voltage": "3.87 V" } });
    let cells = [cell("K1"), cell("Kl")];
    let twins = json!({ "format": 1, "arrangement": "2S1P", "cells": cells }).to_string();
    let check = |args: &[&str]| {
        let all: Vec<&str> = ["check", "--rules", "rules.yaml"]
            .iter()
            .chain(args)
            .copied()
            .collect();
        Folder::with("rules.yaml", RULES).run_with(&all, &twins).out
    };
    let text = check(&["--full"]);
    assert!(
        text.contains("Without a verdict")
            && text.contains("No label of a pack was looked at")
            && text.contains("the cells `K1`, `Kl`."),
        "{text}"
    );
    let page = check(&[]);
    assert!(page.contains("the cells `K1`, `Kl`."), "{page}");
    let report: Value = serde_json::from_str(&check(&["--format", "json"])).expect("JSON");
    let (_, whole) = streamed(&["--full"], &format!("{twins}\n"));
    let (_, lean) = streamed(&[], &format!("{twins}\n"));
    for remarks in [
        &report["remarks"],
        &whole[0]["report"]["remarks"],
        &lean[0]["remarks"],
    ] {
        let named: Vec<(&Value, &Value)> = remarks
            .as_array()
            .expect("remarks")
            .iter()
            .map(|remark| (&remark["remark"], &remark["names"]))
            .collect();
        let left_out = json!(["rescued-cells", "rescued-cells-measured"]);
        assert_eq!(
            named,
            [
                (&json!("without-shipped"), &left_out),
                (&json!("looks-alike"), &json!(["K1", "Kl"])),
                (&json!("none-brought"), &Value::Null),
            ]
        );
    }
}
