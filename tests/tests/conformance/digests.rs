//! Digests of reports, worked out again in another language from the text of the language alone.
//!
//! They hold the digest of `facts.yaml`: with `UPDATE_SHIPPED=1` those of the suite, and the example
//! on the language's page, are worked out anew by that other language.

use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use rules_core::document::{Content, Node, Syntax, read, source};
use rules_tests::conformance::{Case, Expect, files};
use serde_json::{Value, json};

/// A document in JSON, each scalar as a text.
fn document(text: &str) -> Value {
    fn value(node: &Node<'_>) -> Value {
        match &node.content {
            Content::Nothing => Value::Null,
            Content::Scalar(scalar) => scalar.text.clone().into(),
            Content::List(items) => items.iter().map(value).collect(),
            Content::Map(entries) => {
                let pair = |entry: &rules_core::document::Entry<'_>| {
                    (entry.key.to_string(), value(&entry.node))
                };
                Value::Object(entries.iter().map(pair).collect())
            }
        }
    }
    let source = source("document", text.into()).expect("a text");
    value(&read(&source, Syntax::Yaml).expect("a document"))
}

fn project() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The list that a digest is taken of, and the digest; nothing where there is no Python.
fn worked_out(case: &Case) -> Option<(Value, String)> {
    let files = case.files().into_iter();
    let files: serde_json::Map<String, Value> = files
        .map(|(name, text)| (name.to_owned(), document(text)))
        .collect();
    let asked =
        json!({ "facts": document(rulesets::facts::TABLE), "files": files, "given": case.given() });
    let mut python = Command::new("python3")
        .arg(project().join("report_digest.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .ok()?;
    let mut input = python.stdin.take().expect("its input");
    input
        .write_all(asked.to_string().as_bytes())
        .expect("it reads");
    drop(input);
    let output = python.wait_with_output().expect("its output");
    assert!(output.status.success(), "{}", case.name);
    let said = String::from_utf8(output.stdout).expect("a text");
    let (list, digest) = said.trim_end().split_once('\n').expect("two lines");
    let list = serde_json::from_str(list).expect("JSON");
    Some((list, digest.to_owned()))
}

/// The cases that give the digest of a report.
fn cases() -> Vec<(Case, String)> {
    let all = files().expect("the suite").into_iter();
    let digest = |case: Case| match &case.expect {
        Expect::Outcome(outcome) => outcome.digest.clone().map(|digest| (case, digest)),
        _ => None,
    };
    all.flat_map(|file| file.content.cases)
        .filter_map(digest)
        .collect()
}

fn updates() -> bool {
    std::env::var_os("UPDATE_SHIPPED").is_some()
}

#[test]
fn another_language_works_out_the_same_digests() {
    let file = project().join("conformance/digests-report.yaml");
    let mut text = std::fs::read_to_string(&file).expect("the cases");
    let cases = cases();
    assert!(cases.len() >= 6);
    for (case, expected) in cases {
        let Some((_, digest)) = worked_out(&case) else {
            println!("skipped: there is no python3 here");
            return;
        };
        if updates() {
            text = text.replace(&expected, &digest);
        } else {
            assert_eq!(digest, expected, "{}", case.name);
        }
    }
    if updates() {
        std::fs::write(file, text).expect("it can be written");
    }
}

const BEFORE: &str = "the list (shown here with line ends and spaces that it does not have) and its digest are\n\n```json\n";

/// The example of section 7 is the first of the cases.
#[test]
fn the_example_of_the_page_is_worked_out() {
    let page = project().join("../rulesets/LANGUAGE.md");
    let text = std::fs::read_to_string(&page).expect("the page");
    let (before, rest) = text.split_once(BEFORE).expect("the example");
    let (shown, after) = rest.split_once("\n```\n").expect("its end");
    let (case, _) = cases().remove(0);
    for (name, document) in case.files() {
        assert!(text.contains(document), "the page lacks {name} of the case");
    }
    let Some((list, digest)) = worked_out(&case) else {
        return;
    };
    if updates() {
        let list = serde_json::to_string_pretty(&list).expect("JSON");
        let text = format!("{before}{BEFORE}{list}\n{digest}\n```\n{after}");
        std::fs::write(page, text).expect("it can be written");
    } else {
        let (shown, last) = shown.rsplit_once('\n').expect("the digest's line");
        let shown: Value = serde_json::from_str(shown).expect("JSON");
        assert_eq!((shown, last), (list, digest.as_str()));
    }
}
