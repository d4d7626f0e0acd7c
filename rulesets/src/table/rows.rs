//! Rows under headings.

use rules_core::bounds::MOST_NODES;
use rules_core::characters::is_blank;
use rules_core::document::{Fault, Node, Problems, Span};

use super::fields::{Field, Reader, Separator};
use super::heading::Heading;
use super::number::{Decimals, as_quantity};
use crate::bounds::{MOST_COLUMNS, MOST_ROWS};

/// A row of a table: a field for each of its headings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row<'t> {
    fields: Vec<Field<'t>>,
}

impl<'t> Row<'t> {
    /// The field in a column; none where it is empty.
    #[must_use]
    pub fn field(&self, column: usize) -> Option<&Field<'t>> {
        self.fields.get(column).filter(|field| !field.is_empty())
    }

    /// Where a field stands, though nothing may be in it.
    #[must_use]
    pub fn place(&self, column: usize) -> Option<Span> {
        self.fields.get(column).map(|field| field.span)
    }

    /// Where the row begins.
    #[must_use]
    pub fn span(&self) -> Span {
        self.fields
            .first()
            .map(|field| field.span)
            .unwrap_or_default()
    }
}

/// Rows under headings.
#[derive(Debug, Clone)]
pub struct Table<'t> {
    headings: Vec<Heading>,
    rows: Vec<Row<'t>>,
    separator: Separator,
    decimals: Decimals,
}

impl<'t> Table<'t> {
    /// Reads a table from a text that begins at byte `at` of the source of the problems. The first
    /// row is its headings. Columns are separated by what separates the headings: semicolons where
    /// there is one, else tabs, else commas. Rows with nothing in them are left out.
    ///
    /// Of a table with problems there is what could be read; none without headings.
    pub fn read(text: &'t str, at: usize, problems: &mut Problems<'_>) -> Option<Self> {
        let separator = Separator::of(text);
        let mut reader = Reader::new(text, at, separator);
        let headings = reader.row(problems).unwrap_or_default();
        if headings.iter().all(|heading| is_blank(&heading.text)) {
            let help = "the first row is the headings, such as `id;rest.voltage [V]`";
            let start = Span { start: at, end: at };
            problems.add(Fault::Empty, start, "the table has no headings", help);
            return None;
        }
        if headings.len() > MOST_COLUMNS {
            let message = format!("{} columns; the most is {MOST_COLUMNS}", headings.len());
            let span = headings.first().map(|heading| heading.span);
            problems.add(
                Fault::TooLarge,
                span.unwrap_or_default(),
                message,
                "leave out those that are not needed",
            );
            return None;
        }
        let rows = rows(&mut reader, headings.len(), problems);
        let headings = Heading::all(&headings, problems);
        let table = Self {
            headings,
            rows,
            separator,
            decimals: Decimals::Point,
        };
        table.refuse_nameless(problems);
        Some(table)
    }

    /// What stands above the columns, in order.
    #[must_use]
    pub fn headings(&self) -> &[Heading] {
        &self.headings
    }

    /// The column under a heading of this name.
    #[must_use]
    pub fn column(&self, name: &str) -> Option<usize> {
        self.headings
            .iter()
            .position(|heading| heading.name == name)
    }

    /// The rows, without those that are empty.
    #[must_use]
    pub fn rows(&self) -> &[Row<'t>] {
        &self.rows
    }

    /// What separates the columns.
    #[must_use]
    pub const fn separator(&self) -> char {
        self.separator.byte() as char
    }

    /// A text as a field of this table: in quotes where it would otherwise be read as something else.
    #[must_use]
    pub fn as_field(&self, text: &str) -> String {
        let acts = |letter| letter == self.separator() || matches!(letter, '"' | '\n' | '\r');
        match text.contains(acts) {
            true => format!("\"{}\"", text.replace('"', "\"\"")),
            false => text.to_owned(),
        }
    }

    /// Settles how these columns, which hold numbers, write decimals: with a point, or with a comma
    /// where columns are not separated by commas. A table that does both has an error in it, because
    /// `2,310` may then be either.
    pub fn settle_decimals(&mut self, columns: &[usize], problems: &mut Problems<'_>) {
        let fields = || {
            let of_row = |row: &'_ Row<'t>| {
                columns
                    .iter()
                    .filter_map(|at| row.field(*at).cloned())
                    .collect::<Vec<_>>()
            };
            self.rows.iter().flat_map(of_row)
        };
        self.decimals = Decimals::of(fields(), self.separator, problems);
    }

    /// The field of a column as a quantity, written with the unit of the heading where it has none of
    /// its own.
    #[must_use]
    pub fn quantity(&self, row: &Row<'_>, column: usize) -> Option<Node<'static>> {
        let field = row.field(column)?;
        let unit = self.headings.get(column)?.unit.known();
        Some(Node::text_at(
            &as_quantity(&field.text, unit, self.decimals),
            field.span,
        ))
    }

    /// What stands in a column without a heading.
    fn refuse_nameless(&self, problems: &mut Problems<'_>) {
        for (column, heading) in self.headings.iter().enumerate() {
            let Some(first) = self.rows.iter().find_map(|row| row.field(column)) else {
                continue;
            };
            if heading.name.is_empty() {
                problems.add(
                    Fault::MissingKey,
                    first.span,
                    format!("`{}` stands in a column without a heading", first.text),
                    "write a heading above it",
                );
            }
        }
    }
}

/// The rows that have a field for each heading; the others are reported.
fn rows<'t>(reader: &mut Reader<'t>, columns: usize, problems: &mut Problems<'_>) -> Vec<Row<'t>> {
    let mut rows = Vec::new();
    let most = MOST_ROWS.min(MOST_NODES / columns.max(1));
    while let Some(fields) = reader.row(problems) {
        if fields.iter().all(Field::is_empty) {
            continue;
        }
        let span = fields.first().map(|field| field.span).unwrap_or_default();
        if rows.len() == most {
            let message = format!("more than {most} rows of {}", counted(columns));
            problems.add(Fault::TooLarge, span, message, "split the table");
            break;
        }
        if fields.len() == columns {
            rows.push(Row { fields });
        } else {
            let message = format!(
                "this row has {}, the headings are {columns}",
                counted(fields.len())
            );
            let help =
                "write a field for each heading; put a text with the separator in it in quotes";
            problems.add(Fault::PartsDisagree, span, message, help);
        }
    }
    rows
}

fn counted(fields: usize) -> String {
    match fields {
        1 => "1 field".to_owned(),
        many => format!("{many} fields"),
    }
}
