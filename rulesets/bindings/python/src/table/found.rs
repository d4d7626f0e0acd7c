//! What becomes of a row, and the columns of that.

use std::collections::HashMap;
use std::sync::Arc;

use arrow_array::builder::{ListBuilder, StringBuilder};
use arrow_array::{Array, ArrayRef, Float64Array, StringArray};
use arrow_schema::{DataType, Field, FieldRef};
use rules_core::check::{Checked, Options, Outcome, Scales, Verdict, checked};
use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::facts::Proposed;

use super::How;
use super::columns::{Rows, start};
use crate::asked::{Asked, Read, Written};
use crate::in_parallel::{in_parallel, threads};
use crate::record::cautions;
use crate::to_python::verdict;

/// What was found of a row.
pub(super) struct Found {
    outcome: Option<Outcome>,
    cautions: Vec<String>,
    missing: Option<String>,
    margin: Option<f64>,
}

/// What becomes of a row.
pub(super) type Came = Result<Found, ProblemList>;

/// Checks rows.
pub(super) struct Checker<'h> {
    how: &'h How,
    scales: Scales<'h>,
}

impl<'h> Checker<'h> {
    pub(super) fn of(how: &'h How) -> Result<Self, ProblemList> {
        let scales = Scales::of(how.by.rules(), Options::default())?;
        Ok(Self { how, scales })
    }

    /// What becomes of each row; so many were before these.
    pub(super) fn rows(&self, rows: &Rows<'_>, before: usize) -> Vec<Came> {
        let count = match rows {
            Rows::Json(texts) => texts.len(),
            Rows::Keys(count, _) => *count,
        };
        in_parallel(count, threads(self.how.threads), |row| {
            let name = format!("row {}", before + row + 1);
            self.row(written(rows, row, &name)?, name)
        })
    }

    fn row(&self, written: Written, name: String) -> Came {
        let asked = Asked {
            bench: self.how.bench.clone(),
            ..Asked::of(written, Some(name))
        };
        let read = asked.read(&self.how.by)?;
        let checked = checked(&read.rules, &read.proposal, Options::default())?;
        Ok(Found {
            outcome: checked.outcome(),
            cautions: cautions(&checked),
            missing: checked.first_missing(),
            margin: self.margin(&read, &checked),
        })
    }

    /// The margin of a row: of what speaks against it, or where nothing does, of what passes.
    fn margin(&self, read: &Read, checked: &Checked<'_>) -> Option<f64> {
        let clauses = checked
            .findings()
            .iter()
            .flat_map(|finding| &finding.clauses);
        let shares = clauses.filter_map(|clause| Some(clause.margin.as_ref()?.percent? / 100.0));
        if !checked.findings().is_empty() {
            return shares.reduce(f64::min);
        }
        // Rules that a bench has in force are others, with scales of their own.
        let own;
        let scales = match Arc::ptr_eq(&read.rules, self.how.by.rules()) {
            true => &self.scales,
            false => {
                own = Scales::of(&read.rules, Options::default()).ok()?;
                &own
            }
        };
        let sheet = read.proposal.facts(read.rules.catalogue()).ok()?;
        let (_, weighed) = scales.whole(&sheet).ok()?;
        let shares = weighed.iter().filter_map(|one| Some(one.leeway?.share));
        shares.reduce(f64::min)
    }
}

/// The proposal of a row.
fn written(rows: &Rows<'_>, row: usize, name: &str) -> Result<Written, ProblemList> {
    match rows {
        Rows::Json(texts) if texts.is_valid(row) => {
            Ok(Written::Text(texts.value(row).to_vec(), Some(Syntax::Json)))
        }
        Rows::Json(_) => {
            let help = "write a proposal of JSON in each row";
            Err(Problem::at_start(name, Fault::Empty, "the row has no text", help).into())
        }
        Rows::Keys(_, columns) => {
            let mut draft = start(name);
            for (column, cells) in columns {
                if let Some(value) = cells.value(row, column.unit()) {
                    column.put(&mut draft, value)?;
                }
            }
            Ok(Written::Draft(draft))
        }
    }
}

/// The columns that a result has.
pub(super) fn fields_of(how: &How) -> Vec<FieldRef> {
    let text = |name: &str| Field::new(name, DataType::Utf8, true);
    let mut fields = vec![
        text("verdict"),
        text("best"),
        text("worst"),
        Field::new("cautions", list_of_texts(), false),
        text("missing"),
        Field::new("margin", DataType::Float64, true),
        text("problem"),
        text("problem_code"),
    ];
    if how.identify {
        fields.push(Field::new("digest", DataType::Utf8, false));
        fields.push(Field::new("notice", list_of_texts(), false));
    }
    fields.into_iter().map(Arc::new).collect()
}

fn list_of_texts() -> DataType {
    DataType::List(Arc::new(Field::new("item", DataType::Utf8, true)))
}

/// What was found, column by column.
pub(super) fn columns_of(rows: &[Came], how: &How) -> Vec<ArrayRef> {
    let found = || rows.iter().map(|row| row.as_ref().ok());
    let problem = || {
        rows.iter()
            .map(|row| row.as_ref().err().and_then(|all| all.first()))
    };
    let word = |of: fn(Outcome) -> Verdict| -> ArrayRef {
        let words = found().map(|row| row.and_then(|row| row.outcome).map(|one| verdict(of(one))));
        Arc::new(StringArray::from_iter(words))
    };
    let told = problem().map(|one| one.map(ToString::to_string));
    let mut columns: Vec<ArrayRef> = vec![
        word(|outcome| outcome.verdict),
        word(|outcome| outcome.best),
        word(|outcome| outcome.worst),
        lists(found().map(|row| row.map_or(&[][..], |row| &row.cautions))),
        Arc::new(StringArray::from_iter(
            found().map(|row| row?.missing.as_deref()),
        )),
        Arc::new(Float64Array::from_iter(found().map(|row| row?.margin))),
        Arc::new(StringArray::from_iter(told)),
        Arc::new(StringArray::from_iter(
            problem().map(|one| Some(one?.fault.code())),
        )),
    ];
    if how.identify {
        let rules = how.by.rules();
        let notice: Vec<String> = rules
            .notice()
            .iter()
            .map(|point| point.id.clone())
            .collect();
        let digest = rows.iter().map(|_| Some(rules.digest()));
        columns.push(Arc::new(StringArray::from_iter(digest)));
        columns.push(lists(rows.iter().map(|_| notice.as_slice())));
    }
    columns
}

fn lists<'t>(rows: impl Iterator<Item = &'t [String]>) -> ArrayRef {
    let mut lists = ListBuilder::new(StringBuilder::new());
    for row in rows {
        for text in row {
            lists.values().append_value(text);
        }
        lists.append(true);
    }
    Arc::new(lists.finish())
}

/// What the whole table says: by which rules it was checked, and what regulators and makers say.
pub(super) fn metadata(how: &How) -> HashMap<String, String> {
    let rules = how.by.rules();
    let notice = serde_json::to_string(rules.notice()).unwrap_or_default();
    HashMap::from([
        ("cellrules.digest".to_owned(), rules.digest().to_owned()),
        ("cellrules.notice".to_owned(), notice),
    ])
}
