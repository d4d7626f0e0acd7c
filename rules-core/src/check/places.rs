//! Where all is written that a report asks for.

use std::collections::BTreeMap;

use super::fact_place::FactPlace;
use super::finding::{FactState, Finding};
use super::made::each_once;
use super::report::MeasureNext;
use crate::ruleset::Rules;

/// The places of all facts that findings miss or that are to be measured next, by name.
pub(super) fn places(
    findings: &[Finding],
    next: &[MeasureNext],
    rules: &Rules,
) -> BTreeMap<String, FactPlace> {
    let missing = findings
        .iter()
        .flat_map(|finding| &finding.facts)
        .filter(|fact| fact.state == FactState::Missing);
    let missing = each_once(missing).map(|fact| &fact.name);
    let mut places = BTreeMap::new();
    for name in missing.chain(next.iter().map(|one| &one.fact)) {
        if places.contains_key(name) {
            continue;
        }
        let def = rules.catalogue().fact_named(name).map(|(_, def)| def);
        if let Some(place) = def.and_then(|def| FactPlace::of(def, rules)) {
            places.insert(name.clone(), place);
        }
    }
    places
}
