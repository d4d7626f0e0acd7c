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

/// Which cell of a group the drain comes from is not known: it may be all from one, or none.
#[test]
fn a_cell_in_parallel_may_bear_all_of_the_drain() {
    let (least, most) = ends(&whole("1S1P", "2 A"), "K0");
    assert!(0.0 < least && least < most, "{least} {most}");
    let (low, high) = keeps(&whole("2S2P", "2 A"), "K0");
    assert_eq!((low, high), (Some(least), None));
}

/// A cobalt cell at 3.0 V has less than a fortieth of its charge: 2,310 mAh / 40 / 50 µA are 1,155 h.
#[test]
fn what_is_stored_empty_does_not_last() {
    let mut empty = whole("1S1P", "2 A");
    empty["conditions"]["stored_at"] = json!("3.00 V");
    let (least, most) = ends(&empty, "K0");
    assert!(least <= 0.0 && most < 1_155.0, "{least} {most}");
}

/// Where it is not said at which voltage they are stored nothing is sure.
#[test]
fn what_is_missing_leaves_it_open() {
    let unsaid = without(&whole("1S1P", "2 A"), "/conditions/stored_at");
    assert_eq!(keeps(&unsaid, "K0").0, Some(0.0));
}
