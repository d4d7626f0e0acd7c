//! The readings that count on a day: of each thing the newest that is not later, and what follows
//! from several.

use rules_core::document::{Entry, Node};
use rules_core::quantity::{Kind, Nature, Quantity};

use super::curves::with_resistance;
use super::date::{Date, between};
use super::dated::{CAPACITY, Dated, REST, What};
use super::nodes::{entry, map, over};
use super::readings::Reading;

/// A reading that counts on a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadingAtHand {
    /// When it was taken.
    pub date: Date,
    /// What was read: `rest.voltage`.
    pub key: &'static str,
    /// As it was written, with its unit.
    pub written: String,
}

impl ReadingAtHand {
    fn of(dated: &'static Dated, reading: &Reading) -> Self {
        Self {
            date: reading.date,
            key: &dated.key,
            written: reading.written.clone(),
        }
    }
}

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
    pub(super) fn on(day: Date, readings: impl Iterator<Item = &'r Reading>) -> Self {
        let (past, later) = readings.partition(|reading| reading.date <= day);
        Self { day, past, later }
    }

    /// Those that count, in order of their dates.
    fn newest(&self) -> impl Iterator<Item = (&'static Dated, &'r Reading)> + '_ {
        let all = self.newest_of_each();
        all.filter(|(dated, reading)| dated.key != REST || self.moved_after(reading.date).is_none())
    }

    /// Of each thing the newest.
    fn newest_of_each(&self) -> impl Iterator<Item = (&'static Dated, &'r Reading)> + use<'r> {
        let mut newest: Vec<(&'static Dated, &'r Reading)> = Vec::new();
        for reading in self.past.iter().rev() {
            if let What::Read(dated) = reading.what
                && newest.iter().all(|(known, _)| *known != dated)
            {
                newest.push((dated, reading));
            }
        }
        newest.into_iter().rev()
    }

    /// The day after another one on which the cell was charged or discharged: a rest voltage of before
    /// is not its voltage any more.
    fn moved_after(&self, day: Date) -> Option<Date> {
        let moved = self.past.iter().filter(|one| one.what.moves_charge());
        moved.map(|one| one.date).find(|date| *date > day)
    }

    /// What does not count any more, for people.
    pub(super) fn void(&self) -> Option<String> {
        let mut all = self.newest_of_each();
        let (_, rest) = all.find(|(dated, _)| dated.key == REST)?;
        let moved = self.moved_after(rest.date)?;
        Some(format!(
            "{REST} {} of {} counts no more, because the cell was charged or discharged on {moved}",
            rest.written, rest.date
        ))
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
                all.push(entry(
                    "tested_ago",
                    reading.span,
                    Node::text_at(&ago, reading.span),
                ));
            }
        }
        all.extend(self.watch());
        let shown = self
            .newest()
            .filter_map(|(_, reading)| reading.resistance.clone());
        with_resistance(all, shown.last())
    }

    /// The newest watch over the rest voltage, as an entry of a cell.
    fn watch(&self) -> Option<Entry<'static>> {
        let (first, last) = self.watched()?;
        let said = |key: &str, reading: &Reading| {
            let node = reading.beside("voltage").cloned();
            entry(
                key,
                reading.span,
                node.unwrap_or_else(|| Node::text_at("", reading.span)),
            )
        };
        let time = Node::text_at(&between(last.date.days_since(first.date)), last.span);
        let over = entry("over", last.span, time);
        let watch = vec![said("from", first), said("to", last), over];
        Some(entry("drift", last.span, map(watch, last.span)))
    }

    /// The two rest voltages of the newest watch. It begins with the first that was read a day or more
    /// after a charge or discharge, and ends with the last before the next one.
    fn watched(&self) -> Option<(&'r Reading, &'r Reading)> {
        let moved = self.past.iter().filter(|one| one.what.moves_charge());
        let mut moved = moved.map(|one| one.date).peekable();
        let (mut since, mut first, mut watch) = (None, None, None);
        for rest in self.past(REST) {
            while let Some(day) = moved.next_if(|day| *day <= rest.date) {
                (since, first) = (Some(day), None);
            }
            match first {
                None if has_rested(rest, since) => first = Some(rest),
                Some(first) => watch = Some((first, rest)),
                None => {}
            }
        }
        watch
    }

    /// Those that count, with their dates.
    pub(super) fn at_hand(&self) -> Vec<ReadingAtHand> {
        let newest = self.newest();
        newest
            .map(|(dated, reading)| ReadingAtHand::of(dated, reading))
            .collect()
    }

    /// All that are not later, whether they still count or not, each with whether the cell was charged
    /// or discharged since the same was read before.
    pub(super) fn all(&self) -> Vec<(ReadingAtHand, bool)> {
        let mut all: Vec<(ReadingAtHand, bool)> = Vec::new();
        for reading in &self.past {
            if let What::Read(dated) = reading.what {
                let before = all.iter().rev().find(|(known, _)| known.key == dated.key);
                let moved = before.and_then(|(before, _)| self.moved_after(before.date));
                let moved = moved.is_some_and(|day| day <= reading.date);
                all.push((ReadingAtHand::of(dated, reading), moved));
            }
        }
        all
    }

    /// What is in force, by its dates, for people.
    pub(super) fn told(&self) -> Option<String> {
        let mut told: Vec<String> = Vec::new();
        let mut day = None;
        for (dated, reading) in self.newest() {
            let read = format!("{} {}", dated.key, reading.written);
            match told.last_mut().filter(|_| day == Some(reading.date)) {
                Some(of_day) => *of_day += &format!(", {read}"),
                None => {
                    let ago = days_before(self.day.days_since(reading.date));
                    told.push(format!("{} ({ago}) {read}", reading.date));
                }
            }
            day = Some(reading.date);
        }
        let watch = self.watched();
        told.extend(
            watch.map(|(first, last)| format!("drift from {} to {}", first.date, last.date)),
        );
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

fn days_before(days: i64) -> String {
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

/// Whether a rest voltage was surely read a day or more after the last charge or discharge, which was
/// on this day, if one is told.
fn has_rested(reading: &Reading, moved: Option<Date>) -> bool {
    match moved {
        Some(moved) if reading.date <= moved => false,
        Some(moved) if reading.date.days_since(moved) > 1 => true,
        _ => rested_a_day(reading),
    }
}

/// Whether it says itself that it was read a day or more after them.
fn rested_a_day(reading: &Reading) -> bool {
    let after = reading.beside("after").and_then(Node::scalar);
    let after = after.and_then(|text| Quantity::parse(text).ok());
    let after = after.and_then(|time| time.measure(Kind::Time, Nature::Stated, None).ok());
    after.is_some_and(|hours| hours.range().lo() >= 24.0)
}
