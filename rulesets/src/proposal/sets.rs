//! Many proposals that differ in their cells alone: each cell is read once, and a sheet is made of
//! any of them.

use std::collections::BTreeSet;
use std::sync::Arc;

use rules_core::check::given;
use rules_core::document::{ProblemList, Problems, Source};
use rules_core::facts::{Given, Instance, Sheet, Value};
use rules_core::quantity::{Interval, Measure};
use rules_core::ruleset::Rules;

use super::arrangement::Arrangement;
use super::build::PlacedArrangement;
use super::groups::Group;
use super::read::Proposal;
use crate::facts::{BUILD, CELL, PACK, catalogue};

/// What is alike in all of them, and the cells that were read.
#[derive(Debug)]
pub(crate) struct Sets {
    /// Without cells.
    base: Sheet,
    arrangement: Arrangement,
    cells: Vec<Read>,
}

/// A cell that may be any of those that were read.
#[derive(Debug)]
pub(crate) struct AnyCell(Read);

/// A cell, and the packs that it brings.
#[derive(Debug)]
struct Read {
    cell: Instance,
    packs: Vec<Instance>,
}

impl Sets {
    /// Of a proposal that lists no cells.
    ///
    /// # Errors
    ///
    /// Those of its facts.
    pub(crate) fn of(rules: &Rules, without_cells: &Proposal) -> Result<Self, ProblemList> {
        let mut base = given(rules, without_cells)?.into_owned();
        let arrangement = Arrangement {
            series: count(&base, "build.series"),
            parallel: count(&base, "build.parallel"),
        };
        if let Some(roster) = base.roster_mut(CELL) {
            roster.instances.clear();
        }
        leave_out_nameless(&mut base);
        Ok(Self {
            base,
            arrangement,
            cells: Vec::new(),
        })
    }

    /// The arrangement of all of them.
    pub(crate) const fn arrangement(&self) -> Arrangement {
        self.arrangement
    }

    /// Adds the cell of a proposal that lists it alone.
    ///
    /// # Errors
    ///
    /// Those of its facts.
    pub(crate) fn add(&mut self, rules: &Rules, alone: &Proposal) -> Result<(), ProblemList> {
        let mut sheet = given(rules, alone)?.into_owned();
        leave_out_nameless(&mut sheet);
        let known = self.base.count(PACK);
        let packs = sheet.roster(PACK).map(|roster| roster.instances.clone());
        let packs = packs.unwrap_or_default().into_iter().skip(known).collect();
        if let Some(cell) = sheet.instance(CELL, 0) {
            let mut cell = cell.clone();
            (cell.container, cell.origin) = (None, None);
            self.cells.push(Read { cell, packs });
        }
        Ok(())
    }

    /// How many cells were added.
    pub(crate) fn count(&self) -> usize {
        self.cells.len()
    }

    /// The pack that a cell brings with it, by name.
    pub(crate) fn pack(&self, cell: usize) -> Option<&str> {
        let brought = self.cells.get(cell)?.packs.first()?;
        Some(&brought.name)
    }

    /// The facts of a proposal with cells in these groups: as many as the arrangement calls for.
    pub(crate) fn whole(&self, groups: &[Vec<usize>]) -> Sheet {
        let mut sheet = self.with_cells(groups);
        let listed = sheet.count(CELL);
        let placed = PlacedArrangement::unplaced(self.arrangement);
        let nowhere = Source::new("", String::new());
        // Groups of the right size agree with the arrangement.
        let mut problems = Problems::new(&nowhere);
        placed.complete(&mut sheet, catalogue(), listed, &mut problems);
        sheet
    }

    /// The facts of a part of such a proposal, with nothing in the place of the cells that are still
    /// to join it.
    pub(crate) fn part(&self, groups: &[Vec<usize>]) -> Sheet {
        self.completed(self.with_cells(groups), groups)
    }

    fn completed(&self, mut sheet: Sheet, groups: &[Vec<usize>]) -> Sheet {
        let mut first = 0;
        let mut group = |cells: &Vec<usize>| {
            let members: Vec<usize> = (first..first + cells.len()).collect();
            first += cells.len();
            Group {
                name: first.to_string(),
                stated: false,
                members,
                count: 1,
            }
        };
        let groups = groups.iter().map(&mut group).collect();
        let placed = PlacedArrangement::unplaced(self.arrangement);
        placed.complete_part(&mut sheet, catalogue(), groups);
        sheet
    }

    /// The facts of such a proposal with any of the cells in the place of those that are still to join:
    /// what is surely so of it is so with each of them. It does not say how many packs there are.
    pub(crate) fn filled(&self, groups: &[Vec<usize>], any: &AnyCell) -> Sheet {
        let Arrangement { series, parallel } = self.arrangement;
        let mut filled = groups.to_vec();
        filled.resize(series, Vec::new());
        for group in &mut filled {
            // No cell has this place: it is any of them.
            group.resize(parallel, usize::MAX);
        }
        self.completed(self.cells_of(&filled, Some(&any.0)), &filled)
    }

    /// What all cells have in common: of each fact, all that one of them may have.
    pub(crate) fn any_cell(&self) -> AnyCell {
        let mut any = Instance::named("any");
        let (first, others) = match self.cells.split_first() {
            Some((first, others)) => (&first.cell, others),
            None => (&any, &[][..]),
        };
        let facts = catalogue().facts().filter(|(_, def)| def.subject == CELL);
        let slots = facts.map(|(id, _)| catalogue().slot(id));
        let common = |slot: usize| {
            let mut value = first.given(slot)?.value.clone();
            for other in others {
                value = either(&value, &other.cell.given(slot)?.value)?;
            }
            Some((slot, unmeasured(value)))
        };
        let common: Vec<(usize, Value)> = slots.filter_map(common).collect();
        for (slot, value) in common {
            any.set(slot, unwritten(value));
        }
        AnyCell(Read {
            cell: any,
            packs: Vec::new(),
        })
    }

    fn with_cells(&self, groups: &[Vec<usize>]) -> Sheet {
        self.cells_of(groups, None)
    }

    /// The cells of groups, and one for those that are not known.
    fn cells_of(&self, groups: &[Vec<usize>], any: Option<&Read>) -> Sheet {
        let mut sheet = self.base.clone();
        let (mut cells, mut packs, mut known) = (Vec::new(), Vec::new(), BTreeSet::new());
        for (at, group) in groups.iter().enumerate() {
            for read in group
                .iter()
                .filter_map(|cell| self.cells.get(*cell).or(any))
            {
                cells.push(self.labelled(&read.cell, at));
                let new = |pack: &&Instance| known.insert(pack.name.clone());
                packs.extend(read.packs.iter().filter(new).cloned());
            }
        }
        for (subject, more) in [(CELL, cells), (PACK, packs)] {
            if let Some(roster) = sheet.roster_mut(subject) {
                roster.instances.extend(more);
            }
        }
        sheet
    }

    /// A cell with the name of its group, where that is not plain.
    fn labelled(&self, cell: &Instance, group: usize) -> Instance {
        let mut cell = cell.clone();
        let fact = catalogue().fact_named("cell.group");
        if let Some((id, _)) = fact.filter(|_| needs_labels(self.arrangement)) {
            let label = Value::Text(group_label(group).as_str().into());
            cell.set(catalogue().slot(id), unwritten(label));
        }
        cell
    }
}

/// Whether cells must say in which group they are.
pub(crate) const fn needs_labels(arrangement: Arrangement) -> bool {
    arrangement.series > 1 && arrangement.parallel > 1
}

/// What a group is called, by its position.
pub(crate) fn group_label(at: usize) -> String {
    (at + 1).to_string()
}

/// All that one or the other may be; none where that is everything.
fn either(one: &Value, other: &Value) -> Option<Value> {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => {
            let both = one.range().hull(other.range());
            Some(Value::Number(Measure::of(both)))
        }
        (Value::Choice(one), Value::Choice(other)) => Some(Value::Choice(one.with(*other))),
        (one, other) => (one == other).then(|| one.clone()),
    }
}

/// A value that shares nothing with readings of its meter.
fn unmeasured(value: Value) -> Value {
    match value {
        Value::Number(number) => Value::Number(Measure::of(number.range())),
        other => other,
    }
}

/// A value that nobody wrote.
fn unwritten(value: Value) -> Given {
    let written = match &value {
        Value::Text(text) => Arc::clone(text),
        _ => Arc::from(""),
    };
    Given::new(value, written, None)
}

/// Leaves out the pack that stands for those which no cell names: it is added where one stands for any.
fn leave_out_nameless(sheet: &mut Sheet) {
    if let Some(roster) = sheet.roster_mut(PACK)
        && std::mem::take(&mut roster.open)
    {
        roster.instances.pop();
    }
}

fn count(sheet: &Sheet, name: &str) -> usize {
    let fact = catalogue().fact_named(name);
    let given = fact.and_then(|(id, _)| sheet.given(BUILD, 0, catalogue().slot(id)));
    let range = given.map(|given| match &given.value {
        Value::Number(number) => number.range(),
        _ => Interval::point(1.0),
    });
    // The arrangement counts at least one, and few enough.
    let number = range.map_or(1.0, Interval::lo);
    (1..=crate::bounds::MOST_CELLS)
        .find(|whole| u32::try_from(*whole).is_ok_and(|whole| f64::from(whole) >= number))
        .unwrap_or(1)
}
