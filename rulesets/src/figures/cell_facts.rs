//! The facts of a cell, as the model takes them.

use super::discharge::{CapacityTest, CellModel, MOST_LEVELS, Shown};
use super::needs::{CHARGE_BY, FIRST_TEST, FURTHER_TESTS, Need, ShownNeeds, TESTS_SHOW, TestNeeds};
use super::reader::{Notes, Reader};
use super::resistance::{self, Method};
use super::rest::{self, ChargeState};
use super::{class_voltages, rating};
use crate::class::{Class, Classes};
use crate::facts::CELL;
use crate::sizes::{self, Can};
use crate::span::{both, not_known, span};
use rules_core::facts::OptionSet;
use rules_core::quantity::Interval;

/// Temperature in degC of a test that tells none: that of a room. IEC 61960 tests at 20
/// ± 5 degC (second-hand); the model's tables are for 25 degC.
const ROOM: (f64, f64) = (18.0, 28.0);

/// Options of `cell.class` that have a curve, in the order of the catalogue. IVR and ITR have none.
const CURVES: [Class; 4] = [Class::Icr, Class::Inr, Class::Imr, Class::Ifr];

/// Options of `cell.resistance_method`, in the order of the catalogue.
const METHODS: [Method; 5] = [
    Method::Dc10s,
    Method::DcTwoCurrent,
    Method::Ac1khz,
    Method::KnownLoad,
    Method::ChargerDisplay,
];

/// The classes that a cell may be of. None if it may be of one that has no curve: a missing class may
/// be any of the options.
pub(super) fn classes(reader: Reader<'_>, position: usize, notes: &mut Notes) -> Option<Classes> {
    let stated = reader.choice(Need::Class, position, notes)?;
    if !stated.within(OptionSet::first(CURVES.len())) {
        return None;
    }
    let possible = CURVES
        .iter()
        .enumerate()
        .filter(|(at, _)| OptionSet::one(*at).meets(stated));
    Classes::collect(possible.map(|(_, class)| *class))
}

/// How large a cell is by its code, and the classes that it may be of. A code that is told is not
/// noted: no reading tells more of it, so that nothing is in doubt for it.
pub(super) fn can(reader: Reader<'_>, position: usize, notes: &mut Notes) -> (Can, OptionSet) {
    let mut side = |need: Need| {
        let coded = reader.may(need, position, &mut notes.apart());
        if coded.is_none() {
            notes.lacks(need);
        }
        coded.unwrap_or(not_known())
    };
    let (diameter, length) = (side(Need::CodeDiameter), side(Need::CodeLength));
    let class = reader.choice(Need::Class, position, notes);
    (
        Can { diameter, length },
        class.unwrap_or(sizes::every_class()),
    )
}

/// The 10-second resistance at 25 degC: what its reading and that across a load both allow. Either
/// alone is enough. Of readings that contradict each other nothing is known; a proposal with such
/// is an error, so that none is worked out of it.
pub(super) fn r10(reader: Reader<'_>, position: usize, notes: &mut Notes) -> Option<Interval> {
    let Some(read) = by_method(reader, position, notes) else {
        return loaded(reader, position, notes);
    };
    // What cannot be used of a second reading is not missing.
    let mut tried = notes.apart();
    let Some(loaded) = loaded(reader, position, &mut tried) else {
        notes.leave(tried);
        return Some(read);
    };
    notes.join(tried);
    Some(both(read, loaded).unwrap_or(not_known()))
}

/// A reading by a method that is not stated may be by any of them.
pub(super) fn by_method(
    reader: Reader<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<Interval> {
    let (as_read, temperature) = as_read(reader, position, notes)?;
    Some(temperature.map_or(as_read, |temperature| {
        resistance::at_reference(as_read, temperature)
    }))
}

/// The 10-second resistance at the temperature of the reading, and that temperature. The spread of a
/// method covers a room; what was read elsewhere says so.
fn as_read(
    reader: Reader<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<(Interval, Option<Interval>)> {
    let value = reader.may(Need::Resistance, position, notes)?;
    let stated = reader
        .choice(Need::ResistanceMethod, position, notes)
        .unwrap_or(OptionSet::first(METHODS.len()));
    let as_read = methods(stated)
        .map(|method| resistance::dc(method, value))
        .reduce(Interval::hull)?;
    Some((
        as_read,
        reader.may(Need::ResistanceTemperature, position, notes),
    ))
}

/// The methods of a choice.
fn methods(of: OptionSet) -> impl Iterator<Item = Method> {
    METHODS
        .into_iter()
        .enumerate()
        .filter(move |(at, _)| OptionSet::one(*at).meets(of))
        .map(|(_, method)| method)
}

/// The 10-second resistance at a temperature in degC: by way of that at 25 degC, and straight from
/// the reading.
pub(super) fn r10_at(
    reader: Reader<'_>,
    position: usize,
    used: Interval,
    notes: &mut Notes,
) -> Option<Interval> {
    let r10 = r10(reader, position, notes);
    let classes = classes(reader, position, notes);
    let by_way = resistance::at_any(r10?, classes?, used);
    let straight = as_read(reader, position, notes)
        .and_then(|(as_read, read)| Some(resistance::from_other(as_read, read?, used)));
    Some(
        straight
            .and_then(|straight| both(by_way, straight))
            .unwrap_or(by_way),
    )
}

/// A reading of the resistance as it compares with those of like cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Compared {
    pub(super) value: Interval,
    /// What the readings of like cells have alike.
    alike: (Classes, Option<Interval>),
    /// The pack that the cell came out of.
    pack: Option<usize>,
}

impl Compared {
    /// By what factor the ratios of two such readings differ; none if nothing is common to them.
    pub(super) fn between(all: &[Self]) -> Option<f64> {
        let first = all.first()?;
        if all.iter().any(|one| one.alike != first.alike) {
            return None;
        }
        let is_one_pack = first.pack.is_some() && all.iter().all(|one| one.pack == first.pack);
        Some(if is_one_pack {
            resistance::BETWEEN_LIKE
        } else {
            resistance::BETWEEN_CELLS
        })
    }
}

/// A reading at 1 kHz of a cell of one class.
pub(super) fn compared(reader: Reader<'_>, position: usize, notes: &mut Notes) -> Option<Compared> {
    let value = reader.may(Need::Resistance, position, notes)?;
    let stated = reader.choice(Need::ResistanceMethod, position, notes)?;
    if methods(stated).any(|method| method != Method::Ac1khz) {
        return None;
    }
    let classes = classes(reader, position, notes)?;
    let temperature = reader.may(Need::ResistanceTemperature, position, notes);
    let pack = reader.origin((Need::CellPack, Need::PackId), CELL, position, notes);
    if pack.is_some() {
        notes.uses(Need::CellPack);
    }
    (classes.iter().count() == 1).then_some(Compared {
        value,
        alike: (classes, temperature),
        pack,
    })
}

/// From a reading before and across a known resistor.
pub(super) fn loaded(reader: Reader<'_>, position: usize, notes: &mut Notes) -> Option<Interval> {
    let mut tried = notes.apart();
    let open = reader.must(Need::LoadedOpen, position, &mut tried);
    let closed = reader.must(Need::LoadedClosed, position, &mut tried);
    let resistor = reader.must(Need::LoadedResistor, position, &mut tried);
    if [open, closed, resistor].iter().all(Option::is_none) {
        notes.leave(tried);
        notes.lacks(Need::Resistance);
        return None;
    }
    notes.join(tried);
    let measured = resistance::from_load(open?, closed?, resistor?);
    if measured.is_none() {
        notes.lacks(Need::Resistance);
    }
    Some(resistance::dc(Method::KnownLoad, measured?))
}

/// A cell as the model takes it; none if something of it is missing.
pub(super) fn model(reader: Reader<'_>, position: usize, notes: &mut Notes) -> Option<CellModel> {
    let [charge, current, cut_off] = FIRST_TEST
        .whole()
        .map(|need| reader.must(need, position, notes));
    let r10 = r10(reader, position, notes).unwrap_or(not_known());
    let classes = classes(reader, position, notes)?;
    let capacity = CapacityTest {
        charge: charge?,
        current: current?,
        cut_off: cut_off?,
        temperature: temperature(FIRST_TEST.temperature, reader, position, notes),
    };
    Some(CellModel {
        classes,
        capacity,
        further: FURTHER_TESTS.map(|test| further_test(&test, reader, position, notes)),
        shown: TESTS_SHOW.map(|of| shown(&of, reader, position, notes)),
        joined: false,
        r10,
    })
}

/// The temperature of a test; of one that tells none, that of a room.
fn temperature(need: Need, reader: Reader<'_>, position: usize, notes: &mut Notes) -> Interval {
    reader
        .may(need, position, notes)
        .unwrap_or(span(ROOM.0, ROOM.1))
}

/// What a capacity test showed on its way, where it was noted.
fn shown(of: &ShownNeeds, reader: Reader<'_>, position: usize, notes: &mut Notes) -> Shown {
    // Beside a test that lacks a part nothing was shown.
    let is_whole = of
        .test
        .whole()
        .iter()
        .all(|need| reader.is_told(*need, position));
    let read = |need: Need, notes: &mut Notes| {
        if is_whole {
            reader.may(need, position, notes)
        } else {
            None
        }
    };
    Shown {
        half: read(of.half, notes),
        late: read(of.late, notes),
        energy: read(of.energy, notes),
        by: if of.test == FIRST_TEST {
            CHARGE_BY.map(|(need, volts)| Some((read(need, notes)?, volts)))
        } else {
            [None; MOST_LEVELS]
        },
    }
}

/// A further capacity test. A part of one takes no part.
fn further_test(
    of: &TestNeeds,
    reader: Reader<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<CapacityTest> {
    let mut tried = notes.apart();
    let test = all_of_test(of, reader, position, &mut tried);
    if test.is_some() {
        notes.join(tried);
    } else {
        notes.leave(tried);
    }
    test
}

/// A capacity test that tells all it has to.
pub(super) fn all_of_test(
    of: &TestNeeds,
    reader: Reader<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<CapacityTest> {
    Some(CapacityTest {
        charge: reader.may(of.charge, position, notes)?,
        current: reader.may(of.current, position, notes)?,
        cut_off: reader.may(of.cut_off, position, notes)?,
        temperature: temperature(of.temperature, reader, position, notes),
    })
}

/// What the rest voltage says of the charge state.
pub(super) fn charge_state(
    reader: Reader<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<ChargeState> {
    let rest = reader.must(Need::RestVoltage, position, notes);
    let after = reader.must(Need::RestAfter, position, notes);
    let classes = classes(reader, position, notes)?;
    Some(rest::charge_state(classes, rest?, after))
}

/// The rated energy of a cell, as transport limits count it.
pub(super) fn rated_energy(reader: Reader<'_>, cell: usize, notes: &mut Notes) -> Option<Interval> {
    let rated = reader.must(Need::RatedCapacity, cell, notes);
    let class = classes(reader, cell, notes);
    Some(rating::energy(rated?, class_voltages::nominal(class?)))
}
