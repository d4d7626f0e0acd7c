//! The build of a proposal: its arrangement, the cells that it calls for and does not list, and its
//! groups.

use std::sync::Arc;

use rules_core::document::{Fault, Node, Problems, Span, text};
use rules_core::facts::{Catalogue, Given, Instance, Roster, Sheet, Value};
use rules_core::quantity::Measure;

use super::arrangement::Arrangement;
use super::groups::{Group, GroupedCell, Grouping, group};
use super::marks::fill;
use super::packs;
use crate::bounds::MOST_CELLS;
use crate::facts::{BUILD, CELL, GROUP, NamedFact};

/// What reports call cells that are called for and not listed, and the groups that they form.
const NOT_LISTED: &str = "(not listed)";

/// What reports call the groups where it is not known which cells form them.
const NOT_STATED: &str = "(not stated)";

/// The arrangement, with its place in the proposal.
#[derive(Clone, Copy)]
pub(super) struct PlacedArrangement {
    arrangement: Arrangement,
    span: Span,
}

impl PlacedArrangement {
    /// An arrangement that is written nowhere.
    pub(super) fn unplaced(arrangement: Arrangement) -> Self {
        Self {
            arrangement,
            span: Span::default(),
        }
    }

    pub(super) fn read(node: &Node<'_>, problems: &mut Problems<'_>) -> Option<Self> {
        let text = text(node, problems)?;
        let span = node.span;
        if let Some(arrangement) = Arrangement::parse(text) {
            return Some(Self { arrangement, span });
        }
        let message = format!("`{text}` is no arrangement");
        let help = format!(
            "write groups in series and cells in parallel, such as `2S1P`; at most {MOST_CELLS} cells"
        );
        problems.add(Fault::Syntax, span, message, help);
        None
    }

    /// Completes a sheet with the facts of the build, the cells that are called for and not listed,
    /// the packs and the groups. `listed` is how many cells the proposal lists.
    pub(super) fn complete(
        self,
        sheet: &mut Sheet,
        catalogue: &Catalogue,
        listed: usize,
        problems: &mut Problems<'_>,
    ) {
        if let Some(instance) = sheet.instance_mut(BUILD, 0) {
            *instance = self.facts(listed);
        }
        if let Some(roster) = sheet.roster_mut(CELL) {
            let cells = self.arrangement.cells();
            let missing = cells.saturating_sub(roster.instances.len());
            let unlisted = (missing > 0).then(|| unlisted(missing));
            roster.instances.extend(unlisted);
        }
        packs::complete(sheet, catalogue);
        let groups = self.groups(sheet, listed, problems);
        fill_groups(sheet, groups);
    }

    /// Completes a sheet with a part of the cells, in these groups: others may still join them, and
    /// none stand in for those.
    pub(super) fn complete_part(
        self,
        sheet: &mut Sheet,
        catalogue: &Catalogue,
        groups: Vec<Group>,
    ) {
        let listed = sheet.count(CELL);
        if let Some(instance) = sheet.instance_mut(BUILD, 0) {
            *instance = self.facts(listed);
        }
        packs::complete(sheet, catalogue);
        fill_groups(sheet, groups);
    }

    fn facts(self, listed: usize) -> Instance {
        let mut build = Instance::default();
        for (fact, number) in [
            (NamedFact::BuildSeries, self.arrangement.series),
            (NamedFact::BuildParallel, self.arrangement.parallel),
            (NamedFact::BuildCells, self.arrangement.cells()),
            (NamedFact::BuildListed, listed),
        ] {
            let exact = Measure::exact(f64::from(u32::try_from(number).unwrap_or(u32::MAX)));
            let value = Value::Number(exact);
            let written = number.to_string();
            fill(&mut build, fact, value, &written, self.span.start);
        }
        build
    }

    /// The groups; none if it is not known which cells form them.
    fn groups(self, sheet: &Sheet, listed: usize, problems: &mut Problems<'_>) -> Vec<Group> {
        match group(self.arrangement, &grouped_cells(sheet), listed) {
            Grouping::Settled(groups) => groups,
            Grouping::Unsettled => Vec::new(),
            Grouping::Wrong(message) => {
                let help = "correct `arrangement`, or `group` of the cells";
                problems.add(Fault::PartsDisagree, self.span, message, help);
                Vec::new()
            }
        }
    }
}

/// The cells of a sheet, with the groups that they name.
fn grouped_cells(sheet: &Sheet) -> Vec<GroupedCell<'_>> {
    let roster = sheet.roster(CELL);
    let cells = roster.map_or(&[][..], |roster| &roster.instances);
    cells.iter().map(grouped).collect()
}

fn grouped(cell: &Instance) -> GroupedCell<'_> {
    let group = NamedFact::CellGroup
        .slot()
        .and_then(|slot| cell.given(slot));
    GroupedCell {
        name: &cell.name,
        label: match group.map(|group| &group.value) {
            Some(Value::Text(label)) => Some(label),
            _ => None,
        },
        count: cell.stands_for(),
    }
}

fn fill_groups(sheet: &mut Sheet, groups: Vec<Group>) {
    let unsettled = groups.is_empty();
    let mut instances = Vec::new();
    if unsettled {
        instances.push(Instance::named(NOT_STATED));
    }
    for (position, group) in groups.into_iter().enumerate() {
        for cell in &group.members {
            if let Some(cell) = sheet.instance_mut(CELL, *cell) {
                cell.container = Some(position);
            }
        }
        // A group has the name of its only cell, where it has no other.
        let of_unlisted = group.name == NOT_LISTED && none_listed(sheet, &group.members);
        let instance = group_instance(group);
        instances.push(match of_unlisted {
            true => instance.not_listed(),
            false => instance,
        });
    }
    if let Some(roster) = sheet.roster_mut(GROUP) {
        *roster = Roster {
            instances,
            unsettled,
            open: false,
        };
    }
}

/// So many cells that are called for and not listed.
fn unlisted(count: usize) -> Instance {
    Instance::named(NOT_LISTED).standing_for(count).not_listed()
}

fn none_listed(sheet: &Sheet, cells: &[usize]) -> bool {
    let cell = |at: &usize| sheet.instance(CELL, *at);
    !cells.iter().filter_map(cell).any(Instance::is_listed)
}

fn group_instance(settled: Group) -> Instance {
    let name = settled.name.as_str();
    let mut group = Instance::named(name)
        .holding(settled.members)
        .standing_for(settled.count);
    // A name that nobody gave it is for reports, and no fact.
    let slot = NamedFact::GroupId.slot().filter(|_| settled.stated);
    if let Some(slot) = slot {
        let text: Arc<str> = name.into();
        let given = Given::new(Value::Text(Arc::clone(&text)), text, None);
        group.set(slot, given);
    }
    group
}
