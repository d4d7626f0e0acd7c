//! The tables of a bench as its files have them: CSV that it names, and the cells that it lists itself.

use rules_core::document::{ProblemList, Problems, Syntax, read, source};
use rulesets::bench::value;
use rulesets::table::{HeadingUnit, Table};
use serde_json::Value;

use crate::commands::page::folder::Folder;
use crate::commands::page::kept::digest_of;
use crate::commands::page::plan::{id_of, written};

/// A file of a bench.
pub(super) struct File {
    pub(super) name: String,
    pub(super) text: String,
    pub(super) digest: String,
}

impl File {
    pub(super) fn read(name: &str, folder: &Folder) -> Result<Self, ProblemList> {
        let bytes = folder.read(name)?;
        let digest = digest_of(&bytes);
        let source = source(name, bytes)?;
        Ok(Self {
            name: name.to_owned(),
            text: source.text().to_owned(),
            digest,
        })
    }

    /// What a bench says, as a value.
    pub(super) fn value(&self) -> Result<Value, ProblemList> {
        let source = source(&self.name, self.text.clone().into())?;
        Ok(value(&read(&source, Syntax::of_name(&self.name))?))
    }
}

/// Rows to be shown and edited.
pub(super) struct Shown {
    pub(super) headings: Vec<String>,
    /// Each with what it is called, and a value for each heading.
    pub(super) rows: Vec<Vec<String>>,
}

/// The file of a table that a bench names: `cells`, `readings`.
pub(super) fn named(bench: &Value, table: &str) -> Option<String> {
    let name = bench.get("tables")?.get(table)?.as_str()?;
    Some(name.strip_prefix("./").unwrap_or(name).to_owned())
}

/// The rows of a text of CSV.
pub(super) fn of_csv(file: &File) -> Result<Shown, ProblemList> {
    let source = source(&file.name, file.text.clone().into())?;
    let mut problems = Problems::new(&source);
    let table = Table::read(source.text(), 0, &mut problems);
    let found = problems.finish();
    let Some(table) = table.filter(|_| found.is_empty()) else {
        return Err(found);
    };
    let headings: Vec<String> = table
        .headings()
        .iter()
        .map(|heading| match &heading.unit {
            HeadingUnit::Known(unit) => format!("{} [{unit}]", heading.name),
            _ => heading.name.clone(),
        })
        .collect();
    let rows = table.rows().iter();
    let rows = rows.map(|row| {
        let fields = (0..headings.len()).map(|column| row.field(column));
        let texts = fields.map(|field| field.map(|field| field.text.to_string()));
        texts.map(Option::unwrap_or_default).collect()
    });
    Ok(Shown {
        rows: rows.collect(),
        headings,
    })
}

/// The cells that a bench lists itself, with a column for each key that one of them has.
pub(super) fn of_list(bench: &Value) -> Shown {
    let cells = bench.get("cells").and_then(Value::as_array);
    let cells: Vec<Vec<(String, String)>> = cells.into_iter().flatten().map(flat).collect();
    let mut headings = vec!["id".to_owned()];
    for (key, _) in cells.iter().flatten() {
        if !headings.contains(key) {
            headings.push(key.clone());
        }
    }
    let row = |cell: &Vec<(String, String)>| {
        let said = |key: &String| cell.iter().find(|(known, _)| known == key);
        let texts = headings.iter().map(said);
        texts
            .map(|said| said.map_or_else(String::new, |(_, text)| text.clone()))
            .collect()
    };
    Shown {
        rows: cells.iter().map(row).collect(),
        headings,
    }
}

/// The values of a cell by their keys, with dots between.
fn flat(cell: &Value) -> Vec<(String, String)> {
    let mut all = Vec::new();
    if let Some(id) = id_of(cell) {
        all.push(("id".to_owned(), id.to_owned()));
    }
    for (key, value) in cell.as_object().into_iter().flatten() {
        if let Some(text) = written(value) {
            all.push((key.clone(), text));
        }
        for (inner, value) in value.as_object().into_iter().flatten() {
            all.extend(written(value).map(|text| (format!("{key}.{inner}"), text)));
        }
    }
    all.dedup_by(|one, other| one.0 == other.0);
    all
}
