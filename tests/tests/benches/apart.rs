//! Taking a proposal apart into a bench, a table of its cells, and what is left.

use serde_json::{Map, Value, json};

/// How a proposal is taken apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// All of it on the bench, the cells written there.
    Bench,
    /// The cells in a table as far as one can hold them.
    Table,
    /// A part of each section and of each cell beside its name.
    Beside,
}

impl Way {
    pub(crate) const ALL: [Self; 3] = [Self::Bench, Self::Table, Self::Beside];
}

/// A bench, its table of cells, and a proposal that takes from it.
pub(crate) struct Apart {
    pub(crate) bench: String,
    pub(crate) cells: String,
    pub(crate) plan: String,
}

/// Takes a proposal apart.
pub(crate) fn apart(proposal: &Value, way: Way) -> Apart {
    let mut plan = proposal.as_object().expect("a map").clone();
    let mut bench = json!({ "format": 1, "bench": "Clubhouse" });
    for key in ["meters", "packs"] {
        if let Some(value) = plan.remove(key) {
            bench[key] = value;
        }
    }
    // A pack that no cell names has to be named.
    let packs = bench.get("packs").and_then(Value::as_array);
    let ids = packs.map(|packs| {
        packs
            .iter()
            .map(|pack| pack["id"].clone())
            .collect::<Value>()
    });
    plan.extend(ids.map(|ids| ("packs".to_owned(), ids)));
    light(&mut plan, &mut bench, way);
    if let Some(charging) = section(&mut plan, "charging", &["of"], way) {
        bench["chargers"] = json!({ "one": charging });
    }
    if let Some(conditions) = section(&mut plan, "conditions", &["at"], way) {
        bench["places"] = json!({ "one": { "conditions": conditions } });
    }
    let cells = cells(&mut plan, &mut bench, way);
    plan.insert("bench".to_owned(), json!("./bench.yaml"));
    if !cells.is_empty() {
        bench["tables"] = json!({ "cells": "cells.csv" });
    }
    Apart {
        bench: bench.to_string(),
        cells,
        plan: Value::Object(plan).to_string(),
    }
}

fn light(plan: &mut Map<String, Value>, bench: &mut Value, way: Way) {
    let Some(mut light) = section(plan, "light", &["of"], way) else {
        return;
    };
    let arrangement = plan.remove("arrangement").expect("an arrangement");
    light["arrangement"] = arrangement;
    if let Some(protection) = plan.remove("protection") {
        light["protection"] = protection;
    }
    bench["lights"] = json!({ "one": light });
}

/// What of a section goes to the bench; its name, and perhaps a key, stay.
fn section(plan: &mut Map<String, Value>, key: &str, by: &[&str], way: Way) -> Option<Value> {
    let mut whole = plan
        .get(key)?
        .as_object()
        .filter(|whole| !whole.is_empty())?
        .clone();
    let stays = whole.keys().next().filter(|_| way == Way::Beside).cloned();
    let stays = stays.and_then(|key| Some((key.clone(), whole.remove(&key)?)));
    let named = match stays {
        None => json!("one"),
        Some((key, value)) => json!({ by[0]: "one", key: value }),
    };
    plan.insert(key.to_owned(), named);
    Some(Value::Object(whole))
}

/// Moves the cells to the bench, and gives the table of those that can be in one.
fn cells(plan: &mut Map<String, Value>, bench: &mut Value, way: Way) -> String {
    let Some(Value::Array(cells)) = plan.get("cells").cloned() else {
        return String::new();
    };
    let (mut named, mut written, mut rows) = (Vec::new(), Vec::new(), Vec::new());
    for cell in cells {
        let mut cell = cell.as_object().expect("a cell").clone();
        let id = cell["id"].clone();
        let stays = cell
            .keys()
            .find(|key| *key != "id")
            .filter(|_| way == Way::Beside)
            .cloned();
        named.push(match stays {
            None => id,
            Some(key) => json!({ "of": id, &key: cell.remove(&key) }),
        });
        match flat(&cell).filter(|_| way == Way::Table) {
            Some(row) => rows.push(row),
            None => written.push(Value::Object(cell)),
        }
    }
    plan.insert("cells".to_owned(), named.into());
    bench["cells"] = written.into();
    table(&rows)
}

/// The keys of a cell with their texts; none if it holds what a table cannot.
fn flat(cell: &Map<String, Value>) -> Option<Vec<(String, String)>> {
    let mut all = Vec::new();
    for (key, value) in cell {
        match value {
            Value::Object(inner) => {
                for (inner, value) in inner {
                    all.push((format!("{key}.{inner}"), text(value)?));
                }
            }
            value => all.push((key.clone(), text(value)?)),
        }
    }
    Some(all)
}

fn text(value: &Value) -> Option<String> {
    match value {
        Value::String(text) if !text.trim().is_empty() => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

fn table(rows: &[Vec<(String, String)>]) -> String {
    let mut headings: Vec<&str> = Vec::new();
    for (key, _) in rows.iter().flatten() {
        if !headings.contains(&key.as_str()) {
            headings.push(key);
        }
    }
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let line = |fields: Vec<String>| format!("{}\n", fields.join(","));
    let mut text = String::new();
    if !rows.is_empty() {
        text += &line(headings.iter().map(|heading| quoted(heading)).collect());
    }
    for row in rows {
        let field = |heading: &&str| {
            let found = row.iter().find(|(key, _)| key == heading);
            quoted(found.map_or("", |(_, text)| text))
        };
        text += &line(headings.iter().map(field).collect());
    }
    text
}
