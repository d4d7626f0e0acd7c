//! What is left of a charge by counting what was used since the cells were full.

use rules_core::check::ReportedNumber;
use serde_json::{Value, json};

use super::setting::{rules, whole, without, worked};

/// The ends of a figure of the build, in hours.
fn ends(proposal: &Value, name: &str) -> (f64, f64) {
    let all = worked(&rules(), proposal);
    let value = all[&("build".to_owned(), format!("build.{name}"))]
        .value
        .clone()
        .unwrap();
    let end = |of: fn(&ReportedNumber) -> Option<f64>| of(&value).unwrap_or(f64::INFINITY);
    (end(ReportedNumber::low), end(ReportedNumber::high))
}

fn run_for(minutes: f64, draw: &str) -> Value {
    let mut proposal = without(&whole("1S1P", draw), "/cells/0/rest");
    proposal["conditions"]["run_since_full"] = json!(format!("{minutes} min"));
    proposal["light"]["standby"] = json!("none");
    proposal
}

/// Half an hour of a run that lasts so long from full leaves what it lasts less half an hour; what a
/// cell loses by itself in the day, a fiftieth of the run, comes off at the low end.
#[test]
fn a_run_takes_its_time_off_the_whole() {
    for draw in ["1 A", "4 W"] {
        let (least, most) = ends(&run_for(30.0, draw), "run_time");
        let (left, at_most) = ends(&run_for(30.0, draw), "time_left_counted");
        assert!((left - (least - 0.5 - most / 50.0)).abs() < 1e-6, "{left}");
        // With pauses it may last as long as the gentlest test found charge.
        assert!(
            at_most >= most - 0.5 && at_most < 1.3 * (most - 0.5),
            "{at_most} {most}"
        );
    }
}

#[test]
fn what_stands_by_for_a_day_comes_off_too() {
    let mut drained = run_for(30.0, "1 A");
    let (left, _) = ends(&drained, "time_left_counted");
    drained["light"]["standby"] = json!("10 mA");
    let (less, _) = ends(&drained, "time_left_counted");
    // 10 mA of 1 A for 24 h are 0.24 h.
    assert!((left - less - 0.24).abs() < 1e-6, "{left} {less}");
    let unknown = without(&drained, "/light/standby");
    assert!(ends(&unknown, "time_left_counted").0 <= 0.0);
}

/// A cell that gave all cannot be counted to have more.
#[test]
fn a_run_longer_than_the_whole_leaves_nothing_sure() {
    let (least, _) = ends(&run_for(300.0, "1 A"), "time_left_counted");
    assert!(least <= 0.0);
}
