//! Limits, by number.

use std::collections::BTreeMap;

use crate::document::Place;
use crate::formula::{LimitCode, LimitId};
use crate::quantity::Kind;
use crate::ruleset::limit::LimitInfo;
use crate::ruleset::stack::Stack;
use crate::ruleset::view::View;

pub(super) fn limits(
    stack: &Stack,
    view: &View,
    done: &[LimitInfo],
    names: &mut BTreeMap<String, (LimitId, Kind)>,
) -> (Vec<LimitCode>, Vec<LimitInfo>) {
    let (mut codes, mut infos) = (Vec::new(), Vec::new());
    let done: BTreeMap<&str, &Place> = done.iter().map(|info| (&*info.name, &info.place)).collect();
    for (name, seen) in &view.limits {
        let Some(layer) = stack.layers.get(seen.layer) else {
            continue;
        };
        let Some(limit) = layer.limits.get(seen.index) else {
            continue;
        };
        let kind = limit.body.kind_to_show(&seen.written);
        names.insert(name.clone(), (LimitId(codes.len()), kind));
        codes.push(LimitCode {
            name: name.clone().into(),
            value: seen.value,
            kind,
            unit: limit.body.unit,
        });
        infos.push(LimitInfo {
            name: name.clone().into(),
            written: limit.body.with_value(&seen.written),
            place: match done.get(name.as_str()) {
                Some(place) => (*place).clone(),
                None => layer.source.place(limit.span.start),
            },
        });
    }
    (codes, infos)
}
