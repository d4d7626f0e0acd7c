//! The meters that are assumed, by kind.

use crate::quantity::Kind;
use crate::ruleset::merged::written_meter;
use crate::ruleset::meter::AssumedMeter;
use crate::ruleset::view::View;

pub(super) fn meters(view: &View) -> Vec<AssumedMeter> {
    let all = Kind::ALL.into_iter().filter_map(|kind| {
        let seen = view.meters.get(kind.name())?;
        Some(AssumedMeter {
            kind,
            meters: seen.iter().map(|one| one.meter).collect(),
            written: written_meter(seen).into(),
        })
    });
    all.collect()
}
