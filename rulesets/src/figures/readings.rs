//! Readings of one thing that a proposal gives twice, and readings that no figure can use.
//!
//! Where two readings can both be true a figure takes what both allow; so it does in `cell_facts`,
//! of a resistance, and in `of_pack`, of the numbers of a label. Where they cannot, one of them is
//! wrong and nobody can tell which, so that the proposal is an error. They contradict each other
//! only if no value is left by the widest that either allows, the spread of its method included.
//!
//! A label is not a reading: it is printed so, true or false. Of one that contradicts itself
//! nothing is known, and the rules warn of it.

mod tests;

use super::needs::{ALL, FURTHER_TESTS, Need};
use super::reader::{Notes, Reader};
use super::shared_work::SharedWork;
use super::{cell_facts, drift, of_pack};
use crate::facts::{CELL, PACK};
use crate::span::both;
use rules_core::facts::{Clash, Reading, Unused};
use rules_core::quantity::Kind;

/// All readings of a sheet that cannot both be true.
pub(super) fn clashes(reader: Reader<'_>) -> Vec<Clash> {
    let cells = 0..reader.count(CELL);
    cells
        .flat_map(|cell| {
            let tests = tests::clashes(reader, cell);
            let others = [resistances, falls].map(|clash| clash(reader, cell));
            others.into_iter().flatten().chain(tests)
        })
        .collect()
}

/// The resistance by its method, and by the reading across a load.
fn resistances(reader: Reader<'_>, cell: usize) -> Option<Clash> {
    let mut notes = Notes::of(ALL);
    let by_method = cell_facts::by_method(reader, cell, &mut notes)?;
    let loaded = cell_facts::loaded(reader, cell, &mut notes)?;
    if both(by_method, loaded).is_some() {
        return None;
    }
    Some(Clash {
        subject: CELL,
        position: cell,
        of: "a resistance after 10 s of direct current",
        kind: Kind::Resistance,
        readings: [
            Reading {
                fact: reader.id(Need::Resistance)?,
                value: by_method,
            },
            Reading {
                fact: reader.id(Need::LoadedClosed)?,
                value: loaded,
            },
        ],
    })
}

/// The fall of a watch as noted, and by its two readings.
fn falls(reader: Reader<'_>, cell: usize) -> Option<Clash> {
    let mut notes = Notes::of(ALL);
    let noted = reader.may(Need::DriftFall, cell, &mut notes)?;
    let between = drift::between(reader, cell, &mut notes)?;
    if both(noted, between).is_some() {
        return None;
    }
    Some(Clash {
        subject: CELL,
        position: cell,
        of: "a fall of the rest voltage",
        kind: Kind::Voltage,
        readings: [
            Reading {
                fact: reader.id(Need::DriftTo)?,
                value: between,
            },
            Reading {
                fact: reader.id(Need::DriftFall)?,
                value: noted,
            },
        ],
    })
}

const LOADED: [Need; 3] = [Need::LoadedOpen, Need::LoadedClosed, Need::LoadedResistor];

/// All readings of a sheet that no figure can use.
pub(super) fn unused(shared: &SharedWork<'_>) -> Vec<Unused> {
    let reader = shared.reader;
    let of_cells = (0..reader.count(CELL)).flat_map(|cell| {
        let tests = FURTHER_TESTS.into_iter().map(move |test| in_part(reader, cell, &test.whole(), "a further capacity test needs its charge, its current and its end voltage: `{ value: ..., at: ..., to: ... }`"));
        tests.chain(tests::unfit(reader, cell).into_iter().map(Some)).chain([
            set_aside(reader, cell),
            in_part(reader, cell, &LOADED, "a reading across a load needs both voltages and the resistor: `loaded: { open: ..., closed: ..., resistor: ... }`")
                .or_else(|| without_a_fall(reader, cell)),
        ])
    });
    let of_packs = (0..reader.count(PACK)).flat_map(|pack| of_pack::unused(shared, pack));
    of_cells.flatten().chain(of_packs).collect()
}

/// Facts of which some are given and others are not, and which are of use together alone.
fn in_part(reader: Reader<'_>, cell: usize, needs: &[Need], why: &'static str) -> Option<Unused> {
    let given: Vec<Need> = needs
        .iter()
        .copied()
        .filter(|need| is_given(reader, *need, cell))
        .collect();
    if given.is_empty() || given.len() == needs.len() {
        return None;
    }
    Some(Unused {
        subject: CELL,
        position: cell,
        facts: given
            .into_iter()
            .filter_map(|need| reader.id(need))
            .collect(),
        why,
    })
}

/// A reading across a load that does not surely lower the voltage.
fn without_a_fall(reader: Reader<'_>, cell: usize) -> Option<Unused> {
    let all = LOADED.iter().all(|need| is_given(reader, *need, cell));
    if !all || cell_facts::loaded(reader, cell, &mut Notes::of(ALL)).is_some() {
        return None;
    }
    Some(Unused {
        subject: CELL,
        position: cell,
        facts: LOADED
            .into_iter()
            .filter_map(|need| reader.id(need))
            .collect(),
        why: "the load does not surely lower the voltage; read both voltages with more digits, or with a smaller resistor",
    })
}

fn is_given(reader: Reader<'_>, need: Need, position: usize) -> bool {
    reader.may(need, position, &mut Notes::of(ALL)).is_some()
}

/// A capacity test that was set aside, and why.
fn set_aside(reader: Reader<'_>, cell: usize) -> Option<Unused> {
    let need = Need::CapacitySetAside;
    reader.text(need, cell, &mut Notes::of(ALL))?;
    Some(Unused {
        subject: CELL,
        position: cell,
        facts: reader.id(need).into_iter().collect(),
        why: "a capacity test is set aside in the proposal, with its reason; no figure and no caution sees it",
    })
}
