//! The entries of a plan's list of cells: which cell each is, and in which group.

use serde_json::{Map, Value, json};

/// The keys of an entry that takes a cell from a bench: which, and the group that it is put into.
const OF: &str = "of";
pub(super) const GROUP: &str = "group";

/// The name of the bench's cell that an entry takes.
pub(super) fn of_bench(entry: &Value) -> Option<&str> {
    entry.get(OF).unwrap_or(entry).as_str()
}

/// The name of the cell, of a bench or of the plan's own.
pub(super) fn name_of(entry: &Value) -> Option<&str> {
    of_bench(entry).or_else(|| entry.get("id")?.as_str())
}

/// An entry with the name of its group, or with none.
pub(in crate::jobs) fn in_group(entry: &Value, label: Option<&str>) -> Value {
    let mut fields: Map<String, Value> = match (entry, label) {
        (Value::Object(fields), _) => fields.clone(),
        (_, None) => return entry.clone(),
        (id, Some(_)) => Map::from_iter([(OF.to_owned(), id.clone())]),
    };
    match label {
        Some(label) => fields.insert(GROUP.to_owned(), json!(label)),
        None => fields.remove(GROUP),
    };
    Value::Object(fields)
}
