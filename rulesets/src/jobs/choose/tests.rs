//! What is foreseen of a part of a set is no worse than what comes of it, whichever cells join: by
//! sampling.

use rules_core::check::{Options, Scales, Verdict};
use serde_json::{Value, json};

use super::effort::Effort;
use super::fillers::Fillers;
use super::offered::Offered;
use super::outlook::Outlook;
use super::part::Part;
use super::standing::Standing;
use super::wish::Wish;
use crate::jobs::trial::Trial;
use crate::proposal::Draft;
use crate::shipped_rules;

/// A number from 0 to below an end, like chance and the same each time: the minimal standard generator
/// of Park and Miller (1988), from memory.
fn below(state: &mut u64, end: u64) -> u64 {
    *state = *state * 48_271 % 2_147_483_647;
    *state / 7 % end
}

/// Cells that differ so much that many pairs do not go together; some by other meters, some less known.
fn cell(at: u64, state: &mut u64) -> Value {
    let mut any = |end| below(state, end);
    let rest = format!("4.{:03} V", 100 + any(80));
    let capacity = format!("{} mAh", 2_150 + any(350));
    let resistance = format!("{}.{} mΩ", 60 + any(9), any(10));
    let mut cell = json!({
        "id": format!("K{at}"), "class": "ICR", "origin": "salvaged",
        "pack": format!("P{}", any(2)),
        "size": { "code": "18650" },
        "rest": { "voltage": rest, "after": "24 h" },
        "capacity": { "value": capacity, "at": "0.5 A", "to": "3.0 V", "temperature": "21 degC" },
        "rated": { "capacity": "2600 mAh", "discharge": "5 A" },
        "resistance": { "value": resistance, "method": "dc-10s", "temperature": "21 degC" },
    });
    match any(9) {
        0 => cell["capacity"]["value"] = json!("2300 mAh ± 90 mAh"),
        1 => cell["rest"] = json!({ "voltage": "4.15 V ± 0.01 V", "after": "24 h" }),
        2 => cell["resistance"] = Value::Null,
        _ => {}
    }
    let fields = cell.as_object_mut().unwrap();
    fields.retain(|_, value| !value.is_null());
    cell
}

fn plan((series, parallel): (usize, usize), state: &mut u64) -> Draft {
    let cells: Vec<Value> = (0..9).map(|at| cell(at, state)).collect();
    let value = json!({
        "format": 1, "title": "lamp", "arrangement": format!("{series}S{parallel}P"),
        "light": {
            "bays": series * parallel, "drive": "buck", "draw": format!("{} W", 4 * series * parallel),
            "cut_off": format!("{} V", 3 * series),
        },
        "meters": { "voltage": "± (0.5 % + 2 mV)", "resistance": "± (3 % + 1 mΩ)", "charge": "± 2 %" },
        "conditions": { "run_time": "60 min", "ambient": "10 degC" },
        "cells": cells,
    });
    Draft::of("lamp", value)
}

/// Groups of the first cells of a set that is taken by chance, in the order of the search.
fn a_set(series: usize, parallel: usize, state: &mut u64) -> Vec<(usize, usize)> {
    let mut cells: Vec<usize> = (0..9).collect();
    while cells.len() > series * parallel {
        let out = below(state, cells.len() as u64) as usize;
        cells.remove(out);
    }
    let mut room = vec![parallel; series];
    let each = cells.into_iter().map(|cell| {
        let begun = room.iter().filter(|room| **room < parallel).count();
        let open: Vec<usize> = (0..series.min(begun + 1))
            .filter(|at| room[*at] > 0)
            .collect();
        let group = open[below(state, open.len() as u64) as usize];
        room[group] -= 1;
        (cell, group)
    });
    each.collect()
}

#[test]
fn no_completion_is_better_than_its_bound() {
    let rules = shipped_rules().unwrap();
    let scales = Scales::of(&rules, Options::default()).unwrap();
    let (mut state, mut compared, mut settled) = (17, 0, 0);
    for round in 0..12 {
        let (series, parallel) = [(2, 1), (1, 4), (2, 2), (3, 2)][round % 4];
        let draft = plan((series, parallel), &mut state);
        let trial = Trial::beside(None, draft, &rules, Options::default());
        let offered = Offered::of(&trial, &Wish::default()).unwrap();
        assert_eq!((offered.sets.count(), offered.unreadable.len()), (9, 0));
        let effort = Effort::of_checks(1_000_000);
        let mut outlook = Outlook::of(&rules, &scales, &offered.sets, effort).unwrap();
        let fillers = Fillers::of(&outlook.marks_alone, series * parallel);
        for _ in 0..12 {
            let set = a_set(series, parallel, &mut state);
            let mut parts: Vec<(Part, usize)> = Vec::new();
            let mut part = outlook.none();
            for (cell, group) in &set {
                part = outlook.with(&part, *cell, *group).unwrap();
                parts.push((part.clone(), cell + 1));
                part = outlook.filled(part, *group).unwrap();
                parts.push((part.clone(), cell + 1));
            }
            let (outcome, each) = scales.whole(&offered.sets.whole(&part.groups)).unwrap();
            let whole = Standing::of(outcome, &each, &outlook.alike);
            for (part, first) in parts {
                let joined: usize = part.groups.iter().map(Vec::len).sum();
                let bound = part.standing(fillers.best(first, set.len() - joined));
                assert!(
                    bound <= whole,
                    "{:?} of {set:?}: {bound:?} {whole:?}",
                    part.groups
                );
                settled += usize::from(joined < set.len() && bound.head.best > Verdict::Pass);
                compared += 1;
            }
        }
    }
    assert!(compared > 1_000 && settled > 100, "{compared} {settled}");
}
