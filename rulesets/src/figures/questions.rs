//! What to ask: facts, each alone or in a set answered together, that would narrow a figure.
//!
//! Nothing is advised that was not tried: the figure is worked with each question answered as it
//! typically comes out, and what does not narrow it is not asked. So what is asked for settles
//! something, none of a set can be left out, and what was answered is not asked again.

mod typical;

use self::typical::{
    further_test, in_a_room, resistance_by_direct_current, typical, voltages_on_the_way,
};
use super::assumed::{Answer, Assumed};
use super::needs::Need::{self, *};
use super::needs::{ALL, set};
use super::reader::Notes;
use super::shared_work::SharedWork;
use super::table::Row;
use crate::facts::CELL;
use rules_core::facts::{Narrowing, Needs, OptionSet, Reach, TypicalAnswer, Value, Worked};
use rules_core::quantity::{Interval, Measure};

/// So many questions are told of a figure.
const MOST_TOLD: usize = 3;

/// Of builds with more cells nothing is asked: each question works the figure anew.
const MOST_CELLS: usize = 16;

/// A question narrows a figure if it leaves less than this part of its width, or closes an end.
const NARROWED: f64 = 0.9;

/// A figure that is known to this part of its middle is not asked about.
const KNOWN: f64 = 0.04;

/// Facts that are answered together.
const SETS: &[&[Need]] = &[
    &[DrawCurrent],
    &[CutOff],
    &[InputMin],
    &[RunSinceFull],
    &[Standby],
    &[StoredAt],
    &[ChargeCurrent],
    &[Ambient],
    &[Class],
    &[Capacity, CapacityAt, CapacityTo],
    &[Resistance, ResistanceMethod],
    &[RestVoltage, RestAfter],
    &[RatedCapacity],
    &[DriftFrom, DriftTo, DriftOver],
];

/// Facts of each cell; the others are of a single subject.
const OF_CELLS: Needs = super::needs::MODEL
    .with(super::needs::REST)
    .with(super::needs::DRIFT)
    .with(set(&[RatedCapacity]));

pub(super) fn is_of_cells(need: Need) -> bool {
    OF_CELLS.with(set(&[need])) == OF_CELLS
}

/// A question with what the figure comes to.
struct Tried {
    question: Vec<Assumed>,
    worked: Worked,
}

/// What would narrow a figure, what narrows it most first.
pub(super) fn narrowings(shared: &SharedWork<'_>, row: &Row, position: usize) -> Vec<Narrowing> {
    if shared.reader.count(CELL) > MOST_CELLS {
        return Vec::new();
    }
    let plain = row.worked(shared, position);
    if plain.open.is_none() && plain.missing.is_empty() && is_known(plain.value.range()) {
        return Vec::new();
    }
    let figure = Figure {
        shared,
        row,
        position,
        plain,
    };
    let mut tried = figure.narrowed();
    tried.sort_by(|one, other| width(&one.worked).total_cmp(&width(&other.worked)));
    tried.truncate(MOST_TOLD);
    tried
        .into_iter()
        .map(|one| Narrowing {
            answers: figure.told(&one.question),
            worked: one.worked,
        })
        .collect()
}

fn is_known(range: Interval) -> bool {
    range.is_bounded() && range.width() <= KNOWN * range.middle().abs()
}

/// The width of a figure: one that is open is wider than any other.
fn width(worked: &Worked) -> f64 {
    if worked.open.is_some() {
        f64::INFINITY
    } else {
        worked.value.range().width()
    }
}

/// A figure of one of its subject, and what it came to.
struct Figure<'f, 's> {
    shared: &'f SharedWork<'s>,
    row: &'f Row,
    position: usize,
    plain: Worked,
}

impl Figure<'_, '_> {
    /// The questions that narrow it: each alone, or if none does, what is missing all together.
    fn narrowed(&self) -> Vec<Tried> {
        let missing = self.missing();
        let others = self.narrower_readings();
        let alone: Vec<Tried> = missing
            .iter()
            .chain(&others)
            .filter_map(|question| self.try_out(question.clone()))
            .collect();
        if !alone.is_empty() || missing.len() < 2 {
            return alone;
        }
        self.try_out(missing.concat()).into_iter().collect()
    }

    /// The figure with a question answered, if it narrows it; without what it is as narrow without.
    fn try_out(&self, question: Vec<Assumed>) -> Option<Tried> {
        let worked = self.with(&question);
        if !self.is_narrower(&worked) {
            return None;
        }
        let mut tried = Tried { question, worked };
        // A reading that is taken anew is taken as a whole.
        let is_new = |one: &&Assumed| !self.shared.reader.is_given(one.need, one.position);
        if !tried.question.iter().all(|one| is_new(&one)) {
            return Some(tried);
        }
        let mut needs: Vec<Need> = tried.question.iter().map(|one| one.need).collect();
        needs.sort();
        needs.dedup();
        for need in needs {
            let less: Vec<Assumed> = tried
                .question
                .iter()
                .copied()
                .filter(|one| one.need != need)
                .collect();
            let worked = self.with(&less);
            if is_as_narrow(&worked, &tried.worked) {
                tried = Tried {
                    question: less,
                    worked,
                };
            }
        }
        Some(tried)
    }

    fn with(&self, question: &[Assumed]) -> Worked {
        let shared = SharedWork::of(self.shared.reader.assuming(question));
        self.row.worked(&shared, self.position)
    }

    /// Whether it is narrower so: inside, and by more than a little, or closed where it was open.
    fn is_narrower(&self, worked: &Worked) -> bool {
        let (before, after) = (self.plain.value.range(), worked.value.range());
        let closes = self.plain.open.is_some() && worked.open.is_none();
        let bounds = !before.is_bounded() && after.is_bounded();
        let opens = self.plain.open.is_none() && worked.open.is_some();
        let narrows = after.width() < NARROWED * before.width();
        before.encloses(after) && after != before && !opens && (narrows || closes || bounds)
    }

    /// One question for each set of which something is missing.
    fn missing(&self) -> Vec<Vec<Assumed>> {
        let lacks = |need: Need| {
            let lacked = self.plain.missing.with(set(&[need]));
            lacked == self.plain.missing
        };
        SETS.iter()
            .filter(|needs| needs.iter().any(|need| lacks(*need)))
            .map(|needs| self.unanswered(needs))
            .filter(|question| !question.is_empty())
            .collect()
    }

    fn unanswered(&self, needs: &[Need]) -> Vec<Assumed> {
        let positions = if needs.iter().copied().any(is_of_cells) {
            self.cells()
        } else {
            vec![0]
        };
        let of_one = |position: usize| {
            let open = needs
                .iter()
                .copied()
                .filter(move |need| !self.shared.reader.is_given(*need, position));
            open.filter_map(move |need| {
                Some(Assumed {
                    need,
                    position,
                    answer: typical(self.shared, need, position)?,
                })
            })
        };
        positions.into_iter().flat_map(of_one).collect()
    }

    /// Better readings than are there: a test like the use, a resistance by direct current, and the
    /// temperature of a test that tells none.
    fn narrower_readings(&self) -> Vec<Vec<Assumed>> {
        let looks = |need: Need| self.row.needs.with(set(&[need])) == self.row.needs;
        let mut all = Vec::new();
        if looks(Capacity2) {
            all.extend(self.of_each_cell(further_test));
            all.extend(self.of_each_cell(in_a_room));
            all.extend(self.of_each_cell(voltages_on_the_way));
        }
        if looks(Resistance) {
            all.extend(self.of_each_cell(resistance_by_direct_current));
        }
        all
    }

    /// The question of every cell that one can be put to; none if there is no such cell.
    fn of_each_cell(
        &self,
        question: fn(&SharedWork<'_>, usize) -> Vec<Assumed>,
    ) -> Option<Vec<Assumed>> {
        let cells = self.cells().into_iter();
        let all: Vec<Assumed> = cells.flat_map(|cell| question(self.shared, cell)).collect();
        (!all.is_empty()).then_some(all)
    }

    /// The cells whose facts take part.
    fn cells(&self) -> Vec<usize> {
        let all = || (0..self.shared.reader.count(CELL)).collect();
        let members = |group: usize| {
            let members = self.shared.members(group, &mut Notes::of(ALL));
            members.map(<[usize]>::to_vec)
        };
        match (self.row.subject(), self.plain.reach) {
            ("cell", Reach::Own) => vec![self.position],
            ("cell", Reach::Together) => self
                .shared
                .reader
                .container(CELL, self.position)
                .and_then(members)
                .unwrap_or_else(|| vec![self.position]),
            ("group", Reach::Own) => members(self.position).unwrap_or_default(),
            _ => all(),
        }
    }

    fn told(&self, question: &[Assumed]) -> Vec<TypicalAnswer> {
        let answer = |one: &Assumed| {
            let value = match one.answer {
                Answer::Number(number) => Value::Number(Measure::exact(number)),
                Answer::Option(at) => Value::Choice(OptionSet::one(at)),
            };
            Some(TypicalAnswer {
                fact: self.shared.reader.id(one.need)?,
                position: one.position,
                value,
            })
        };
        question.iter().filter_map(answer).collect()
    }
}

/// Whether a figure is as narrow as another, to what is worth an answer.
fn is_as_narrow(one: &Worked, other: &Worked) -> bool {
    let (one_range, other_range) = (one.value.range(), other.value.range());
    let same = (one_range.width() - other_range.width()) <= 1e-6 * other_range.width();
    (one.open.is_none() || other.open.is_some()) && (same || one_range == other_range)
}
