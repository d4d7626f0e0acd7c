//! What holds of several cells together: packs, groups, and the current through all of them.

use std::collections::BTreeMap;

use super::{One, Sampler, Value};
use crate::generate::proposal::Draft;
use crate::generate::setting::unnamed;
use crate::generate::vocabulary::{Subject, fact_named};

impl Sampler<'_, '_, '_> {
    /// The packs that are listed and those that cells came out of; none if the proposal has none.
    pub(super) fn packs(&mut self, cells: &[One]) -> Vec<One> {
        let draft = self.draft;
        let known = draft.pack_names();
        if known.is_empty() {
            return Vec::new();
        }
        let out_of = |cell: &One| match &cell.facts[&fact_named("cell.pack")] {
            Value::Text(name) => name.clone(),
            other => panic!("{other:?} is no name"),
        };
        let mut names: Vec<String> = cells.iter().map(out_of).collect();
        names.extend(known.iter().map(|name| (*name).to_owned()));
        names.sort();
        names.dedup();
        let pack = |name: String| {
            let listed = draft.packs.iter().find(|pack| pack.id == name);
            let none = BTreeMap::new();
            let mut facts = self.all(Subject::Pack, listed.map_or(&none, |pack| &pack.facts));
            let subject = if known.contains(name.as_str()) {
                format!("pack {name}")
            } else {
                unnamed("pack")
            };
            facts.insert(fact_named("pack.id"), Value::Text(name));
            One {
                subject,
                several: 1,
                facts,
            }
        };
        names.into_iter().map(pack).collect()
    }

    /// The group of each cell: as the cells say, and somehow where they do not.
    pub(super) fn grouping(&mut self) -> Vec<usize> {
        let draft = self.draft;
        let cells = draft.cells.len();
        if draft.parallel == 1 {
            return (0..cells).collect();
        }
        let mut names: Vec<&str> = (0..cells).filter_map(|cell| draft.group_of(cell)).collect();
        names.sort_unstable();
        names.dedup();
        let mut found: Vec<Option<usize>> = (0..cells)
            .map(|cell| {
                names
                    .iter()
                    .position(|name| draft.group_of(cell) == Some(name))
            })
            .collect();
        for cell in 0..cells {
            if found[cell].is_none() {
                let full = |group: usize| {
                    cells <= draft.called()
                        && found.iter().filter(|of| **of == Some(group)).count() >= draft.parallel
                };
                let open: Vec<usize> = (0..draft.series).filter(|group| !full(*group)).collect();
                found[cell] = Some(*self.choices.pick(&open));
            }
        }
        found.into_iter().flatten().collect()
    }

    pub(super) fn groups(&mut self, group_of: &[usize]) -> Vec<One> {
        let draft = self.draft;
        let count = if draft.parallel == 1 {
            draft.cells.len()
        } else {
            draft.series
        };
        (0..count)
            .map(|group| {
                let members: Vec<usize> = (0..group_of.len())
                    .filter(|cell| group_of[*cell] == group)
                    .collect();
                let named = members.iter().find_map(|cell| draft.group_of(*cell));
                let mut facts = self.all(Subject::Group, &BTreeMap::new());
                let id = named.map_or_else(
                    || self.missing(fact_named("group.id")),
                    |name| Value::Text(name.to_owned()),
                );
                facts.insert(fact_named("group.id"), id);
                let (subject, several) = group_subject(draft, &members);
                One {
                    subject,
                    several,
                    facts,
                }
            })
            .collect()
    }

    pub(super) fn current(&self, singles: &BTreeMap<Subject, One>) -> f64 {
        let light = |name: &str| match singles[&Subject::Light].facts[&fact_named(name)] {
            Value::Number(number) => number,
            _ => f64::NAN,
        };
        let by_power = self
            .draft
            .singles
            .contains_key(&fact_named("light.draw_power"));
        if by_power {
            light("light.draw_power") / light("light.cut_off").max(light("light.input_min"))
        } else {
            light("light.draw_current")
        }
    }
}

/// What a report calls the group of these cells, and how many groups it calls so.
pub(crate) fn group_subject(draft: &Draft, members: &[usize]) -> (String, usize) {
    let named = members.iter().find_map(|cell| draft.group_of(*cell));
    let one = |cell: &usize| &draft.cells[*cell];
    match (draft.settled(), named, draft.parallel) {
        (false, _, _) => (unnamed("group"), 1),
        (true, Some(name), _) => (format!("group {name}"), 1),
        (true, None, 1) if members.iter().all(|cell| one(cell).listed) => {
            (format!("group {}", one(&members[0]).id), 1)
        }
        (true, None, 1) => (unnamed("group"), draft.cells.len() - draft.listed()),
        (true, None, _) => ("group 1".to_owned(), 1),
    }
}
