//! Whatever is asked or read, nothing of it acts on a terminal: not in text, not in JSON, not in
//! the messages for wrong usage.

use std::collections::BTreeSet;

use crate::running::{Folder, RULES, Ran, one_cell, run};

/// Moves the cursor or turns the writing direction: delete and the C1 set of ECMA-48, the marks and
/// overrides of the Unicode Bidirectional Algorithm (UAX 9, section 2), the separators of lines and
/// paragraphs, and the mark of byte order.
const ACTS: &str = "\u{7f}\u{80}\u{9b}2J\u{9f}\u{61c}\u{200e}\u{200f}\u{2028}\u{2029}\u{202a}\u{202e}\u{2066}\u{2069}\u{feff}";

/// What of a text acts, besides line ends; with those of the C0 set.
fn acting(text: &str) -> BTreeSet<char> {
    let acts = |letter: &char| {
        (letter.is_control() && *letter != '\n') || (!letter.is_ascii() && ACTS.contains(*letter))
    };
    text.chars().filter(acts).collect()
}

fn assert_harmless(ran: &Ran, what: &str) {
    assert_eq!(acting(&ran.out), BTreeSet::new(), "{what}: {:?}", ran.out);
    assert_eq!(acting(&ran.err), BTreeSet::new(), "{what}: {:?}", ran.err);
}

/// What acts, as a text of YAML or JSON: in escapes, for YAML does not take all of it as it is.
fn written() -> String {
    let escapes: String = ACTS
        .chars()
        .map(|letter| format!("\\u{:04x}", u32::from(letter)))
        .collect();
    format!("\"{escapes}\"")
}

/// The rules of the tests with a remedy of marks of direction: of what acts on a terminal, only
/// these may be in a ruleset.
fn rules() -> String {
    let remedy = "remedy: Retire it. Take it to a collection point.";
    assert!(RULES.contains(remedy));
    RULES.replace(remedy, r#"remedy: "Retire\u061c\u200e\u200f it.""#)
}

#[test]
fn json_escapes_what_acts() {
    let folder = Folder::with("rules.yaml", rules());
    let as_json = ["--rules", "rules.yaml", "--format", "json"];
    let titled = one_cell("protected: yes, rest: { voltage: 2.00 V }")
        .replace("Marshal's torch", &written());
    for command in ["check", "figures"] {
        let ran = folder.run_with(&[&[command][..], &as_json].concat(), &titled);
        assert!(ran.out.contains("\\u009b2J") && ran.out.contains("\\u202e"));
        assert_harmless(&ran, command);
        let read: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
        assert_eq!(read["title"], ACTS, "it is the same title");
    }
    for args in [
        ["merged", "rules.yaml"].as_slice(),
        &[
            "explain",
            "rest-low",
            "--rules",
            "rules.yaml",
            "--format",
            "json",
        ],
        &["cautions", "--rules", "rules.yaml", "--format", "json"],
        &["vet", "rules.yaml", "--format", "json"],
        &["cases", "rules.yaml", "--format", "json"],
        &["label", "--code", ACTS, "--format", "json"],
    ] {
        assert_harmless(&folder.run(args), args[0]);
    }
}

#[test]
fn records_escape_what_acts() {
    let folder = Folder::with("rules.yaml", rules());
    let line = |title: &str, volts: &str| {
        serde_json::json!({ "format": 1, "title": title, "arrangement": "1S1P",
            "cells": [{ "id": "K4", "protected": "yes", "rest": { "voltage": volts } }] })
    };
    let lines = format!("{}\n{}\n{ACTS}\n", line(ACTS, "2.00 V"), line("t", ACTS));
    for form in [[].as_slice(), &["--full"]] {
        let args = [&["stream", "--rules", "rules.yaml"], form].concat();
        let ran = folder.run_with(&args, &lines);
        assert_eq!(ran.out.lines().count(), 3, "{}", ran.out);
        assert_harmless(&ran, "stream");
    }
}

/// A merged ruleset is JSON too.
#[test]
fn what_is_merged_escapes_what_acts() {
    let folder = Folder::with("rules.yaml", rules());
    let merged = folder.run(&["merged", "rules.yaml"]);
    assert!(
        merged.out.contains("\\u061c\\u200e\\u200f"),
        "{}",
        merged.out
    );
    assert_harmless(&merged, "merged");
}

/// Wrong usage quotes the arguments, in every way there is to be wrong; in colours too.
#[test]
fn wrong_usage_is_told_without_what_acts() {
    let folder = Folder::with("rules.yaml", RULES);
    let word = format!("x\u{1b}[2J\u{7}\r{ACTS}");
    let (option, short) = (format!("--{word}"), format!("-{word}"));
    let equals = format!("--format={word}");
    for args in [
        [word.as_str()].as_slice(),
        &["help", &word],
        &["check", &option],
        &["check", &short],
        &[&option, "check"],
        &["check", "--format", &word],
        &["check", &equals],
        &["check", "--acceptance", &word],
        &["--width", &word, "check"],
        &["--color", &word, "check"],
        &["cautions", &word],
        &["cautions", "--rules", &word],
        &["explain", "a", &word],
        &["explain", &word],
        &["schema", &word],
        &["label", "--cells", &word],
        &["label", "--voltage", &word],
        &["vet", &word],
        &["check", &word],
        &["stream", &word],
    ] {
        let ran = folder.run(args);
        assert_eq!(ran.code, 2, "{args:?}: {}", ran.whole());
        assert_harmless(&ran, &format!("{args:?}"));
        let mut command = folder.command();
        let coloured = run(command.env("CLICOLOR_FORCE", "1").args(args), b"");
        let plain = without_colours(&coloured.err);
        assert_eq!(acting(&plain), BTreeSet::new(), "{args:?}: {plain:?}");
    }
}

/// A text without colour codes: Select Graphic Rendition of ECMA-48, `ESC [`, digits and
/// semicolons, `m`.
fn without_colours(text: &str) -> String {
    let mut parts = text.split("\u{1b}[");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |plain, part| {
        let code = part.trim_start_matches(|c: char| c.is_ascii_digit() || c == ';');
        match code.strip_prefix('m') {
            Some(rest) => plain + rest,
            None => plain + "\u{1b}[" + part,
        }
    })
}

#[cfg(unix)]
#[test]
fn names_of_files_do_not_act() {
    let name = format!("torch\u{1b}[2J{ACTS}.yaml");
    let folder = Folder::with("rules.yaml", RULES).and(&name, one_cell("protected: no"));
    for form in [[].as_slice(), &["--full"], &["--format", "json"]] {
        let args = [&["check", "--rules", "rules.yaml", &name], form].concat();
        let ran = folder.run(&args);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert_harmless(&ran, "a name");
    }
    let streamed = folder.run(&["stream", "--rules", "rules.yaml", &name]);
    assert_harmless(&streamed, "a stream");
    assert_harmless(&folder.run(&["vet", &name]), "a ruleset");
}
