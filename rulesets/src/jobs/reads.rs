//! What each caution reads, worked out once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rules_core::facts::FactId;
use rules_core::formula::{LimitId, Uses};
use rules_core::ruleset::Rules;

/// By caution what its conditions refer to.
pub(super) struct Reads(BTreeMap<Arc<str>, Uses>);

impl Reads {
    pub(super) fn of(rules: &Rules) -> Self {
        let all = rules.cautions().iter();
        Self(
            all.map(|one| (Arc::clone(&one.id), rules.uses_of(one)))
                .collect(),
        )
    }

    /// The facts that a caution reads, and those of which it asks whether they are known.
    pub(super) fn all(&self, caution: &Arc<str>) -> impl Iterator<Item = FactId> {
        let uses = self.0.get(caution).into_iter();
        uses.flat_map(|uses| uses.facts.iter().chain(&uses.asked).copied())
    }

    /// Whether a caution asks if a fact is known.
    pub(super) fn asks_for(&self, caution: &Arc<str>, fact: FactId) -> bool {
        let uses = self.0.get(caution);
        uses.is_some_and(|uses| uses.asked.contains(&fact))
    }

    /// The cautions that read one of some facts, or ask whether it is known.
    pub(super) fn of_any(&self, facts: &BTreeSet<FactId>) -> BTreeSet<Arc<str>> {
        let reads = |uses: &Uses| {
            let mut all = uses.facts.iter().chain(&uses.asked);
            all.any(|fact| facts.contains(fact))
        };
        let all = self.0.iter().filter(|(_, uses)| reads(uses));
        all.map(|(caution, _)| Arc::clone(caution)).collect()
    }

    /// The limits of cautions.
    pub(super) fn limits(&self, of: &BTreeSet<Arc<str>>) -> BTreeSet<LimitId> {
        let uses = of.iter().filter_map(|caution| self.0.get(caution));
        uses.flat_map(|uses| uses.limits.iter().copied()).collect()
    }
}
