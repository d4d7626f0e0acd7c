//! Any ruleset on any proposal: the bytes up to a line `---proposal---` are the ruleset, those
//! after it the proposal. Both are YAML.

use rules_core::check::{Options, figures};
use rules_core::document::Syntax;
use rulesets::proposal::Proposal;

use super::loaded::{checked, is_small, rules, say_why};

/// What parts the two.
const MARKER: &[u8] = b"\n---proposal---\n";

/// A check keeps its promises, says the same twice, and shows its figures.
pub fn any(bytes: &[u8]) {
    reports(bytes);
}

/// The same; returns whether the bytes gave a report.
pub fn reports(bytes: &[u8]) -> bool {
    let Some(at) = bytes
        .windows(MARKER.len())
        .position(|window| window == MARKER)
    else {
        return false;
    };
    let (ruleset, proposal) = (&bytes[..at], &bytes[at + MARKER.len()..]);
    let Some(rules) = rules("any.yaml", ruleset) else {
        return false;
    };
    let proposal = match Proposal::read("any.yaml", proposal.to_vec(), Syntax::Yaml) {
        Ok(proposal) if is_small(&proposal) => proposal,
        Ok(_) => return false,
        Err(problems) => {
            say_why(&problems);
            return false;
        }
    };
    let written = || {
        checked(&rules, &proposal).map(|report| serde_json::to_string(&report).unwrap_or_default())
    };
    let first = written();
    assert_eq!(first, written(), "the same bytes give the same report");
    match figures(&rules, &proposal, Options::default()) {
        Ok(sheet) => assert!(serde_json::to_vec(&sheet).is_ok(), "figures are JSON"),
        Err(problems) => say_why(&problems),
    }
    first.is_some()
}
