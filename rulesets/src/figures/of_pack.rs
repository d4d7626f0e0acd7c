//! Figures of a pack, from its label.

use super::needs::{LABEL, Need};
use super::reader::{Notes, Reader};
use super::shared_work::{Kept, PackWork, SharedWork};
use crate::facts::{CELL, PACK};
use crate::label::{Label, LabelFault, PackReading, Plausible, Printed, decode, states_parallel};
use crate::span::{both, not_known, span};
use rules_core::facts::{Unused, Worked};
use rules_core::quantity::Interval;

/// What a label cannot be read for.
const NOT_READ: &str =
    "the label contradicts itself or cannot be read; `cellrules label` says where";
/// By how much the energy of a true label may differ from voltage times capacity besides the digits
/// of all three: one number names the typical capacity and another the least, and voltages are
/// rounded. Common practice; the shipped rules warn beyond the same.
const ENERGY_GAP: (f64, f64) = (0.95, 1.05);

/// One or more, and how many is not known.
fn some() -> Interval {
    span(1.0, f64::INFINITY)
}

/// `pack.series`
pub(super) fn series(shared: &SharedWork<'_>, pack: usize, notes: Notes) -> Worked {
    figure(shared, pack, notes, some(), |reading| {
        Some(Interval::point(f64::from(reading.series)))
    })
}

/// `pack.parallel`
pub(super) fn parallel(shared: &SharedWork<'_>, pack: usize, notes: Notes) -> Worked {
    of_a_branch(shared, pack, notes, some(), |reading| {
        reading
            .parallel
            .map(|parallel| Interval::point(f64::from(parallel)))
    })
}

/// `pack.cell_capacity`
pub(super) fn cell_capacity(shared: &SharedWork<'_>, pack: usize, notes: Notes) -> Worked {
    of_a_branch(shared, pack, notes, not_known(), |reading| {
        reading.cell_capacity
    })
}

/// `pack.cell_voltage`
pub(super) fn cell_voltage(shared: &SharedWork<'_>, pack: usize, notes: Notes) -> Worked {
    figure(shared, pack, notes, not_known(), |reading| {
        reading.cell_voltage
    })
}

/// `cell.label_capacity`
pub(super) fn label_capacity(shared: &SharedWork<'_>, cell: usize, mut notes: Notes) -> Worked {
    let is_named = shared
        .reader
        .text(Need::CellPack, cell, &mut notes)
        .is_some();
    let pack = shared
        .reader
        .origin((Need::CellPack, Need::PackId), CELL, cell, &mut notes);
    let Some(pack) = pack else {
        notes.lacks(if is_named {
            Need::PackCapacity
        } else {
            Need::CellPack
        });
        return notes.worked(not_known());
    };
    cell_capacity(shared, pack, notes)
}

/// The same of what rests on the number in parallel. Voltage and capacity alone do not tell it: with
/// other cells than are common it could be any.
fn of_a_branch(
    shared: &SharedWork<'_>,
    pack: usize,
    mut notes: Notes,
    unknown: Interval,
    of: impl Fn(&PackReading) -> Option<Interval>,
) -> Worked {
    let label = label(shared, pack, &mut notes);
    if label.cells.is_some() || states_parallel(&label) {
        return figure(shared, pack, notes, unknown, of);
    }
    notes.lacks(Need::PackCells);
    notes.worked(unknown)
}

/// The hull of what every reading says that can be true of real cells.
fn figure(
    shared: &SharedWork<'_>,
    pack: usize,
    mut notes: Notes,
    unknown: Interval,
    of: impl Fn(&PackReading) -> Option<Interval>,
) -> Worked {
    let label = label(shared, pack, &mut notes);
    if label.voltage.is_none() && label.code.is_none() {
        notes.lacks(Need::PackVoltage);
        return notes.worked(unknown);
    }
    let possible = readings(shared, pack, &mut notes);
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

/// What can be true of a pack by its label.
fn readings<'k>(shared: &'k SharedWork<'_>, pack: usize, notes: &mut Notes) -> &'k [PackReading] {
    let possible = |notes: &mut Notes| possible(&legible_label(shared, pack, notes));
    let pack = shared.packs.get(pack);
    let kept = pack.and_then(|pack| pack.readings.get(LABEL, notes, possible));
    kept.map_or(&[], Vec::as_slice)
}

/// The label of a pack.
fn label<'s>(shared: &SharedWork<'s>, pack: usize, notes: &mut Notes) -> Label<'s> {
    let read = |notes: &mut Notes| read_label(shared.reader, pack, notes);
    kept(shared, pack, notes, |pack| &pack.label, read)
}

/// The label of a pack without the numbers that nothing can be read from.
fn legible_label<'s>(shared: &SharedWork<'s>, pack: usize, notes: &mut Notes) -> Label<'s> {
    let read = |notes: &mut Notes| legible(label(shared, pack, notes));
    kept(shared, pack, notes, |pack| &pack.legible, read)
}

/// A label that is kept of a pack, read if it was not yet.
fn kept<'s>(
    shared: &SharedWork<'s>,
    pack: usize,
    notes: &mut Notes,
    place: for<'k> fn(&'k PackWork<'s>) -> &'k Kept<Label<'s>>,
    read: impl FnOnce(&mut Notes) -> Label<'s>,
) -> Label<'s> {
    match shared.packs.get(pack) {
        Some(pack) => place(pack).get(LABEL, notes, read).copied(),
        None => Some(read(notes)),
    }
    .unwrap_or_default()
}

/// What can be true of real cells by a legible label; nothing by one that contradicts itself.
fn possible(label: &Label<'_>) -> Vec<PackReading> {
    let decoded = taken_together(label).and_then(|label| decode(&label).ok());
    decoded
        .filter(|decoded| decoded.contradictions.is_empty())
        .map(|decoded| decoded.readings)
        .unwrap_or_default()
        .into_iter()
        .filter(|reading| reading.plausible() != Plausible::Implausible)
        .collect()
}

/// Voltage, capacity and energy as far as each goes with the two others; none if they do not.
fn taken_together<'t>(label: &Label<'t>) -> Option<Label<'t>> {
    let (Some(voltage), Some(capacity), Some(energy)) =
        (label.voltage, label.capacity, label.energy)
    else {
        return Some(*label);
    };
    Some(Label {
        voltage: Some(both(voltage, energy / capacity)?),
        capacity: Some(both(capacity, energy / voltage)?),
        energy: Some(both(energy, voltage * capacity)?),
        ..*label
    })
}

/// A label without the numbers that nothing can be read from. Each that is left out leaves as much
/// known as if it had not been there.
fn legible<'t>(label: Label<'t>) -> Label<'t> {
    let faults = decode(&label).err().unwrap_or_default();
    let left = faults
        .into_iter()
        .filter_map(LabelFault::printed)
        .fold(label, without);
    if left == label { label } else { legible(left) }
}

/// A label without a number, and without what that may have been worked out of.
fn without<'t>(label: Label<'t>, printed: Printed) -> Label<'t> {
    let rest = Label {
        energy: None,
        ..label
    };
    match printed {
        Printed::Voltage if label.voltage.is_some() => Label {
            voltage: None,
            ..label
        },
        Printed::Capacity if label.capacity.is_some() => Label {
            capacity: None,
            ..label
        },
        Printed::Voltage | Printed::Capacity | Printed::Energy => rest,
    }
}

/// What of a label no figure can use.
pub(super) fn unused(shared: &SharedWork<'_>, pack: usize) -> impl Iterator<Item = Unused> + use<> {
    let (reader, notes) = (shared.reader, &mut Notes::of(LABEL));
    let given = label(shared, pack, notes);
    let left = legible_label(shared, pack, notes);
    let dropped = [
        (Need::PackVoltage, given.voltage != left.voltage),
        (Need::PackCapacity, given.capacity != left.capacity),
        (Need::PackEnergy, given.energy != left.energy),
    ];
    let numbers = dropped
        .into_iter()
        .filter(|(_, dropped)| *dropped)
        .filter_map(|(need, _)| reader.id(need))
        .collect();
    let counted = reader.may(Need::PackCells, pack, notes).is_some() && given.cells.is_none();
    let count = counted.then(|| reader.id(Need::PackCells)).flatten();
    [
        (
            numbers,
            "no label has such a number, or it is too wide to tell; `cellrules label` says more",
        ),
        (
            Vec::from_iter(count),
            "a count of cells tells the arrangement where it is one number",
        ),
    ]
    .into_iter()
    .filter(|(facts, _): &(Vec<_>, _)| !facts.is_empty())
    .map(move |(facts, why)| Unused {
        subject: PACK,
        position: pack,
        facts,
        why,
    })
}

fn read_label<'s>(reader: Reader<'s>, pack: usize, notes: &mut Notes) -> Label<'s> {
    let energy = reader.may(Need::PackEnergy, pack, notes);
    Label {
        voltage: reader.may(Need::PackVoltage, pack, notes),
        capacity: reader.may(Need::PackCapacity, pack, notes),
        energy: energy.map(|energy| energy.hull(energy * span(ENERGY_GAP.0, ENERGY_GAP.1))),
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
