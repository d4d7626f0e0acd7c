//! What the list of changes says was renamed is answered with its new name, wherever an old document
//! may hold it.

use std::collections::BTreeSet;

use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Rules, Texts};
use rulesets::catalogue;
use rulesets::shipped::Shipped;

const CHANGES: &str = include_str!("../../../rulesets/CHANGELOG.md");

/// Renamed limits of shipped rulesets: the old name and the new one.
const LIMITS: [(&str, &str); 2] = [("drift_high", "leak_most"), ("drift_watch", "leak_watch")];

/// Renamed facts and figures, by their names in formulas. No key of a proposal has been renamed so
/// far; how one is answered is tried in `rulesets/src/proposal/meant.rs`.
const FIGURES: [(&str, &str); 2] = [
    ("cell.drift_rate", "cell.fall_rate"),
    ("cell.slow_capacity", "cell.capacity_2"),
];

/// Renamed codes of faults, which no ruleset and no proposal holds.
const CODES: [(&str, &str); 2] = [
    ("bad-designation", "bad-code"),
    ("cells-and-groups", "parts-disagree"),
];

/// A name without its subject.
fn last(name: &str) -> &str {
    name.rsplit('.').next().unwrap_or(name)
}

/// The names in backticks at the start of these words, with `and` between.
fn names<'w>(mut words: impl Iterator<Item = &'w str>) -> Vec<&'w str> {
    let mut found = Vec::new();
    while let Some(word) = words.next() {
        let word = word.trim_end_matches([',', '.', ';']);
        found.extend(
            word.strip_prefix('`')
                .and_then(|word| word.strip_suffix('`')),
        );
        if words.next() != Some("and") {
            break;
        }
    }
    found
}

/// What the sections on proposals and rulesets say was renamed: "`old` is `new`", "`a` and `b` are now
/// `c` and `d`", "`old` of the rules is `new`".
fn renamed() -> BTreeSet<(String, String)> {
    let (_, rest) = CHANGES.split_once("### Proposals").expect("proposals");
    let (sections, _) = rest.split_once("### Reports").expect("reports");
    let words: Vec<&str> = sections.split_whitespace().collect();
    let mut pairs = BTreeSet::new();
    for (at, _) in words
        .iter()
        .enumerate()
        .filter(|(_, word)| matches!(**word, "is" | "are"))
    {
        let after = words[at + 1..].iter().copied();
        let new = names(after.skip_while(|word| *word == "now"));
        let before = words[..at].iter().rev().copied();
        let of_what = |word: &&str| ["of", "the", "shipped", "rules"].contains(word);
        let mut old = names(before.skip_while(of_what));
        old.reverse();
        let both = |(old, new): (&&str, &&str)| (last(old).to_owned(), last(new).to_owned());
        if old.len() == new.len() {
            pairs.extend(old.iter().zip(&new).map(both));
        }
    }
    pairs
}

/// The help for a club's ruleset on top of the shipped one, which has one fault.
fn help(rest: &str) -> String {
    let head = "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [rescued-cells]\n";
    let texts = Texts::of([("club", format!("{head}{rest}"))]).or(Shipped);
    let problems = Rules::load(&["club"], &texts, &catalogue()).expect_err(rest);
    let problems: Vec<Problem> = problems.into_vec();
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert_eq!(problems[0].fault, Fault::UnknownName);
    problems[0].help.clone().unwrap_or_default()
}

fn about_a_cell(formula: &str) -> String {
    format!(
        "cautions: [{{ id: club-leak, title: Leak, about: each cell, refuse_unless: \"{formula}\", \
         reason: r, basis: [{{ common_practice: example }}] }}]\n"
    )
}

#[test]
fn all_that_was_renamed_is_tried_here() {
    let all = LIMITS.into_iter().chain(FIGURES).chain(CODES);
    let all = all.map(|(old, new)| (last(old).to_owned(), last(new).to_owned()));
    assert_eq!(renamed(), all.collect());
}

#[test]
fn a_limit_is_answered_with_its_new_name() {
    for (old, now) in LIMITS {
        let adjusted = format!("adjust: {{ limits: {{ {old}: {{ to: 1 % }} }} }}\n");
        assert_eq!(help(&adjusted), format!("it is now called `{now}`"));
        let named = about_a_cell(&format!("cell.loss_in_30_days <= limit.{old}"));
        assert_eq!(help(&named), format!("it is now called `limit.{now}`"));
    }
}

#[test]
fn a_figure_is_answered_with_its_new_name() {
    for (old, now) in FIGURES {
        let named = about_a_cell(&format!("{old} <= 1 mV/d"));
        assert_eq!(help(&named), format!("it is now called `{now}`"));
    }
}

#[test]
fn every_new_name_exists() {
    let rules = Rules::load(&["rescued-cells"], &Shipped, &catalogue()).expect("rules");
    for (_, now) in LIMITS.into_iter().chain(FIGURES) {
        let known = rules.limits().iter().any(|limit| limit.name == now)
            || rules.figures().iter().any(|figure| figure.name == now)
            || rules.catalogue().find(now).is_some();
        assert!(known, "{now} is no limit, fact or figure");
    }
}
