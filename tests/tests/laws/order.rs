//! Law 5: the order of cells, of cautions, of limits, of files and of keys never matters.

use std::collections::BTreeSet;

use proptest::test_runner::TestCaseError;
use rules_core::check::Report;
use rules_core::ruleset::Rules;
use rules_tests::law::law;
use rules_tests::restored;
use serde_json::Value;

use crate::generate::choices::{Choices, broken, three};
use crate::generate::document::{Doc, Style, map, text};
use crate::generate::proposal::{Draft, Wish, draft_of};
use crate::generate::quantity::Care;
use crate::generate::ruleset::{Ruleset, head, ruleset};
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{checked, listed, load_files};

/// Known and not yet corrected: a clause lists 24 of its facts; which ones, and how many more it
/// says there are, hangs on the order of the cells.
const LISTS_OF_FACTS_HANG_ON_ORDER: bool = false;

/// The same rules in several files and the same proposal, written in another order throughout.
#[test]
fn no_order_matters() {
    law(
        "no order matters",
        200,
        three(),
        |[rules, proposal, order], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            seen.count(scene.draft.cells.len());
            same_in_any_order(&scene.ruleset, &scene.draft, &mut Choices::of(&order))
        },
    );
}

/// The same with more cells than a finding names.
#[test]
fn no_order_of_many_cells_matters() {
    law(
        "no order of many cells matters",
        60,
        three(),
        |[rules, proposal, order], seen| {
            let ruleset = ruleset(&mut Choices::of(&rules), &[], false);
            let wish = Wish {
                likely: &ruleset.facts(),
                complete: false,
                care: Care::Any,
            };
            let mut choices = Choices::of(&proposal);
            let arrangement = (1, 25 + choices.below(6));
            let draft = draft_of(&mut choices, &wish, arrangement);
            seen.count(draft.cells.len());
            same_in_any_order(&ruleset, &draft, &mut Choices::of(&order))
        },
    );
}

fn same_in_any_order(
    ruleset: &Ruleset,
    draft: &Draft,
    choices: &mut Choices<'_>,
) -> Result<(), TestCaseError> {
    let mut turned = ruleset.clone();
    choices.shuffle(&mut turned.cautions);
    let (one, other) = (
        files(ruleset, None, &["part-a.yaml", "part-b.yaml"])?,
        files(&turned, Some(choices), &["part-b.yaml", "part-a.yaml"])?,
    );
    let mut order: Vec<usize> = (0..draft.cells.len()).collect();
    let plain = draft.doc().write(Style::Yaml);
    choices.shuffle(&mut order);
    let mut turned = draft.clone();
    choices.shuffle(&mut turned.packs);
    let mixed = turned.doc_in(&order).shuffled(choices).write(Style::Yaml);
    let partial = may_be_capped(ruleset, draft);
    let (first, second) = (
        told(&checked(&one, &plain, None)?, partial),
        told(&checked(&other, &mixed, None)?, partial),
    );
    let same_rules = one.merged_json() == other.merged_json();
    if first == second && same_rules {
        return Ok(());
    }
    let said = first_difference(&first, &second, "report")
        .unwrap_or_else(|| "the merged rules".to_owned());
    let rules = crate::generate::setting::short(&ruleset.doc().write(Style::Yaml));
    Err(broken(
        format!("in another order this differs: {said}"),
        &[
            ("rules", &rules),
            ("proposal", &plain),
            ("in another order", &mixed),
        ],
    ))
}

/// The rules as a file of definitions and two of cautions, with all keys mixed if there is chance
/// to mix them.
fn files(
    ruleset: &Ruleset,
    mix: Option<&mut Choices<'_>>,
    names: &[&str],
) -> Result<Rules, TestCaseError> {
    let definitions = head("base").into_iter().chain(ruleset.definitions());
    let mut docs = vec![("base.yaml", map(definitions))];
    for (at, name) in ["part-a", "part-b"].into_iter().enumerate() {
        // A caution stays in its file however the list is turned.
        let own = ruleset.cautions.iter().filter(|caution| {
            caution
                .id
                .bytes()
                .last()
                .is_some_and(|byte| usize::from(byte) % 2 == at)
        });
        let rest = [
            ("extends", Doc::List(vec![text("./base.yaml")])),
            (
                "cautions",
                Doc::List(own.map(crate::generate::ruleset::Caution::doc).collect()),
            ),
        ];
        docs.push((
            if at == 0 {
                "part-a.yaml"
            } else {
                "part-b.yaml"
            },
            map(head(name).into_iter().chain(rest)),
        ));
    }
    if let Some(choices) = mix {
        docs = docs
            .into_iter()
            .map(|(name, doc)| (name, doc.shuffled(choices)))
            .collect();
    }
    let texts: Vec<(String, Vec<u8>)> = docs
        .into_iter()
        .map(|(name, doc)| (name.to_owned(), doc.write(Style::Yaml).into_bytes()))
        .collect();
    load_files(&texts, names).map_err(|problems| {
        let all: String = texts
            .iter()
            .map(|(name, bytes)| format!("{name}\n{}\n", String::from_utf8_lossy(bytes)))
            .collect();
        broken(
            "rules in several files do not load",
            &[("problems", &listed(&problems)), ("files", &all)],
        )
    })
}

/// A report without the places in files and their digests, and with unordered things in one order;
/// partial without what is made of the facts that a clause lists.
pub(crate) fn told(report: &Report, partial: bool) -> Value {
    let mut report = serde_json::to_value(report).unwrap();
    let (findings, next) = (restored::findings(&report), restored::measure_next(&report));
    report["findings"] = findings.into();
    report["measure_next"] = next.into();
    // Alike things are in these tables by their places in files; the digest is that of the files.
    for key in ["subjects", "sets", "facts", "figures", "cautions", "digest"] {
        report.as_object_mut().unwrap().remove(key);
    }
    if partial {
        without_lists_of_facts(&mut report);
    }
    settle(&mut report);
    report
}

/// Whether a clause may name more facts than are listed.
pub(crate) fn may_be_capped(ruleset: &Ruleset, draft: &Draft) -> bool {
    LISTS_OF_FACTS_HANG_ON_ORDER && ruleset.facts().len() * draft.cells.len() > 24
}

fn settle(value: &mut Value) {
    match value {
        Value::Object(entries) => {
            entries.retain(|key, _| !["line", "column", "place", "rule"].contains(&key.as_str()));
            // Of a ruleset its name and version: the others are of the file.
            if entries.contains_key("ruleset") {
                entries.retain(|key, _| key == "ruleset" || key == "version");
            }
            entries.values_mut().for_each(settle);
            for key in ["facts", "findings", "rules"] {
                if let Some(Value::Array(items)) = entries.get_mut(key) {
                    items.sort_by_key(Value::to_string);
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(settle),
        _ => {}
    }
}

fn without_lists_of_facts(report: &mut Value) {
    let entries = report.as_object_mut().unwrap();
    entries.remove("measure_next");
    for finding in entries["findings"].as_array_mut().unwrap() {
        ["facts", "more_facts"]
            .into_iter()
            .for_each(|key| drop(finding.as_object_mut().unwrap().remove(key)));
    }
}

/// Where two reports differ, and how.
pub(crate) fn first_difference(one: &Value, other: &Value, at: &str) -> Option<String> {
    match (one, other) {
        (Value::Object(a), Value::Object(b)) => {
            let keys: BTreeSet<&String> = a.keys().chain(b.keys()).collect();
            let of = |entries: &serde_json::Map<String, Value>, key: &str| {
                entries.get(key).cloned().unwrap_or(Value::Null)
            };
            keys.into_iter()
                .find_map(|key| first_difference(&of(a, key), &of(b, key), &format!("{at}.{key}")))
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => a
            .iter()
            .zip(b)
            .enumerate()
            .find_map(|(position, (a, b))| first_difference(a, b, &format!("{at}[{position}]"))),
        _ if one == other => None,
        _ => Some(format!("{at}: {one} and {other}")),
    }
}
