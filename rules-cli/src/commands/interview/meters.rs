//! The meters behind readings that leave a verdict in doubt.

use std::collections::BTreeSet;

use rules_core::check::Report;
use serde_json::Value;

use super::asked::{Asked, Goal};

/// What was read can be told better if the meter is known: a question for each kind of reading that
/// leaves the verdict in doubt. A bench has its own meters.
pub(super) fn meters(report: &Report, value: &Value) -> Vec<Asked> {
    if value.get("bench").is_some() {
        return Vec::new();
    }
    let best = report.gravest().best;
    let known = |kind: &str| {
        value
            .get("meters")
            .is_some_and(|meters| meters.get(kind).is_some())
    };
    let wide = report.measure_next.iter();
    let wide = wide.filter(|next| !next.missing && next.leaves_open > best);
    let kinds: BTreeSet<&str> = wide
        .filter_map(|next| report.places.get(&next.fact))
        .filter(|place| place.unit.is_some() && !place.kind.contains(' '))
        .map(|place| &*place.kind)
        .filter(|kind| !known(kind))
        .collect();
    kinds.into_iter().map(asked).collect()
}

fn asked(kind: &str) -> Asked {
    let path = format!("meters.{kind}");
    let meaning = format!(
        "Readings of {kind} are too wide to say. How well the meter reads that they were all taken \
         with, by its sheet"
    );
    let hint = "as `± 3 %` or `± (0.5 % + 2 mV)`";
    Asked::new(&path, &meaning, hint, Goal::Fields(vec![path.clone()]))
}
