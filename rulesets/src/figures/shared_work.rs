//! What several figures of one sheet rest on, worked out once and kept. Who works it out stands
//! above: here are the places to keep it in.

use std::cell::OnceCell;

use super::discharge::{CellModel, Discharge};
use super::needs::{FULL, NOW, Need};
use super::reader::{Noted, Notes, Reader};
use super::string::StringDischarge;
use crate::facts::{CELL, GROUP, PACK};
use crate::label::{Label, PackReading};
use rules_core::facts::Needs;
use rules_core::quantity::Interval;

/// A place for what is worked out once, with what was looked at for it.
pub(super) struct Kept<T>(OnceCell<Noted<T>>);

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Self(OnceCell::new())
    }
}

impl<T> Kept<T> {
    /// What is kept, worked out of the facts declared if it is not there yet. Nothing, if those are
    /// not all declared by who asks.
    pub(super) fn get(
        &self,
        declared: Needs,
        notes: &mut Notes,
        work: impl FnOnce(&mut Notes) -> T,
    ) -> Option<&T> {
        if !notes.allow(declared) {
            return None;
        }
        let noted = self.0.get_or_init(|| Noted::of(declared, work));
        notes.join(noted.notes);
        Some(&noted.it)
    }
}

/// What figures of one sheet share.
pub(super) struct SharedWork<'s> {
    pub(super) reader: Reader<'s>,
    pub(super) cells: Vec<Kept<Option<CellModel>>>,
    pub(super) groups: Vec<GroupWork>,
    pub(super) packs: Vec<PackWork<'s>>,
    /// From a full charge and from rest, each until the light stops and until empty.
    batteries: [[Kept<Option<StringDischarge>>; 2]; 2],
}

/// What is kept of a pack.
#[derive(Default)]
pub(super) struct PackWork<'s> {
    pub(super) label: Kept<Label<'s>>,
    /// The same without the numbers that nothing can be read from.
    pub(super) legible: Kept<Label<'s>>,
    /// What can be true of it by its label.
    pub(super) readings: Kept<Vec<PackReading>>,
}

/// What is kept of a parallel group.
#[derive(Default)]
pub(super) struct GroupWork {
    pub(super) model: Kept<Option<CellModel>>,
    pub(super) shares: Kept<Option<Vec<Interval>>>,
    discharges: [Kept<Option<Discharge>>; 2],
}

impl GroupWork {
    /// Its discharge.
    pub(super) fn discharge(&self, from: From) -> Option<&Kept<Option<Discharge>>> {
        self.discharges.get(from as usize)
    }
}

/// Where a discharge starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum From {
    /// A full charge.
    Full,
    /// The charge that the rest voltage shows.
    Rest,
}

impl From {
    /// The facts that a discharge from there looks at.
    pub(super) const fn needs(self) -> Needs {
        match self {
            Self::Full => FULL,
            Self::Rest => NOW,
        }
    }
}

/// Until when a discharge of the whole battery is followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Until {
    /// The light stops by itself; nothing may stop it before cells reverse.
    LightStops,
    /// The light stops, or cells are empty on the whole.
    Empty,
}

impl<'s> SharedWork<'s> {
    pub(super) fn of(reader: Reader<'s>) -> Self {
        let count = |subject| 0..reader.count(subject);
        Self {
            reader,
            cells: count(CELL).map(|_| Kept::default()).collect(),
            groups: count(GROUP).map(|_| GroupWork::default()).collect(),
            packs: count(PACK).map(|_| PackWork::default()).collect(),
            batteries: Default::default(),
        }
    }

    /// The discharge of the whole battery.
    pub(super) fn battery(
        &self,
        from: From,
        until: Until,
    ) -> Option<&Kept<Option<StringDischarge>>> {
        self.batteries.get(from as usize)?.get(until as usize)
    }

    /// The positions of the cells in a group; none where it is not settled which they are.
    pub(super) fn members(&self, group: usize, notes: &mut Notes) -> Option<&'s [usize]> {
        self.reader.members(Need::CellGroup, GROUP, group, notes)
    }

    /// How many groups there are. Where it is not settled which they are, the cells' groups are
    /// missing.
    pub(super) fn group_count(&self, notes: &mut Notes) -> Option<usize> {
        if self.reader.is_unsettled(GROUP) {
            notes.lacks(Need::CellGroup);
            return None;
        }
        Some(self.reader.count(GROUP))
    }
}
