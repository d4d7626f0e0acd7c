//! What the page writes of a bench: one value in its place, and cells of a spreadsheet.

use std::fs;

use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::served::{Served, body, status};
use crate::running::Folder;

const BENCH: &str = "\
# The bench of the club.
format: 1
bench: Club
lights:
  torch: { bays: 1, draw: 2.8 W, arrangement: 1S1P }  # the yellow one
cells:
  # Out of the grey box.
  - { id: K1, wrap: intact }
  - id: K2
    rest: { voltage: 3.71 V, after: 24 h }   # by the desk meter
";
const SHEET: &str =
    "id;wrap;rest.voltage [V];rest.after [h]\nM1;intact;3,60;24\nM2;\"nicked\";3,61;24\n";

fn read(served: &Served, name: &str) -> String {
    fs::read_to_string(served.folder.path().join(name)).expect("a file")
}

/// A correction of a row and column, in a file as it is now.
fn correction(
    served: &Served,
    (table, file): (&str, &str),
    place: (usize, usize),
    value: &str,
) -> Value {
    let digest = Sha256::digest(read(served, file));
    let digest: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    json!({
        "bench": "bench.yaml", "table": table, "digest": digest,
        "row": place.0, "column": place.1, "value": value,
    })
}

fn correct(served: &Served, of: (&str, &str), place: (usize, usize), value: &str) -> String {
    served.post("do/correct", &correction(served, of, place, value))
}

fn import(served: &Served, file: &str, text: &str) -> String {
    let sheet = json!({ "bench": "bench.yaml", "file": file, "text": text });
    served.post("do/import", &sheet)
}

#[test]
fn a_cell_of_the_bench_is_corrected_where_it_is_written() {
    let served = Served::of(Folder::with("bench.yaml", BENCH));
    let page = served.get("bench/bench.yaml");
    for label in ["K1, wrap", "K2, rest.voltage", "K2, rest.after"] {
        assert!(page.contains(&format!("aria-label=\"{label}\"")), "{page}");
    }
    // The columns are id, wrap, rest.after, rest.voltage.
    let answer = correct(&served, ("list", "bench.yaml"), (1, 3), "3.69 V");
    assert_eq!(status(&answer), 200, "{answer}");
    let expected = BENCH.replace("3.71 V", "3.69 V");
    assert_eq!(read(&served, "bench.yaml"), expected);
    let wrong = correct(&served, ("list", "bench.yaml"), (0, 1), "beautiful");
    assert_eq!(status(&wrong), 422, "{wrong}");
    assert!(body(&wrong).contains("<code>beautiful</code>"), "{wrong}");
    let nowhere = correct(&served, ("list", "bench.yaml"), (7, 1), "intact");
    assert_eq!(status(&nowhere), 422, "{nowhere}");
    assert_eq!(read(&served, "bench.yaml"), expected);
}

#[test]
fn a_spreadsheet_becomes_the_table_of_a_bench_without_one() {
    let served = Served::of(Folder::with("bench.yaml", BENCH));
    let answer = import(&served, "box.csv", SHEET);
    assert_eq!(status(&answer), 200, "{answer}");
    let expected = format!("{BENCH}tables:\n  cells: box.csv\n");
    assert_eq!(read(&served, "bench.yaml"), expected);
    assert_eq!(read(&served, "box.csv"), SHEET);
    // A value of the table, in quotes and without them, and an empty one.
    let of = ("cells", "box.csv");
    for (place, value) in [((1, 1), "intact"), ((0, 2), "3,59"), ((1, 3), "")] {
        let answer = correct(&served, of, place, value);
        assert_eq!(status(&answer), 200, "{answer}");
    }
    let expected = "id;wrap;rest.voltage [V];rest.after [h]\nM1;intact;3,59;24\nM2;intact;3,61;\n";
    assert_eq!(read(&served, "box.csv"), expected);
    let answer = correct(&served, of, (1, 3), "2 d");
    assert_eq!(status(&answer), 200, "{answer}");
    assert!(read(&served, "box.csv").ends_with("M2;intact;3,61;2 d\n"));
}

#[test]
fn cells_are_added_under_the_headings_that_are_there() {
    let bench = format!("{BENCH}tables: {{ cells: cells.csv }}\n");
    let own = "id,rest.voltage [V],rest.after [h],wrap\nA1,3.70,24,intact";
    let folder = Folder::with("bench.yaml", bench).and("cells.csv", own);
    let served = Served::of(folder);
    let new = "wrap;id;rest.voltage [V]\nintact;B1;3.61\n";
    let answer = import(&served, "new.csv", new);
    assert_eq!(status(&answer), 200, "{answer}");
    let expected = format!("{own}\nB1,3.61,,intact\n");
    assert_eq!(read(&served, "cells.csv"), expected);
    for (what, sheet) in [
        ("an id that is there", "id\nK1\n"),
        ("a column that is not", "id;colour\nB2;green\n"),
        ("another unit", "id;rest.voltage [mV]\nB2;3610\n"),
        ("a value that cannot be", "id;wrap\nB2;beautiful\n"),
        ("no table", "\n\n"),
        ("a row too short", "id;wrap\nB2\n"),
    ] {
        let answer = import(&served, "new.csv", sheet);
        assert_eq!(status(&answer), 422, "{what}: {answer}");
        assert_eq!(read(&served, "cells.csv"), expected, "{what}");
    }
    assert!(!served.folder.path().join("new.csv").exists());
}

#[test]
fn a_re_test_is_a_row_behind_the_others() {
    let bench = format!("{BENCH}tables: {{ readings: readings.csv }}\n");
    let own = "id;date;what;value\r\nK1;2026-08-20;resistance.value;61 mΩ\r\n";
    let folder = Folder::with("bench.yaml", bench).and("readings.csv", own);
    let served = Served::of(folder);
    let add = |values: &[&str]| {
        let mut row = correction(&served, ("readings", "readings.csv"), (0, 0), "");
        let row = row.as_object_mut().expect("a row");
        row.retain(|key, _| !["row", "column", "value"].contains(&key.as_str()));
        row.insert("values".to_owned(), json!(values));
        served.post("do/add", &json!(row))
    };
    let answer = add(&["K1", "2026-11-20", "resistance.value", "64 mΩ"]);
    assert_eq!(status(&answer), 200, "{answer}");
    let expected = format!("{own}K1;2026-11-20;resistance.value;64 mΩ\r\n");
    assert_eq!(read(&served, "readings.csv"), expected);
    for (what, values) in [
        (
            "no cell of the bench",
            ["K9", "2026-11-20", "resistance.value", "64 mΩ"],
        ),
        ("no day", ["K1", "2026-11-31", "resistance.value", "64 mΩ"]),
        (
            "no resistance",
            ["K1", "2026-11-20", "resistance.value", "64 V"],
        ),
        (
            "a second row in a field",
            ["K1\nK2", "2026-11-20", "resistance.value", "64 mΩ"],
        ),
    ] {
        let answer = add(&values);
        assert_eq!(status(&answer), 422, "{what}: {answer}");
    }
    let answer = add(&["K1", "2026-11-21"]);
    assert_eq!(status(&answer), 422, "a row too short: {answer}");
    assert_eq!(read(&served, "readings.csv"), expected);
}

#[test]
fn a_table_that_somebody_else_changed_is_not_written_over() {
    let served = Served::of(Folder::with("bench.yaml", BENCH));
    let begun = correction(&served, ("list", "bench.yaml"), (0, 1), "nicked");
    let theirs = BENCH.replace("2.8 W", "3 W");
    fs::write(served.folder.path().join("bench.yaml"), &theirs).expect("theirs");
    let answer = served.post("do/correct", &begun);
    assert_eq!(status(&answer), 409, "{answer}");
    assert_eq!(read(&served, "bench.yaml"), theirs);
}

#[test]
fn a_spreadsheet_has_no_name_that_leads_elsewhere() {
    let served = Served::of(Folder::with("bench.yaml", BENCH));
    for name in [
        "../box.csv",
        "/tmp/box.csv",
        "bench.yaml",
        "box.sh",
        ".box.csv",
        "a\0.csv",
        "",
    ] {
        let answer = import(&served, name, SHEET);
        assert_eq!(status(&answer), 422, "{name}: {answer}");
        assert_eq!(read(&served, "bench.yaml"), BENCH, "{name}");
    }
    let answer = served.post(
        "do/import",
        &json!({ "bench": "../bench.yaml", "file": "box.csv", "text": SHEET }),
    );
    assert_eq!(status(&answer), 422, "{answer}");
}
