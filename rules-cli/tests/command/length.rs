//! Records of a stream are no longer than LANGUAGE.md section 9 says: so many bytes, and 40 for each
//! byte of their line.

use serde_json::Value;

use crate::running::Folder;

/// Bytes of a record by the shipped rules, in full and as lean records, besides those that its line is
/// worth.
const FULL: usize = 196_608;
const LEAN: usize = 102_400;
/// For each byte of the line.
const EACH: usize = 40;

/// What is called for, and nothing listed.
fn lines(arrangement: &str, many: usize) -> String {
    format!("{{\"format\":1,\"arrangement\":\"{arrangement}\"}}\n").repeat(many)
}

fn assert_short(lines: &str, verdict: &str) {
    for (args, most) in [(&["stream"][..], LEAN), (&["stream", "--full"], FULL)] {
        let ran = Folder::new().run_with(args, lines);
        assert_eq!(ran.code, 1, "{}", ran.err);
        assert_eq!(ran.out.lines().count(), lines.lines().count());
        for (line, record) in lines.lines().zip(ran.out.lines()) {
            let most = most + EACH * line.len();
            assert!(record.len() <= most, "{line}: {} of {most}", record.len());
            let record: Value = serde_json::from_str(record).expect("JSON");
            let report = record.get("report").unwrap_or(&record);
            assert_eq!(report["verdict"], verdict, "{line}");
        }
    }
}

#[test]
fn lines_that_call_for_many_cells_and_list_none_get_short_records() {
    let all = [
        lines("500S1P", 64),
        lines("2000S1P", 20),
        lines("10000S1P", 1),
        lines("1S10000P", 1),
        lines("100S100P", 1),
    ];
    assert_short(&all.concat(), "refuse");
}

/// What is not listed is counted, also in the text for people.
#[test]
fn cells_that_are_not_listed_are_counted_in_the_text() {
    let ran = Folder::with("wall.json", lines("500S1P", 1)).run(&["check", "--full", "wall.json"]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    let text = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("cell (not listed; 500 of them)"), "{text}");
    assert!(ran.out.len() < FULL, "{} bytes", ran.out.len());
}

/// A first page names a few of many cells, and counts the others. It is made in time linear in them:
/// this many would take minutes else.
#[test]
fn a_first_page_does_not_grow_with_its_cells() {
    let cells: Vec<String> = (0..1000)
        .map(|at| format!("{{\"id\":\"K{at}\",\"rest\":{{\"voltage\":\"3.87 V\"}}}}"))
        .collect();
    let wall = format!(
        "{{\"format\":1,\"arrangement\":\"1000S1P\",\"cells\":[{}]}}",
        cells.join(",")
    );
    let folder = Folder::with("wall.json", wall);
    let page = folder.run(&["check", "wall.json"]).out;
    assert!(page.lines().count() <= 40, "{page}");
    assert!(
        page.lines().all(|line| line.chars().count() <= 80),
        "{page}"
    );
    let asked = folder.run(&["check", "--questions", "wall.json"]).out;
    assert!(
        asked.contains("  cells[K0 K1 K10 K100 and 996 more].look "),
        "{asked}"
    );
}

/// One word answers several facts of a cell, and asks for it once.
#[test]
fn a_question_names_each_cell_once() {
    let pair =
        "{\"format\":1,\"arrangement\":\"2S1P\",\"cells\":[{\"id\":\"K4\"},{\"id\":\"K7\"}]}";
    let folder = Folder::with("pair.json", pair);
    let asked = folder.run(&["check", "--questions", "pair.json"]).out;
    assert!(asked.contains("  cells[K4 K7].look "), "{asked}");
    assert!(asked.contains("  cells[K4 K7].past "), "{asked}");
}

/// As many as a screen has, for every demo, with what its bench is tried for.
#[test]
fn the_first_page_of_every_demo_has_forty_lines_at_the_most() {
    for demo in [
        "course-setter-bike-light.yaml",
        "helmet-lamp.yaml",
        "marshal-torch.yaml",
        "club/helmet-lamp.yaml",
        "club/marshal-torch.yaml",
        "club/start-hut.yaml",
    ] {
        let path = format!("{}/demo/{demo}", env!("CARGO_MANIFEST_DIR"));
        let ran = Folder::new().run(&["check", &path]);
        let count = ran.out.lines().count();
        assert!((10..=40).contains(&count), "{demo}: {count}\n{}", ran.out);
    }
}
