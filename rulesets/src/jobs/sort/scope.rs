//! What a caution about each cell needs to know before it can refuse one.

use rules_core::facts::{Catalogue, FactId};
use rules_core::formula::Uses;
use rules_core::ruleset::{Caution, Rules};

/// How much must be known to judge a cell, from the least on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Scope {
    /// The cell and its pack: what they refuse is refused wherever the cell goes.
    Cell,
    /// The light that the cell is tried in as well: its draw, its bays, the cells beside it.
    Light,
    /// The charger, the place and the use as well, which are known when a plan is made.
    Plan,
}

impl Scope {
    /// In which a subject is known.
    pub(super) fn of_subject(name: &str) -> Self {
        match name {
            "cell" | "pack" => Self::Cell,
            "charging" | "conditions" => Self::Plan,
            _ => Self::Light,
        }
    }

    /// The least in which a caution can refuse a cell.
    ///
    /// Of several things that must hold one is enough: `cell.wrap == intact and light.bays == 1`
    /// refuses a nicked cell, whatever the light.
    pub(super) fn least_of(caution: &Caution, rules: &Rules) -> Self {
        let widest = |uses: &Uses| {
            let all = Self::of_uses(uses, rules.catalogue());
            all.max().unwrap_or(Self::Cell)
        };
        let condition = widest(&rules.uses_of_its_condition(caution));
        let demands = rules.uses_of_its_demands(caution);
        let least = demands.iter().map(widest).min();
        least.unwrap_or(Self::Cell).max(condition)
    }

    /// Whether a caution looks at a light at all.
    pub(super) fn looks_at_a_light(caution: &Caution, rules: &Rules) -> bool {
        let uses = rules.uses_of(caution);
        Self::of_uses(&uses, rules.catalogue()).any(|scope| scope == Self::Light)
    }

    fn of_uses(uses: &Uses, catalogue: &Catalogue) -> impl Iterator<Item = Self> {
        let all = uses.facts.iter().chain(&uses.asked);
        all.map(|fact| Self::of_fact(*fact, catalogue))
    }

    fn of_fact(fact: FactId, catalogue: &Catalogue) -> Self {
        let known = catalogue.fact(fact);
        let subject = known.map(|known| catalogue.subject_name(known.subject));
        Self::of_subject(subject.unwrap_or_default())
    }
}
