//! Expected fields are from RFC 4180 and from what spreadsheets write; places are counted by hand.

use rules_core::document::{Problem, Problems, Source};

use super::Table;
use crate::bounds::{MOST_COLUMNS, MOST_ROWS};

/// What is under each heading, row by row; numbers of all columns but the first.
fn read(text: &str) -> (Vec<Vec<String>>, Vec<Problem>) {
    let source = Source::new("cells.csv", text.to_owned());
    let mut problems = Problems::new(&source);
    let mut rows = Vec::new();
    if let Some(mut table) = Table::read(source.text(), 0, &mut problems) {
        let numbers: Vec<usize> = (1..table.headings().len()).collect();
        table.settle_decimals(&numbers, &mut problems);
        let field = |row: &super::Row<'_>, column: usize| match column {
            0 => row.field(0).map(|field| field.text.to_string()),
            _ => table
                .quantity(row, column)
                .and_then(|node| node.scalar().map(str::to_owned)),
        };
        for row in table.rows() {
            let columns = 0..table.headings().len();
            rows.push(
                columns
                    .map(|column| field(row, column).unwrap_or_default())
                    .collect(),
            );
        }
    }
    (rows, problems.finish().into_vec())
}

fn faults(text: &str) -> Vec<(String, String)> {
    let told = |problem: &Problem| {
        let place = problem.place.as_ref().expect("a place");
        (
            format!("{}:{}", place.line, place.column),
            problem.fault.to_string(),
        )
    };
    read(text).1.iter().map(told).collect()
}

fn fault(text: &str) -> (String, String) {
    let all = faults(text);
    assert_eq!(all.len(), 1, "{text:?}: {all:?}");
    all.into_iter().next().expect("one")
}

fn at(place: &str, fault: &str) -> (String, String) {
    (place.to_owned(), fault.to_owned())
}

/// RFC 4180, section 2, rules 1 to 7.
#[test]
fn fields_are_read_as_the_rfc_has_them() {
    let text = "id,a\r\n\"K,4\",\"1\"\r\n\"say \"\"K5\"\"\",2\r\nK6,";
    let (rows, problems) = read(text);
    assert_eq!(problems, []);
    assert_eq!(rows, [["K,4", "1"], ["say \"K5\"", "2"], ["K6", ""]]);
}

#[test]
fn decimal_commas_are_read_where_semicolons_or_tabs_separate() {
    for separator in [";", "\t"] {
        let text = "id;rest.voltage [V];charge [mAh]\nK4;3,871;2310\nK5;3,9 ± 0,02;\n";
        let (rows, problems) = read(&text.replace(';', separator));
        assert_eq!(problems, []);
        assert_eq!(
            rows,
            [["K4", "3.871 V", "2310 mAh"], ["K5", "3.9 V ± 0.02 V", ""]]
        );
    }
    let (rows, problems) = read("id,rest.voltage [V]\nK4,\"3,871\"\n");
    assert_eq!(problems, []);
    assert_eq!(
        rows,
        [["K4", "3,871 V"]],
        "whoever reads the number refuses it"
    );
}

#[test]
fn numbers_have_the_unit_of_their_heading_or_their_own() {
    let all = [
        ("3.71", "3.71 V"),
        ("3710 mV", "3710 mV"),
        ("3.6..3.8", "3.6..3.8 V"),
        ("3.71 ± 0.5 %", "3.71 V ± 0.5 %"),
        ("3.71 +/- 0.02", "3.71 V ± 0.02 V"),
        ("3.71 V ± 20 mV", "3.71 V ± 20 mV"),
        ("3.71 ± (0.5 % + 2 digits)", "3.71 V ± (0.5 % + 2 digits)"),
        ("none", "none"),
    ];
    for (written, wanted) in all {
        let (rows, problems) = read(&format!("id;a [V]\nK4;{written}\n"));
        assert_eq!(
            (rows, problems),
            (vec![vec!["K4".to_owned(), wanted.to_owned()]], vec![])
        );
    }
}

#[test]
fn what_a_spreadsheet_leaves_around_a_table_is_no_row() {
    let (rows, problems) = read("\n\nid;a [V];\n\nK4;3.7;\n;;\n\n");
    assert_eq!(problems, []);
    assert_eq!(rows, [["K4", "3.7 V", ""]]);
}

#[test]
fn each_fault_has_its_place() {
    assert_eq!(fault(""), at("1:1", "empty"));
    assert_eq!(fault("\n ; \n"), at("1:1", "empty"));
    assert_eq!(fault("id;a [V]\nK4;3;4\n"), at("2:1", "parts-disagree"));
    assert_eq!(fault("id;a [V]\nK4\n"), at("2:1", "parts-disagree"));
    assert_eq!(
        fault("id;a [V];a [mV]\nK4;3;\n"),
        at("1:10", "repeated-key")
    );
    assert_eq!(fault("id;a [volts]\nK4;3\n"), at("1:4", "unknown-unit"));
    assert_eq!(fault("id;a []\nK4;3\n"), at("1:4", "unknown-unit"));
    assert_eq!(fault("id;a;\nK4;3;\nK5;3;x\n"), at("3:6", "missing-key"));
    assert_eq!(fault("id;a [V]\nK4; \"3\"\n"), at("2:5", "syntax"));
    assert_eq!(fault("id;a [V]\nK4;\"3\"7\n"), at("2:4", "syntax"));
    assert_eq!(fault("id;a [V]\nK4;\"3\n"), at("2:4", "syntax"));
    assert_eq!(fault("id;a [V]\nK4;3,7\nK5;3.7\n"), at("3:4", "bad-number"));
    let all = faults("id;a [V]\nK4\nK5;\"3\"7\nK6;1;2\n");
    assert_eq!(all.len(), 3, "all are told at once: {all:?}");
}

#[test]
fn bounds_are_kept() {
    let columns = |count: usize| format!("{}\n", vec!["a"; count].join(";"));
    assert_eq!(fault(&columns(MOST_COLUMNS + 1)), at("1:1", "too-large"));
    let rows = |count: usize| format!("id;a [V]\n{}", "K;1\n".repeat(count));
    assert_eq!(faults(&rows(MOST_ROWS)), []);
    let line = MOST_ROWS + 2;
    let wide = format!(
        "{}\n",
        (0..100)
            .map(|at| format!("c{at}"))
            .collect::<Vec<_>>()
            .join(";")
    );
    let wide = wide + &format!("x{}\n", ";".repeat(99)).repeat(10_001);
    assert_eq!(fault(&wide), at("10002:1", "too-large"), "a million fields");
    assert_eq!(
        fault(&rows(MOST_ROWS + 1)),
        at(&format!("{line}:1"), "too-large")
    );
}

/// Columns are counted in characters, and in a part of a longer source from where it begins.
#[test]
fn places_are_those_of_the_source() {
    let source = Source::new("both", "first\nid;größe [V]\nK4;x;y\n".to_owned());
    let mut problems = Problems::new(&source);
    let text = source.text().get(6..).expect("the second part");
    let table = Table::read(text, 6, &mut problems).expect("a table");
    assert_eq!(source.slice(table.headings()[1].span), "größe [V]");
    let place = problems.finish()[0].place.clone().expect("a place");
    assert_eq!((place.line, place.column), (3, 1));
}
