//! Many proposals at once: a line for each, in order and as it comes, then what they came to.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use serde_json::Value;

use crate::running::{Folder, RULES, Ran, good, one_cell, run};

/// Runs the command where the demo is.
fn demo(args: &[&str]) -> Ran {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_cellrules"));
    run(
        command
            .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/demo"))
            .args(args),
        b"",
    )
}

/// A folder of proposals: each third is refused.
fn many(count: usize) -> Folder {
    let folder = Folder::with("rules.yaml", RULES);
    let lamps = folder.path().join("lamps");
    std::fs::create_dir(&lamps).expect("a folder");
    for number in 0..count {
        let text = match number % 3 {
            0 => one_cell("protected: no, rest: { voltage: 3.87 V }"),
            _ => good(),
        };
        let text = text.replace("Marshal's torch", &format!("Lamp {number}"));
        std::fs::write(lamps.join(format!("{number:04}.yaml")), text).expect("a file");
    }
    folder
}

#[test]
fn the_demos_have_a_line_each() {
    insta::assert_snapshot!(demo(&["check", "."]).whole());
}

/// A folder has other files than proposals. Nobody has to take them out, and none is passed over in
/// silence.
#[test]
fn a_bench_beside_its_proposals_is_none() {
    insta::assert_snapshot!(demo(&["check", "club"]).whole());
    let asked_for = demo(&["check", "club/bench.yaml", "club/helmet-lamp.yaml"]);
    assert_eq!(asked_for.code, 2, "it was named: {}", asked_for.whole());
}

/// Figures and plain proposals are asked for as checks are: files, folders, and both.
#[test]
fn other_answers_are_of_files_and_folders_too() {
    let left_out = "`club/bench.yaml` is a bench and was left out\n";
    let files = ["helmet-lamp.yaml", "marshal-torch.yaml", "start-hut.yaml"];
    let files = files.map(|name| format!("club/{name}"));
    for command in ["figures", "plain"] {
        let ran = demo(&[command, "--format", "json", "club"]);
        assert_eq!(
            (ran.code, ran.err.as_str()),
            (0, left_out),
            "{}",
            ran.whole()
        );
        let all: Vec<Value> = serde_json::from_str(&ran.out).expect("an array");
        let mut titles = all
            .iter()
            .map(|one| one["title"].as_str().expect("a title"));
        assert!(
            titles
                .next()
                .is_some_and(|title| title.starts_with("Helmet lamp"))
        );
        let named: Vec<&str> = files.iter().map(String::as_str).collect();
        let again = demo(&[&[command, "--format", "json"], named.as_slice()].concat());
        assert_eq!(ran.out, again.out);
        let text = demo(&[command, "club"]);
        assert_eq!((text.code, text.err.as_str()), (0, left_out));
    }
    let text = demo(&["plain", "club"]).out;
    let documents: Vec<&str> = text.split("---\n").collect();
    assert_eq!(documents.len(), 4, "{text}");
    for (document, name) in documents.iter().skip(1).zip(&files) {
        let alone = demo(&["plain", name]).out;
        let (head, rest) = document.split_once('\n').expect("its name");
        assert_eq!(head, format!("# {name}"));
        // It is told which others use its cells, and nothing else.
        let more: Vec<&str> = rest.lines().filter(|line| !alone.contains(line)).collect();
        assert!(more.iter().all(|line| line.contains(" too.")), "{more:?}");
    }
}

#[test]
fn lines_come_in_order_and_stay_whole() {
    let folder = many(100);
    for width in ["60", "80"] {
        let args = ["check", "-r", "rules.yaml", "lamps", "--width", width];
        let ran = folder.run(&args);
        assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{}", ran.whole());
        for (number, line) in ran.out.lines().take(100).enumerate() {
            let expected = match number % 3 {
                0 => format!("refuse  Lamp {number}: 1 against it (lamps/{number:04}.yaml)"),
                _ => format!(
                    "pass    Lamp {number}: 2 cautions apply, and none speaks against it (lamps/{number:04}.yaml)"
                ),
            };
            assert_eq!(line, expected);
        }
        let totals = "\n\n100 proposals: 34 refuse, 0 warn, 66 pass\n";
        assert!(ran.out.contains(totals), "{}", ran.out);
    }
}

/// The notice of the shipped rules begins so.
#[test]
fn the_notice_stands_once() {
    let folder = many(7);
    let notice = "Regulators advise";
    let ran = folder.run(&["check", "lamps"]);
    assert_eq!(ran.out.matches(notice).count(), 1, "{}", ran.out);
    let pages = folder.run(&["check", "--questions", "lamps"]);
    assert_eq!(pages.out.matches(notice).count(), 1, "{}", pages.out);
}

#[test]
fn pages_have_a_rule_between() {
    let folder = Folder::with("rules.yaml", RULES)
        .and("a.yaml", good())
        .and("b.yaml", one_cell("protected: no"));
    for form in ["--full", "--questions"] {
        let check = |files: &[&str]| {
            folder
                .run(&[&["check", form, "-r", "rules.yaml"], files].concat())
                .out
        };
        let (first, second) = (check(&["a.yaml"]), check(&["b.yaml"]));
        let rule = format!("\n{}\n\n", "-".repeat(80));
        let both = check(&["a.yaml", "b.yaml"]);
        let totals = "2 proposals: 1 refuse, 0 warn, 1 pass\n";
        assert!(
            both.starts_with(&format!("{first}{rule}{second}{rule}{totals}")),
            "{both}"
        );
    }
}

#[test]
fn json_is_an_array_of_the_reports() {
    let folder = many(20);
    std::fs::write(
        folder.path().join("lamps/0010a.yaml"),
        "format: 1\nhue: 3\n",
    )
    .expect("a file");
    let args = ["check", "-r", "rules.yaml", "--format", "json"];
    let ran = folder.run(&[&args[..], &["lamps"]].concat());
    assert_eq!(ran.code, 2);
    let all: Vec<Value> = serde_json::from_str(&ran.out).expect("an array");
    assert_eq!(all.len(), 21);
    for (at, one) in all.iter().enumerate() {
        let name = one["proposal"].as_str().expect("its name");
        assert_eq!(one["problems"].is_array(), at == 11, "{name}");
        if at != 11 {
            let alone = folder.run(&[&args[..], &[name]].concat());
            assert_eq!(
                serde_json::from_str::<Value>(&alone.out).expect("JSON"),
                *one
            );
        }
    }
    // A folder is an array, whatever is in it.
    let one = many(1).run(&["check", "-r", "rules.yaml", "--format", "json", "lamps"]);
    let one: Value = serde_json::from_str(&one.out).expect("JSON");
    assert_eq!(one.as_array().map(Vec::len), Some(1));
}

#[test]
fn what_was_not_wholly_checked_says_so_on_its_line() {
    let folder = many(2);
    let ran = folder.run(&[
        "check",
        "--stage",
        "sorting",
        "--acceptance",
        "simple",
        "lamps",
    ]);
    let first = ran.out.lines().next().expect("a line");
    assert!(
        first.starts_with("refuse  for sorting: Lamp 0: "),
        "{first}"
    );
    let said =
        "2 proposals, for sorting only: 2 refuse, 0 warn, 0 pass\nSimple acceptance in 2 reports: ";
    assert!(ran.out.contains(said), "{}", ran.out);
}

#[test]
fn what_is_loosened_is_told_once() {
    let local = "format: 1\nruleset: club\nversion: 1.0.0\ntitle: The club\nextends: [./rules.yaml]\n\
                 adjust:\n  limits:\n    rest_least: { to: 2.40 V, because: the club measures well }\n";
    let folder = many(3).and("club.yaml", local);
    let ran = folder.run(&["check", "-r", "club.yaml", "lamps"]);
    assert_eq!(
        ran.out.matches("Loosened by club: ").count(),
        1,
        "{}",
        ran.whole()
    );
}

/// What is wrong with the stages asked for is wrong for each; it is told once.
#[test]
fn the_same_problem_is_told_once() {
    let folder = many(30);
    let ran = folder.run(&["check", "--stage", "sortng", "lamps"]);
    assert_eq!(ran.code, 2);
    assert_eq!(
        ran.err.matches("there is no stage `sortng`").count(),
        1,
        "{}",
        ran.err
    );
    assert_eq!(
        ran.out.matches("cannot be used: 1 problem").count(),
        30,
        "{}",
        ran.out
    );
    assert!(
        ran.out
            .contains("30 proposals: 0 refuse, 0 warn, 0 pass; 30 cannot be used"),
        "{}",
        ran.out
    );
}

#[test]
fn folders_without_proposals() {
    let folder = Folder::with("rules.yaml", RULES);
    std::fs::create_dir(folder.path().join("empty")).expect("a folder");
    let ran = folder.run(&["check", "-r", "rules.yaml", "empty"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(
        ran.err.contains("`empty` is a folder without proposals"),
        "{}",
        ran.err
    );
    // A ruleset stands in this one, and nothing that can be checked.
    let ran = folder.run(&["check", "-r", "rules.yaml", "."]);
    assert_eq!(ran.code, 3, "{}", ran.whole());
    assert!(
        ran.err.contains("is a ruleset and was not checked"),
        "{}",
        ran.err
    );
    let ran = folder.run(&["check", "-r", "rules.yaml", "--format", "json", "."]);
    assert_eq!((ran.code, ran.out.as_str()), (3, "[]\n"));
}

/// Each line is handed over when it is its turn. A reader who has gone ends the run.
#[test]
fn the_first_line_does_not_wait_for_the_last() {
    let folder = many(1_500);
    let mut child = folder
        .command()
        .args(["check", "--rules", "rules.yaml", "lamps"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command");
    let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
    let first = lines.next().expect("a line").expect("text");
    assert!(first.starts_with("refuse  Lamp 0: "), "{first}");
    // More is left to write than a pipe holds.
    assert!(child.try_wait().expect("a state").is_none(), "it goes on");
    drop(lines);
    let output = child.wait_with_output().expect("an end");
    assert_eq!(
        (output.status.code(), output.stderr.as_slice()),
        (Some(1), b"".as_slice())
    );
}
