//! Limits, by number.

use std::collections::BTreeMap;

use crate::formula::{LimitCode, LimitId};
use crate::quantity::Kind;
use crate::ruleset::rules::LimitInfo;
use crate::ruleset::stack::Stack;
use crate::ruleset::view::View;

pub(super) fn limits(
    stack: &Stack,
    view: &View,
    names: &mut BTreeMap<String, (LimitId, Kind)>,
) -> (Vec<LimitCode>, Vec<LimitInfo>) {
    let (mut codes, mut infos) = (Vec::new(), Vec::new());
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
            name: name.clone(),
            value: seen.value,
            kind,
            unit: limit.body.unit,
        });
        infos.push(LimitInfo {
            name: name.clone(),
            written: seen.written.clone(),
            stricter: limit.body.stricter,
            meaning: limit.body.meaning.clone(),
            fixed: limit.body.fixed,
            basis: limit
                .body
                .basis
                .iter()
                .map(|(basis, _)| basis.clone())
                .collect(),
            place: layer.source.place(limit.span.start),
        });
    }
    (codes, infos)
}
