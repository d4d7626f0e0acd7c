//! What is wrong with a table of facts is reported where it is, with what belongs there.

use super::Catalogue;
use crate::document::{ProblemList, Syntax};
use crate::formula::Relations;

const WELL: &str = "\
format: 1
title: Facts of a plan
subjects:
  heater: { meaning: The heater }
  cable: { plural: cables, meaning: One cable }
facts:
  heater.current: { place: current, kind: current, meaning: Its current, domain: 0..10 A }
  cable.drop_cold: { place: drop.cold, kind: voltage, meaning: Drop when cold, domain: 0..10 V }
  cable.drop_warm: { place: drop.warm, kind: voltage, meaning: Drop when warm, domain: 0..10 V }
consistent:
  - id: warm-drops-more
    about: each cable
    holds: cable.drop_cold <= cable.drop_warm
    says: the drop when cold is above that when warm
    basis: [{ common_practice: copper conducts worse when warm }]
";

fn read(text: &str) -> Result<Catalogue, ProblemList> {
    let catalogue = Catalogue::read("table.yaml", text.as_bytes().to_vec(), Syntax::Yaml)?;
    Relations::compile(&catalogue)?;
    Ok(catalogue)
}

#[test]
fn a_good_table_is_read() {
    let catalogue = read(WELL).unwrap();
    assert_eq!(catalogue.facts().count(), 3);
    assert_eq!(catalogue.relations().len(), 1);
}

/// A text of the table and what is in its place, the fault, its line, and words that its message or
/// help must have.
const CHANGED: [(&str, &str, &str, usize, &str); 18] = [
    (
        "place: current",
        "plaice: current",
        "unknown-key",
        7,
        "did you mean `place`?",
    ),
    (
        "heater.current:",
        "heather.current:",
        "unknown-name",
        7,
        "`heather.current` names no subject",
    ),
    (
        "place: drop.warm",
        "place: drop.cold",
        "defined-twice",
        9,
        "another fact already has the place `drop.cold`",
    ),
    (
        "cable.drop_warm:",
        "cable.drop_hot:",
        "bad-name",
        9,
        "call it `drop_warm`",
    ),
    (
        "cable.drop_warm:",
        "cable.drop_cold:",
        "repeated-key",
        9,
        "cable.drop_cold",
    ),
    (
        "place: current, ",
        "",
        "missing-key",
        7,
        "`place` or a `from`",
    ),
    (
        "place: current,",
        "place: current, from: draw,",
        "missing-key",
        7,
        "not both",
    ),
    (
        "kind: current",
        "kind: curent",
        "unknown-option",
        7,
        "did you mean `current`?",
    ),
    ("0..10 A", "10 A", "wrong-shape", 7, "a domain is a range"),
    (
        "place: current,",
        "place: current, nature: measured, over_time: last,",
        "unknown-option",
        7,
        "`least`",
    ),
    (
        "place: current,",
        "place: current, over_time: least,",
        "wrong-shape",
        7,
        "only a measured number",
    ),
    (
        "place: current,",
        "from: draw, nature: measured, over_time: least,",
        "wrong-shape",
        7,
        "with a place",
    ),
    (
        "about: each cable",
        "about: cable",
        "unknown-name",
        12,
        "did you mean `each cable`?",
    ),
    (
        "<= cable.drop_warm",
        "<= cable.drop_hot",
        "unknown-name",
        13,
        "cable.drop_hot",
    ),
    (
        "<= cable.drop_warm",
        "<= heater.current",
        "kinds-differ",
        13,
        "current",
    ),
    ("<= cable.drop_warm", "<=", "syntax", 13, ""),
    (
        "<= cable.drop_warm",
        "<= limit.most",
        "unknown-name",
        13,
        "there is no limit `most`",
    ),
    (
        "    basis: [{ common_practice: copper conducts worse when warm }]\n",
        "",
        "missing-key",
        11,
        "basis",
    ),
];

/// One thing is changed at a time.
#[test]
fn faults_of_a_table_are_told() {
    for (well, faulty, fault, line, word) in CHANGED {
        let text = WELL.replacen(well, faulty, 1);
        assert_ne!(text, WELL, "{faulty}");
        let problems = read(&text).err().unwrap_or_default();
        let told = problems.iter().any(|problem| {
            let says = format!(
                "{} {}",
                problem.message,
                problem.help.clone().unwrap_or_default()
            );
            problem.fault.code() == fault
                && problem
                    .place
                    .as_ref()
                    .is_some_and(|place| place.line == line)
                && says.contains(word)
        });
        assert!(told, "{faulty}: {problems:#?}");
    }
}

#[test]
fn a_relation_is_defined_once() {
    let relations = WELL.split_once("consistent:\n").unwrap().1;
    let problems = read(&format!("{WELL}{relations}")).unwrap_err();
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].fault.code(), "defined-twice");
}
