//! Layers: no order matters, the merged file says the same as its layers, and nothing that loosens stays hidden.
#![cfg(test)]

use std::collections::BTreeMap;

use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Library, Rules, Text};

struct Folder(BTreeMap<&'static str, String>);

impl Library for Folder {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        let text = self.0.get(name.trim_start_matches("./"));
        text.map(|text| Text { name: name.trim_start_matches("./").to_owned(), bytes: text.clone().into_bytes() })
            .ok_or_else(|| Problem::of_file(Fault::UnknownRuleset, format!("there is no `{name}`"), ""))
    }
}

fn head(name: &str) -> String {
    format!("format: 1\nruleset: {name}\nversion: 1.0.0\ntitle: A layer\n")
}

fn base(value: &str) -> String {
    let limit =
        format!("limits:\n  floor: {{ value: {value}, stricter: higher, meaning: Floor, basis: [{{ common_practice: example }}] }}\n");
    let caution = "cautions:\n  - { id: low, title: Low, about: each cell, refuse_unless: cell.rest_voltage >= limit.floor, reason: low, basis: [{ common_practice: example }] }\n";
    format!("{}{limit}{caution}", head("base"))
}

fn adjusting(name: &str, extends: &str, to: &str) -> String {
    format!("{}extends: [./{extends}]\nadjust: {{ limits: {{ floor: {{ to: {to}, because: so it is here }} }} }}\n", head(name))
}

fn load(folder: &Folder, names: &[&str]) -> Rules {
    Rules::load(names, folder, &rules_core::catalogue()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn floor(rules: &Rules) -> String {
    rules.limits()[0].written.clone()
}

#[test]
fn ranges_of_which_neither_is_stricter_give_both_ends_in_any_order() {
    let folder = Folder(BTreeMap::from([
        ("base", base("1.0..1.5 V")),
        ("b", adjusting("b", "base", "2.0..3.0 V")),
        ("c", adjusting("c", "base", "2.2..2.8 V")),
    ]));
    let (bc, cb) = (load(&folder, &["b", "c"]), load(&folder, &["c", "b"]));
    assert_eq!(floor(&bc), "2.2..3 V");
    assert_eq!(bc.digest(), cb.digest());
}

#[test]
fn equal_values_written_in_two_ways_give_one_digest() {
    let folder =
        Folder(BTreeMap::from([("base", base("2.0 V")), ("b", adjusting("b", "base", "2.5 V")), ("c", adjusting("c", "base", "2500 mV"))]));
    assert_eq!(load(&folder, &["b", "c"]).digest(), load(&folder, &["c", "b"]).digest());
}

#[test]
fn a_loosening_of_what_was_tightened_is_shown() {
    let folder = Folder(BTreeMap::from([
        ("base", base("1 V")),
        ("club", adjusting("club", "base", "3 V")),
        ("member", adjusting("member", "club", "2 V")),
    ]));
    assert_eq!(load(&folder, &["club"]).loosened(), []);
    let member = load(&folder, &["member"]);
    assert_eq!(member.loosened().len(), 1);
    assert_eq!((member.loosened()[0].from.as_str(), member.loosened()[0].to.as_str()), ("3 V", "2 V"));
}

#[test]
fn a_loosening_that_is_taken_back_is_not_shown() {
    let folder = Folder(BTreeMap::from([
        ("base", base("2 V")),
        ("lax", adjusting("lax", "base", "1 V")),
        ("back", adjusting("back", "lax", "2 V")),
    ]));
    assert_eq!(load(&folder, &["lax"]).loosened().len(), 1);
    assert_eq!(load(&folder, &["back"]).loosened(), []);
}

#[test]
fn a_merged_file_says_the_same_and_hides_no_name() {
    let files = [("base", base("2 V")), ("lax", adjusting("lax", "base", "1 V")), ("other", adjusting("other", "base", "1.5 V"))];
    let mut folder = Folder(BTreeMap::from(files));
    for names in [&["lax"] as &[&str], &["lax", "other"]] {
        let rules = load(&folder, names);
        folder.0.insert("merged.json", rules.merged_json());
        let again = load(&folder, &["merged.json"]);
        assert_eq!((again.digest(), again.loosened()), (rules.digest(), rules.loosened()));
    }
    let claims = format!(
        "{}merged: {{ from: [{{ ruleset: trusted, version: 9.9.9 }}] }}\ncautions:\n  - {{ id: x, title: X, about: light, refuse_unless: light.vented, reason: x }}\n",
        head("mine")
    );
    folder.0.insert("mine", claims);
    let names: Vec<String> = load(&folder, &["mine"]).layers().iter().map(|layer| layer.ruleset.clone()).collect();
    assert!(names.contains(&"mine".to_owned()), "{names:?}");
}

#[test]
fn naming_a_ruleset_twice_is_an_error() {
    let twice = format!("{}extends: [./base, ./base]\n", head("twice"));
    let folder = Folder(BTreeMap::from([("base", base("2 V")), ("twice", twice)]));
    let problems = Rules::load(&["twice"], &folder, &rules_core::catalogue()).expect_err("a problem");
    assert_eq!(problems[0].fault, Fault::DefinedTwice);
}
