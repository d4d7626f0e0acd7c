//! A plain reader of written reports: each finding of each subject from the entries that give what
//! is alike once, by the words of the schema alone.
#![allow(
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "it serves tests, which stop at a report that is not as the schema has it"
)]

use serde_json::{Map, Value, json};

/// What entries of a written report refer to.
struct Tables<'r> {
    report: &'r Value,
}

impl<'r> Tables<'r> {
    fn list(&self, key: &str) -> &'r [Value] {
        self.report[key].as_array().map_or(&[], Vec::as_slice)
    }

    /// The positions of a set.
    fn set(&self, number: &Value) -> Vec<usize> {
        let positions = self.list("sets")[at(number)].as_array();
        positions.into_iter().flatten().map(at).collect()
    }

    fn subject(&self, position: usize) -> &'r Value {
        &self.list("subjects")[position]
    }

    fn name(&self, position: usize) -> String {
        subject(self.subject(position))
    }

    /// What a table of facts or figures says of one of these.
    fn told(&self, table: &str, name: &str, position: usize) -> Option<Value> {
        self.list(table)
            .iter()
            .filter(|entry| entry["name"] == name)
            .find_map(|entry| {
                let place = self
                    .set(&entry["subjects"])
                    .iter()
                    .position(|one| *one == position)?;
                let mut told = picked(entry, place);
                told["subject"] = self.name(position).into();
                Some(told)
            })
    }

    /// The facts or figures that take part for one subject of an entry, in the order of names.
    fn uses(&self, entry: &Value, (table, place): (&str, usize), own: usize) -> Vec<Value> {
        let mut told = Vec::new();
        for uses in entry[table].as_array().into_iter().flatten() {
            let mut whose = match &uses["of"] {
                Value::Null => Vec::new(),
                of => self.set(&pick(of, place)),
            };
            whose.extend((uses["own"] == true).then_some(own));
            for name in uses["names"].as_array().into_iter().flatten() {
                let name = name.as_str().unwrap_or_default();
                told.extend(whose.iter().map(|position| {
                    self.told(table, name, *position)
                        .unwrap_or_else(|| panic!("{table} tells {name} of {position}"))
                }));
            }
        }
        told.sort_by_key(Value::to_string);
        told
    }
}

fn at(number: &Value) -> usize {
    number
        .as_u64()
        .and_then(|number| usize::try_from(number).ok())
        .unwrap_or(usize::MAX)
}

/// One subject's own of a value, or the value of all.
fn pick(value: &Value, place: usize) -> Value {
    match value {
        Value::Array(each) => each[place].clone(),
        same => same.clone(),
    }
}

/// An entry with one subject's own values, and without its set.
fn picked(entry: &Value, place: usize) -> Value {
    let fields = entry
        .as_object()
        .into_iter()
        .flatten()
        .filter(|(key, _)| *key != "subjects")
        .map(|(key, value)| match value {
            // What would narrow a figure is the same for all of its set.
            value if key == "narrowed_by" => (key.clone(), value.clone()),
            Value::Object(_) => (key.clone(), picked(value, place)),
            value => (key.clone(), pick(value, place)),
        });
    Value::Object(fields.collect::<Map<_, _>>())
}

/// What tells a subject from others of its kind, if anything does.
fn own(subject: &Value) -> Option<&str> {
    subject["name"].as_str().or(subject["called"].as_str())
}

/// A subject as a person says it: its kind, and what tells it from others.
#[must_use]
pub fn subject(written: &Value) -> String {
    let kind = written["kind"].as_str().expect("each subject has a kind");
    match own(written) {
        Some(own) => format!("{kind} {own}"),
        None => kind.to_owned(),
    }
}

/// A reason or a remedy of one subject.
fn text(told: &Value, place: usize, subject: &Value) -> Value {
    let Value::Array(pieces) = told else {
        return told.clone();
    };
    let own = own(subject).unwrap_or_default();
    let joined: String = pieces
        .iter()
        .map(|piece| match pick(piece, place) {
            Value::Null => own.to_owned(),
            piece => piece.as_str().unwrap_or_default().to_owned(),
        })
        .collect();
    joined.into()
}

/// Every finding of every subject of a written report, each with all that is said of it.
#[must_use]
pub fn findings(report: &Value) -> Vec<Value> {
    let tables = Tables { report };
    let mut all = Vec::new();
    for entry in tables.list("findings") {
        for (place, position) in tables.set(&entry["subjects"]).into_iter().enumerate() {
            all.push(finding(&tables, entry, place, position));
        }
    }
    all
}

fn finding(tables: &Tables<'_>, entry: &Value, place: usize, position: usize) -> Value {
    let caution = &tables.report["cautions"][entry["caution"].as_str().unwrap_or_default()];
    let clauses: Vec<Value> = entry["clauses"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|clause| {
            let mut one = picked(&without(clause, "limits"), place);
            one["limits"] = clause["limits"].clone();
            one
        })
        .collect();
    let mut one = json!({
        "subject": tables.name(position),
        "listed": tables.subject(position)["listed"].as_bool().unwrap_or(true),
        "count": tables.subject(position)["count"].as_u64().unwrap_or(1),
        "title": caution["title"],
        "fixed": caution["fixed"],
        "basis": caution["basis"],
        "rule": caution["rungs"][entry["rung"].as_str().unwrap_or_default()],
        "reason": text(&entry["reason"], place, tables.subject(position)),
        "remedy": text(&entry["remedy"], place, tables.subject(position)),
        "clauses": clauses,
        "facts": tables.uses(entry, ("facts", place), position),
        "figures": tables.uses(entry, ("figures", place), position),
        "more_facts": match &entry["more_facts"] {
            Value::Null => 0.into(),
            more => pick(more, place),
        },
    });
    for key in [
        "caution", "verdict", "best", "worst", "status", "rung", "missing",
    ] {
        one[key] = entry[key].clone();
    }
    one
}

fn without(entry: &Value, key: &str) -> Value {
    let mut entry = entry.clone();
    entry.as_object_mut().and_then(|fields| fields.remove(key));
    entry
}

/// Every entry of what to measure next, of every subject, with its name.
#[must_use]
pub fn measure_next(report: &Value) -> Vec<Value> {
    let tables = Tables { report };
    let mut all = Vec::new();
    for entry in tables.list("measure_next") {
        for position in tables.set(&entry["subjects"]) {
            let mut one = without(entry, "subjects");
            one["subject"] = tables.name(position).into();
            all.push(one);
        }
    }
    all
}

/// Every figure of every subject of a written sheet of figures.
#[must_use]
pub fn figures(sheet: &Value) -> Vec<Value> {
    let tables = Tables { report: sheet };
    let mut all = Vec::new();
    for entry in tables.list("figures") {
        for (place, position) in tables.set(&entry["subjects"]).into_iter().enumerate() {
            let mut one = picked(&without(entry, "facts"), place);
            one["subject"] = tables.name(position).into();
            one["facts"] = tables.uses(entry, ("facts", place), position).into();
            all.push(one);
        }
    }
    all
}
