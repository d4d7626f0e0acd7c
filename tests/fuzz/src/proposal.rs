//! Any bytes as a proposal, in YAML and in JSON: checked by a few rules, and every figure worked
//! out.

use std::sync::LazyLock;

use rules_core::document::Syntax;
use rules_core::facts::{Proposed, WorkedId};
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;

use super::loaded::{CATALOGUE, checked, is_small, rules, say_why};

/// Rules that look at every subject and fold over cells.
static RULES: LazyLock<Rules> = LazyLock::new(|| {
    rules("rules.yaml", include_bytes!("rules.yaml")).unwrap_or_else(|| panic!("they load"))
});

/// A proposal is refused with its reasons or gives a report that keeps its promises and figures
/// that are intervals.
pub fn any(bytes: &[u8]) {
    let yaml = read(bytes, Syntax::Yaml);
    let json = read(bytes, Syntax::Json);
    for proposal in yaml
        .iter()
        .chain(&json)
        .filter(|proposal| is_small(proposal))
    {
        checked(&RULES, proposal);
        figures_are_intervals(proposal);
    }
}

fn read(bytes: &[u8], syntax: Syntax) -> Option<Proposal> {
    Proposal::read("any", bytes.to_vec(), syntax)
        .map_err(|problems| say_why(&problems))
        .ok()
}

fn figures_are_intervals(proposal: &Proposal) {
    let Ok(sheet) = proposal.facts(&CATALOGUE) else {
        return;
    };
    let workings = CATALOGUE.figures().open(CATALOGUE.facts_of(&sheet));
    for (at, def) in CATALOGUE.worked().iter().enumerate() {
        for position in 0..sheet.count(def.subject) {
            let worked = workings.work(WorkedId::new(at), position);
            let (low, high, nominal) = (
                worked.value.range().lo(),
                worked.value.range().hi(),
                worked.value.nominal(),
            );
            assert!(
                low <= nominal && nominal <= high,
                "figure {at}: {nominal} is not in {low} to {high}"
            );
        }
    }
}
