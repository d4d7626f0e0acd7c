//! The cells and packs of a bench: written in it as in a proposal, or in a table.

use std::collections::BTreeMap;
use std::sync::Arc;

use rules_core::document::{Entry, Fault, Node, Problems, Span, text};
use rules_core::facts::{Instance, SubjectId, Value};
use rules_core::quantity::Measure;

use super::columns::{Column, columns, holds_at, keys, split};
use super::curves::{Curves, with_resistance};
use super::named::Named;
use super::nodes::{entry, map};
use super::sections::Sections;
use crate::bounds::MOST_CELLS;
use crate::facts::{CELL, PACK, catalogue};
use crate::proposal::Vetting;
use crate::table::Table;

/// A cell or pack of a bench.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    /// Its id, as it is compared.
    pub id: Arc<str>,
    /// What a proposal would say of it, without its id.
    pub entries: Vec<Entry<'static>>,
    pub span: Span,
    /// The voltage at which a cell was found, where it is said without a date.
    pub found: Option<Measure>,
    /// The light that it is in.
    pub in_light: Option<String>,
}

/// What the cells of a bench refer to, and how their values are read.
pub(super) struct Surroundings<'b> {
    pub sections: &'b Sections,
    pub vetting: &'b Vetting,
    pub curves: &'b Curves,
}

/// Entries of a list by their ids.
#[derive(Debug, Clone, Default)]
pub(super) struct Stock {
    kept: BTreeMap<Arc<str>, Kept>,
}

impl Stock {
    /// The one of an id.
    pub(super) fn get(&self, id: &str) -> Option<&Kept> {
        self.kept.get(id)
    }

    /// All ids, in order.
    pub(super) fn ids(&self) -> impl Iterator<Item = &str> + Clone {
        self.kept.keys().map(|id| &**id)
    }

    /// Adds the packs that a bench lists.
    pub(super) fn add_packs(
        &mut self,
        nodes: &[Node<'static>],
        vetting: &Vetting,
        problems: &mut Problems<'_>,
    ) {
        for pack in nodes {
            let read = vetting.section(pack, PACK, "a pack", problems);
            self.add(
                pack,
                (PACK, "pack"),
                pack.entries().to_vec(),
                &read,
                problems,
            );
        }
    }

    /// Adds cells, written as in a proposal.
    pub(super) fn add_cells(
        &mut self,
        nodes: &[Node<'static>],
        around: &Surroundings<'_>,
        problems: &mut Problems<'_>,
    ) {
        for cell in nodes {
            let entries = around.sections.spelt_out(cell.entries(), problems);
            let (entries, shown) = around.curves.expanded(entries, around.vetting, problems);
            let entries = with_resistance(entries, shown);
            let (place, entries): (Vec<_>, Vec<_>) =
                entries.into_iter().partition(|entry| entry.key == IN);
            let whole = match cell.holds_others() {
                true => map(entries.clone(), cell.span),
                false => cell.clone(),
            };
            let read = around.vetting.section(&whole, CELL, "a cell", problems);
            let id = self.add(cell, (CELL, "cell"), entries, &read, problems);
            let light = place
                .first()
                .and_then(|place| in_light(place, &around.sections.lights, problems));
            if let Some(kept) = id.and_then(|id| self.kept.get_mut(&id)) {
                kept.in_light = light;
            }
        }
    }

    /// Adds one that was read, if it has an id of its own.
    fn add(
        &mut self,
        node: &Node<'_>,
        (subject, what): (SubjectId, &str),
        entries: Vec<Entry<'static>>,
        read: &Instance,
        problems: &mut Problems<'_>,
    ) -> Option<Arc<str>> {
        let Some(at) = node.at("id") else {
            let message = format!("a {what} needs `id`");
            let help = format!("add `id: ...`, the name written on the {what}");
            problems.add(Fault::MissingKey, node.span, message, help);
            return None;
        };
        let id = id_of(read, subject)?;
        if let Some(first) = self.kept.get(&id) {
            let place = problems.source().place(first.span.start);
            let message = format!("the {what} `{id}` is listed again; it is already at {place}");
            let help = format!("give each {what} a name of its own");
            problems.add(Fault::DefinedTwice, at.span, message, help);
            return None;
        }
        if self.kept.len() == MOST_CELLS {
            let message = format!("more than {MOST_CELLS} of them");
            problems.add(Fault::TooLarge, at.span, message, "split the bench");
            return None;
        }
        let kept = Kept {
            id: Arc::clone(&id),
            entries: entries
                .into_iter()
                .filter(|entry| entry.key != "id")
                .collect(),
            span: at.span,
            found: found(read).filter(|_| subject == CELL),
            in_light: None,
        };
        self.kept.insert(Arc::clone(&id), kept);
        Some(id)
    }
}

/// The key by which a cell says which light it is in.
const IN: &str = "in";

fn in_light(entry: &Entry<'_>, lights: &Named, problems: &mut Problems<'_>) -> Option<String> {
    let name = text(&entry.node, problems)?;
    lights.get(name, entry.node.span, problems)?;
    Some(name.to_owned())
}

/// The voltage at which a cell was found, as it was read with the others.
fn found(read: &Instance) -> Option<Measure> {
    let (id, _) = catalogue().fact_named("cell.found_voltage")?;
    match read.given(catalogue().slot(id))?.value {
        Value::Number(measure) => Some(measure),
        _ => None,
    }
}

/// The id that one of a subject was read with.
pub(super) fn id_of(read: &Instance, subject: SubjectId) -> Option<Arc<str>> {
    let slot = catalogue().slot(catalogue().id_of(subject)?);
    match &read.given(slot)?.value {
        Value::Text(id) => Some(Arc::clone(id)),
        _ => None,
    }
}

/// The cells of a table, as a proposal would write them.
pub(super) fn of_table(table: &mut Table<'_>, problems: &mut Problems<'_>) -> Vec<Node<'static>> {
    let columns = columns(table, holds_at, &keys(), problems);
    if !columns.iter().any(|column| column.key == "id") {
        let span = table.headings().first().map(|heading| heading.span);
        let help = "add a column `id`, the name written on each cell";
        let message = "the table has no column `id`";
        problems.add(Fault::MissingKey, span.unwrap_or_default(), message, help);
        return Vec::new();
    }
    let rows = table.rows().iter();
    rows.map(|row| {
        let values = columns
            .iter()
            .filter_map(|column| Some((column, column.node(table, row)?)));
        map(cell(values), row.span())
    })
    .collect()
}

/// The entries of a cell, those of one map together.
fn cell<'c>(values: impl Iterator<Item = (&'c Column, Node<'static>)>) -> Vec<Entry<'static>> {
    let mut entries: Vec<Entry<'static>> = Vec::new();
    for (column, node) in values {
        let (outer, inner) = split(&column.key);
        let Some(inner) = inner else {
            entries.push(entry(outer, column.span, node));
            continue;
        };
        let span = node.span;
        let inside = entry(inner, column.span, node);
        match entries.iter_mut().find(|entry| entry.key == outer) {
            Some(Entry { node, .. }) => {
                let mut all = node.entries().to_vec();
                all.push(inside);
                *node = map(all, node.span);
            }
            None => entries.push(entry(outer, column.span, map(vec![inside], span))),
        }
    }
    entries
}
