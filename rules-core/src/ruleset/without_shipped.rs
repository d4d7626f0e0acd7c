//! Rules in which none of the rulesets takes part that a trade ships.

use super::model::LoadedRuleset;
use super::rules::Rules;
use crate::facts::ShippedVersion;

/// The names of the shipped rulesets, where there are some and none of them is among these: often an
/// `extends` was forgotten. A file that says it was merged from one counts as one, for reports name
/// that claim.
#[must_use]
pub fn shipped_left_out(rules: &[LoadedRuleset], shipped: &[ShippedVersion]) -> Vec<&'static str> {
    let shipped = || shipped.iter().filter(|version| version.text.is_some());
    let is_shipped = |name: &str| shipped().any(|version| version.ruleset == name);
    let takes_part = |layer: &LoadedRuleset| {
        let claims = layer.claims.iter().map(|claim| claim.ruleset.as_str());
        let mut all = claims.chain([layer.ruleset.as_str()]);
        all.any(is_shipped)
    };
    // Every check asks this: nothing is gathered where one takes part.
    if rules.iter().any(takes_part) {
        return Vec::new();
    }
    let mut names: Vec<&str> = Vec::new();
    for version in shipped() {
        if !names.contains(&version.ruleset) {
            names.push(version.ruleset);
        }
    }
    names
}

impl Rules {
    /// The names of the shipped rulesets, where none of them takes part.
    pub(crate) fn shipped_left_out(&self) -> Vec<&'static str> {
        shipped_left_out(self.layers(), self.catalogue().shipped())
    }
}
