//! What vetting says of a ruleset of one caution.

use rules_core::ruleset::Texts;

use rules_core::document::Fault;
use rules_core::vetting::{Vetting, vet};

pub(crate) const LIMIT: &str = "limits:\n  floor: { value: 3.00 V, stricter: higher, meaning: Floor, basis: [{ common_practice: example }] }\n";

/// A ruleset of one caution about each cell, given the lines that are its own.
pub(crate) fn found(definitions: &str, caution: &str) -> Vec<Fault> {
    let own: String = caution
        .lines()
        .map(|line| format!("    {}\n", line.trim()))
        .collect();
    let text = format!(
        "format: 1\nruleset: one\nversion: 1.0.0\ntitle: One\n{definitions}cautions:\n  - id: tested\n    title: Tested\n    about: each cell\n    reason: r\n{own}"
    );
    let vetting = Vetting::load(
        &["one"],
        &Texts::of([("one", text)]),
        &rulesets::catalogue(),
    )
    .unwrap_or_else(|problems| panic!("{problems:?}"));
    vet(&vetting)
        .into_iter()
        .map(|problem| problem.fault)
        .collect()
}

pub(crate) const BASIS: &str = "basis: [{ common_practice: example }]";

pub(crate) const CASES: &str = "cases:
- { given: { cell.rest_voltage: 3.70 V }, expect: pass }
- { given: { cell.rest_voltage: 2.90 V }, expect: refuse }
- { given: { cell.rest_voltage: 3.00 V }, expect: refuse, doubt: yes }
- { given: {}, expect: refuse, unmeasured: [cell.rest_voltage] }";

pub(crate) fn with_cases(rungs: &str) -> Vec<Fault> {
    found(LIMIT, &format!("{rungs}\n{BASIS}\n{CASES}"))
}
