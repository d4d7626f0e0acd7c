//! Where the figures of one sheet are worked out. What several figures rest on is worked once and
//! kept.

use std::cell::OnceCell;

use super::battery::Until;
use super::discharge::{CellModel, Discharge};
use super::needs::{Need, Noted, Notes, Reader};
use super::string::StringDischarge;
use super::table::ROWS;
use super::{battery, cells};
use crate::facts::{CELL, GROUP, PACK};
use crate::label::Reading;
use rules_core::facts::{FactId, Facts, Worked, WorkedId, Workings};
use rules_core::quantity::Interval;

/// Something kept that may be unknown, with what was looked at for it.
type Kept<T> = OnceCell<Noted<Option<T>>>;

/// Works out the figures of one sheet.
pub(super) struct Desk<'s> {
    pub(super) reader: Reader<'s>,
    cells: Vec<Kept<CellModel>>,
    groups: Vec<Group>,
    /// What can be true of each pack by its label.
    packs: Vec<OnceCell<Vec<Reading>>>,
    /// From a full charge and from rest, each until the light stops and until empty.
    batteries: [[Kept<StringDischarge>; 2]; 2],
}

/// What is kept of a parallel group.
#[derive(Default)]
struct Group {
    model: Kept<CellModel>,
    shares: Kept<Vec<Interval>>,
    discharges: [Kept<Discharge>; 2],
}

/// Where a discharge starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum From {
    /// A full charge.
    Full,
    /// The charge that the rest voltage shows.
    Rest,
}

impl<'s> Desk<'s> {
    pub(super) fn new(facts: Facts<'s>, ids: &'s [FactId]) -> Self {
        let (cells, groups, packs) = (
            facts.sheet().count(CELL),
            facts.sheet().count(GROUP),
            facts.sheet().count(PACK),
        );
        Self {
            reader: Reader::new(facts, ids),
            cells: (0..cells).map(|_| Kept::default()).collect(),
            groups: (0..groups).map(|_| Group::default()).collect(),
            packs: vec![OnceCell::new(); packs],
            batteries: Default::default(),
        }
    }

    /// A cell as the model takes it.
    pub(super) fn cell(&self, position: usize, notes: &mut Notes) -> Option<CellModel> {
        keep(self.cells.get(position), notes, |notes| {
            cells::model(self.reader, position, notes)
        })
    }

    /// A group as one cell.
    pub(super) fn group(&self, position: usize, notes: &mut Notes) -> Option<CellModel> {
        let kept = self.groups.get(position).map(|group| &group.model);
        keep(kept, notes, |notes| battery::group(self, position, notes))
    }

    /// The discharge of a group, until it falls to its share of the voltage at which the light
    /// stops or cells are empty.
    pub(super) fn discharge(
        &self,
        from: From,
        position: usize,
        notes: &mut Notes,
    ) -> Option<Discharge> {
        let kept = self
            .groups
            .get(position)
            .and_then(|group| group.discharges.get(from as usize));
        keep(kept, notes, |notes| {
            battery::discharge(self, from, position, notes)
        })
    }

    /// The share of its group's current that a cell carries.
    pub(super) fn share(&self, group: usize, cell: usize, notes: &mut Notes) -> Option<Interval> {
        let noted = self
            .groups
            .get(group)?
            .shares
            .get_or_init(|| Noted::of(|notes| battery::shares(self, group, notes)));
        notes.join(noted.notes);
        let place = self
            .members(group)?
            .iter()
            .position(|member| *member == cell)?;
        noted.it.as_ref()?.get(place).copied()
    }

    /// What a pack can be by its label.
    pub(super) fn readings(&self, pack: usize, read: impl FnOnce() -> Vec<Reading>) -> &[Reading] {
        self.packs
            .get(pack)
            .map_or(&[], |kept| kept.get_or_init(read))
    }

    /// The discharge of the whole battery.
    pub(super) fn battery(
        &self,
        from: From,
        until: Until,
        notes: &mut Notes,
    ) -> Option<&StringDischarge> {
        let kept = self.batteries.get(from as usize)?.get(until as usize)?;
        let noted =
            kept.get_or_init(|| Noted::of(|notes| battery::battery(self, from, until, notes)));
        notes.join(noted.notes);
        noted.it.as_ref()
    }

    /// The positions of the cells in a group; none where it is not settled which they are.
    pub(super) fn members(&self, group: usize) -> Option<&'s [usize]> {
        let sheet = self.reader.facts().sheet();
        let settled = !sheet.is_unsettled(GROUP);
        sheet
            .instance(GROUP, group)
            .filter(|_| settled)
            .map(|one| one.members.as_slice())
    }

    /// How many cells are in each group like this one.
    pub(super) fn cells_in(&self, group: usize) -> usize {
        let sheet = self.reader.facts().sheet();
        let members = self.members(group).unwrap_or_default();
        members
            .iter()
            .map(|cell| sheet.stands_for(CELL, *cell, Some(GROUP)))
            .sum()
    }

    /// Whether there is one group and no other.
    pub(super) fn is_one_group(&self) -> bool {
        self.reader.facts().sheet().count_in_all(GROUP) == 1
    }

    /// How many groups are told apart. Where it is not settled which they are, the cells' groups
    /// are missing.
    pub(super) fn group_count(&self, notes: &mut Notes) -> Option<usize> {
        let sheet = self.reader.facts().sheet();
        if sheet.is_unsettled(GROUP) {
            notes.lacks(Need::CellGroup);
            return None;
        }
        Some(sheet.count(GROUP))
    }
}

/// What is kept, worked out if it is not there yet.
fn keep<T: Copy>(
    kept: Option<&Kept<T>>,
    notes: &mut Notes,
    work: impl FnOnce(&mut Notes) -> Option<T>,
) -> Option<T> {
    let noted = kept?.get_or_init(|| Noted::of(work));
    notes.join(noted.notes);
    noted.it
}

impl Workings for Desk<'_> {
    fn work(&self, figure: WorkedId, position: usize) -> Worked {
        match ROWS.get(figure.position()) {
            Some(row) => (row.work)(self, position),
            None => Notes::default().worked(Interval::WHOLE),
        }
    }
}
