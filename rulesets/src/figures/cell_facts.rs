//! The facts of a cell, as the model takes them.

use super::discharge::{CapacityTest, CellModel};
use super::needs::Need;
use super::reader::{Notes, Reader};
use super::resistance::{self, Method};
use super::rest::{self, ChargeState};
use super::{class_voltages, rating};
use crate::class::{Class, Classes};
use crate::span::{both, not_known, span};
use rules_core::facts::OptionSet;
use rules_core::quantity::Interval;

/// Temperature in degC at which cells are taken to be tested: that of a room. IEC 61960 tests at 20
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
    let value = reader.may(Need::Resistance, position, notes)?;
    let stated = reader
        .choice(Need::ResistanceMethod, position, notes)
        .unwrap_or(OptionSet::first(METHODS.len()));
    let possible = METHODS
        .iter()
        .enumerate()
        .filter(|(at, _)| OptionSet::one(*at).meets(stated));
    possible
        .map(|(_, method)| resistance::dc(*method, value))
        .reduce(Interval::hull)
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
    let charge = reader.must(Need::Capacity, position, notes);
    let current = reader.must(Need::CapacityAt, position, notes);
    let cut_off = reader.must(Need::CapacityTo, position, notes);
    let r10 = r10(reader, position, notes);
    let classes = classes(reader, position, notes)?;
    let temperature = span(ROOM.0, ROOM.1);
    let capacity = CapacityTest {
        charge: charge?,
        current: current?,
        cut_off: cut_off?,
        temperature,
    };
    Some(CellModel {
        classes,
        capacity,
        slow: slow_test(reader, position, notes),
        r10: r10?,
    })
}

/// A second, slow capacity test. A part of one takes no part.
fn slow_test(reader: Reader<'_>, position: usize, notes: &mut Notes) -> Option<CapacityTest> {
    let mut tried = notes.apart();
    let test = all_of_slow_test(reader, position, &mut tried);
    if test.is_some() {
        notes.join(tried);
    } else {
        notes.leave(tried);
    }
    test
}

fn all_of_slow_test(
    reader: Reader<'_>,
    position: usize,
    notes: &mut Notes,
) -> Option<CapacityTest> {
    Some(CapacityTest {
        charge: reader.may(Need::SlowCapacity, position, notes)?,
        current: reader.may(Need::SlowCapacityAt, position, notes)?,
        cut_off: reader.may(Need::SlowCapacityTo, position, notes)?,
        temperature: span(ROOM.0, ROOM.1),
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
    Some(rating::energy(
        rated?,
        class_voltages::voltages(class?, None).nominal,
    ))
}
