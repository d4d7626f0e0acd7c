//! One value of a bench, changed in the file that it is written in, at once.

use rules_core::document::{Fault, Problem, ProblemList, Problems, Syntax, source};
use rulesets::pages::html::Html;
use rulesets::pages::parts;
use rulesets::table::Table;
use serde::Deserialize;
use serde_json::{Value, json};

use super::overlay::Overlay;
use super::tables::{File, named, of_list};
use crate::commands::interview::value as of_answer;
use crate::commands::page::answer::{Answer, Kind};
use crate::commands::page::folder::Folder;
use crate::commands::page::in_place;
use crate::commands::page::kept::digest_of;
use crate::commands::written_file::{not_written, replace};

/// A value as somebody corrected it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::commands::page) struct Correction {
    /// The bench.
    bench: String,
    /// The table: `cells`, `readings`, or `list` for the cells that the bench lists itself.
    table: String,
    /// What the file was when it was shown.
    digest: String,
    row: usize,
    column: usize,
    value: String,
}

/// What stands for the cells that a bench lists itself.
const LIST: &str = "list";

/// Why a file was not changed.
pub(super) enum NotChanged {
    /// Somebody else changed it.
    Meanwhile(String),
    Faulty(ProblemList),
}

impl From<ProblemList> for NotChanged {
    fn from(problems: ProblemList) -> Self {
        Self::Faulty(problems)
    }
}

impl From<Problem> for NotChanged {
    fn from(problem: Problem) -> Self {
        Self::Faulty(problem.into())
    }
}

/// Writes a corrected value.
pub(in crate::commands::page) fn correct(what: &Correction, folder: &Folder) -> Answer {
    match corrected(what, folder) {
        Ok(saved) => saved_in(saved),
        Err(why) => why.answer(),
    }
}

/// Says which file was written, and what it is now.
pub(super) fn saved_in((file, digest): (String, String)) -> Answer {
    let mut html = Html::default();
    let all = [("data-file", &*file), ("data-digest", &*digest)];
    html.said("p", &all, &format!("Saved in {file}."));
    Answer::of(Kind::Html, html.part())
}

impl NotChanged {
    pub(super) fn answer(self) -> Answer {
        match self {
            Self::Faulty(problems) => {
                let html = parts::problems("Nothing was written", &problems);
                Answer::not_done(422, html.part())
            }
            Self::Meanwhile(file) => {
                let mut html = Html::default();
                html.element("div", &[("class", "problems")], |html| {
                    let says = format!("{file} was changed by somebody else since it was shown.");
                    html.said("p", &[("class", "outcome")], &says);
                    let stays = "Nothing was written over. Your value stays in its field until you read \
                                 the file again.";
                    html.said("p", &[], stays);
                    let button = [("type", "button"), ("data-do", "again")];
                    html.said("button", &button, "Read the file again");
                });
                Answer::not_done(409, html.part())
            }
        }
    }
}

fn corrected(what: &Correction, folder: &Folder) -> Result<(String, String), NotChanged> {
    let file = as_shown((&what.bench, &what.table, &what.digest), folder)?;
    let text = match what.table.as_str() {
        LIST => in_list(what, &file)?,
        _ => in_csv(what, &file)?,
    };
    vetted(&what.bench, &file, &text, folder)
}

/// The file of a table of a bench, if it is still what it was when it was shown.
pub(super) fn as_shown(
    (bench, table, digest): (&str, &str, &str),
    folder: &Folder,
) -> Result<File, NotChanged> {
    let bench = of_bench(bench, folder)?;
    let file = match table {
        LIST => bench,
        table => {
            let name = named(&bench.value()?, table).ok_or_else(|| no_table(table))?;
            File::read(&name, folder)?
        }
    };
    match file.digest == digest {
        true => Ok(file),
        false => Err(NotChanged::Meanwhile(file.name)),
    }
}

/// Writes a file of a bench, if the bench can be read with it. Gives its name and its digest.
pub(super) fn vetted(
    bench: &str,
    file: &File,
    text: &str,
    folder: &Folder,
) -> Result<(String, String), NotChanged> {
    let after = Overlay::of(folder).with(&file.name, text);
    after.vet(bench)?;
    let digest = write(&file.name, text, folder)?;
    Ok((file.name.clone(), digest))
}

/// A bench of the folder.
pub(super) fn of_bench(name: &str, folder: &Folder) -> Result<File, ProblemList> {
    File::read(name, folder)
}

/// Writes a file of the folder, and gives its digest.
pub(super) fn write(name: &str, text: &str, folder: &Folder) -> Result<String, Problem> {
    let path = folder.known(name).ok_or_else(|| {
        let message = format!("`{name}` is not in the folder itself");
        Problem::of_file(
            Fault::Unreadable,
            message,
            "only files of the folder are written",
        )
    })?;
    replace(&path, text).map_err(|error| not_written(&path, &error))?;
    Ok(digest_of(text.as_bytes()))
}

/// The text of a table with the value in its place.
fn in_csv(what: &Correction, file: &File) -> Result<String, ProblemList> {
    let source = source(&file.name, file.text.clone().into())?;
    let mut problems = Problems::new(&source);
    let table = Table::read(source.text(), 0, &mut problems);
    let table = table.ok_or_else(|| problems.finish())?;
    let span = table
        .rows()
        .get(what.row)
        .and_then(|row| row.place(what.column));
    let span = span.ok_or_else(|| nowhere(what))?;
    let mut text = file.text.clone();
    text.replace_range(span.start..span.end, &table.as_field(&what.value));
    Ok(text)
}

/// The text of a bench with the value in its place.
fn in_list(what: &Correction, file: &File) -> Result<String, ProblemList> {
    let mut bench = file.value()?;
    let shown = of_list(&bench);
    let key = shown
        .headings
        .get(what.column)
        .ok_or_else(|| nowhere(what))?;
    let cell = bench
        .get_mut("cells")
        .and_then(|cells| cells.get_mut(what.row));
    let cell = cell.ok_or_else(|| nowhere(what))?;
    set(cell, key, &what.value).ok_or_else(|| nowhere(what))?;
    in_place::changed(&file.text, Syntax::of_name(&file.name), &bench)
}

/// Sets a key of a cell, or takes it away if the value is empty.
fn set(cell: &mut Value, key: &str, text: &str) -> Option<()> {
    let (outer, inner) = match key.split_once('.') {
        Some((outer, inner)) => (Some(outer), inner),
        None => (None, key),
    };
    let cell = cell.as_object_mut()?;
    let map = match outer {
        Some(outer) => {
            let map = cell.entry(outer).or_insert_with(|| json!({}));
            map.as_object_mut()?
        }
        None => cell,
    };
    match text {
        "" => drop(map.remove(inner)),
        text => drop(map.insert(inner.to_owned(), of_answer(text))),
    }
    Some(())
}

fn no_table(table: &str) -> Problem {
    let message = format!("the bench has no table of `{table}`");
    Problem::of_file(Fault::UnknownName, message, "read the bench again")
}

fn nowhere(what: &Correction) -> Problem {
    let message = format!("there is no row {} of `{}`", what.row + 1, what.table);
    Problem::of_file(Fault::UnknownName, message, "read the bench again")
}
