//! Records of a stream are no longer than LANGUAGE.md section 9 says: so many bytes, and 40 for each
//! byte of their line.

use serde_json::Value;

use crate::running::Folder;

/// Bytes of a record by the shipped rules, in full and as lean records, besides those that its line is
/// worth.
const FULL: usize = 196_608;
const LEAN: usize = 98_304;
/// For each byte of the line.
const EACH: usize = 40;

/// What is called for, and nothing listed.
fn lines(arrangement: &str, many: usize) -> String {
    format!("{{\"format\":1,\"arrangement\":\"{arrangement}\"}}\n").repeat(many)
}

fn assert_short(lines: &str, verdict: &str) {
    for (args, most) in [(&["stream"][..], FULL), (&["stream", "--lean"], LEAN)] {
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
