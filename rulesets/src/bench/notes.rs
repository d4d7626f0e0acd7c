//! What a plain proposal says of what was taken: its notes.

use std::sync::Arc;

use rules_core::document::{Content, Entry, Node};
use rules_core::quantity::Kind;

use super::date::Date;
use super::file::Bench;
use super::in_force::InForce;
use super::nodes::{entry, list};
use super::scatter::better;
use crate::curve::ASSUMED;

/// What was taken.
pub(super) struct About<'b> {
    pub bench: &'b Bench,
    /// The day on which readings count.
    pub day: Option<Date>,
    /// The light of the bench.
    pub light: Option<&'b str>,
    /// The cells of the bench.
    pub cells: &'b [Arc<str>],
}

/// All that is told, what a person should look at first; `of_cells` is what the readings say.
pub(super) fn notes(about: &About<'_>, of_cells: OfReadings) -> Vec<String> {
    let mut all = of_cells.questions;
    all.extend(of_lights(about));
    all.extend(of_later(about));
    all.push(of_bench(about));
    all.extend(of_cells.told);
    all
}

/// What is told of the readings of cells.
#[derive(Debug, Default)]
pub(super) struct OfReadings {
    /// What is better than it can be.
    questions: Vec<String>,
    /// Which count, and which do not any more.
    told: Vec<String>,
}

impl OfReadings {
    /// Adds those of a cell.
    pub(super) fn add(&mut self, cell: &str, readings: &InForce<'_>) {
        let plain = readings.told().into_iter().chain(readings.void());
        self.told.extend(
            plain
                .chain(readings.outdone())
                .map(|told| format!("{cell}: {told}.")),
        );
        let asked = better(readings).into_iter();
        self.questions
            .extend(asked.map(|told| format!("{cell}: {told}")));
    }

    /// Adds which curves are read by assumed meters.
    pub(super) fn add_curves(&mut self, bench: &Bench, taken: &[Entry<'_>]) {
        let cells = taken.iter().find(|entry| entry.key == "cells");
        let Some(Content::List(cells)) = cells.map(|cells| &cells.node.content) else {
            return;
        };
        let by_curve = cells.iter().filter(|cell| has_curve(bench, cell));
        let ids: Vec<&str> = by_curve
            .filter_map(|cell| cell.at("id")?.scalar())
            .collect();
        let is_stated = |kind: Kind| {
            let stated = bench.meters.as_ref();
            stated.is_some_and(|stated| stated.at(kind.name()).is_some())
        };
        let assumed = ASSUMED.into_iter().filter(|(kind, _)| !is_stated(*kind));
        let assumed: Vec<String> = assumed
            .map(|(kind, meter)| format!("{} {meter}", kind.name()))
            .collect();
        if !ids.is_empty() && !assumed.is_empty() {
            self.told.push(format!(
                "{}: by a curve of which the bench states no meter of {}; so good its numbers count that \
                 have no tolerance of their own.",
                ids.join(", "),
                assumed.join(", of ")
            ));
        }
    }
}

/// Whether a test of a cell tells what a curve shows.
fn has_curve(bench: &Bench, cell: &Node<'_>) -> bool {
    let tests = match cell.at("capacity").map(|tests| (&tests.content, tests)) {
        Some((Content::List(tests), _)) => tests.as_slice(),
        Some((_, test)) => std::slice::from_ref(test),
        None => &[],
    };
    let mut told = tests.iter().flat_map(Node::entries);
    told.any(|entry| bench.is_in_curve(entry.node.span.start))
}

fn of_bench(about: &About<'_>) -> String {
    let day = about.day;
    let day = day.map(|day| format!(", with its readings as of {day}"));
    let (title, digest) = (&about.bench.title, &about.bench.digest);
    format!(
        "Taken from the bench `{title}` ({digest}){}.",
        day.unwrap_or_default()
    )
}

/// Which cells are in another light, by the bench.
fn of_lights<'b>(about: &'b About<'_>) -> impl Iterator<Item = String> + 'b {
    about.cells.iter().filter_map(|id| {
        let light = about.bench.cells.get(id)?.in_light.as_deref()?;
        (Some(light) != about.light)
            .then(|| format!("{id} is in the light `{light}`, by the bench."))
    })
}

/// Which cells have readings that do not count yet.
fn of_later(about: &About<'_>) -> Option<String> {
    let day = about.day?;
    let later = about.cells.iter().map(|id| {
        let readings = about.bench.readings.of(id);
        (id, readings.filter(|one| one.date > day).count())
    });
    let later: Vec<(&Arc<str>, usize)> = later.filter(|(_, count)| *count > 0).collect();
    let count: usize = later.iter().map(|(_, count)| count).sum();
    let ids: Vec<&str> = later.iter().map(|(id, _)| &***id).collect();
    let readings = match count {
        0 => return None,
        1 => "1 reading".to_owned(),
        count => format!("{count} readings"),
    };
    Some(format!(
        "Later than {day}, and left out: {readings} of {}.",
        ids.join(", ")
    ))
}

/// The notes that a proposal has, and these.
pub(super) fn with_written(
    written: Option<&Node<'static>>,
    notes: &[String],
) -> Option<Entry<'static>> {
    let own = match written {
        None => Vec::new(),
        Some(Node {
            content: Content::List(notes),
            ..
        }) => notes.clone(),
        // Whoever reads it reports it.
        Some(other) => return Some(entry("notes", other.span, other.clone())),
    };
    let taken = notes.iter();
    let taken = taken.map(|note| Node::of_text(note));
    let span = written.map(|node| node.span).unwrap_or_default();
    let all = own.into_iter().chain(taken).collect();
    Some(entry("notes", span, list(all, span)))
}
