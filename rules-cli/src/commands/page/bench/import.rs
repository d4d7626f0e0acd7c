//! A spreadsheet of cells that is dropped on the page: added to the table of the bench, or made its
//! table.

use rules_core::document::{Fault, Problem, ProblemList, Problems, Syntax, source};
use rulesets::pages::html::Html;
use rulesets::table::{Heading, Row, Table};
use serde::Deserialize;
use serde_json::{Value, json};

use super::edit::{NotChanged, of_bench, write};
use super::overlay::Overlay;
use super::tables::{File, named};
use crate::commands::page::answer::{Answer, Kind};
use crate::commands::page::folder::Folder;
use crate::commands::page::in_place;
use crate::commands::written_file::{not_written, replace, write_new};

/// A spreadsheet as it was chosen or dropped.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::commands::page) struct Sheet {
    /// The bench that it is for.
    bench: String,
    /// The name of its file.
    file: String,
    text: String,
}

/// Takes the cells of a spreadsheet into a bench.
pub(in crate::commands::page) fn import(sheet: &Sheet, folder: &Folder) -> Answer {
    match imported(sheet, folder) {
        Ok(says) => {
            let mut html = Html::default();
            html.said("p", &[("data-imported", "yes")], &says);
            Answer::of(Kind::Html, html.part())
        }
        Err(why) => why.answer(),
    }
}

fn imported(sheet: &Sheet, folder: &Folder) -> Result<String, NotChanged> {
    let bench = of_bench(&sheet.bench, folder)?;
    let value = bench.value()?;
    match named(&value, "cells") {
        Some(name) => added(sheet, &File::read(&name, folder)?, folder),
        None => made(sheet, &bench, value, folder),
    }
}

/// Adds the rows to the table that the bench has, each value under its heading there.
fn added(sheet: &Sheet, own: &File, folder: &Folder) -> Result<String, NotChanged> {
    let own_source = source(&own.name, own.text.clone().into())?;
    let new_source = source(&sheet.file, sheet.text.clone().into())?;
    let mut problems = Problems::new(&new_source);
    let new = Table::read(new_source.text(), 0, &mut problems);
    let found = problems.finish();
    let Some(new) = new.filter(|_| found.is_empty()) else {
        return Err(found.into());
    };
    let mut problems = Problems::new(&own_source);
    let Some(table) = Table::read(own_source.text(), 0, &mut problems) else {
        return Err(problems.finish().into());
    };
    let columns = columns(&table, &new)?;
    let mut text = own.text.clone();
    if !text.ends_with('\n') {
        text.push('\n');
    }
    for row in new.rows() {
        text += &line(row, &columns, &table);
        text.push('\n');
    }
    Overlay::of(folder)
        .with(&own.name, &text)
        .vet(&sheet.bench)?;
    write(&own.name, &text, folder)?;
    Ok(format!(
        "{} cells were added to {}.",
        new.rows().len(),
        own.name
    ))
}

/// By column of the own table, the column of the new one.
fn columns(own: &Table<'_>, new: &Table<'_>) -> Result<Vec<Option<usize>>, Problem> {
    let is_same = |one: &Heading, other: &Heading| one.name == other.name && one.unit == other.unit;
    let has = |all: &[Heading], heading: &Heading| all.iter().position(|one| is_same(one, heading));
    let foreign = new
        .headings()
        .iter()
        .find(|heading| has(own.headings(), heading).is_none());
    if let Some(heading) = foreign {
        let known: Vec<&str> = own.headings().iter().map(|one| &*one.name).collect();
        let message = format!(
            "the table of the bench has no column `{}` of that unit",
            heading.name
        );
        let help = format!("add it there first; it has {}", known.join(", "));
        return Err(Problem::of_file(Fault::UnknownKey, message, help));
    }
    let all = own.headings().iter();
    Ok(all.map(|heading| has(new.headings(), heading)).collect())
}

fn line(row: &Row<'_>, columns: &[Option<usize>], table: &Table<'_>) -> String {
    let fields = columns.iter().map(|column| {
        let field = column.and_then(|column| row.field(column));
        field.map_or_else(String::new, |field| table.as_field(&field.text))
    });
    let fields: Vec<String> = fields.collect();
    fields.join(&table.separator().to_string())
}

/// Makes it the table of a bench that has none.
fn made(
    sheet: &Sheet,
    bench: &File,
    mut value: Value,
    folder: &Folder,
) -> Result<String, NotChanged> {
    let path = folder.new_path(&sheet.file, &[".csv"])?;
    let tables = value
        .as_object_mut()
        .map(|bench| bench.entry("tables").or_insert_with(|| json!({})));
    if let Some(tables) = tables.and_then(Value::as_object_mut) {
        tables.insert("cells".to_owned(), sheet.file.clone().into());
    }
    let text = in_place::changed(&bench.text, Syntax::of_name(&bench.name), &value)?;
    let after = Overlay::of(folder)
        .with(&sheet.file, &sheet.text)
        .with(&bench.name, &text);
    after.vet(&sheet.bench)?;
    let bench_path = folder.known(&bench.name).ok_or_else(gone)?;
    // The table first: a bench that names it finds it.
    write_new(&path, &sheet.text).map_err(|error| not_written(&path, &error))?;
    replace(&bench_path, &text).map_err(|error| not_written(&bench_path, &error))?;
    Ok(format!("{} is now the table of cells.", sheet.file))
}

fn gone() -> ProblemList {
    let help = "look into the folder";
    Problem::of_file(Fault::UnknownName, "the bench is no longer there", help).into()
}
