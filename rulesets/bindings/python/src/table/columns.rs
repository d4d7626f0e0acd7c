//! Which key of a proposal stands in which column.

use std::sync::Arc;

use arrow_array::cast::AsArray;
use arrow_array::{ArrayRef, BinaryArray, RecordBatch};
use arrow_schema::{ArrowError, DataType, Field, FieldRef, Schema};
use rules_core::document::{Fault, Problem, ProblemList, near_miss};
use rules_core::quantity::Quantity;
use rulesets::bench::Plan;
use rulesets::proposal::Draft;
use serde_json::{Value, json};

use super::How;
use super::cells::{Cells, Kind, cast, kind};

/// What the rows of a table are made of.
pub(super) enum Columns {
    /// Texts of JSON in one column.
    Json(usize),
    /// Values by their keys.
    Keys(Vec<Column>),
}

/// A column that holds the values of a key.
pub(super) struct Column {
    at: usize,
    /// As in a report: `light.draw`, `cells[K4].rest.voltage`.
    path: String,
    /// The unit of its numbers: of `light.draw [W]`.
    unit: Option<String>,
}

/// The rows of a batch.
pub(super) enum Rows<'c> {
    Json(BinaryArray),
    Keys(usize, Vec<(&'c Column, Cells)>),
}

impl Columns {
    /// The columns of a table.
    ///
    /// # Errors
    ///
    /// Columns that are no key of a proposal, or of a type that has no place in one; keys without which
    /// no row can be read; no column of a name.
    pub(super) fn of(schema: &Schema, how: &How) -> Result<Self, ProblemList> {
        if let Some(name) = &how.json {
            return Ok(Self::Json(column_of_texts(schema, name)?));
        }
        let mut problems = Vec::new();
        let mut columns = Vec::new();
        for (at, field) in schema.fields().iter().enumerate() {
            let is_kept = how.keep.contains(field.name());
            match Column::of(at, field) {
                // One that is kept counts as well where it is a key, and needs not be one.
                Ok(column) if is_kept && !is_key(&column, field, how) => {}
                Ok(column) => columns.push((column, field)),
                Err(_) if is_kept => {}
                Err(problem) => problems.push(problem),
            }
        }
        problems.extend(unknown_or_missing(&columns, how));
        match problems.is_empty() {
            true => Ok(Self::Keys(
                columns.into_iter().map(|(column, _)| column).collect(),
            )),
            false => Err(problems.into()),
        }
    }

    /// The rows of a batch.
    pub(super) fn rows(&self, batch: &RecordBatch) -> Result<Rows<'_>, ArrowError> {
        let column = |at: usize| {
            let none = || ArrowError::SchemaError("a batch lacks a column of its table".to_owned());
            batch.columns().get(at).ok_or_else(none)
        };
        match self {
            Self::Json(at) => {
                let texts: ArrayRef = cast(column(*at)?, &DataType::Binary)?;
                Ok(Rows::Json(texts.as_binary::<i32>().clone()))
            }
            Self::Keys(columns) => {
                let cells = columns.iter();
                let cells = cells.map(|one| Ok((one, Cells::of(column(one.at)?)?)));
                Ok(Rows::Keys(
                    batch.num_rows(),
                    cells.collect::<Result<_, ArrowError>>()?,
                ))
            }
        }
    }
}

/// The column in which the texts of proposals stand.
fn column_of_texts(schema: &Schema, name: &str) -> Result<usize, ProblemList> {
    let at = position(schema, name)?;
    let of = schema.fields().get(at).map(|field| field.data_type());
    let texts = |of: &DataType| of.is_string() || of.is_binary();
    match of {
        Some(DataType::Dictionary(_, values)) if texts(values) => Ok(at),
        Some(of) if texts(of) => Ok(at),
        of => {
            let of = of.map_or_else(String::new, ToString::to_string);
            let message = format!("the column `{name}` is of type {of} and holds no texts");
            let help = "name a column of texts of JSON, or leave `json` out where columns are keys";
            Err(Problem::of_file(Fault::WrongShape, message, help).into())
        }
    }
}

/// The columns that the result has too, which has columns of its own.
pub(super) fn kept(
    schema: &Schema,
    names: &[String],
    own: &[FieldRef],
) -> Result<Vec<usize>, ProblemList> {
    if let Some(name) = names
        .iter()
        .find(|name| own.iter().any(|own| own.name() == *name))
    {
        let message = format!("the result has a column `{name}` of its own");
        let help = "give the column that is kept another name";
        return Err(Problem::of_file(Fault::DefinedTwice, message, help).into());
    }
    let found = names.iter().map(|name| position(schema, name));
    found.collect()
}

fn position(schema: &Schema, name: &str) -> Result<usize, ProblemList> {
    if let Ok(at) = schema.index_of(name) {
        return Ok(at);
    }
    let all: Vec<&str> = schema
        .fields()
        .iter()
        .map(|field| field.name().as_str())
        .collect();
    let help = match near_miss(name, all.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there are {}", rules_core::document::quoted(&all)),
    };
    let message = format!("the table has no column `{name}`");
    Err(Problem::of_file(Fault::UnknownName, message, help).into())
}

impl Column {
    fn of(at: usize, field: &Field) -> Result<Self, Problem> {
        let name = field.name();
        let headed = name
            .strip_suffix(']')
            .and_then(|text| text.rsplit_once(" ["));
        let (path, unit) = match headed {
            Some((path, unit)) => (path.trim(), Some(unit.trim())),
            None => (name.trim(), None),
        };
        if let Some(unit) = unit {
            is_unit(unit, name)?;
        }
        if let Some(of) = no_place(field) {
            let message = format!("the column `{name}` has values of type {of}");
            let help = "a proposal has texts, numbers, yes and no, and maps and lists of these";
            return Err(Problem::of_file(Fault::WrongShape, message, help));
        }
        Ok(Self {
            at,
            path: path.to_owned(),
            unit: unit.map(str::to_owned),
        })
    }

    /// Puts a value where it belongs.
    pub(super) fn put(&self, draft: &mut Draft, value: Value) -> Result<(), ProblemList> {
        draft.set(&self.path, value)
    }

    /// The unit of its numbers.
    pub(super) fn unit(&self) -> Option<&str> {
        self.unit.as_deref()
    }
}

fn is_unit(unit: &str, column: &str) -> Result<(), Problem> {
    let help = match Quantity::parse(&format!("1 {unit}")) {
        Ok(_) if !unit.is_empty() => return Ok(()),
        Ok(_) => "write a unit in the brackets, or leave them out".to_owned(),
        Err(error) => match error.suggestion() {
            Some(near) => format!("did you mean `{near}`?"),
            None => error.help(),
        },
    };
    let message = format!("`{unit}` of the column `{column}` is no unit");
    Err(Problem::of_file(Fault::UnknownUnit, message, help))
}

/// The type in a column that has no place in a proposal, if there is one.
fn no_place(field: &Field) -> Option<&DataType> {
    match kind(field.data_type()) {
        Kind::Scalar => None,
        Kind::Map(fields) => fields.iter().find_map(|field| no_place(field)),
        Kind::List(field) => no_place(field),
        Kind::Other => Some(field.data_type()),
    }
}

/// A proposal of which every row could be one, to see which of its keys there are.
fn sample(of: &Field) -> Value {
    match kind(of.data_type()) {
        Kind::Map(fields) => {
            let said = fields
                .iter()
                .map(|field| (field.name().clone(), sample(field)));
            Value::Object(said.collect())
        }
        Kind::List(field) => json!([sample(field)]),
        Kind::Scalar | Kind::Other => json!("?"),
    }
}

/// What the reader of proposals says of a row with something in every column: of its keys, and not of its
/// values.
fn unknown_or_missing(columns: &[(Column, &Arc<Field>)], how: &How) -> Vec<Problem> {
    let all = columns.iter().map(|(column, field)| (column, &***field));
    // What a row takes from a bench, no column needs to say.
    let of_keys = |fault| fault != Fault::MissingKey || how.bench.is_none();
    let found = of_all_keys(all, how).into_iter();
    found.filter(|one| of_keys(one.fault)).collect()
}

/// Whether a column is a key of a proposal.
fn is_key(column: &Column, field: &Field, how: &How) -> bool {
    let found = of_all_keys(std::iter::once((column, field)), how);
    found.iter().all(|one| one.fault == Fault::MissingKey)
}

/// What is wrong with the keys of these columns, and which are missing.
fn of_all_keys<'c>(
    columns: impl Iterator<Item = (&'c Column, &'c Field)>,
    how: &How,
) -> Vec<Problem> {
    let mut draft = start("the columns");
    let mut problems = Vec::new();
    for (column, field) in columns {
        if let Err(found) = draft.set(&column.path, sample(field)) {
            problems.extend(found);
        }
    }
    let rules = how.by.rules();
    let read = match &how.bench {
        None => draft.proposal(rules),
        Some(bench) => {
            Plan::of_draft_beside(&draft, bench).and_then(|plan| plan.proposal(Some(rules)))
        }
    };
    let of_keys = [Fault::UnknownKey, Fault::MissingKey];
    let found = read.err().into_iter().flatten();
    problems.extend(found.filter(|one| of_keys.contains(&one.fault)));
    problems
}

/// What every row begins with.
pub(super) fn start(name: &str) -> Draft {
    Draft::of(name, json!({ "format": 1, "title": name }))
}
