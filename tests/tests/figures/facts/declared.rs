//! What a figure looks at is what it declares, no more and no less: the facts that a rule asks for,
//! FACTS.md and any other implementation go by the list.

use std::collections::BTreeMap;

use rules_core::document::Syntax;
use rules_core::facts::{Catalogue, Needs, Proposed, WorkedId};
use rulesets::proposal::Proposal;
use serde_json::Value;

use super::setting::{BUILDS, places, whole, without};

/// What every figure of a proposal looked at, added to what it did before.
fn look(catalogue: &Catalogue, proposal: &Value, looked: &mut BTreeMap<String, Needs>) {
    let text = proposal.to_string();
    let proposal = Proposal::read("p.json", text.clone().into(), Syntax::Json)
        .unwrap_or_else(|problems| panic!("{problems:?}\n{text}"));
    let sheet = proposal.facts(catalogue).expect("its facts are known");
    let workings = catalogue.figures().open(catalogue.facts_of(&sheet));
    for (place, figure) in catalogue.worked().iter().enumerate() {
        let name = format!("{}.{}", catalogue.subject_name(figure.subject), figure.name);
        let so_far = looked.entry(name.clone()).or_default();
        for position in 0..sheet.count(figure.subject) {
            let worked = workings.work(WorkedId::new(place), position);
            let beyond = names(catalogue, less(worked.used, figure.needs));
            assert!(beyond.is_empty(), "{name} also looks at {beyond:?}\n{text}");
            assert_eq!(less(worked.missing, worked.used), Needs::NONE, "{name}");
            *so_far = so_far.with(worked.used);
        }
    }
}

/// The needs of the first that are not of the second.
fn less(all: Needs, of: Needs) -> Needs {
    let others = all
        .positions()
        .filter(|at| of.positions().all(|own| own != *at));
    others.fold(Needs::NONE, |set, at| set.with(Needs::one(at)))
}

fn names(catalogue: &Catalogue, needs: Needs) -> Vec<String> {
    let facts = catalogue.needed(needs);
    facts
        .map(|fact| catalogue.fact_name(fact).to_owned())
        .collect()
}

/// A proposal with one part in three of what may be left out, or another third, or the last.
fn thirds(proposal: &Value, all: &[String]) -> [Value; 3] {
    [0, 1, 2].map(|kept| {
        let left_out = all.iter().enumerate().filter(|(at, _)| at % 3 != kept);
        // The innermost first, so that each is still there.
        left_out.rev().fold(proposal.clone(), |less, (_, place)| {
            let there = less.pointer(place).is_some();
            if there { without(&less, place) } else { less }
        })
    })
}

/// A sheet that says nothing but how many cells there are.
fn bare(arrangement: &str) -> Value {
    let cells = if arrangement == "1S1P" { 1 } else { 4 };
    let cells: Vec<Value> = (0..cells)
        .map(|at| serde_json::json!({ "id": format!("K{at}") }))
        .collect();
    serde_json::json!({
        "format": 1, "light": {}, "arrangement": arrangement, "cells": cells,
        "packs": [{ "id": "P" }], "charging": {}, "conditions": {},
    })
}

/// The same with two more capacity tests of each cell.
fn tested_four_times(mut proposal: Value) -> Value {
    for cell in proposal["cells"].as_array_mut().unwrap() {
        let twice = [&cell["capacity"], &cell["capacity_2"]].map(Value::clone);
        let [mut third, fourth] = twice;
        let told = third.as_object_mut().unwrap();
        told.retain(|key, _| !key.starts_with("by_"));
        cell["capacity_3"] = third;
        cell["capacity_4"] = fourth;
    }
    proposal
}

/// The same with every resistance read at 1 kHz, where like cells are compared.
fn read_at_1_khz(mut proposal: Value) -> Value {
    for cell in proposal["cells"].as_array_mut().unwrap() {
        cell["resistance"]["method"] = "ac-1khz".into();
        cell.as_object_mut().unwrap().remove("loaded");
    }
    proposal
}

#[test]
fn a_figure_looks_at_what_it_declares() {
    let catalogue = rulesets::catalogue();
    let mut looked = BTreeMap::new();
    for (arrangement, draw) in BUILDS {
        let proposal = tested_four_times(whole(arrangement, draw));
        let mut all = Vec::new();
        places(&proposal, "", &mut all);
        look(&catalogue, &proposal, &mut looked);
        look(&catalogue, &bare(arrangement), &mut looked);
        look(&catalogue, &read_at_1_khz(proposal.clone()), &mut looked);
        for less in thirds(&proposal, &all) {
            look(&catalogue, &less, &mut looked);
        }
        for place in all {
            look(&catalogue, &without(&proposal, &place), &mut looked);
        }
    }
    assert!(looked.len() > 30, "{}", looked.len());
    for figure in catalogue.worked() {
        let name = format!("{}.{}", catalogue.subject_name(figure.subject), figure.name);
        let never = names(&catalogue, less(figure.needs, looked[&name]));
        assert!(
            never.is_empty(),
            "{name} declares {never:?} and never looks"
        );
    }
}
