//! How long cells last in a light that is switched off.

use serde_json::{Value, json};

use super::setting::{rules, whole, without, worked};

/// The ends in hours of how long a cell lasts.
fn keeps(proposal: &Value, cell: &str) -> (Option<f64>, Option<f64>) {
    let all = worked(&rules(), proposal);
    let key = (format!("cell {cell}"), "cell.keeps_for".to_owned());
    let value = all[&key].value.clone().unwrap();
    (value.low(), value.high())
}

fn ends(proposal: &Value, cell: &str) -> (f64, f64) {
    let (least, most) = keeps(proposal, cell);
    (least.unwrap(), most.unwrap())
}

/// Cells of 2,310 and 2,250 mAh are stored at one voltage and drained by one current: together they
/// last 4,560 / 2,310 times as long as the first alone. Each reading is good to half of its last digit.
#[test]
fn cells_in_parallel_are_drained_together() {
    let (least, most) = ends(&whole("1S1P", "2 A"), "K0");
    assert!(0.0 < least && least < most, "{least} {most}");
    let both = whole("2S2P", "2 A");
    for cell in ["K0", "K1"] {
        let (low, high) = ends(&both, cell);
        let (at_least, at_most) = (4559.0 / 2309.5, 4561.0 / 2310.5);
        assert!((low / least - at_least).abs() < 1e-9, "{cell}: {low}");
        assert!((high / most - at_most).abs() < 1e-9, "{cell}: {high}");
    }
}

/// A cobalt cell at 3.0 V has less than a fortieth of its charge: 2,310 mAh / 40 / 50 µA are 1,155 h.
#[test]
fn what_is_stored_empty_does_not_last() {
    let mut empty = whole("1S1P", "2 A");
    empty["conditions"]["stored_at"] = json!("3.00 V");
    let (least, most) = ends(&empty, "K0");
    assert!(least <= 0.0 && most < 1_155.0, "{least} {most}");
}

/// Where it is not said at which voltage they are stored, or which cells are together, nothing is sure.
#[test]
fn what_is_missing_leaves_it_open() {
    let unsaid = without(&whole("1S1P", "2 A"), "/conditions/stored_at");
    assert_eq!(keeps(&unsaid, "K0").0, Some(0.0));
    let loose = without(&whole("2S2P", "2 A"), "/cells/1/group");
    assert_eq!(keeps(&loose, "K0").0, Some(0.0));
}
