//! On changed documents schema and loader agree about shape: what the schema refuses the loader refuses, and what only the loader refuses is
//! beyond what a schema can say.

use std::collections::BTreeMap;

use jsonschema::Validator;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use rules_core::document::{Fault, Problem};
use rules_core::facts::{Catalogue, FactKind};
use rules_core::quantity::Kind;
use rules_core::ruleset::Rules;
use serde_json::{Map, Value, json};

use super::changes::{Stock, changed, changes};
use super::setting::{as_text_only, as_yaml_reads, is_of_shape, library_validator, proposal, rules};

const BASE: &str = include_str!("base.yaml");
const EVERY_KEY: &str = include_str!("every-key.yaml");

/// Faults that no schema can see, each with the reason.
const BEYOND: &[(Fault, &str)] = &[
    (Fault::OutOfDomain, "a pattern does not compute"),
    (Fault::NotFinite, "a pattern does not compute"),
    (Fault::LowAboveHigh, "a pattern does not compare two numbers"),
    (Fault::DefinedTwice, "names that must differ stand in different places"),
    (Fault::CellsAndGroups, "cells and groups are counted against the arrangement"),
    (Fault::UnknownName, "names are defined in other places, or in other files"),
    (Fault::UnknownRuleset, "other files are not seen"),
    (Fault::Cycle, "other files are not seen"),
    (Fault::LooseningWithoutReason, "whether a change loosens is seen by computing, against another file"),
    (Fault::Fixed, "what is fixed stands in another file"),
    (Fault::KindsDiffer, "formulas have a grammar of their own"),
    (Fault::OutOfScope, "formulas have a grammar of their own"),
    (Fault::ChainedComparison, "formulas have a grammar of their own"),
    (Fault::NestedFold, "formulas have a grammar of their own"),
    (Fault::BadPlaceholder, "texts with placeholders have a grammar of their own"),
];

/// Keys whose values have a grammar of their own: any fault in them is beyond a schema.
const FORMULAS: [&str; 4] = ["applies_when", "refuse_unless", "warn_unless", "is"];

/// The facts that `every-key.yaml` declares: what a declared fact may be stands in another place, or in another file.
const DECLARED: [&str; 5] = ["club_tag", "lamp_colour", "spare", "beam", "case_rise"];

/// Whether a fault is beyond a schema at its place.
fn is_beyond(problem: &Problem) -> bool {
    let key = problem.line.trim_start().strip_prefix('"').and_then(|line| line.split('"').next()).unwrap_or_default();
    let of_formula = FORMULAS.contains(&key);
    let declared = DECLARED.contains(&key.rsplit('.').next().unwrap_or_default());
    let undeclared = problem.fault == Fault::UnknownKey && problem.message.contains("no ruleset in use declares");
    // The product of cells in series and parallel is computed.
    let too_many_cells =
        problem.fault == Fault::Syntax && problem.message.contains("is no arrangement") && problem.message.contains("100S101P");
    // The kind of an adjusted limit stands in another file.
    let adjusted = key == "to" && matches!(problem.fault, Fault::WrongKind | Fault::NoUnit | Fault::BadNumber);
    BEYOND.iter().any(|(fault, _)| *fault == problem.fault) || of_formula || declared || undeclared || too_many_cells || adjusted
}

/// What a loader says of a document.
type Loaded = Result<(), Vec<Problem>>;

/// Whether schema and loader agree on a document; what parts them, if not.
fn agree(document: &Value, validator: &Validator, loaded: Loaded, single: bool) -> Result<(), String> {
    let objection = validator.iter_errors(document).next().map(|error| format!("{}: {error}", error.instance_path()));
    let shown = || serde_json::to_string(document).expect("JSON");
    match (objection, loaded) {
        (Some(objection), Ok(())) => Err(format!("only the schema refuses: {objection}\n{}", shown())),
        (Some(objection), Err(problems)) => {
            // With several changes the loader may stop at an earlier one than the schema saw.
            let of_shape = problems.iter().any(|problem| is_of_shape(problem.fault) || is_named_by_the_schema(problem));
            let said = || format!("the schema refuses for shape, the loader for something else: {objection}\n{problems:#?}");
            if single && !of_shape { Err(said()) } else { Ok(()) }
        }
        (None, Err(problems)) => match problems.iter().find(|problem| !is_beyond(problem)) {
            Some(shape) => Err(format!("only the loader refuses: {shape:#?}\n{}", shown())),
            None => Ok(()),
        },
        (None, Ok(())) => Ok(()),
    }
}

/// What the loader sees late and the schema can list all the same: subjects, and the domains of counts.
fn is_named_by_the_schema(problem: &Problem) -> bool {
    matches!(problem.fault, Fault::UnknownName | Fault::OutOfScope | Fault::OutOfDomain | Fault::TooLarge)
}

fn text(document: &Value) -> String {
    serde_json::to_string_pretty(document).expect("JSON")
}

fn load_proposal(document: &Value, catalogue: &Catalogue) -> Loaded {
    let proposal = proposal("proposal.json", &text(document))?;
    proposal.facts(catalogue).map(drop)
}

fn load_ruleset(document: &Value) -> Result<Rules, Vec<Problem>> {
    let text = text(document);
    rules(BTreeMap::from([("main.json", text.as_str()), ("base.yaml", BASE)]), &["main.json"])
}

fn every_key() -> Value {
    as_yaml_reads(EVERY_KEY)
}

/// The catalogue with what `every-key.yaml` declares.
fn catalogue() -> Catalogue {
    load_ruleset(&every_key()).expect("the ruleset of every key loads").catalogue().clone()
}

/// A proposal that gives every fact of so many cells, each with other options of its choices.
fn every_fact(catalogue: &Catalogue, cells: usize) -> Value {
    let cell = |position: usize| section(catalogue, "cell", position);
    let (arrangement, cells) = (format!("{cells}S1P"), (0..cells).map(cell).collect::<Vec<_>>());
    let mut document = json!({ "format": 1, "title": "Every fact", "arrangement": arrangement, "cells": cells });
    for subject in ["light", "protection", "charging", "conditions"] {
        document[subject] = section(catalogue, subject, 0);
    }
    document["light"]["draw"] = json!("7.5 W");
    document["light"]["extra"] = json!({ "spare": true, "beam": "300 m" });
    document["cells"][0]["extra"] = json!({ "club_tag": 12, "lamp_colour": "blue", "case_rise": "3.5 K" });
    document["cells"][0]["designation"] = json!("ICR18650");
    document["cells"][1]["designation"] = json!("INR19/66");
    document["meters"] =
        json!({ "voltage": "± (0.5 % + 10 mV)", "temperature difference": "± 1 K", "resistance": "± 2 %", "length": "+/- 0.1 mm" });
    document
}

fn section(catalogue: &Catalogue, subject: &str, position: usize) -> Value {
    let id = catalogue.subject_named(subject);
    let mut section = Map::new();
    for (_, fact) in catalogue.facts().filter(|(_, fact)| Some(fact.subject) == id) {
        let Some(key) = fact.key.as_deref().filter(|key| *key != "designation") else { continue };
        let value = match &fact.kind {
            FactKind::Number(Kind::Count) => json!(2),
            FactKind::Number(kind) => json!(kind.example()),
            FactKind::Choice(options) => json!(options[position % options.len()]),
            FactKind::YesNo => json!(["yes", "no"][position % 2]),
            FactKind::Text => json!(format!("{key} {position}")),
        };
        match key.split_once('.') {
            None => drop(section.insert(key.to_owned(), value)),
            Some((outer, inner)) => section.entry(outer).or_insert_with(|| json!({}))[inner] = value,
        }
    }
    section.into()
}

/// The documents that are changed.
fn proposals(catalogue: &Catalogue) -> Vec<Value> {
    let two_groups = json!({
        "format": 1, "arrangement": "2S2P", "light": { "cut_off": "none" },
        "cells": [{ "id": "A", "group": "1" }, { "id": "B", "group": "1" }, { "id": 3, "group": 2 }],
    });
    let demo = include_str!("../../../rules-cli/demo/helmet-lamp.yaml");
    vec![every_fact(catalogue, 2), two_groups, as_yaml_reads(demo), as_text_only("helmet-lamp.yaml", demo)]
}

fn runner(cases: u32) -> TestRunner {
    let config = Config { failure_persistence: None, ..Config::default() };
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { config.cases } else { cases };
    TestRunner::new_with_rng(Config { cases, ..config }, TestRng::deterministic_rng(RngAlgorithm::ChaCha))
}

#[test]
fn every_fact_has_a_place_in_the_schema() {
    let catalogue = catalogue();
    let validator = library_validator("proposal");
    for document in proposals(&catalogue).into_iter().chain([every_fact(&catalogue, 7)]) {
        assert_eq!(agree(&document, &validator, load_proposal(&document, &catalogue), false), Ok(()));
        assert!(validator.is_valid(&document));
    }
}

#[test]
fn proposals_changed() {
    let catalogue = catalogue();
    let (documents, validator) = (proposals(&catalogue), library_validator("proposal"));
    let stock = Stock::of(&documents);
    let check = |(which, changes): (usize, Vec<_>)| {
        let document = changed(&documents[which % documents.len()], &changes, &stock);
        agree(&document, &validator, load_proposal(&document, &catalogue), changes.len() == 1).map_err(TestCaseError::fail)
    };
    runner(800).run(&(0..1000_usize, changes()), check).unwrap_or_else(|failure| panic!("{failure}"));
}

#[test]
fn rulesets_changed() {
    let documents = [every_key(), as_text_only("every-key.yaml", EVERY_KEY), as_yaml_reads(BASE)];
    let validator = library_validator("ruleset");
    for document in &documents {
        assert_eq!(agree(document, &validator, load_ruleset(document).map(drop), false), Ok(()));
        assert!(validator.is_valid(document));
    }
    let stock = Stock::of(&documents);
    let check = |(which, changes): (usize, Vec<_>)| {
        let document = changed(&documents[which % documents.len()], &changes, &stock);
        agree(&document, &validator, load_ruleset(&document).map(drop), changes.len() == 1).map_err(TestCaseError::fail)
    };
    runner(800).run(&(0..1000_usize, changes()), check).unwrap_or_else(|failure| panic!("{failure}"));
}
