//! What vetting says of a ruleset of one caution.

use rules_core::document::Fault;
use rules_tests::one_caution::vetted;
pub(crate) use rules_tests::one_caution::{BASIS, LIMIT};

/// What is found in a ruleset of one caution about each cell, given the lines that are its own.
pub(crate) fn found(definitions: &str, caution: &str) -> Vec<Fault> {
    let problems = vetted(definitions, caution).expect("the ruleset loads");
    problems.into_iter().map(|problem| problem.fault).collect()
}

pub(crate) const CASES: &str = "cases:
- { given: { cell.rest_voltage: 3.70 V }, expect: pass }
- { given: { cell.rest_voltage: 2.90 V }, expect: refuse }
- { given: { cell.rest_voltage: 3.00 V }, expect: refuse, doubt: yes }
- { given: {}, expect: refuse, unmeasured: [cell.rest_voltage] }";

pub(crate) fn with_cases(rungs: &str) -> Vec<Fault> {
    found(LIMIT, &format!("{rungs}\n{BASIS}\n{CASES}"))
}
