//! The facts that figures look at, and what a figure looked at on its way.

use rules_core::facts::{Catalogue, FactId, Facts, Needs, OptionSet, Reach, Worked};
use rules_core::quantity::{Interval, Measure};

/// A fact that some figure looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Need {
    DrawCurrent,
    DrawPower,
    InputMin,
    CutOff,
    Standby,
    Series,
    Parallel,
    ChargeCurrent,
    Ambient,
    Class,
    RestVoltage,
    RestAfter,
    Capacity,
    CapacityAt,
    CapacityTo,
    SlowCapacity,
    SlowCapacityAt,
    SlowCapacityTo,
    RatedCapacity,
    Resistance,
    ResistanceMethod,
    LoadedOpen,
    LoadedClosed,
    LoadedResistor,
    DriftFall,
    DriftOver,
    CellGroup,
    CellPack,
    PackId,
    PackDesignation,
    PackVoltage,
    PackCapacity,
    PackEnergy,
    PackCells,
}

/// Their names, in the order of [`Need`].
const NAMES: [&str; 34] = [
    "light.draw_current",
    "light.draw_power",
    "light.input_min",
    "light.cut_off",
    "light.standby",
    "build.series",
    "build.parallel",
    "charging.current",
    "conditions.ambient",
    "cell.class",
    "cell.rest_voltage",
    "cell.rest_after",
    "cell.capacity",
    "cell.capacity_at",
    "cell.capacity_to",
    "cell.slow_capacity",
    "cell.slow_capacity_at",
    "cell.slow_capacity_to",
    "cell.rated_capacity",
    "cell.resistance",
    "cell.resistance_method",
    "cell.loaded_open",
    "cell.loaded_closed",
    "cell.loaded_resistor",
    "cell.drift_fall",
    "cell.drift_over",
    "cell.group",
    "cell.pack",
    "pack.id",
    "pack.designation",
    "pack.voltage",
    "pack.capacity",
    "pack.energy",
    "pack.cells",
];

/// The facts of [`NAMES`] in a catalogue; none if it lacks one, as a catalogue of another trade
/// does.
pub(super) fn find_all(catalogue: &Catalogue) -> Option<Vec<FactId>> {
    NAMES
        .iter()
        .map(|name| catalogue.fact_named(name).map(|(id, _)| id))
        .collect()
}

/// A set of needs.
pub(super) const fn needs(list: &[Need]) -> Needs {
    let mut set = Needs::NONE;
    let mut rest = list;
    while let [first, others @ ..] = rest {
        set = set.with(Needs::one(*first as usize));
        rest = others;
    }
    set
}

/// What has been looked at on the way to a figure.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Notes {
    pub used: Needs,
    pub missing: Needs,
    pub reach: Reach,
}

impl Notes {
    /// Adds what others looked at.
    pub(super) fn join(&mut self, other: Self) {
        self.used = self.used.with(other.used);
        self.missing = self.missing.with(other.missing);
        self.reach = self.reach.max(other.reach);
    }

    /// Marks that a fact took part.
    pub(super) fn uses(&mut self, need: Need) {
        self.used = self.used.with(Needs::one(need as usize));
    }

    /// Marks that a fact takes part and is missing.
    pub(super) fn lacks(&mut self, need: Need) {
        self.uses(need);
        self.missing = self.missing.with(Needs::one(need as usize));
    }

    /// The figure that was worked out on the way.
    pub(super) fn worked(self, value: Interval) -> Worked {
        Worked {
            value: Measure::of(value),
            used: self.used,
            missing: self.missing,
            reach: self.reach,
            open: None,
        }
    }
}

/// A thing with what was looked at to get it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Noted<T> {
    pub it: T,
    pub notes: Notes,
}

impl<T> Noted<T> {
    /// What is worked out, with what was looked at on the way.
    pub(super) fn of(work: impl FnOnce(&mut Notes) -> T) -> Self {
        let mut notes = Notes::default();
        let it = work(&mut notes);
        Self { it, notes }
    }
}

/// Reads facts and notes what it reads.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reader<'s> {
    facts: Facts<'s>,
    ids: &'s [FactId],
}

impl<'s> Reader<'s> {
    pub(super) const fn new(facts: Facts<'s>, ids: &'s [FactId]) -> Self {
        Self { facts, ids }
    }

    pub(super) const fn facts(self) -> Facts<'s> {
        self.facts
    }

    /// The fact of a need.
    pub(super) fn id(self, need: Need) -> Option<FactId> {
        self.ids.get(need as usize).copied()
    }

    /// A number that the figure cannot do without.
    pub(super) fn must(self, need: Need, position: usize, notes: &mut Notes) -> Option<Interval> {
        let found = self.may(need, position, notes);
        if found.is_none() {
            notes.lacks(need);
        }
        found
    }

    /// A number that only takes part if it is given.
    pub(super) fn may(self, need: Need, position: usize, notes: &mut Notes) -> Option<Interval> {
        let found = self.facts.number(self.id(need)?, position)?;
        notes.uses(need);
        Some(found.range())
    }

    /// The options of a choice that the figure cannot do without.
    pub(super) fn choice(
        self,
        need: Need,
        position: usize,
        notes: &mut Notes,
    ) -> Option<OptionSet> {
        notes.uses(need);
        let found = self.id(need).and_then(|id| self.facts.choice(id, position));
        if found.is_none() {
            notes.lacks(need);
        }
        found
    }

    /// A text that only takes part if it is given.
    pub(super) fn text(self, need: Need, position: usize, notes: &mut Notes) -> Option<&'s str> {
        let found = self.facts.text(self.id(need)?, position)?;
        notes.uses(need);
        Some(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_need_is_a_fact_of_its_name() {
        assert_eq!(
            find_all(crate::facts::catalogue()).map(|ids| ids.len()),
            Some(NAMES.len())
        );
        assert_eq!(NAMES.get(Need::PackCells as usize), Some(&"pack.cells"));
        assert_eq!(NAMES.get(Need::CellGroup as usize), Some(&"cell.group"));
        assert_eq!(
            NAMES.get(Need::Resistance as usize),
            Some(&"cell.resistance")
        );
    }
}
