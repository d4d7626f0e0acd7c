//! Readings over time: a table with a row for each, dated.

use std::collections::BTreeMap;
use std::sync::Arc;

use rules_core::document::{Entry, Fault, Node, Problems, Span};
use rules_core::facts::names;
use rules_core::quantity::Measure;

use super::cells::{Stock, Surroundings};
use super::columns::{Column, Holds, columns, holds_at};
use super::curves::CURVE;
use super::date::Date;
use super::dated::{CAPACITY, Dated, What};
use super::named::unknown;
use super::nodes::{entry, map};
use crate::facts::CELL;
use crate::table::{Row, Table};

/// What a row of the table tells.
#[derive(Debug, Clone)]
pub(super) struct Reading {
    pub date: Date,
    pub what: What,
    /// The section of a cell that says so; empty where something only happened.
    pub entries: Vec<Entry<'static>>,
    /// The resistance that its curve shows; it counts where the cell has no other.
    pub resistance: Option<Entry<'static>>,
    /// The value of a reading.
    pub value: Option<Measure>,
    /// As it was written, with its unit.
    pub written: String,
    pub span: Span,
}

impl Reading {
    /// What stands under a key of the map that it is in: the `at` of a capacity test.
    pub(super) fn beside(&self, key: &str) -> Option<&Node<'static>> {
        self.entries.first().and_then(|entry| entry.node.at(key))
    }
}

/// All readings of a bench, by cell, and of each by date and by what they are of.
#[derive(Debug, Clone, Default)]
pub(super) struct Readings {
    of_cells: BTreeMap<Arc<str>, BTreeMap<(Date, &'static str), Reading>>,
    /// The day of the newest. It is asked for by each proposal that takes from the bench.
    newest: Option<Date>,
}

impl Readings {
    /// Those of a cell, the oldest first.
    pub(super) fn of(&self, cell: &str) -> impl Iterator<Item = &Reading> {
        self.of_cells
            .get(cell)
            .into_iter()
            .flat_map(BTreeMap::values)
    }

    /// The day of the newest.
    pub(super) const fn newest(&self) -> Option<Date> {
        self.newest
    }

    /// Reads a table of readings of these cells.
    pub(super) fn read(
        table: &mut Table<'_>,
        cells: &Stock,
        around: &Surroundings<'_>,
        problems: &mut Problems<'_>,
    ) -> Self {
        let columns = columns(table, holds, &headings(), problems);
        let at = |key: &str| columns.iter().find(|column| column.key == key);
        let (Some(id), Some(date), Some(what)) = (at("id"), at("date"), at("what")) else {
            let start = table.headings().first().map(|heading| heading.span);
            problems.add(
                Fault::MissingKey,
                start.unwrap_or_default(),
                "the table lacks one of the columns `id`, `date`, `what`",
                "readings have the columns `id`, `date`, `what` and `value`",
            );
            return Self::default();
        };
        let mut readings = Self::default();
        for row in table.rows() {
            let reader = RowReader {
                table,
                row,
                columns: &columns,
                around,
            };
            let cell = reader.cell(id, cells, problems);
            let date = reader.date(date, problems);
            let what = reader.what(what, problems);
            let Some(((cell, date), what)) = cell.zip(date).zip(what) else {
                continue;
            };
            if let Some(reading) = reader.reading(date, what, problems) {
                readings.add(&cell, reading, problems);
            }
        }
        readings
    }

    /// Puts a reading among those of its cell, unless it is there already.
    fn add(&mut self, cell: &Arc<str>, reading: Reading, problems: &mut Problems<'_>) {
        self.newest = self.newest.max(Some(reading.date));
        let all = self.of_cells.entry(Arc::clone(cell)).or_default();
        let key = (reading.date, reading.what.name());
        let Some(known) = all.get(&key) else {
            all.insert(key, reading);
            return;
        };
        if !is_same(known, &reading) {
            let message = format!(
                "`{}` of `{cell}` on {} is given at {} too, and differs",
                reading.what.name(),
                reading.date,
                problems.source().place(known.span.start)
            );
            let help = "keep the one that is right; a reading of another day has its own date";
            problems.add(Fault::DefinedTwice, reading.span, message, help);
        }
    }
}

/// Whether two readings of one day say the same, in the same words.
fn is_same(one: &Reading, other: &Reading) -> bool {
    let digest = |reading: &Reading| {
        rules_core::document::digest(&map(reading.entries.clone(), reading.span))
    };
    digest(one) == digest(other)
}

/// The columns of every table of readings.
const FIXED: [&str; 5] = ["id", "date", "what", "value", "tester"];

/// The maps of a cell of which a row may tell more than the reading.
const BESIDE: [(&str, &str); 11] = [
    ("rest", "after"),
    ("capacity", "at"),
    ("capacity", "to"),
    ("capacity", "temperature"),
    ("capacity", "half"),
    ("capacity", "late"),
    ("capacity", "energy"),
    ("capacity", "by"),
    ("capacity", "stop"),
    ("capacity", CURVE),
    ("resistance", "method"),
];

fn holds(name: &str) -> Option<Holds> {
    if name == "value" {
        return Some(Holds::Numbers);
    }
    if FIXED.contains(&name) || name == CURVE {
        return Some(Holds::Words);
    }
    let (outer, inner) = BESIDE.iter().find(|(_, inner)| *inner == name)?;
    holds_at(&format!("{outer}.{inner}"))
}

fn headings() -> Vec<String> {
    let beside = BESIDE.iter().map(|(_, inner)| *inner);
    FIXED.into_iter().chain(beside).map(str::to_owned).collect()
}

/// What a row tells.
#[derive(Default)]
struct Read {
    entries: Vec<Entry<'static>>,
    resistance: Option<Entry<'static>>,
    value: Option<Measure>,
    /// The value as it is written, or as a curve shows it.
    node: Option<Node<'static>>,
}

/// Reads one row.
struct RowReader<'r> {
    table: &'r Table<'r>,
    row: &'r Row<'r>,
    columns: &'r [Column],
    around: &'r Surroundings<'r>,
}

impl RowReader<'_> {
    /// What is in a column that must not be empty.
    fn must(&self, column: &Column, problems: &mut Problems<'_>) -> Option<(String, Span)> {
        if let Some(field) = self.row.field(column.at) {
            return Some((field.text.to_string(), field.span));
        }
        let message = format!("this row has no `{}`", column.key);
        problems.add(Fault::MissingKey, self.row.span(), message, "fill it in");
        None
    }

    fn cell(
        &self,
        column: &Column,
        cells: &Stock,
        problems: &mut Problems<'_>,
    ) -> Option<Arc<str>> {
        let (text, span) = self.must(column, problems)?;
        let id = names::id(&text).map_or_else(|_| text.clone(), std::borrow::Cow::into_owned);
        let known = cells.get(&id).map(|kept| Arc::clone(&kept.id));
        if known.is_none() {
            unknown("cell", &id, span, cells.ids(), problems);
        }
        known
    }

    fn date(&self, column: &Column, problems: &mut Problems<'_>) -> Option<Date> {
        let (text, span) = self.must(column, problems)?;
        let date = Date::parse(&text);
        if date.is_none() {
            no_date(&text, span, problems);
        }
        date
    }

    fn what(&self, column: &Column, problems: &mut Problems<'_>) -> Option<What> {
        let (text, span) = self.must(column, problems)?;
        let what = What::parse(&text);
        if what.is_none() {
            let help = match problems.near(&text, What::names()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => {
                    let all: Vec<&str> = What::names().collect();
                    format!("write one of {}", rules_core::document::quoted(&all))
                }
            };
            let message = format!("`{text}` is nothing that has dates");
            problems.add(Fault::UnknownOption, span, message, help);
        }
        what
    }

    fn reading(&self, date: Date, what: What, problems: &mut Problems<'_>) -> Option<Reading> {
        let read = match what {
            What::Charged | What::Discharged => self.happened(what, problems)?,
            What::Read(dated) => self.read(dated, problems)?,
        };
        let node = read.node.as_ref();
        let written = node.and_then(Node::scalar).unwrap_or_default();
        Some(Reading {
            date,
            what,
            written: written.to_owned(),
            span: node.map_or(self.row.span(), |node| node.span),
            entries: read.entries,
            resistance: read.resistance,
            value: read.value,
        })
    }

    /// What only happened has no value.
    fn happened(&self, what: What, problems: &mut Problems<'_>) -> Option<Read> {
        if let Some(node) = self.value("value") {
            let message = format!("`{}` has no value", what.name());
            problems.add(Fault::WrongShape, node.span, message, "leave it empty");
            return None;
        }
        Some(Read::default())
    }

    fn read(&self, dated: &Dated, problems: &mut Problems<'_>) -> Option<Read> {
        let written = self.value("value");
        let by_curve = dated.key == CAPACITY && self.value(CURVE).is_some();
        if written.is_none() && !by_curve {
            let message = format!("this row has no value of `{}`", dated.key);
            problems.add(Fault::MissingKey, self.row.span(), message, "fill it in");
            return None;
        }
        let before = problems.len();
        let entries = self.entries(dated.place(), written.clone(), problems);
        let around = self.around;
        let (entries, resistance) = around.curves.expanded(entries, around.vetting, problems);
        let section = map(entries.clone(), self.row.span());
        around.vetting.section(&section, CELL, "a cell", problems);
        if problems.len() > before {
            return None;
        }
        let shown = || entries.first()?.node.at(dated.place().1?).cloned();
        let node = written.or_else(shown);
        let number = |node: &Node<'_>| around.vetting.number(node, &dated.fact, problems);
        Some(Read {
            value: node.as_ref().and_then(number),
            node,
            entries,
            resistance,
        })
    }

    /// What the row says of its cell, with what its tester says.
    fn entries(
        &self,
        (outer, inner): (&str, Option<&str>),
        value: Option<Node<'static>>,
        problems: &mut Problems<'_>,
    ) -> Vec<Entry<'static>> {
        let span = value.as_ref().map_or(self.row.span(), |value| value.span);
        let more = self
            .columns
            .iter()
            .filter(|column| column.key == "tester" || !FIXED.contains(&column.key.as_str()));
        let more: Vec<Entry<'static>> = more
            .filter_map(|column| Some(entry(&column.key, column.span, self.value(&column.key)?)))
            .collect();
        let whole = match inner {
            Some(inner) => {
                let value = value.map(|value| entry(inner, span, value));
                map(value.into_iter().chain(more).collect(), span)
            }
            None => {
                if let Some(first) = more.first() {
                    let message = format!("`{}` says nothing of `{outer}`", first.key);
                    problems.add(
                        Fault::UnknownKey,
                        first.node.span,
                        message,
                        "leave it empty",
                    );
                }
                value.unwrap_or_else(|| Node::text_at("", span))
            }
        };
        self.around
            .sections
            .testers
            .expanded(&[entry(outer, span, whole)], problems)
    }

    fn value(&self, key: &str) -> Option<Node<'static>> {
        let column = self.columns.iter().find(|column| column.key == key)?;
        column.node(self.table, self.row)
    }
}

/// Reports what is no date.
pub(super) fn no_date(text: &str, span: Span, problems: &mut Problems<'_>) {
    let message = format!("`{text}` is no date");
    let help = "write year, month and day, as `2026-11-29`; set the column to text where a spreadsheet \
                changes it";
    problems.add(Fault::BadDate, span, message, help);
}
