//! Sorted cells as a table of CSV: a row a cell.

use super::reason::{keys, reason};
use super::report::{SortReport, SortedCell};

/// The columns before those of the lights.
const HEADINGS: [&str; 13] = [
    "id",
    "grade",
    "best",
    "worst",
    "in",
    "reason",
    "value",
    "limit",
    "caution",
    "next",
    "capacity",
    "resistance",
    "read_on",
];

/// A table with a heading and a row for each cell, and a column for each light (RFC 4180, with the line
/// feed alone at the end of a line). It has no room for the notice, nor for what was loosened: who shows
/// it to people shows these with it.
#[must_use]
pub fn csv(report: &SortReport) -> String {
    let lights = report.lights.iter().map(|light| light.light.as_str());
    let mut text = row(HEADINGS.into_iter().chain(lights));
    for cell in &report.cells {
        let suits = cell.lights.iter().map(|entry| entry.suits.key());
        let (reason, next) = (reason(cell).unwrap_or_default(), keys(&cell.next));
        text += &row(of_cell(cell, (&reason, &next)).into_iter().chain(suits));
    }
    text
}

fn of_cell<'c>(
    cell: &'c SortedCell,
    (reason, next): (&'c str, &'c str),
) -> [&'c str; HEADINGS.len()] {
    let decided = cell.decided_by.as_ref();
    [
        &cell.id,
        cell.grade.key(),
        cell.best.key(),
        cell.worst.key(),
        text(&cell.in_light),
        reason,
        decided.map_or("", |decided| text(&decided.value)),
        decided.map_or("", |decided| text(&decided.limit)),
        decided.map_or("", |decided| &decided.caution),
        next,
        text(&cell.known.capacity),
        text(&cell.known.resistance),
        text(&cell.known.read_on),
    ]
}

fn text(text: &Option<String>) -> &str {
    text.as_deref().unwrap_or_default()
}

fn row<'f>(fields: impl Iterator<Item = &'f str>) -> String {
    let fields: Vec<String> = fields.map(field).collect();
    fields.join(",") + "\n"
}

/// A field, in quotes where it must be.
fn field(text: &str) -> String {
    match text.contains([',', ';', '"', '\n', '\r']) {
        true => format!("\"{}\"", text.replace('"', "\"\"")),
        false => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use csv_core::{ReadFieldResult, Reader};

    use super::row;

    /// The fields of a text, as a general reader of CSV finds them.
    fn read(text: &str) -> Vec<String> {
        let (mut reader, mut rest) = (Reader::new(), text.as_bytes());
        let (mut fields, mut field) = (Vec::new(), vec![0; 256]);
        loop {
            let (result, used, written) = reader.read_field(rest, &mut field);
            rest = &rest[used..];
            match result {
                ReadFieldResult::Field { .. } => {
                    fields.push(String::from_utf8(field[..written].to_vec()).unwrap());
                }
                ReadFieldResult::InputEmpty => {}
                ReadFieldResult::OutputFull => panic!("a longer field"),
                ReadFieldResult::End => return fields,
            }
        }
    }

    #[test]
    fn a_general_reader_finds_the_fields_that_were_written() {
        let fields = [
            "K4",
            "",
            "a, b",
            "a; b",
            "he said \"no\"",
            "\"",
            "two\nlines",
            "a\rb",
            "Größe Ω",
            " a ",
        ];
        assert_eq!(read(&row(fields.into_iter())), fields);
    }
}
