//! A proposal with what it takes from its bench: the tree of a plain proposal, in which each value
//! keeps the place where it is written.
//!
//! What a proposal writes out counts before what the bench says under the same key.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rules_core::document::{Content, Entry, Fault, Node, Problems, Span, text};
use rules_core::facts::names;

use super::cells::Kept;
use super::date::Date;
use super::file::Bench;
use super::named::{Named, unknown};
use super::nodes::{entry, list, map, over};
use super::notes::{About, OfReadings, notes, with_written};
use super::readings::no_date;
use super::sections::{BESIDE_LIGHT, without};

/// What a proposal and its bench make together.
pub(super) struct Taken {
    pub tree: Node<'static>,
    /// The ids of the cells that are the bench's.
    pub cells: Vec<Arc<str>>,
}

/// The key by which a map takes what the bench has under a name.
const OF: &str = "of";
/// The key by which a section takes what a place of the bench says of it.
const AT: &str = "at";

/// Makes a plain proposal.
pub(super) fn taken(plan: &Node<'static>, bench: &Bench, problems: &mut Problems<'_>) -> Taken {
    let mut taker = Taker {
        bench,
        day: None,
        light: None,
        cells: Vec::new(),
        notes: OfReadings::default(),
    };
    taker.day = taker.day(plan, problems);
    let tree = taker.tree(plan, problems);
    let cells = taker.cells;
    Taken { tree, cells }
}

struct Taker<'b> {
    bench: &'b Bench,
    /// The day on which readings count.
    day: Option<Date>,
    /// The light of the bench that is taken.
    light: Option<(String, Node<'static>)>,
    cells: Vec<Arc<str>>,
    notes: OfReadings,
}

impl Taker<'_> {
    /// What notes are about.
    fn about(&self) -> About<'_> {
        About {
            bench: self.bench,
            day: self.day,
            light: self.light.as_ref().map(|(name, _)| name.as_str()),
            cells: &self.cells,
        }
    }

    fn day(&self, plan: &Node<'_>, problems: &mut Problems<'_>) -> Option<Date> {
        let newest = self.bench.readings.newest();
        let Some(node) = plan.at("as_of") else {
            return newest;
        };
        let written = text(node, problems)?;
        let date = Date::parse(written);
        if date.is_none() {
            no_date(written, node.span, problems);
        }
        date.or(newest)
    }

    fn tree(&mut self, plan: &Node<'static>, problems: &mut Problems<'_>) -> Node<'static> {
        let mut written: Vec<Entry<'static>> = Vec::new();
        // The light first: what goes with it fills other sections.
        let light = plan.at("light").map(|node| self.light(node, problems));
        for given in plan.entries() {
            let node = match (&*given.key, &light) {
                ("bench" | "as_of" | "packs" | "notes", _) => continue,
                ("light", Some(light)) => light.clone(),
                ("protection", _) => self.protection(&given.node),
                ("charging", _) => {
                    self.section(given, Some(&self.bench.sections.chargers), problems)
                }
                ("conditions", _) => self.section(given, None, problems),
                ("meters", _) => self.meters(&given.node, problems),
                ("cells", _) => self.cells(&given.node, problems),
                _ => given.node.clone(),
            };
            written.push(Entry {
                node,
                ..given.clone()
            });
        }
        let mut all = over(written, self.not_written());
        all.extend(self.packs(plan, &all, problems));
        let mut of_cells = std::mem::take(&mut self.notes);
        of_cells.add_curves(self.bench, &all);
        let notes = notes(&self.about(), of_cells);
        all.extend(with_written(plan.at("notes"), &notes));
        map(all, plan.span)
    }

    /// What the bench says where the proposal says nothing.
    fn not_written(&self) -> Vec<Entry<'static>> {
        let said = |key: &str, node: &Node<'static>| entry(key, node.span, node.clone());
        let meters = self.bench.meters.as_ref().map(|node| said("meters", node));
        let of_light = self.light.iter().flat_map(|(_, light)| {
            BESIDE_LIGHT
                .iter()
                .filter_map(|key| Some(said(key, light.at(key)?)))
        });
        of_light.chain(meters).collect()
    }

    /// The name that a section takes, and what is written beside it.
    fn named(
        node: &Node<'static>,
        key: &str,
        problems: &mut Problems<'_>,
    ) -> Option<(String, Span)> {
        let named = match &node.content {
            Content::Scalar(_) => node,
            _ => node.at(key)?,
        };
        Some((text(named, problems)?.to_owned(), named.span))
    }

    fn light(&mut self, node: &Node<'static>, problems: &mut Problems<'_>) -> Node<'static> {
        let Some((name, span)) = Self::named(node, OF, problems) else {
            return node.clone();
        };
        let found = self.bench.sections.lights.get(&name, span, problems);
        self.light = found.map(|light| (name, light.clone()));
        let said = found.map(|light| without(light, &BESIDE_LIGHT));
        merged(node, &[OF], said.as_ref())
    }

    fn protection(&self, node: &Node<'static>) -> Node<'static> {
        let said = self
            .light
            .as_ref()
            .and_then(|(_, light)| light.at("protection"));
        merged(node, &[], said)
    }

    /// A section that takes from what is named `of`, and from the place that it is `at`. One name alone
    /// is that of the first, or of the place where there is no other.
    fn section(
        &self,
        given: &Entry<'static>,
        of: Option<&Named>,
        problems: &mut Problems<'_>,
    ) -> Node<'static> {
        let (key, node) = (&*given.key, &given.node);
        let is_one = node.scalar().is_some();
        let own = of.and_then(|named| {
            let (name, span) = Self::named(node, OF, problems)?;
            named.get(&name, span, problems)
        });
        let at_place = !is_one || of.is_none();
        let place = at_place.then(|| Self::named(node, AT, problems)).flatten();
        let place = place.and_then(|(name, span)| {
            let place = self.bench.sections.places.get(&name, span, problems)?;
            let said = place.at(key);
            if said.is_none() {
                let message = format!("the place `{name}` says nothing of `{key}`");
                problems.add(Fault::UnknownName, span, message, "add it to the place");
            }
            said
        });
        let written = if of.is_some() {
            merged(node, &[OF, AT], own)
        } else {
            merged(node, &[AT], own)
        };
        merged(&written, &[], place)
    }

    /// The meters of both. Two of one kind are an error: which reading is by which is not known.
    fn meters(&self, node: &Node<'static>, problems: &mut Problems<'_>) -> Node<'static> {
        let said = self.bench.meters.as_ref();
        for meter in node.entries() {
            let other = said.and_then(|said| said.at(&meter.key));
            if other.is_some_and(|other| other.scalar() != meter.node.scalar()) {
                let message = format!("the bench has another meter of {}", meter.key);
                let help = "leave it out here, and write a tolerance beside the readings that are by \
                            another meter";
                problems.add(Fault::DefinedTwice, meter.key_span, message, help);
            }
        }
        merged(node, &[], said)
    }

    fn cells(&mut self, node: &Node<'static>, problems: &mut Problems<'_>) -> Node<'static> {
        let Content::List(items) = &node.content else {
            return node.clone();
        };
        let mut seen: BTreeMap<String, Span> = BTreeMap::new();
        let mut cells = Vec::new();
        for item in items {
            let named = Self::named(item, OF, problems);
            let id = named.clone().or_else(|| Self::named(item, "id", problems));
            if let Some((id, span)) = &id
                && let Some(first) = seen.insert(id_of(id), *span)
            {
                let place = problems.source().place(first.start);
                let message = format!("the cell `{id}` is named again; it is already at {place}");
                problems.add(Fault::DefinedTwice, *span, message, "name each cell once");
                continue;
            }
            cells.extend(match named {
                Some((name, span)) => self.cell(item, &name, span, problems),
                None => Some(self.own_cell(item, problems)),
            });
        }
        list(cells, node.span)
    }

    /// A cell that the proposal writes out.
    fn own_cell(&self, item: &Node<'static>, problems: &mut Problems<'_>) -> Node<'static> {
        match &item.content {
            Content::Map(entries) => {
                map(self.bench.sections.spelt_out(entries, problems), item.span)
            }
            _ => item.clone(),
        }
    }

    /// A cell of the bench, as its readings have it on the day.
    fn cell(
        &mut self,
        item: &Node<'static>,
        name: &str,
        span: Span,
        problems: &mut Problems<'_>,
    ) -> Option<Node<'static>> {
        let Some(kept) = self.bench.cells.get(&id_of(name)) else {
            unknown("cell", name, span, self.bench.cells.ids(), problems);
            return None;
        };
        let beside = match item.scalar() {
            Some(_) => Vec::new(),
            None => self.bench.sections.spelt_out(item.entries(), problems),
        };
        let id = entry("id", span, Node::text_at(&kept.id, span));
        let written = std::iter::once(id)
            .chain(beside.into_iter().filter(|beside| beside.key != OF))
            .collect();
        let said = self.said(kept);
        self.cells.push(Arc::clone(&kept.id));
        Some(map(over(written, said), item.span))
    }

    /// What the bench and the readings in force say of a cell.
    fn said(&mut self, kept: &Kept) -> Vec<Entry<'static>> {
        let Some(day) = self.day else {
            return kept.entries.clone();
        };
        let readings = self.bench.in_force(day, &kept.id);
        self.notes.add(&kept.id, &readings);
        readings.beside(&kept.entries)
    }

    /// The packs that are written, and those of the bench that cells came out of.
    fn packs(
        &self,
        plan: &Node<'static>,
        taken: &[Entry<'static>],
        problems: &mut Problems<'_>,
    ) -> Option<Entry<'static>> {
        let written = plan.at("packs");
        let (mut packs, mut known) = (Vec::new(), BTreeSet::new());
        if let Some(node) = written {
            let Content::List(items) = &node.content else {
                return Some(entry("packs", node.span, node.clone()));
            };
            for item in items {
                let id = item.scalar().or_else(|| item.at("id")?.scalar()).map(id_of);
                known.extend(id.clone());
                packs.extend(match (item.scalar(), id) {
                    (Some(_), Some(id)) => self.pack(&id, item.span, problems),
                    _ => Some(item.clone()),
                });
            }
        }
        let cells = taken.iter().find(|entry| entry.key == "cells");
        let cells = cells.map_or(&[][..], |entry| match &entry.node.content {
            Content::List(items) => items.as_slice(),
            _ => &[],
        });
        for cell in cells {
            let Some(id) = cell.at("pack").and_then(Node::scalar).map(id_of) else {
                continue;
            };
            if !known.contains(&id) && self.bench.packs.get(&id).is_some() {
                packs.extend(self.pack(&id, cell.span, problems));
                known.insert(id);
            }
        }
        let span = written
            .map(|node| node.span)
            .or_else(|| Some(packs.first()?.span))?;
        Some(entry("packs", span, list(packs, span)))
    }

    fn pack(&self, id: &str, span: Span, problems: &mut Problems<'_>) -> Option<Node<'static>> {
        let Some(kept) = self.bench.packs.get(id) else {
            unknown("pack", id, span, self.bench.packs.ids(), problems);
            return None;
        };
        let mut entries = vec![entry("id", kept.span, Node::text_at(&kept.id, kept.span))];
        entries.extend(kept.entries.iter().cloned());
        Some(map(entries, kept.span))
    }
}

/// An id as it is compared; what is none, as it is written.
fn id_of(text: &str) -> String {
    names::id(text).map_or_else(|_| text.to_owned(), std::borrow::Cow::into_owned)
}

/// What is written in a map, without some keys, and of what the bench says the rest.
fn merged(node: &Node<'static>, left_out: &[&str], said: Option<&Node<'static>>) -> Node<'static> {
    let written = match &node.content {
        Content::Scalar(_) => Vec::new(),
        Content::Map(entries) => {
            let kept = entries
                .iter()
                .filter(|entry| !left_out.contains(&&*entry.key));
            kept.cloned().collect()
        }
        Content::List(_) | Content::Nothing => return node.clone(),
    };
    let said = said.map_or(&[][..], |said| said.entries());
    map(over(written, said.iter().cloned()), node.span)
}
