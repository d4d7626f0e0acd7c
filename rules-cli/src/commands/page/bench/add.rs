//! A row that is added to a table of a bench: a further cell, or a re-test of one.

use rules_core::document::{ProblemList, Problems, source};
use rulesets::table::Table;
use serde::Deserialize;

use super::edit::{NotChanged, as_shown, saved_in, vetted};
use super::tables::File;
use crate::commands::page::answer::Answer;
use crate::commands::page::folder::Folder;

/// A row as somebody filled it in.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::commands::page) struct NewRow {
    /// The bench.
    bench: String,
    /// The table: `cells` or `readings`.
    table: String,
    /// What the file was when it was shown.
    digest: String,
    /// A value for each heading.
    values: Vec<String>,
}

/// Writes a row behind the others.
pub(in crate::commands::page) fn add(row: &NewRow, folder: &Folder) -> Answer {
    match added(row, folder) {
        Ok(saved) => saved_in(saved),
        Err(why) => why.answer(),
    }
}

fn added(row: &NewRow, folder: &Folder) -> Result<(String, String), NotChanged> {
    let file = as_shown((&row.bench, &row.table, &row.digest), folder)?;
    let text = with_row(&row.values, &file)?;
    vetted(&row.bench, &file, &text, folder)
}

fn with_row(values: &[String], file: &File) -> Result<String, ProblemList> {
    let source = source(&file.name, file.text.clone().into())?;
    let mut problems = Problems::new(&source);
    let table = Table::read(source.text(), 0, &mut problems);
    let table = table.ok_or_else(|| problems.finish())?;
    let fields: Vec<String> = values.iter().map(|value| table.as_field(value)).collect();
    let mut text = file.text.clone();
    let ends = if text.contains("\r\n") { "\r\n" } else { "\n" };
    if !text.ends_with('\n') {
        text += ends;
    }
    text += &fields.join(&table.separator().to_string());
    text += ends;
    Ok(text)
}
