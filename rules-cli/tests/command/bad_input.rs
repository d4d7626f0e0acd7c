//! Proposals that cannot be used. Each says what is wrong, where, and how to correct it; nothing of
//! them is judged; the exit code is 2.

use crate::running::{Folder, RULES, check, good, one_cell};

/// What is complained of when something is on standard input.
fn complaint(stdin: impl AsRef<[u8]>) -> String {
    let ran = check(stdin);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
    ran.err
}

/// A complaint of a proposal of one cell with these keys.
fn of_cell(keys: &str) -> String {
    complaint(one_cell(keys))
}

#[test]
fn an_unknown_key_gets_the_one_that_was_meant() {
    insta::assert_snapshot!(of_cell("protcted: yes, rest: { voltge: 3.87 V }, hue: 3"));
}

#[test]
fn a_repeated_key() {
    insta::assert_snapshot!(of_cell("protected: yes, protected: no"));
}

#[test]
fn a_number_without_its_unit() {
    insta::assert_snapshot!(of_cell("rest: { voltage: 3.87 }"));
}

#[test]
fn amperes_where_volts_belong() {
    insta::assert_snapshot!(of_cell("rest: { voltage: 3.87 A }"));
}

#[test]
fn numbers_that_are_none() {
    for word in [".nan", "NaN", ".inf", "-.inf", "Infinity", "nan V", "inf V"] {
        let complaint = of_cell(&format!("rest: {{ voltage: {word} }}"));
        assert!(complaint.starts_with("stdin:5:32: error: "), "{complaint}");
        assert!(complaint.contains(word), "{complaint}");
    }
    insta::assert_snapshot!(of_cell(
        "rest: { voltage: .nan }, capacity: { value: .inf }"
    ));
}

#[test]
fn a_number_beyond_doubles() {
    insta::assert_snapshot!(of_cell(
        "rest: { voltage: 1e400 V }, capacity: { value: 1e400 }"
    ));
    // The largest double itself is read, and is no rest voltage.
    assert!(
        of_cell("rest: { voltage: 1.7976931348623157e308 V }")
            .contains("is not possible for `cell.rest_voltage`")
    );
}

#[test]
fn a_negative_capacity() {
    insta::assert_snapshot!(of_cell("capacity: { value: -2310 mAh }"));
    assert_eq!(
        check(one_cell(
            "protected: yes, rest: { voltage: 3.87 V }, capacity: { value: 0 mAh }"
        ))
        .code,
        0
    );
}

#[test]
fn nesting_without_end() {
    let deep = |open: &str, close: &str| format!("{}{}", open.repeat(10_000), close.repeat(10_000));
    for text in [
        deep("[", "]"),
        deep("{a: ", "}"),
        deep("- ", ""),
        format!("format: 1\ncells: {}", deep("[", "]")),
    ] {
        let complaint = complaint(text);
        assert!(complaint.contains("deeper than 32 levels"), "{complaint}");
    }
    let json = Folder::with("rules.yaml", RULES).and("deep.json", deep("[", "]"));
    let ran = json.run(&["check", "--rules", "rules.yaml", "deep.json"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
}

#[test]
fn anchors_and_aliases() {
    let mut bomb = "a: &a [x, x, x, x, x, x, x, x, x, x]\n".to_owned();
    for (before, name) in ["a", "b", "c", "d", "e", "f", "g", "h"]
        .iter()
        .zip(["b", "c", "d", "e", "f", "g", "h", "i"])
    {
        bomb += &format!(
            "{name}: &{name} [{}]\n",
            vec![format!("*{before}"); 10].join(", ")
        );
    }
    let complaint_of_bomb = complaint(bomb);
    assert!(
        complaint_of_bomb.contains("this is an anchor"),
        "{complaint_of_bomb}"
    );
    insta::assert_snapshot!(complaint("format: 1\ntitle: &t Torch\narrangement: *t\n"));
}

#[test]
fn fifty_megabytes() {
    let large = format!("{}title: {}\n", good(), "x".repeat(50 * 1024 * 1024));
    let of_stdin = complaint(&large);
    assert!(
        of_stdin.contains("larger than 8 MiB (8388608 bytes)"),
        "{of_stdin}"
    );
    let folder = Folder::with("rules.yaml", RULES).and("large.yaml", large);
    let ran = folder.run(&["check", "--rules", "rules.yaml", "large.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
    assert!(
        ran.err.contains("larger than 8 MiB (8388608 bytes)"),
        "{}",
        ran.err
    );
}

#[test]
fn bytes_that_are_no_text() {
    let mut bytes = one_cell("wrap: intact").into_bytes();
    let at = bytes.len() - 5;
    bytes.splice(at..at, [0xff, 0xfe]);
    insta::assert_snapshot!(complaint(bytes));
}

#[test]
fn a_byte_order_mark_is_skipped() {
    let ran = check(format!("\u{feff}{}", good()));
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.whole());
    // It takes up no column.
    assert!(complaint("\u{feff}formt: 1\n").contains("stdin:1:1: error: "));
}

#[test]
fn several_documents() {
    insta::assert_snapshot!(complaint(format!("{}---\n{}", good(), good())));
}

#[test]
fn nothing_at_all() {
    insta::assert_snapshot!(complaint(""));
    for nothing in ["\n\n", "# only a remark\n", "---\n", "~\n", "\u{feff}"] {
        assert!(
            complaint(nothing).contains("the document is empty"),
            "{nothing:?}"
        );
    }
}

#[test]
fn a_file_that_breaks_off() {
    let text = "{ \"format\": 1, \"title\": \"Torch\", \"arrangement\": \"1S1P\", \"cells\": [{ \"id\": \"K4\", \"wr";
    let folder = Folder::with("rules.yaml", RULES)
        .and("torch.json", text)
        .and("torch.yaml", text);
    let ran = folder.run(&["check", "--rules", "rules.yaml", "torch.json"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    insta::assert_snapshot!(ran.err);
    assert_eq!(
        folder
            .run(&["check", "--rules", "rules.yaml", "torch.yaml"])
            .code,
        2
    );
    // Wherever it breaks off, it never passes.
    let whole = good();
    for end in 0..whole.len() - 1 {
        let ran = check(whole.get(..end).expect("ASCII"));
        assert_ne!(
            (ran.code, ran.out.contains("PASS")),
            (0, true),
            "broken off at {end}"
        );
    }
}

#[test]
fn a_missing_file_and_a_folder() {
    let folder = Folder::with("rules.yaml", RULES);
    let ran = folder.run(&["figures", "--rules", "rules.yaml", "missing.yaml", "."]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    insta::assert_snapshot!(ran.err);
}

#[test]
fn all_problems_of_a_file_are_shown_at_once() {
    let text = "format: 2
light: { bays: two, drive: bukc, draw: 7.5 }
arrangement: 2S
meters: { voltage: 0.5 }
cells:
  - { rest: { voltage: 3.8 A, aftr: 24 h }, wrap: perfect }
  - { id: K7, protected: perhaps, designation: ICR, drift: 6 mV }
";
    let complaint = complaint(text);
    insta::assert_snapshot!(complaint);
    assert_eq!(complaint.matches(": error: ").count(), 12);
}

#[test]
fn problems_of_several_files_are_shown_at_once_and_the_rest_is_judged() {
    let folder = Folder::with("rules.yaml", RULES)
        .and("a.yaml", one_cell("hue: 3"))
        .and("b.yaml", good())
        .and("c.yaml", "");
    let ran = folder.run(&[
        "check",
        "--rules",
        "rules.yaml",
        "a.yaml",
        "b.yaml",
        "c.yaml",
    ]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("a.yaml:5:15: error: ") && ran.err.contains("c.yaml:1:1: error: "),
        "{}",
        ran.err
    );
    let lines: Vec<&str> = ran.out.lines().take(3).collect();
    assert_eq!(
        lines,
        [
            "-       cannot be used: 1 problem (a.yaml)",
            "pass    Marshal's torch: 2 cautions apply, and none speaks against it (b.yaml)",
            "-       cannot be used: 1 problem (c.yaml)"
        ]
    );
}

#[test]
fn nothing_of_the_input_acts_on_the_terminal() {
    let hostile = "\"\\u001b[2J\\u202e\\u0007\"";
    for text in [
        one_cell(&format!("{hostile}: 1")),
        one_cell(&format!("wrap: {hostile}")),
        format!("format: 1\ntitle: {hostile}\n"),
    ] {
        let complaint = complaint(&text);
        assert!(
            !complaint.contains(|c: char| c != '\n' && (c.is_control() || c == '\u{202e}')),
            "{complaint:?}"
        );
    }
    let ran = check(good().replace("Marshal's torch", hostile));
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(
        ran.out.contains("\\u{1b}[2J\\u{202e}\\u{7}") && !ran.out.contains('\u{1b}'),
        "{}",
        ran.out
    );
}

#[test]
fn a_place_in_a_line_of_megabytes_is_found_in_time() {
    let cells: Vec<String> = (0..9_000)
        .map(|number| {
            format!("{{ \"id\": \"K{number}\", \"wrap\": \"intact\", \"hue\": {number} }}")
        })
        .collect();
    let text = format!(
        "{{ \"format\": 1, \"title\": \"Torch\", \"arrangement\": \"9000S1P\", \"cells\": [{}] }}",
        cells.join(", ")
    );
    let complaint = complaint(text);
    assert_eq!(complaint.matches(": error: ").count(), 200);
    assert!(complaint.ends_with(
        "and 800 more problems\nerror: `stdin` has 8000 more problems\n    help: correct these first\n"
    ));
    let is_cut = |line: &str| line.chars().count() <= 80 || line.starts_with("    help: ");
    assert!(complaint.lines().all(is_cut), "a line is not cut");
}
