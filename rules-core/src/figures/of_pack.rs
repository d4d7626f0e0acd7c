//! Figures of a pack, from its label.

use super::desk::Desk;
use super::label::{Label, Plausible, Reading, decode};
use super::needs::{Need, Notes};
use super::span::{not_known, span};
use crate::facts::{Reach, Worked};
use crate::proposal::CELL;
use crate::quantity::Interval;

/// What a label cannot be read for.
const NOT_READ: &str =
    "the label contradicts itself or cannot be read; `cellrules label` says where";
/// Energies are rounded more freely than their digits tell: by one part in a hundred. Common
/// practice.
const ENERGY_ROUNDING: (f64, f64) = (0.99, 1.01);

/// One or more, and how many is not known.
fn some() -> Interval {
    span(1.0, f64::INFINITY)
}

/// `pack.series`
pub(super) fn series(desk: &Desk<'_>, pack: usize) -> Worked {
    figure(desk, pack, some(), |reading| {
        Some(Interval::point(f64::from(reading.series)))
    })
}

/// `pack.parallel`
pub(super) fn parallel(desk: &Desk<'_>, pack: usize) -> Worked {
    figure(desk, pack, some(), |reading| {
        reading
            .parallel
            .map(|parallel| Interval::point(f64::from(parallel)))
    })
}

/// `pack.cell_capacity`
pub(super) fn cell_capacity(desk: &Desk<'_>, pack: usize) -> Worked {
    figure(desk, pack, not_known(), |reading| reading.cell_capacity)
}

/// `pack.cell_voltage`
pub(super) fn cell_voltage(desk: &Desk<'_>, pack: usize) -> Worked {
    figure(desk, pack, not_known(), |reading| reading.cell_voltage)
}

/// `cell.label_capacity`
pub(super) fn label_capacity(desk: &Desk<'_>, cell: usize) -> Worked {
    let mut notes = Notes::default();
    let is_named = desk.reader.text(Need::CellPack, cell, &mut notes).is_some();
    let pack = desk
        .reader
        .facts()
        .sheet()
        .instance(CELL, cell)
        .and_then(|cell| cell.origin);
    let Some(pack) = pack else {
        notes.lacks(if is_named {
            Need::PackCapacity
        } else {
            Need::CellPack
        });
        return notes.worked(not_known());
    };
    notes.uses(Need::PackId);
    let worked = cell_capacity(desk, pack);
    notes.join(Notes {
        used: worked.used,
        missing: worked.missing,
        reach: Reach::Own,
    });
    Worked {
        open: worked.open,
        ..notes.worked(worked.value.range())
    }
}

/// The hull of what every reading says that can be true of real cells.
fn figure(
    desk: &Desk<'_>,
    pack: usize,
    unknown: Interval,
    of: impl Fn(&Reading) -> Option<Interval>,
) -> Worked {
    let mut notes = Notes::default();
    let label = label(desk, pack, &mut notes);
    if label.voltage.is_none() && label.code.is_none() {
        notes.lacks(Need::PackVoltage);
        return notes.worked(unknown);
    }
    let possible = desk.readings(pack, || possible(&label));
    if possible.is_empty() {
        return Worked {
            open: Some(NOT_READ),
            ..notes.worked(unknown)
        };
    }
    let values = possible.iter().map(of).collect::<Option<Vec<Interval>>>();
    match values.and_then(|values| values.into_iter().reduce(Interval::hull)) {
        Some(value) => notes.worked(value),
        None => {
            notes.lacks(if label.capacity.is_none() {
                Need::PackCapacity
            } else {
                Need::PackVoltage
            });
            notes.worked(unknown)
        }
    }
}

/// What can be true of real cells.
fn possible(label: &Label<'_>) -> Vec<Reading> {
    let readings = decode(label)
        .map(|decoded| decoded.readings)
        .unwrap_or_default();
    readings
        .into_iter()
        .filter(|reading| reading.plausible() != Plausible::Implausible)
        .collect()
}

fn label<'s>(desk: &Desk<'s>, pack: usize, notes: &mut Notes) -> Label<'s> {
    let reader = desk.reader;
    let energy = reader.may(Need::PackEnergy, pack, notes);
    Label {
        voltage: reader.may(Need::PackVoltage, pack, notes),
        capacity: reader.may(Need::PackCapacity, pack, notes),
        energy: energy
            .map(|energy| energy.hull(energy * span(ENERGY_ROUNDING.0, ENERGY_ROUNDING.1))),
        code: reader.text(Need::PackDesignation, pack, notes),
        cells: reader.may(Need::PackCells, pack, notes).and_then(whole),
    }
}

/// A count that is known.
fn whole(count: Interval) -> Option<u32> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count's domain is from 1 to far below 2^32"
    )]
    count.is_point().then(|| count.lo() as u32)
}
