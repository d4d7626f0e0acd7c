//! Every file that comes with the project conforms, if it loads.

use std::fs;

use rules_core::ruleset::Rules;
use rules_tests::conformance::{self, Expect, cases};
use rulesets::shipped::Shipped;
use serde_json::Value;

use super::setting::{
    as_text_only, as_yaml_reads, file_name, files, library_validator, objections, proposal, rules,
    ruleset_files, validator,
};

fn assert_conforms(validator: &jsonschema::Validator, what: &str, name: &str, text: &str) {
    for value in [as_yaml_reads(text), as_text_only(name, text)] {
        assert_eq!(
            objections(validator, &value),
            Vec::<String>::new(),
            "{what}"
        );
    }
}

#[test]
fn the_rulesets_conform() {
    let validator = library_validator("ruleset");
    for path in ruleset_files() {
        assert_conforms(
            &validator,
            file_name(&path),
            file_name(&path),
            &fs::read_to_string(&path).expect("it can be read"),
        );
    }
}

#[test]
fn the_table_of_facts_conforms() {
    let validator = validator(&rules_core::ruleset::schema::facts_table());
    assert_conforms(
        &validator,
        "facts.yaml",
        "facts.yaml",
        rulesets::facts::TABLE,
    );
    for (well, faulty) in [
        ("place: bays", "plaice: bays"),
        ("place: bays", "from: draw\n    place: bays"),
        ("kind: count", "kind: number"),
        ("nature: measured", "nature: felt"),
        ("over_time: least", "over_time: newest"),
        (
            "    over_time: least\n",
            "    over_time: least\n    options: [a]\n",
        ),
        ("place: bays\n", "place: bays\n    over_time: least\n"),
        ("id: load-lowers-voltage", "name: load-lowers-voltage"),
        ("domain: 1..10000", "domain: many"),
        ("has far less\n", "has far less\n    unit: V\n"),
    ] {
        let text = rulesets::facts::TABLE.replacen(well, faulty, 1);
        assert_ne!(text, rulesets::facts::TABLE, "{well}");
        assert!(!validator.is_valid(&as_yaml_reads(&text)), "{faulty}");
    }
}

#[test]
fn the_demo_files_conform() {
    let (proposals, rulesets) = (library_validator("proposal"), library_validator("ruleset"));
    for path in files("rules-cli/demo", &["yaml", "json"]) {
        let text = fs::read_to_string(&path).expect("it can be read");
        let is_ruleset = as_yaml_reads(&text).get("ruleset").is_some();
        assert_conforms(
            if is_ruleset { &rulesets } else { &proposals },
            file_name(&path),
            file_name(&path),
            &text,
        );
    }
}

/// The club's bench, the proposals that take from it, and the benches of the suite that have no fault.
#[test]
fn benches_conform() {
    let (benches, proposals) = (
        library_validator("bench"),
        library_validator("bench-proposal"),
    );
    let mut count = 0;
    let mut conforms = |name: &str, text: &str| {
        // A proposal names its bench by a path.
        let named = as_yaml_reads(text)["bench"].to_string();
        let is_bench = !named.contains(".yaml");
        let validator = if is_bench { &benches } else { &proposals };
        assert_conforms(validator, name, name, text);
        count += 1;
    };
    for path in files("rules-cli/demo/club", &["yaml"]) {
        let text = fs::read_to_string(&path).expect("it can be read");
        conforms(file_name(&path), &text);
    }
    for case in cases().expect("the suite") {
        let benches = case.beside.iter().flatten();
        let benches = benches.filter(|(name, _)| *name == "bench.yaml");
        if matches!(case.expect, Expect::Outcome(_)) {
            benches.for_each(|(_, text)| conforms(&case.name, text));
            if case.beside.is_some() {
                conforms(&case.name, &case.proposal);
            }
        }
    }
    assert!(count >= 50, "{count}");
}

#[test]
fn the_suite_conforms() {
    let validator = validator(&rules_tests::conformance::schema());
    for file in conformance::files().expect("the suite") {
        assert_eq!(
            objections(&validator, &as_yaml_reads(&file.text)),
            Vec::<String>::new(),
            "{}",
            file.name
        );
    }
}

/// What a ruleset may say of itself is a matter of shape: in these cases schema and loader agree.
#[test]
fn texts_that_the_suite_refuses_do_not_conform() {
    let validator = library_validator("ruleset");
    let texts = conformance::files()
        .expect("the suite")
        .into_iter()
        .find(|file| file.name == "errors-texts.yaml");
    for case in texts.expect("the file").content.cases {
        let conforms = validator.is_valid(&as_text_only("rules", case.files()["rules"]));
        assert_eq!(
            conforms,
            matches!(case.expect, Expect::Outcome(_)),
            "{}",
            case.name
        );
    }
}

#[test]
fn what_the_suite_loads_conforms() {
    let (rulesets, proposals) = (library_validator("ruleset"), library_validator("proposal"));
    let (mut seen_rulesets, mut seen_proposals) = (0, 0);
    for case in cases().expect("the suite") {
        if rules(case.files(), &case.given()).is_ok() {
            for (name, text) in case.files() {
                seen_rulesets += 1;
                assert_eq!(
                    objections(&rulesets, &as_yaml_reads(text)),
                    Vec::<String>::new(),
                    "{}: {name}",
                    case.name
                );
            }
        }
        if proposal("proposal", &case.proposal).is_ok() {
            seen_proposals += 1;
            assert_eq!(
                objections(&proposals, &as_yaml_reads(&case.proposal)),
                Vec::<String>::new(),
                "{}",
                case.name
            );
        }
    }
    assert!(
        seen_rulesets > 600 && seen_proposals > 600,
        "{seen_rulesets} rulesets, {seen_proposals} proposals"
    );
}

/// Codes for faults of shape, which a schema can see in one file.
const OF_SHAPE: [&str; 9] = [
    "unknown-key",
    "missing-key",
    "wrong-shape",
    "bad-name",
    "bad-number",
    "no-unit",
    "unknown-unit",
    "wrong-kind",
    "bad-tolerance",
];

const TABLES: &str = "scripts and forms of letters stand in tables of their own";
const MARKS: &str = "a pattern that every engine knows takes nothing out of a category";
const DECLARED: &str = "what a declared fact may be stands in another file";

/// Cases with such a code that no schema of one file can see, with the reason.
const BEYOND_A_SCHEMA: [(&str, &str); 13] = [
    (
        "a publisher of a tag character",
        "engines that go by UTF-16 have no ranges of characters past U+FFFF",
    ),
    ("an id with a variation selector", MARKS),
    ("an id that is a letter made to show nothing", MARKS),
    ("an id of two scripts", TABLES),
    ("an id of Greek and Latin letters that look alike", TABLES),
    ("an id that is not composed", TABLES),
    ("an id with the sign for kelvin", TABLES),
    ("a mark that stands on a digit", MARKS),
    ("a declared text with a character of no width", DECLARED),
    ("a declared text with a space that does not break", DECLARED),
    (
        "adjusting a limit to another kind",
        "the limit's kind stands in another file",
    ),
    (
        "adjusting a limit to a number without a unit",
        "the limit's kind stands in another file",
    ),
    (
        "a fact in extra that no ruleset declares",
        "the ruleset is another file",
    ),
];

#[test]
fn the_schemas_see_the_suites_faults_of_shape() {
    let (rulesets, proposals) = (library_validator("ruleset"), library_validator("proposal"));
    let mut unseen = Vec::new();
    let mut seen = 0;
    for case in cases().expect("the suite") {
        let Expect::Failure(failure) = &case.expect else {
            continue;
        };
        if !OF_SHAPE.contains(&failure.error.about.as_str()) {
            continue;
        }
        let refused = case.files().values().any(|text| refuses(&rulesets, text))
            || refuses(&proposals, &case.proposal);
        seen += usize::from(refused);
        if !refused {
            unseen.push(case.name);
        }
    }
    assert_eq!(unseen, BEYOND_A_SCHEMA.map(|(name, _)| name));
    assert!(seen > 40, "{seen}");
}

fn refuses(validator: &jsonschema::Validator, text: &str) -> bool {
    serde_yaml::from_str::<Value>(text).is_ok_and(|value| !validator.is_valid(&value))
}

/// The merged form of a ruleset is a ruleset: it conforms, and loaded again it is the same.
#[test]
fn merged_rulesets_conform_and_load_again() {
    let validator = library_validator("ruleset");
    let local = ruleset_files()
        .into_iter()
        .map(|path| fs::read_to_string(path).expect("it can be read"));
    for text in local {
        let first = rules([("main.yaml", text.as_str())].into(), &["main.yaml"])
            .expect("a shipped ruleset loads");
        let merged = first.merged_json();
        let value: Value = serde_json::from_str(&merged).expect("JSON");
        assert_eq!(objections(&validator, &value), Vec::<String>::new());
        let again = rules([("merged.json", merged.as_str())].into(), &["merged.json"])
            .expect("a merged ruleset loads");
        assert_eq!(again.merged_json(), merged);
        assert_same_findings(&first, &again);
    }
    assert!(Shipped::names().count() > 0);
}

fn assert_same_findings(first: &Rules, again: &Rules) {
    for path in files("rules-cli/demo", &["yaml", "json"]) {
        let text = fs::read_to_string(&path).expect("it can be read");
        let Ok(proposal) = proposal(file_name(&path), &text) else {
            continue;
        };
        let said = |rules: &Rules| {
            let report =
                rules_core::check::check(rules, &proposal, rules_core::check::Options::default())
                    .expect("a report");
            let of = |f: &rules_core::check::Finding| {
                (
                    f.caution.clone(),
                    f.subject.clone(),
                    f.verdict,
                    f.best,
                    f.reason.to_string(),
                )
            };
            (
                report.gravest().verdict,
                report.findings.iter().map(of).collect::<Vec<_>>(),
            )
        };
        assert_eq!(said(first), said(again), "{}", path.display());
    }
}
