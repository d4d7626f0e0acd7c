//! What the label of a pack says: text, JSON, contradictions, and labels that cannot be used.

use crate::running::{Folder, Ran};

fn label(args: &[&str]) -> Ran {
    Folder::new().run(&[&["label"], args].concat())
}

/// What is printed before the caution and the notice, which are on every label.
fn said(ran: &Ran) -> String {
    let (said, closing) = ran
        .out
        .split_once("\nA label proves nothing of a pack that was rewrapped or rebuilt, ")
        .expect("the caution");
    assert!(
        closing.contains(
            "\nWhatever the verdict\n    Consumers are told not to buy or use loose cells: "
        ),
        "{closing}"
    );
    format!("exit code {}\n{said}", ran.code)
}

fn json(args: &[&str]) -> serde_json::Value {
    let ran = label(&[args, &["--format", "json"]].concat());
    serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{}", ran.whole()))
}

/// Common practice: a pack of six, 11.1 V and 5.6 Ah, has two and two and two cells of 2.8 Ah and
/// 3.7 V.
const PACK: [&str; 6] = [
    "--voltage",
    "11.1 V",
    "--capacity",
    "5.6 Ah",
    "--energy",
    "62 Wh",
];

#[test]
fn a_label_with_code_and_count_has_one_reading() {
    let ran = label(&[&PACK[..], &["--code", "3INR19/66-2", "--cells", "6"]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!("label_whole", ran.out);
}

#[test]
fn numbers_alone_leave_several_readings_with_the_likeliest_first() {
    insta::assert_snapshot!("label_of_six_by_its_numbers", said(&label(&PACK)));
}

#[test]
fn what_is_not_printed_is_worked_out() {
    insta::assert_snapshot!(
        "label_with_energy_in_place_of_capacity",
        said(&label(&[
            "--voltage",
            "10.8 V",
            "--energy",
            "48 Wh",
            "--cells",
            "6"
        ]))
    );
}

#[test]
fn iron_phosphate_is_a_reading_of_its_own() {
    insta::assert_snapshot!(
        "label_of_either_family",
        said(&label(&["--voltage", "25.6 V", "--capacity", "6.0 Ah"]))
    );
}

#[test]
fn a_label_that_contradicts_itself_is_not_believed() {
    let args = [
        "--voltage",
        "14.4 V",
        "--capacity",
        "5.6 Ah",
        "--energy",
        "62 Wh",
        "--code",
        "3INR19/66",
        "--cells",
        "8",
    ];
    insta::assert_snapshot!("label_against_itself", said(&label(&args)));
    insta::assert_snapshot!(
        "label_with_its_charge_voltage",
        said(&label(&["--voltage", "12.6 V", "--capacity", "2.0 Ah"]))
    );
    insta::assert_snapshot!(
        "label_against_the_count",
        said(&label(&["--voltage", "11.1 V", "--cells", "5"]))
    );
}

/// A consumer-watchdog article of 2021 names 9.9 Ah as false.
#[test]
fn a_capacity_that_no_cell_has_is_not_believed() {
    insta::assert_snapshot!(
        "label_with_a_false_capacity",
        said(&label(&[
            "--voltage",
            "3.7 V",
            "--capacity",
            "9900 mAh",
            "--code",
            "ICR18650",
            "--cells",
            "1"
        ]))
    );
}

#[test]
fn a_code_is_enough_and_a_voltage_leaves_the_parallel_open() {
    insta::assert_snapshot!(
        "label_with_a_code_alone",
        said(&label(&["--code", "4ICR19/66-2"]))
    );
    insta::assert_snapshot!(
        "label_with_a_voltage_alone",
        said(&label(&["--voltage", "7.4 V"]))
    );
    insta::assert_snapshot!(
        "label_of_an_unknown_class",
        said(&label(&["--voltage", "7.4 V", "--code", "2IVR19/66"]))
    );
}

#[test]
fn the_json_says_the_same() {
    let whole = json(&[&PACK[..], &["--cells", "6"]].concat());
    let reading = &whole["readings"][0];
    assert_eq!(
        (&whole["format"], &whole["believable"], &whole["counted"]),
        (&1.into(), &true.into(), &6.into())
    );
    assert_eq!(
        (
            &reading["arrangement"],
            &reading["series"],
            &reading["parallel"]
        ),
        (&"3S2P".into(), &3.into(), &2.into())
    );
    assert_eq!(
        (&reading["family"], &reading["plausible"], &reading["class"]),
        (
            &"cobalt-nickel".into(),
            &"yes".into(),
            &serde_json::Value::Null
        )
    );
    assert_eq!(
        reading["cell_capacity"],
        serde_json::json!({ "text": "2800 mAh ± 25 mAh", "low": 2.775, "high": 2.825, "unit": "Ah" })
    );
    assert_eq!(whole["contradictions"], serde_json::json!([]));
    let against = json(&["--voltage", "11.1 V", "--cells", "5"]);
    assert_eq!(
        (
            &against["believable"],
            &against["contradictions"][0]["about"]
        ),
        (&false.into(), &"cells-not-shared".into())
    );
    assert!(
        whole["caution"]
            .as_str()
            .is_some_and(|text| text.starts_with("A label proves nothing"))
    );
    assert_eq!(whole["notice"].as_array().map(Vec::len), Some(5));
}

/// What a label says that cannot be used, and how the message starts.
const UNUSABLE: [(&[&str], &str); 12] = [
    (&[], "error: nothing says how many cells are in series\n"),
    (
        &["--capacity", "5.6 Ah"],
        "error: nothing says how many cells are in series\n",
    ),
    (
        &["--voltage", "400 V"],
        "--voltage:1:1: error: the voltage could be of more than 100 cells in series\n",
    ),
    (
        &["--voltage", "3.7 V", "--capacity", "200 Ah"],
        "--capacity:1:1: error: the capacity could be of more than 100 cells in parallel\n",
    ),
    (
        &["--voltage", "1e300 V"],
        "--voltage:1:1: error: the voltage is too large or too small for a label\n",
    ),
    (
        &["--voltage", "1e400 V"],
        "--voltage:1:1: error: `1e400 V` is not a finite number\n",
    ),
    (
        &["--voltage", "inf V"],
        "--voltage:1:1: error: `inf V` is not a finite number\n",
    ),
    (
        &["--voltage=-11.1 V"],
        "--voltage:1:1: error: the voltage is not surely above zero\n",
    ),
    (
        &["--voltage", ""],
        "--voltage:1:1: error: a quantity is expected, but there is nothing\n",
    ),
    (
        &["--voltage", "11.1"],
        "--voltage:1:1: error: `11.1` has no unit\n",
    ),
    (
        &["--code", ""],
        "--code:1:1: error: the code is no designation: the letters are not those of a round lithium-ion cell\n",
    ),
    (
        &["--voltage", "7.2 V", "--code", "IVR18650"],
        "error: the nominal voltage of IVR cells is not known here",
    ),
];

/// All that is wrong is reported at once.
#[test]
fn labels_that_cannot_be_used() {
    let bad = label(&[
        "--voltage",
        "0 V",
        "--capacity",
        "5,6 Ah",
        "--energy",
        "62 V",
        "--code",
        "3INP19/66-2",
        "--cells",
        "0",
    ]);
    assert_eq!((bad.code, bad.out.as_str()), (2, ""));
    insta::assert_snapshot!("label_that_cannot_be_used", bad.err);
    for (args, says) in UNUSABLE {
        let ran = label(args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(ran.err.starts_with(says), "{args:?}: {}", ran.err);
        assert_eq!(
            ran.err.matches("error: ").count(),
            1,
            "{args:?}: {}",
            ran.err
        );
    }
    for cells in ["-1", "six", "4294967296"] {
        assert_eq!(
            label(&["--voltage", "11.1 V", "--cells", cells]).code,
            2,
            "{cells}"
        );
    }
}

#[test]
fn nothing_of_a_label_acts_on_the_terminal_or_fills_it() {
    let hostile = label(&["--voltage", "11.1\u{1b}[2J V", "--code", "\u{202e}INR"]);
    assert_eq!(hostile.code, 2);
    assert!(
        !hostile.err.contains(
            |letter: char| letter != '\n' && (letter.is_control() || letter == '\u{202e}')
        ),
        "{:?}",
        hostile.err
    );
    let long = "9".repeat(100_000);
    let ran = label(&["--voltage", &long, "--code", &long]);
    assert!(
        ran.code == 2 && ran.err.len() < 4_000,
        "{} bytes",
        ran.err.len()
    );
}

#[test]
fn text_is_wrapped_to_the_width_asked_for() {
    for width in [40_usize, 60, 80, 100] {
        let ran = label(&[&PACK[..], &["--width", &width.to_string()]].concat());
        let widest = ran
            .out
            .lines()
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0);
        assert!(
            widest <= width && widest > width - 15,
            "{width}: {widest}\n{}",
            ran.out
        );
    }
}
