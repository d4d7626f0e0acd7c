//! A draft as it is written, and what can be seen from it.

use std::collections::BTreeSet;

use super::{Draft, Given, Pack};
use crate::generate::document::{Doc, map, text};
use crate::generate::formula::options;
use crate::generate::meter::ReadBy;
use crate::generate::quantity::{Interval, Quantity};
use crate::generate::vocabulary::{FACTS, Fact, FactAt, Place, fact_named};

impl Draft {
    pub(crate) fn called(&self) -> usize {
        self.series * self.parallel
    }

    pub(crate) fn listed(&self) -> usize {
        self.cells.iter().filter(|cell| cell.listed).count()
    }

    /// The group that a cell says it is in.
    pub(crate) fn group_of(&self, cell: usize) -> Option<&str> {
        match self.cells[cell].facts.get(&fact_named("cell.group")) {
            Some(Given::Text(name)) => Some(name),
            _ => None,
        }
    }

    /// The pack that a cell says it came out of.
    pub(crate) fn pack_of(&self, cell: usize) -> Option<&str> {
        let cell = &self.cells[cell];
        match cell.facts.get(&fact_named("cell.pack")) {
            Some(Given::Text(name)) if cell.listed => Some(name),
            _ => None,
        }
    }

    /// The packs that it lists or that its cells name.
    pub(crate) fn pack_names(&self) -> BTreeSet<&str> {
        let listed = self.packs.iter().map(|pack| pack.id.as_str());
        let named = (0..self.cells.len()).filter_map(|cell| self.pack_of(cell));
        listed.chain(named).collect()
    }

    /// Whether there is a pack that nobody names: there are packs, and a cell names none.
    pub(crate) fn has_nameless_pack(&self) -> bool {
        !self.pack_names().is_empty()
            && (0..self.cells.len()).any(|cell| self.pack_of(cell).is_none())
    }

    /// Whether it is known which cells form which group: one group, one cell in each, or every cell
    /// called for listed with its group.
    pub(crate) fn settled(&self) -> bool {
        let fits = self.listed() <= self.called();
        let all_named = (0..self.cells.len())
            .all(|cell| self.cells[cell].listed && self.group_of(cell).is_some());
        self.parallel == 1 || fits && (self.series == 1 || all_named)
    }

    /// Leaves out the facts that are so.
    pub(crate) fn forget(&mut self, so: impl Fn(&Fact) -> bool) {
        for facts in self
            .cells
            .iter_mut()
            .map(|cell| &mut cell.facts)
            .chain(self.packs.iter_mut().map(|pack| &mut pack.facts))
            .chain([&mut self.singles])
        {
            facts.retain(|at, _| !so(&FACTS[*at]));
        }
    }

    /// What a number given of a fact says.
    pub(crate) fn interval(&self, at: FactAt, quantity: &Quantity) -> Interval {
        let fact = &FACTS[at];
        quantity.interval(fact, self.read_by(fact))
    }

    /// What a fact was taken with.
    pub(crate) fn read_by(&self, fact: &Fact) -> ReadBy<'_> {
        let kind = fact.kind().filter(|_| !fact.printed);
        let stated = kind.and_then(|kind| self.meters.get(&kind));
        let assumed = kind.and_then(|kind| self.assumed.get(&kind));
        match (stated, assumed) {
            (Some(meter), _) => ReadBy::Stated(meter),
            (None, Some(meters)) => ReadBy::Assumed(meters),
            (None, None) => ReadBy::Digits,
        }
    }

    /// The document, with the cells in this order.
    pub(crate) fn doc_in(&self, order: &[usize]) -> Doc {
        let mut doc = map([
            ("format", text("1")),
            ("title", text("generated")),
            (
                "arrangement",
                text(format!("{}S{}P", self.series, self.parallel)),
            ),
        ]);
        if !self.meters.is_empty() {
            doc.set(
                &["meters"],
                map(self
                    .meters
                    .iter()
                    .map(|(kind, meter)| (kind.name(), text(&meter.text)))),
            );
        }
        for (at, given) in &self.singles {
            let section = FACTS[*at].subject.name();
            set(&mut doc, &[section], *at, given);
        }
        let cells = order
            .iter()
            .map(|at| &self.cells[*at])
            .filter(|cell| cell.listed)
            .map(|cell| {
                let mut doc = map([("id", text(&cell.id))]);
                cell.facts
                    .iter()
                    .for_each(|(at, given)| set(&mut doc, &[], *at, given));
                doc
            });
        doc.set(&["cells"], Doc::List(cells.collect()));
        if !self.packs.is_empty() {
            doc.set(
                &["packs"],
                Doc::List(self.packs.iter().map(Pack::doc).collect()),
            );
        }
        doc
    }

    pub(crate) fn doc(&self) -> Doc {
        self.doc_in(&(0..self.cells.len()).collect::<Vec<_>>())
    }
}

impl Pack {
    fn doc(&self) -> Doc {
        // With spaces around it in some, which are no part of it.
        let spaces = if self.facts.len() % 2 == 1 { " " } else { "" };
        let mut doc = map([("id", text(format!("{}{spaces}", self.id)))]);
        self.facts
            .iter()
            .for_each(|(at, given)| set(&mut doc, &[], *at, given));
        doc
    }
}

fn set(doc: &mut Doc, before: &[&str], at: FactAt, given: &Given) {
    let fact = &FACTS[at];
    let keys: Vec<&str> = match &fact.place {
        Place::Section(keys) => keys.iter().map(String::as_str).collect(),
        Place::Draw => vec!["draw"],
        Place::Extra | Place::Derived => vec!["extra", fact.word()],
    };
    let written = match given {
        Given::Number(quantity) => quantity.text.clone(),
        Given::Choice(option) => options(at)[*option].clone(),
        Given::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Given::Text(text) => text.clone(),
    };
    let path: Vec<&str> = before.iter().copied().chain(keys).collect();
    doc.set(&path, text(written));
}
