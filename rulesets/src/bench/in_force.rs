//! The readings that count on a day: of each thing the newest that is not later, and what follows
//! from several.

use rules_core::document::{Entry, Node};
use rules_core::quantity::{Kind, Nature, Quantity};

use super::date::{Date, between};
use super::dated::{CAPACITY, Dated, REST, What};
use super::nodes::{entry, map, over, scalar};
use super::readings::Reading;

/// What the readings of a cell say of it on a day.
pub(super) struct InForce<'r> {
    day: Date,
    /// Those that are not later, the oldest first.
    past: Vec<&'r Reading>,
    /// Those that are.
    later: Vec<&'r Reading>,
}

impl<'r> InForce<'r> {
    /// Of these readings, in order of their dates.
    pub(super) fn on(day: Date, readings: &'r [Reading]) -> Self {
        let (past, later) = readings.iter().partition(|reading| reading.date <= day);
        Self { day, past, later }
    }

    /// Those that count, in order of what they are of.
    fn newest(&self) -> impl Iterator<Item = (&'static Dated, &'r Reading)> + '_ {
        let newest = |at: usize, reading: &Reading| {
            let mut after = self.past.iter().skip(at + 1);
            after.all(|other| other.what != reading.what)
        };
        let all = self.past.iter().enumerate();
        all.filter(move |(at, reading)| newest(*at, reading))
            .filter_map(|(_, reading)| match reading.what {
                What::Read(dated) => Some((dated, *reading)),
                What::Charged | What::Discharged => None,
            })
    }

    /// The entries of a cell that they make.
    pub(super) fn entries(&self) -> Vec<Entry<'static>> {
        let mut all: Vec<Entry<'static>> = Vec::new();
        for (dated, reading) in self.newest() {
            for said in &reading.entries {
                add(&mut all, said.clone());
            }
            if dated.key == CAPACITY {
                let ago = between(self.day.days_since(reading.date));
                all.push(entry("tested_ago", reading.span, scalar(ago, reading.span)));
            }
        }
        all.extend(self.watch());
        all
    }

    /// The fall of the rest voltage: from the first reading that was taken a day or more after the
    /// last charge or discharge, to the newest.
    fn watch(&self) -> Option<Entry<'static>> {
        let is_rest = |reading: &&&Reading| reading.what.name() == REST;
        let last = *self.past.iter().rfind(is_rest)?;
        let moved = self
            .past
            .iter()
            .filter(|reading| reading.what.moves_charge());
        let moved = moved
            .map(|reading| reading.date)
            .filter(|date| *date <= last.date)
            .max();
        let has_rested = |reading: &Reading| match moved {
            Some(moved) if reading.date <= moved => false,
            Some(moved) if reading.date.days_since(moved) > 1 => true,
            _ => rested_a_day(reading),
        };
        let first = self
            .past
            .iter()
            .filter(is_rest)
            .find(|reading| has_rested(reading))?;
        let days = last.date.days_since(first.date);
        if days == 0 {
            return None;
        }
        let said = |key: &str, reading: &Reading| {
            let node = reading.beside("voltage").cloned();
            entry(
                key,
                reading.span,
                node.unwrap_or_else(|| scalar("", reading.span)),
            )
        };
        let over = entry("over", last.span, scalar(between(days), last.span));
        let watch = vec![said("from", first), said("to", last), over];
        Some(entry("drift", last.span, map(watch, last.span)))
    }

    /// What is in force, with its dates, for people.
    pub(super) fn told(&self) -> Option<String> {
        let told = self.newest().map(|(dated, reading)| {
            let days = self.day.days_since(reading.date);
            format!(
                "{} {} of {}, {}",
                dated.key,
                reading.written,
                reading.date,
                days_ago(days)
            )
        });
        let told: Vec<String> = told.collect();
        (!told.is_empty()).then(|| told.join("; "))
    }

    /// How many readings are later than the day.
    pub(super) fn later(&self) -> usize {
        self.later.len()
    }

    /// Those that are not later, of what is read at a key, the oldest first.
    pub(super) fn past(&self, key: &str) -> Vec<&'r Reading> {
        let of_key = |reading: &&&Reading| reading.what.name() == key;
        self.past.iter().filter(of_key).copied().collect()
    }
}

fn days_ago(days: i64) -> String {
    match days {
        0 => "the same day".to_owned(),
        1 => "1 day before".to_owned(),
        days => format!("{days} days before"),
    }
}

/// Adds an entry to those of a cell; two maps under one key become one.
fn add(all: &mut Vec<Entry<'static>>, more: Entry<'static>) {
    match all.iter_mut().find(|known| known.key == more.key) {
        None => all.push(more),
        Some(known) => {
            let joined = over(
                known.node.entries().to_vec(),
                more.node.entries().iter().cloned(),
            );
            known.node = map(joined, known.node.span);
        }
    }
}

/// Whether a rest voltage was surely read a day or more after the last charge or load.
fn rested_a_day(reading: &Reading) -> bool {
    let after = reading.beside("after").and_then(Node::scalar);
    let after = after.and_then(|text| Quantity::parse(text).ok());
    let after = after.and_then(|time| time.measure(Kind::Time, Nature::Stated, None).ok());
    after.is_some_and(|hours| hours.range().lo() >= 24.0)
}
