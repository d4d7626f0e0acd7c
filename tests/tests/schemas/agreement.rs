//! On changed documents schema and loader agree about shape: what the schema refuses the loader
//! refuses, and what only the loader refuses is beyond what a schema can say.

use std::collections::BTreeMap;

use jsonschema::Validator;
use proptest::test_runner::TestCaseError;
use rules_core::document::{Fault, Problem, ProblemList, Problems, Span};
use rules_core::facts::{Catalogue, FactKind, Proposed, add_clashes};
use rules_core::quantity::Kind;
use rules_core::vetting::Vetting;
use rules_tests::law::always;
use serde_json::{Map, Value, json};

use super::beyond::is_beyond;
use super::changes::{Stock, changed, changes};
use super::setting::{
    as_text_only, as_yaml_reads, is_of_shape, library_validator, proposal, vetting,
};

const BASE: &str = include_str!("base.yaml");
const EVERY_KEY: &str = include_str!("every-key.yaml");

/// What a loader says of a document.
pub(crate) type Loaded = Result<(), ProblemList>;

/// Whether schema and loader agree on a document; what parts them, if not.
fn agree(
    document: &Value,
    validator: &Validator,
    loaded: Loaded,
    single: bool,
) -> Result<(), String> {
    let objection = validator
        .iter_errors(document)
        .next()
        .map(|error| format!("{}: {error}", error.instance_path()));
    let shown = || serde_json::to_string(document).expect("JSON");
    match (objection, loaded) {
        (Some(objection), Ok(())) => {
            Err(format!("only the schema refuses: {objection}\n{}", shown()))
        }
        (Some(objection), Err(problems)) => {
            // With several changes the loader may stop at an earlier one than the schema saw.
            let of_shape = problems
                .iter()
                .any(|problem| is_of_shape(problem.fault) || is_named_by_the_schema(problem));
            let said = || {
                format!(
                    "the schema refuses for shape, the loader for something else: {objection}\n{problems:#?}"
                )
            };
            if single && !of_shape {
                Err(said())
            } else {
                Ok(())
            }
        }
        (None, Err(problems)) => match problems.iter().find(|problem| !is_beyond(problem)) {
            Some(shape) => Err(format!("only the loader refuses: {shape:#?}\n{}", shown())),
            None => Ok(()),
        },
        (None, Ok(())) => Ok(()),
    }
}

/// What the loader sees late and the schema can say all the same: subjects, what stated numbers can
/// be, ranges that go backwards, and what is listed twice in the same words.
fn is_named_by_the_schema(problem: &Problem) -> bool {
    matches!(
        problem.fault,
        Fault::UnknownName
            | Fault::OutOfScope
            | Fault::OutOfDomain
            | Fault::TooLarge
            | Fault::LowAboveHigh
            | Fault::DefinedTwice
    )
}

fn text(document: &Value) -> String {
    serde_json::to_string_pretty(document).expect("JSON")
}

pub(crate) fn load_proposal(document: &Value, catalogue: &Catalogue) -> Loaded {
    let proposal = proposal("proposal.json", &text(document))?;
    let sheet = proposal.facts(catalogue)?;
    let mut problems = Problems::new(sheet.source().expect("it was read from a text"));
    add_clashes(catalogue, &sheet, Span::default(), &mut problems);
    let found = problems.finish();
    if found.is_empty() { Ok(()) } else { Err(found) }
}

/// The examples are loaded too: a schema cannot know whether a file is to be vetted.
pub(crate) fn load_ruleset(document: &Value) -> Result<Vetting, ProblemList> {
    let text = text(document);
    vetting(
        BTreeMap::from([("main.json", text.as_str()), ("base.yaml", BASE)]),
        &["main.json"],
    )
}

pub(crate) fn every_key() -> Value {
    as_yaml_reads(EVERY_KEY)
}

/// The catalogue with what `every-key.yaml` declares.
pub(crate) fn catalogue() -> Catalogue {
    load_ruleset(&every_key())
        .expect("the ruleset of every key loads")
        .rules()
        .catalogue()
        .clone()
}

/// A proposal that gives every fact of so many cells, each with other options of its choices.
pub(crate) fn every_fact(catalogue: &Catalogue, cells: usize) -> Value {
    let cell = |position: usize| {
        let mut cell = section(catalogue, "cell", position);
        cell["size"]["code"] = json!(["18650", "19/66"][position % 2]);
        // The two readings of the watch are alike.
        cell["drift"]["fall"] = json!("0.0 V");
        cell
    };
    let (arrangement, cells) = (
        format!("{cells}S1P"),
        (0..cells).map(cell).collect::<Vec<_>>(),
    );
    let mut document =
        json!({ "format": 1, "title": "Every fact", "arrangement": arrangement, "cells": cells });
    for subject in ["light", "protection", "charging", "conditions"] {
        document[subject] = section(catalogue, subject, 0);
    }
    document["light"]["draw"] = json!("7.5 W");
    document["light"]["extra"] = json!({ "spare": true, "beam": "300 m" });
    document["cells"][0]["extra"] =
        json!({ "club_tag": 12, "lamp_colour": "blue", "case_rise": "3.5 K" });
    document["cells"][0]["designation"] = json!("ICR18650");
    document["cells"][1]["designation"] = json!("INR19/66");
    agreeing(&mut document["cells"][0]);
    agreeing(&mut document["cells"][1]);
    document["packs"] = json!([section(catalogue, "pack", 0), section(catalogue, "pack", 1)]);
    document["packs"][0]["designation"] = json!("3INR19/66-2");
    document["meters"] = json!({ "voltage": "± (0.5 % + 10 mV)", "temperature difference": "± 1 K", "resistance": "± 2 %", "length": "+/- 0.1 mm" });
    document
}

/// A designation gives class and size. Where it is changed, no stated ones are to contradict it.
fn agreeing(cell: &mut Value) {
    cell.as_object_mut()
        .expect("a cell is a map")
        .remove("class");
    let size = cell["size"].as_object_mut().expect("a size is a map");
    size.remove("code");
}

fn section(catalogue: &Catalogue, subject: &str, position: usize) -> Value {
    let id = catalogue.subject_named(subject);
    let mut section = Map::new();
    for (_, fact) in catalogue
        .facts()
        .filter(|(_, fact)| Some(fact.subject) == id)
    {
        let Some(key) = fact.key.as_deref().filter(|key| *key != "designation") else {
            continue;
        };
        let value = match &fact.kind {
            FactKind::Number(Kind::Count) => json!(2),
            FactKind::Number(kind) => json!(kind.example()),
            FactKind::Choice(options) => json!(options[position % options.len()]),
            FactKind::YesNo => json!(["yes", "no"][position % 2]),
            FactKind::Id | FactKind::Text => json!(format!("{key} {position}")),
        };
        match key.split_once('.') {
            None => drop(section.insert(key.to_owned(), value)),
            Some((outer, inner)) => {
                section.entry(outer).or_insert_with(|| json!({}))[inner] = value
            }
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
    vec![
        every_fact(catalogue, 2),
        two_groups,
        as_yaml_reads(demo),
        as_text_only("helmet-lamp.yaml", demo),
    ]
}

#[test]
fn every_fact_has_a_place_in_the_schema() {
    let catalogue = catalogue();
    let validator = library_validator("proposal");
    for document in proposals(&catalogue)
        .into_iter()
        .chain([every_fact(&catalogue, 7)])
    {
        assert_eq!(
            agree(
                &document,
                &validator,
                load_proposal(&document, &catalogue),
                false
            ),
            Ok(())
        );
        assert!(validator.is_valid(&document));
    }
}

/// `rest.voltage` is how the table of facts writes a place, not a key of a file.
#[test]
fn a_place_is_no_key() {
    let catalogue = catalogue();
    let validator = library_validator("proposal");
    let document = json!({ "format": 1, "title": "A place as a key", "arrangement": "1S1P", "cells": [{ "id": "K4", "rest.voltage": "3.87 V" }] });
    assert!(!validator.is_valid(&document));
    assert!(load_proposal(&document, &catalogue).is_err());
}

/// `none` is a value of two voltages and of one choice; the schema and the loader know the same
/// ones.
#[test]
fn none_where_it_may_stand() {
    let catalogue = catalogue();
    let (validator, mut document) = (library_validator("proposal"), every_fact(&catalogue, 2));
    let mut accepted = Vec::new();
    for place in leaves(&document, "") {
        let before =
            std::mem::replace(document.pointer_mut(&place).expect("a leaf"), json!("none"));
        assert_eq!(
            agree(
                &document,
                &validator,
                load_proposal(&document, &catalogue),
                true
            ),
            Ok(()),
            "{place}"
        );
        if validator.is_valid(&document) {
            accepted.push(place.clone());
        }
        *document.pointer_mut(&place).expect("a leaf") = before;
    }
    for place in ["/light/cut_off", "/charging/low_start", "/protection/kind"] {
        assert!(accepted.iter().any(|one| one == place), "{place}");
    }
}

fn leaves(value: &Value, at: &str) -> Vec<String> {
    match value {
        Value::Object(members) => members
            .iter()
            .flat_map(|(key, member)| leaves(member, &format!("{at}/{key}")))
            .collect(),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .flat_map(|(position, item)| leaves(item, &format!("{at}/{position}")))
            .collect(),
        _ => vec![at.to_owned()],
    }
}

#[test]
fn schema_and_loader_agree_on_proposals_that_were_changed() {
    let catalogue = catalogue();
    let (documents, validator) = (proposals(&catalogue), library_validator("proposal"));
    let stock = Stock::of(&documents);
    let check = |(which, changes): (usize, Vec<_>)| {
        let document = changed(&documents[which % documents.len()], &changes, &stock);
        agree(
            &document,
            &validator,
            load_proposal(&document, &catalogue),
            changes.len() == 1,
        )
        .map_err(TestCaseError::fail)
    };
    always(
        "schema and loader agree on changed proposals",
        600,
        (0..1000_usize, changes()),
        check,
    );
}

#[test]
fn schema_and_loader_agree_on_rulesets_that_were_changed() {
    let documents = [
        every_key(),
        as_text_only("every-key.yaml", EVERY_KEY),
        as_yaml_reads(BASE),
    ];
    let validator = library_validator("ruleset");
    for document in &documents {
        assert_eq!(
            agree(
                document,
                &validator,
                load_ruleset(document).map(drop),
                false
            ),
            Ok(())
        );
        assert!(validator.is_valid(document));
    }
    let stock = Stock::of(&documents);
    let check = |(which, changes): (usize, Vec<_>)| {
        let document = changed(&documents[which % documents.len()], &changes, &stock);
        agree(
            &document,
            &validator,
            load_ruleset(&document).map(drop),
            changes.len() == 1,
        )
        .map_err(TestCaseError::fail)
    };
    always(
        "schema and loader agree on changed rulesets",
        600,
        (0..1000_usize, changes()),
        check,
    );
}
