//! The schemas of a bench, and of a proposal that takes from one: made of that of a plain proposal.

use rules_core::schema::address;
use rules_core::schema::values::{described, told};
use serde_json::{Map, Value, json};

use super::file::file;
use super::proposal::{list_of, proposal, says};

/// The schema of a bench file.
#[must_use]
pub fn bench() -> Value {
    bench_of(&proposal())
}

/// The schema of a bench whose cells, lights and chargers are those of a plain proposal.
pub(super) fn bench_of(plain: &Value) -> Value {
    let section = |key: &str| part(plain, &["properties", key]);
    let named = |one: Value, description: &str| json!({ "description": description, "type": "object", "additionalProperties": one });
    let mut defs = part(plain, &["$defs"]);
    let cell = with_testers(part(&defs, &["cell"]));
    let kind = without_required(with_testers(part(&defs, &["cell"])));
    let cell = with_key(
        &cell,
        "kind",
        says("The kind of cells of the bench that it is of."),
    );
    let own = with_key(&cell, "in", says("The light of the bench that it is in."));
    set(&mut defs, "cell", with_curves(own));
    let light = ["arrangement", "protection"]
        .into_iter()
        .fold(section("light"), |light, key| {
            with_key(&light, key, section(key))
        });
    let path = |what: &str| {
        says(&format!(
            "Path of the table of {what}, from the folder of the bench."
        ))
    };
    let list = |of: &str, description: &str| {
        list_of(&json!({ "$ref": format!("#/$defs/{of}") }), description)
    };
    let tables = object(&[
        ("cells", path("cells")),
        ("readings", path("dated readings")),
    ]);
    let properties = json!({
        "$schema": address(),
        "format": section("format"),
        "bench": says("What the bench is called."),
        "rules": { "description": "The rulesets in force: names of shipped ones, or paths from the folder of the bench.", "type": "array", "items": says("A ruleset.") },
        "meters": section("meters"),
        "kinds": named(kind, "Kinds of cells by name, with the keys of a cell that they have alike."),
        "testers": named(tester(&cell), "What testers always do the same, by their names."),
        "chargers": named(section("charging"), "Chargers by name, with the keys of `charging`."),
        "lights": named(light, "Lights by name, with the keys of `light`, and what goes with them."),
        "places": named(object(&[("charging", section("charging")), ("conditions", section("conditions"))]), "Places by name, with what each says of charging and of use."),
        "packs": list("pack", "Packs, as their labels read."),
        "cells": list("cell", "Cells, as in a proposal."),
        "tables": described(tables, "Tables of CSV with more cells, and with what was read of them over time."),
    });
    file(
        "bench",
        "A bench",
        "What a workshop says once, for proposals to take from.",
        &properties,
        &["format", "bench"],
        &defs,
    )
}

/// The schema of a proposal that takes from a bench.
#[must_use]
pub fn bench_proposal() -> Value {
    bench_proposal_of(&proposal())
}

/// The schema of a proposal that takes from a bench, by that of a plain proposal.
pub(super) fn bench_proposal_of(plain: &Value) -> Value {
    let mut properties = part(plain, &["properties"]);
    let mut defs = part(plain, &["$defs"]);
    for (key, takes) in [
        ("light", &["of"][..]),
        ("charging", &["of", "at"]),
        ("conditions", &["at"]),
    ] {
        let section = part(&properties, &[key]);
        let section = takes.iter().fold(section, |section, take| {
            with_key(&section, take, says("A name that the bench has."))
        });
        set(
            &mut properties,
            key,
            json!({ "description": "What the bench has under a name, and what is written beside it.", "anyOf": [says("A name that the bench has."), section] }),
        );
    }
    let cell = with_testers(part(&defs, &["cell"]));
    let cell = with_key(&cell, "kind", says("A kind of cells of the bench."));
    let cell = with_key(&cell, "of", says("The id of a cell of the bench."));
    set(&mut defs, "cell", without_required(cell));
    for (key, of) in [("cells", "cell"), ("packs", "pack")] {
        let items = json!({ "anyOf": [says("An id that the bench has."), { "$ref": format!("#/$defs/{of}") }] });
        set(
            &mut properties,
            key,
            list_of(
                &items,
                "Each by the id that the bench has it under, or written out.",
            ),
        );
    }
    set(
        &mut properties,
        "bench",
        says("Path of the bench, from the folder of the proposal."),
    );
    let day = "The day on which readings count, `2026-11-29`; without it that of the newest.";
    set(
        &mut properties,
        "as_of",
        told(
            json!({ "description": day, "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" }),
            "write a date as `2026-10-31`",
        ),
    );
    let about = "One proposed use of rescued cells in a light, with what it takes from a bench.";
    file(
        "bench-proposal",
        "A proposal that takes from a bench",
        about,
        &properties,
        &["format", "bench"],
        &defs,
    )
}

fn object(keys: &[(&str, Value)]) -> Value {
    let properties: Map<String, Value> = keys
        .iter()
        .map(|(key, value)| ((*key).to_owned(), value.clone()))
        .collect();
    json!({ "type": "object", "properties": properties, "additionalProperties": false })
}

/// What stands at a path of keys.
fn part(schema: &Value, path: &[&str]) -> Value {
    let found = path.iter().try_fold(schema, |at, key| at.get(*key));
    found.cloned().unwrap_or_default()
}

fn set(schema: &mut Value, key: &str, value: Value) {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.insert(key.to_owned(), value);
    }
}

/// A schema of a map, with one key more.
fn with_key(schema: &Value, key: &str, value: Value) -> Value {
    let mut schema = schema.clone();
    if let Some(properties) = schema.get_mut("properties") {
        set(properties, key, value);
    }
    schema
}

fn without_required(mut schema: Value) -> Value {
    if let Some(keywords) = schema.as_object_mut() {
        keywords.remove("required");
    }
    schema
}

/// A cell of which each map may name a tester.
fn with_testers(mut cell: Value) -> Value {
    let properties = cell.get_mut("properties").and_then(Value::as_object_mut);
    for (key, value) in properties.into_iter().flatten() {
        if key != "extra" {
            add_tester(value);
        }
    }
    cell
}

/// Adds `tester` to a schema of a map, or to each of which one may be it.
fn add_tester(schema: &mut Value) {
    let what = says("The tester of the bench that it was read with.");
    add_to_maps(schema, "tester", &what);
}

/// A cell of which each capacity test may name a curve.
fn with_curves(mut cell: Value) -> Value {
    let properties = cell.get_mut("properties");
    if let Some(tests) = properties.and_then(|all| all.get_mut("capacity")) {
        let what = "Path of the log of this discharge, from the folder of the bench.";
        add_to_maps(tests, "curve", &says(what));
    }
    cell
}

/// Adds a key to a schema of a map, or to each of which one may be it.
fn add_to_maps(schema: &mut Value, key: &str, value: &Value) {
    if let Some(properties) = schema.get_mut("properties") {
        set(properties, key, value.clone());
    }
    if let Some(items) = schema.get_mut("items") {
        add_to_maps(items, key, value);
    }
    let either = schema.get_mut("anyOf").and_then(Value::as_array_mut);
    let either = either.into_iter().flatten();
    either.for_each(|one| add_to_maps(one, key, value));
}

/// The maps of a cell, of which a tester says a part.
fn tester(cell: &Value) -> Value {
    let mut tester = without_required(cell.clone());
    if let Some(properties) = tester.get_mut("properties").and_then(Value::as_object_mut) {
        properties.retain(|_, value| value.to_string().contains("\"tester\""));
    }
    tester
}
