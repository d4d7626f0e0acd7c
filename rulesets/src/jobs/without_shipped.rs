//! What a job says whose rules have none of the shipped rulesets among them.

use rules_core::check::without_shipped_in_words;
use rules_core::ruleset::{LoadedRuleset, shipped_left_out};

use crate::shipped::Shipped;

/// The same as a report says.
pub(crate) fn without_shipped(rules: &[LoadedRuleset]) -> Option<String> {
    let names = shipped_left_out(rules, Shipped::versions());
    (!names.is_empty()).then(|| without_shipped_in_words(&names))
}
