//! The readings that count on a day: of each thing one that is not later, and what follows from
//! several.

use rules_core::document::{Entry, Node};
use rules_core::facts::OverTime;
use rules_core::quantity::Measure;

use super::counted::{Counted, counted};
use super::curves::with_resistance;
use super::date::{Date, between};
use super::dated::{CAPACITY, Dated, REST, What};
use super::nodes::{entry, map, over};
use super::readings::Reading;
use super::watch::{Watch, watch};

/// A reading that counts on a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadingAtHand {
    /// When it was taken.
    pub date: Date,
    /// What was read: `rest.voltage`. A rest voltage that counts as the voltage at which the cell was
    /// found is `found.voltage`.
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
    /// Of each thing the one that counts, or did until the cell was charged or discharged.
    counted: Vec<Counted<'r>>,
}

impl<'r> InForce<'r> {
    /// Of these readings, in order of their dates. `found` is the voltage at which the cell was found
    /// where it is said without a date.
    pub(super) fn on(
        day: Date,
        readings: impl Iterator<Item = &'r Reading>,
        found: Option<Measure>,
    ) -> Self {
        let past: Vec<_> = readings.filter(|reading| reading.date <= day).collect();
        Self {
            day,
            counted: counted(&past, found),
            past,
        }
    }

    /// Those that count, in order of their dates.
    fn counting(&self) -> impl Iterator<Item = Counted<'r>> + '_ {
        let is_void = |one: &Counted<'_>| {
            one.dated.key == REST && self.moved_after(one.reading.date).is_some()
        };
        self.counted
            .iter()
            .copied()
            .filter(move |one| !is_void(one))
    }

    /// The day after another one on which the cell was charged or discharged: a rest voltage of before
    /// is not its voltage any more.
    fn moved_after(&self, day: Date) -> Option<Date> {
        let moved = self.past.iter().filter(|one| one.what.moves_charge());
        moved.map(|one| one.date).find(|date| *date > day)
    }

    /// What does not count any more, for people.
    pub(super) fn void(&self) -> Option<String> {
        let rest = self.counted.iter().find(|one| one.dated.key == REST)?;
        let moved = self.moved_after(rest.reading.date)?;
        Some(format!(
            "{REST} {} of {} counts no more, because the cell was charged or discharged on {moved}",
            rest.reading.written, rest.reading.date
        ))
    }

    /// The newer readings that take nothing back, for people.
    pub(super) fn outdone(&self) -> Vec<String> {
        let lasting = self.counted.iter();
        let lasting = lasting.filter(|one| one.dated.over_time != OverTime::Newest);
        let told = lasting.filter_map(|one| {
            let newest = self.past(&one.dated.key).pop()?;
            (newest.date > one.reading.date).then(|| {
                format!(
                    "{} {} of {} does not count, because the worst counts: {} of {}",
                    one.dated.key,
                    newest.written,
                    newest.date,
                    one.reading.written,
                    one.reading.date
                )
            })
        });
        told.collect()
    }

    /// What is said of a cell without a date, and what its readings say. Only a lower voltage takes the
    /// place of the one at which the cell was found; nothing else is said both ways.
    pub(super) fn beside(&self, said: &[Entry<'static>]) -> Vec<Entry<'static>> {
        let lent = self.counted.iter().find(|one| one.is_lent());
        let lent = lent.map(|one| one.dated.place().0);
        let said = said.iter().filter(|entry| Some(&*entry.key) != lent);
        over(said.cloned().collect(), self.entries())
    }

    /// The entries of a cell that they make.
    fn entries(&self) -> Vec<Entry<'static>> {
        let mut all: Vec<Entry<'static>> = Vec::new();
        for one in self.counting() {
            for said in one.entries() {
                add(&mut all, said);
            }
            if one.dated.key == CAPACITY {
                let reading = one.reading;
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
            .counting()
            .filter_map(|one| one.reading.resistance.clone());
        with_resistance(all, shown.last())
    }

    /// The watch over the rest voltage that counts, as an entry of a cell.
    fn watch(&self) -> Option<Entry<'static>> {
        let Watch { first, last } = self.watched()?;
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

    fn watched(&self) -> Option<Watch<'r>> {
        let fell = self.counted.iter().find(|one| one.is_lent());
        watch(&self.past, fell.map(|one| one.reading.date))
    }

    /// Those that count, with their dates.
    pub(super) fn at_hand(&self) -> Vec<ReadingAtHand> {
        let counting = self.counting();
        counting
            .map(|one| ReadingAtHand::of(one.dated, one.reading))
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
        for one in self.counting() {
            let (reading, read) = (one.reading, in_words(&one));
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
        told.extend(watch.map(|one| format!("drift from {} to {}", one.first.date, one.last.date)));
        (!told.is_empty()).then(|| told.join("; "))
    }

    /// Those that are not later, of what is read at a key, the oldest first.
    pub(super) fn past(&self, key: &str) -> Vec<&'r Reading> {
        let of_key = |reading: &&&Reading| reading.what.name() == key;
        self.past.iter().filter(of_key).copied().collect()
    }
}

fn in_words(one: &Counted<'_>) -> String {
    let read = format!("{} {}", one.reading.what.name(), one.reading.written);
    match one.is_lent() {
        true => format!("{read} as {}", one.dated.key),
        false => read,
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
