//! Layers: no order matters, the merged file says the same as its layers, and nothing that loosens
//! stays hidden.

use rules_core::document::Fault;
use rules_core::ruleset::{Acceptance, Rules, Texts};

fn head(name: &str) -> String {
    format!("format: 1\nruleset: {name}\nversion: 1.0.0\ntitle: A layer\n")
}

fn base(value: &str) -> String {
    let limit = format!(
        "limits:\n  floor: {{ value: {value}, stricter: higher, meaning: Floor, basis: [{{ common_practice: example }}] }}\n"
    );
    let caution = "cautions:\n  - { id: low, title: Low, about: each cell, refuse_unless: cell.rest_voltage >= limit.floor, reason: low, basis: [{ common_practice: example }] }\n";
    format!("{}{limit}{caution}", head("base"))
}

fn adjusting(name: &str, extends: &str, to: &str) -> String {
    format!(
        "{}extends: [./{extends}]\nadjust: {{ limits: {{ floor: {{ to: {to}, because: so it is here }} }} }}\n",
        head(name)
    )
}

fn load(folder: &Texts, names: &[&str]) -> Rules {
    Rules::load(names, folder, &rulesets::catalogue())
        .unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn floor(rules: &Rules) -> String {
    rules.limits()[0].written.value.to_string()
}

#[test]
fn ranges_of_which_neither_is_stricter_give_both_ends_in_any_order() {
    let folder = Texts::of([
        ("base", base("1.0..1.5 V")),
        ("b", adjusting("b", "base", "2.0..3.0 V")),
        ("c", adjusting("c", "base", "2.2..2.8 V")),
    ]);
    let (bc, cb) = (load(&folder, &["b", "c"]), load(&folder, &["c", "b"]));
    assert_eq!(floor(&bc), "2.2..3 V");
    assert_eq!(bc.digest(), cb.digest());
}

#[test]
fn equal_values_written_in_two_ways_give_one_digest() {
    let folder = Texts::of([
        ("base", base("2.0 V")),
        ("b", adjusting("b", "base", "2.5 V")),
        ("c", adjusting("c", "base", "2500 mV")),
    ]);
    assert_eq!(
        load(&folder, &["b", "c"]).digest(),
        load(&folder, &["c", "b"]).digest()
    );
}

#[test]
fn a_loosening_of_what_was_tightened_is_shown() {
    let folder = Texts::of([
        ("base", base("1 V")),
        ("club", adjusting("club", "base", "3 V")),
        ("member", adjusting("member", "club", "2 V")),
    ]);
    assert_eq!(load(&folder, &["club"]).loosened(), []);
    let member = load(&folder, &["member"]);
    assert_eq!(member.loosened().len(), 1);
    assert_eq!(
        (
            member.loosened()[0].from.as_str(),
            member.loosened()[0].to.as_str()
        ),
        ("3 V", "2 V")
    );
}

#[test]
fn a_loosening_that_is_taken_back_is_not_shown() {
    let folder = Texts::of([
        ("base", base("2 V")),
        ("lax", adjusting("lax", "base", "1 V")),
        ("back", adjusting("back", "lax", "2 V")),
    ]);
    assert_eq!(load(&folder, &["lax"]).loosened().len(), 1);
    assert_eq!(load(&folder, &["back"]).loosened(), []);
}

#[test]
fn a_merged_file_says_the_same_and_hides_no_name() {
    let files = [
        ("base", base("2 V")),
        ("lax", adjusting("lax", "base", "1 V")),
        ("other", adjusting("other", "base", "1.5 V")),
    ];
    let mut folder = Texts::of(files);
    for names in [&["lax"] as &[&str], &["lax", "other"]] {
        let rules = load(&folder, names);
        folder.add("merged.json", rules.merged_json());
        let again = load(&folder, &["merged.json"]);
        assert_eq!(
            (again.merged_json(), again.loosened()),
            (rules.merged_json(), rules.loosened())
        );
    }
    // A value may be folded over lines; the reasons of a merged file are not.
    let folded = "extends: [./base]\nadjust:\n  limits:\n    floor:\n      to: >\n        1\n        V\n      because: so it is here\n";
    folder.add("folded", head("folded") + folded);
    let rules = load(&folder, &["folded"]);
    folder.add("merged.json", rules.merged_json());
    let again = load(&folder, &["merged.json"]);
    assert_eq!(again.merged_json(), rules.merged_json());
    let claims = format!(
        "{}merged: {{ from: [{{ ruleset: trusted, version: 9.9.9 }}] }}\ncautions:\n  - {{ id: x, title: X, about: light, refuse_unless: light.vented, reason: x }}\n",
        head("mine")
    );
    folder.add("mine", claims);
    let mine = load(&folder, &["mine"]);
    let [loaded] = mine.layers() else {
        panic!("one file is one ruleset: {:?}", mine.layers());
    };
    assert_eq!(
        (loaded.ruleset.as_str(), loaded.file.as_deref()),
        ("mine", Some("mine"))
    );
    assert_eq!(loaded.claims[0].ruleset, "trusted");
}

#[test]
fn naming_a_ruleset_twice_is_an_error() {
    let twice = format!("{}extends: [./base, ./base]\n", head("twice"));
    let folder = Texts::of([("base", base("2 V")), ("twice", twice)]);
    let problems = Rules::load(&["twice"], &folder, &rulesets::catalogue()).expect_err("a problem");
    assert_eq!(problems[0].fault, Fault::DefinedTwice);
}

fn reasons(rules: &Rules) -> Vec<(&str, &str, &str, &str)> {
    rules
        .loosened()
        .iter()
        .map(|one| {
            (
                one.by.as_str(),
                &*one.what.to_string().leak(),
                one.from.as_str(),
                one.to.as_str(),
            )
        })
        .collect()
}

/// Tightened again, but not as far as it was, a limit is still looser than its base says.
#[test]
fn a_loosening_that_is_taken_back_in_part_is_shown() {
    let mut folder = Texts::of([
        ("base", base("3 V")),
        ("lax", adjusting("lax", "base", "1 V")),
        ("part", adjusting("part", "lax", "2 V")),
        ("whole", adjusting("whole", "lax", "3 V")),
    ]);
    assert_eq!(
        reasons(&load(&folder, &["part"])),
        [("lax", "limit floor", "3 V", "1 V")]
    );
    assert_eq!(reasons(&load(&folder, &["whole"])), []);
    // A merged file remembers what the limit was.
    folder.add("merged.json", load(&folder, &["lax"]).merged_json());
    folder.add("part-2", adjusting("part-2", "merged.json", "2 V"));
    folder.add("whole-2", adjusting("whole-2", "merged.json", "3 V"));
    assert_eq!(
        reasons(&load(&folder, &["part-2"])),
        [("lax", "limit floor", "3 V", "1 V")]
    );
    assert_eq!(reasons(&load(&folder, &["whole-2"])), []);
}

#[test]
fn every_reason_for_one_loosening_is_shown() {
    let drop = |name: &str| {
        format!(
            "{}extends: [./base]\nadjust: {{ cautions: {{ low: {{ drop: yes, because: so it is here }} }} }}\n",
            head(name)
        )
    };
    let folder = Texts::of([
        ("base", base("3 V")),
        ("a", adjusting("a", "base", "1 V")),
        ("b", adjusting("b", "base", "1 V")),
        ("c", drop("c")),
        ("d", drop("d")),
    ]);
    assert_eq!(
        reasons(&load(&folder, &["b", "a"])),
        [
            ("a", "limit floor", "3 V", "1 V"),
            ("b", "limit floor", "3 V", "1 V")
        ]
    );
    let dropped = load(&folder, &["d", "c"]);
    assert!(dropped.cautions().is_empty());
    assert_eq!(
        reasons(&dropped),
        [
            ("c", "caution low", "applies", "dropped"),
            ("d", "caution low", "applies", "dropped")
        ]
    );
    // One that keeps it is enough.
    let kept = load(&folder, &["c", "base"]);
    assert_eq!((kept.cautions().len(), reasons(&kept)), (1, vec![]));
}

fn accepting(name: &str, lines: &str) -> String {
    format!("{}{lines}", head(name))
}

/// Acceptance is simple for a ruleset if it says so and extends nothing, or adjusts to it, or if
/// every ruleset that it extends is simple.
#[test]
fn acceptance_is_loosened_in_the_open() {
    let adjusted =
        "extends: [./guarded]\nadjust: { acceptance: { to: simple, because: one good meter } }\n";
    let mut folder = Texts::of([
        ("guarded", base("3 V")),
        ("simple", accepting("simple", "acceptance: simple\n")),
        ("silent", accepting("silent", "extends: [./simple]\n")),
        (
            "again",
            accepting("again", "extends: [./simple]\nacceptance: simple\n"),
        ),
        (
            "back",
            accepting("back", "extends: [./simple]\nacceptance: guarded\n"),
        ),
        (
            "back-2",
            accepting("back-2", "extends: [./adjusted]\nacceptance: guarded\n"),
        ),
        (
            "both",
            accepting("both", "extends: [./simple, ./guarded]\n"),
        ),
        (
            "hidden",
            accepting("hidden", "extends: [./guarded]\nacceptance: simple\n"),
        ),
        ("adjusted", accepting("adjusted", adjusted)),
    ]);
    let simple = |name: &str| load(&folder, &[name]).acceptance() == Acceptance::Simple;
    let names = [
        "guarded", "simple", "silent", "again", "back", "back-2", "both", "adjusted",
    ];
    assert_eq!(
        names.map(simple),
        [false, true, true, true, false, false, false, true]
    );
    let problems = Rules::load(&["hidden"], &folder, &rulesets::catalogue())
        .map(|_| ())
        .expect_err("a problem");
    assert_eq!(problems[0].fault, Fault::LooseningWithoutReason);
    let shown = [("adjusted", "acceptance", "guarded", "simple")];
    assert_eq!(reasons(&load(&folder, &["adjusted"])), shown);
    assert_eq!(reasons(&load(&folder, &["back-2"])), []);
    folder.add("merged.json", load(&folder, &["adjusted"]).merged_json());
    let merged = load(&folder, &["merged.json"]);
    assert_eq!(
        (merged.acceptance(), reasons(&merged)),
        (Acceptance::Simple, shown.to_vec())
    );
}

/// A merged file keeps what a ruleset declares.
#[test]
fn a_merged_file_keeps_declared_facts_and_fixed_limits() {
    let text = "facts:\n  cell.tag: { kind: choice, options: [red, blue], meaning: Tag }\nlimits:\n  low: { value: 3 V, stricter: higher, meaning: Low, fixed: yes }\n  high: { value: 4 V, stricter: lower, meaning: High }\n";
    let mut folder = Texts::of([("one", format!("{}{text}", head("one")))]);
    let rules = load(&folder, &["one"]);
    folder.add("merged.json", rules.merged_json());
    let merged = load(&folder, &["merged.json"]);
    assert_eq!(merged.written(), rules.written());
    assert_eq!(rules.written().facts["cell.tag"].options, ["red", "blue"]);
    let fixed: Vec<bool> = merged
        .limits()
        .iter()
        .map(|limit| limit.written.fixed)
        .collect();
    assert_eq!(fixed, [false, true]);
    let json = rules.merged_json();
    assert_eq!(
        json.matches("\"fixed\"").count(),
        1,
        "what is not fixed does not say so: {json}"
    );
}

/// A merged file says the kind of a limit where its value does not show it.
#[test]
fn a_merged_file_keeps_the_kinds_of_limits() {
    let limits = "limits:\n  warm: { value: 40 degC, stricter: lower, meaning: Warm }\n  lamps: { value: 4, kind: count, stricter: lower, meaning: Lamps }\n  share: { value: 1, stricter: higher, meaning: Share }\n";
    let club = "extends: [./one]\nadjust: { limits: { warm: { to: 300 K } } }\n";
    let mut folder = Texts::of([
        ("one", format!("{}{limits}", head("one"))),
        ("club", format!("{}{club}", head("club"))),
    ]);
    let rules = load(&folder, &["club"]);
    let kinds: Vec<Option<&str>> = rules
        .written()
        .limits
        .values()
        .map(|limit| limit.kind)
        .collect();
    assert_eq!(kinds, [Some("count"), None, Some("temperature")]);
    folder.add("merged.json", rules.merged_json());
    assert_eq!(
        load(&folder, &["merged.json"]).written().limits,
        rules.written().limits
    );
}

fn noticing(name: &str, id: &str) -> String {
    let point = format!("notice: {{ {id}: {{ says: Read this too., source: the club }} }}\n");
    format!("{}{point}", head(name))
}

/// What the trade says comes first and stays whole; what rulesets add comes after it, in any order.
#[test]
fn the_notice_is_added_to_and_never_less() {
    let folder = Texts::of([
        ("a.yaml", noticing("a", "second")),
        ("b.yaml", noticing("b", "first")),
    ]);
    let always = rulesets::catalogue().notice().to_vec();
    assert!(always.iter().any(|point| point.id == "no_approval"));
    for names in [["./a.yaml", "./b.yaml"], ["./b.yaml", "./a.yaml"]] {
        let rules = load(&folder, &names);
        let (kept, added) = rules.notice().split_at(always.len());
        assert_eq!(kept, always);
        let added: Vec<&str> = added.iter().map(|point| point.id.as_str()).collect();
        assert_eq!(added, ["first", "second"]);
        let merged = rules.merged_json();
        let again = Texts::of([("m.json", merged)]);
        assert_eq!(load(&again, &["./m.json"]).notice(), rules.notice());
    }
}
