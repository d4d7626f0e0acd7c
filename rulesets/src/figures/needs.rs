//! The facts that figures look at: one table of what each is called in the code and in `facts.yaml`,
//! and the sets of them that several figures declare.

use self::Need::*;
use super::discharge::{MOST_LEVELS, MOST_TESTS};
use rules_core::facts::{Catalogue, FactId, Needs};

/// A list of this library that does not go with a catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ListFault {
    /// A figure looks at what is no fact of the catalogue.
    #[error("figures look at `{0}`, which is no fact of the catalogue")]
    NoFact(&'static str),
    /// A figure is about no subject of the catalogue.
    #[error("the figure `{0}` is about no subject of the catalogue")]
    NoSubject(&'static str),
}

/// Writes the list of facts once, for the type and for its names.
macro_rules! facts_looked_at {
    ($($need:ident = $name:literal,)+) => {
        /// A fact that some figure looks at.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub(super) enum Need {
            $(#[doc = $name] $need,)+
        }

        /// Their names, in the order of [`Need`].
        const NAMES: &[&str] = &[$($name,)+];

        const EVERY: &[Need] = &[$(Need::$need,)+];
    };
}

facts_looked_at! {
    DrawCurrent = "light.draw_current",
    DrawPower = "light.draw_power",
    InputMin = "light.input_min",
    CutOff = "light.cut_off",
    Standby = "light.standby",
    Series = "build.series",
    Parallel = "build.parallel",
    ChargeCurrent = "charging.current",
    Ambient = "conditions.ambient",
    RunSinceFull = "conditions.run_since_full",
    StoredAt = "conditions.stored_at",
    Class = "cell.class",
    CodeDiameter = "cell.code_diameter",
    CodeLength = "cell.code_length",
    RestVoltage = "cell.rest_voltage",
    RestAfter = "cell.rest_after",
    Capacity = "cell.capacity",
    CapacityAt = "cell.capacity_at",
    CapacityTo = "cell.capacity_to",
    CapacityTemperature = "cell.capacity_temperature",
    CapacityHalf = "cell.capacity_half",
    CapacityLate = "cell.capacity_late",
    CapacityEnergy = "cell.capacity_energy",
    CapacityBy3300Mv = "cell.capacity_by_3300mv",
    CapacityBy3000Mv = "cell.capacity_by_3000mv",
    CapacityBy2750Mv = "cell.capacity_by_2750mv",
    CapacityBy2500Mv = "cell.capacity_by_2500mv",
    CapacitySetAside = "cell.capacity_set_aside",
    Capacity2 = "cell.capacity_2",
    Capacity2At = "cell.capacity_2_at",
    Capacity2To = "cell.capacity_2_to",
    Capacity2Temperature = "cell.capacity_2_temperature",
    Capacity2Half = "cell.capacity_2_half",
    Capacity2Late = "cell.capacity_2_late",
    Capacity2Energy = "cell.capacity_2_energy",
    Capacity3 = "cell.capacity_3",
    Capacity3At = "cell.capacity_3_at",
    Capacity3To = "cell.capacity_3_to",
    Capacity3Temperature = "cell.capacity_3_temperature",
    Capacity3Half = "cell.capacity_3_half",
    Capacity3Late = "cell.capacity_3_late",
    Capacity3Energy = "cell.capacity_3_energy",
    Capacity4 = "cell.capacity_4",
    Capacity4At = "cell.capacity_4_at",
    Capacity4To = "cell.capacity_4_to",
    Capacity4Temperature = "cell.capacity_4_temperature",
    Capacity4Half = "cell.capacity_4_half",
    Capacity4Late = "cell.capacity_4_late",
    Capacity4Energy = "cell.capacity_4_energy",
    RatedCapacity = "cell.rated_capacity",
    Resistance = "cell.resistance",
    ResistanceMethod = "cell.resistance_method",
    ResistanceTemperature = "cell.resistance_temperature",
    LoadedOpen = "cell.loaded_open",
    LoadedClosed = "cell.loaded_closed",
    LoadedResistor = "cell.loaded_resistor",
    DriftFrom = "cell.drift_from",
    DriftTo = "cell.drift_to",
    DriftFall = "cell.drift_fall",
    DriftOver = "cell.drift_over",
    CellGroup = "cell.group",
    CellPack = "cell.pack",
    PackId = "pack.id",
    PackDesignation = "pack.designation",
    PackVoltage = "pack.voltage",
    PackCapacity = "pack.capacity",
    PackEnergy = "pack.energy",
    PackCells = "pack.cells",
}

// More would not fit into a set of needs, and would be left out of it without a word.
const _: () = assert!(NAMES.len() <= 128);

/// The facts of the table in a catalogue.
///
/// # Errors
///
/// The first name that is no fact of the catalogue.
pub(super) fn find_all(catalogue: &Catalogue) -> Result<Vec<FactId>, ListFault> {
    let find = |name: &&'static str| {
        let found = catalogue.fact_named(name).map(|(id, _)| id);
        found.ok_or(ListFault::NoFact(name))
    };
    NAMES.iter().map(find).collect()
}

/// A set of needs.
pub(super) const fn set(list: &[Need]) -> Needs {
    let mut set = Needs::NONE;
    let mut rest = list;
    while let [first, others @ ..] = rest {
        set = set.with(Needs::one(*first as usize));
        rest = others;
    }
    set
}

/// All of the table.
pub(super) const ALL: Needs = set(EVERY);
/// What the light draws, and until when.
pub(super) const LOAD: Needs = set(&[DrawCurrent, DrawPower, CutOff, InputMin]);
/// Every reading of a cell's resistance.
pub(super) const RESISTANCE: Needs = set(&[
    Need::Resistance,
    ResistanceMethod,
    ResistanceTemperature,
    LoadedOpen,
    LoadedClosed,
    LoadedResistor,
]);
/// The facts of one capacity test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct TestNeeds {
    pub(super) charge: Need,
    pub(super) current: Need,
    pub(super) cut_off: Need,
    pub(super) temperature: Need,
}

/// The first capacity test of a cell.
pub(super) const FIRST_TEST: TestNeeds = TestNeeds {
    charge: Capacity,
    current: CapacityAt,
    cut_off: CapacityTo,
    temperature: CapacityTemperature,
};

/// Its further capacity tests, by place.
pub(super) const FURTHER_TESTS: [TestNeeds; MOST_TESTS - 1] = [
    TestNeeds {
        charge: Capacity2,
        current: Capacity2At,
        cut_off: Capacity2To,
        temperature: Capacity2Temperature,
    },
    TestNeeds {
        charge: Capacity3,
        current: Capacity3At,
        cut_off: Capacity3To,
        temperature: Capacity3Temperature,
    },
    TestNeeds {
        charge: Capacity4,
        current: Capacity4At,
        cut_off: Capacity4To,
        temperature: Capacity4Temperature,
    },
];

/// The charge that the first test had given when it came down to a voltage, in V.
pub(super) const CHARGE_BY: [(Need, f64); MOST_LEVELS] = [
    (CapacityBy3300Mv, 3.3),
    (CapacityBy3000Mv, 3.0),
    (CapacityBy2750Mv, 2.75),
    (CapacityBy2500Mv, 2.5),
];

/// What a capacity test showed on its way.
#[derive(Debug, Clone, Copy)]
pub(super) struct ShownNeeds {
    pub(super) test: TestNeeds,
    pub(super) half: Need,
    pub(super) late: Need,
    pub(super) energy: Need,
}

/// The same of each test, by place.
pub(super) const TESTS_SHOW: [ShownNeeds; MOST_TESTS] = {
    let [second, third, fourth] = FURTHER_TESTS;
    [
        ShownNeeds {
            test: FIRST_TEST,
            half: CapacityHalf,
            late: CapacityLate,
            energy: CapacityEnergy,
        },
        ShownNeeds {
            test: second,
            half: Capacity2Half,
            late: Capacity2Late,
            energy: Capacity2Energy,
        },
        ShownNeeds {
            test: third,
            half: Capacity3Half,
            late: Capacity3Late,
            energy: Capacity3Energy,
        },
        ShownNeeds {
            test: fourth,
            half: Capacity4Half,
            late: Capacity4Late,
            energy: Capacity4Energy,
        },
    ]
};

impl TestNeeds {
    /// As a set.
    pub(super) const fn all(&self) -> Needs {
        set(&[self.charge, self.current, self.cut_off, self.temperature])
    }

    /// What a test says nothing without.
    pub(super) const fn whole(&self) -> [Need; 3] {
        [self.charge, self.current, self.cut_off]
    }
}

/// Every capacity test of a cell.
pub(super) const TESTS: Needs = {
    let [second, third, fourth] = &FURTHER_TESTS;
    FIRST_TEST
        .all()
        .with(second.all())
        .with(third.all())
        .with(fourth.all())
        .with(set(&[
            CapacityHalf,
            CapacityLate,
            CapacityEnergy,
            CapacityBy3300Mv,
            CapacityBy3000Mv,
            CapacityBy2750Mv,
            CapacityBy2500Mv,
            Capacity2Half,
            Capacity2Late,
            Capacity2Energy,
            Capacity3Half,
            Capacity3Late,
            Capacity3Energy,
            Capacity4Half,
            Capacity4Late,
            Capacity4Energy,
        ]))
};
/// A cell as the model takes it.
pub(super) const MODEL: Needs = TESTS.with(set(&[Class])).with(RESISTANCE);
/// How large a cell is, and of which class.
pub(super) const SIZE: Needs = set(&[Class, CodeDiameter, CodeLength]);
/// The charge state.
pub(super) const REST: Needs = set(&[Class, RestVoltage, RestAfter]);
/// How far the voltage of a cell falls that nothing is drawn from.
pub(super) const FALL: Needs = set(&[DriftFrom, DriftTo, DriftFall]);
/// How fast such a cell loses its charge.
pub(super) const DRIFT: Needs = FALL.with(set(&[Class, DriftOver]));
/// How long cells last that lie in a light.
pub(super) const DRAINED: Needs = set(&[Class, Capacity, Standby, Parallel, StoredAt]);
/// What is printed on a pack.
pub(super) const LABEL: Needs = set(&[
    PackDesignation,
    PackVoltage,
    PackCapacity,
    PackEnergy,
    PackCells,
]);
/// The model of a group.
pub(super) const GROUP_MODEL: Needs = MODEL.with(set(&[CellGroup]));
/// A discharge from a full charge.
pub(super) const FULL: Needs = LOAD.with(GROUP_MODEL).with(set(&[Series, Ambient]));
/// A discharge from the charge that the rest voltage shows.
pub(super) const NOW: Needs = FULL.with(REST);
/// What is left, by counting.
pub(super) const COUNTED: Needs = FULL.with(set(&[RunSinceFull, Standby]));
/// The resistances of a group.
pub(super) const JOINED: Needs = RESISTANCE.with(set(&[CellGroup]));
/// How a group shares its current: like cells are compared with each other.
pub(super) const SHARES: Needs = JOINED.with(set(&[Class, CellPack, PackId]));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_need_is_a_fact_of_its_name() {
        let ids = find_all(crate::facts::catalogue()).map(|ids| ids.len());
        assert_eq!(ids, Ok(NAMES.len()));
    }

    #[test]
    fn a_need_that_is_no_fact_is_named() {
        let nothing = Catalogue::of_subjects(&[]);
        assert_eq!(
            find_all(&nothing),
            Err(ListFault::NoFact("light.draw_current"))
        );
    }
}
