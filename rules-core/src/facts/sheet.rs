//! The facts given of one proposal.

use std::sync::Arc;

use smol_str::SmolStr;

use super::meters::StatedMeters;
use super::options::OptionSet;
use super::subject::SubjectId;
use crate::document::{Place, Source, Span};
use crate::quantity::{Measure, Quantity, Unit};
use crate::snapshot::stored;

/// A value of a fact.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A number, as an interval in the base unit of its kind.
    Number(Measure),
    /// The options it may be; one, when it is known.
    Choice(OptionSet),
    /// Yes or no.
    YesNo(bool),
    /// A text.
    Text(Arc<str>),
}

/// A value that was given, with what was written and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// The value.
    pub value: Value,
    /// The text as written, for reports.
    pub written: SmolStr,
    /// The unit of a number in that text, if it has one: reports show it in this.
    pub unit: Option<Unit>,
    /// The byte of the sheet's source at which it was written, if it was.
    pub at: Option<usize>,
    /// Whether it is a reading that is only as good as the meter that the rules assume.
    pub meter_assumed: bool,
}

impl Given {
    /// A value with what was written for it, and where.
    #[must_use]
    pub fn new(value: Value, written: impl Into<SmolStr>, at: Option<usize>) -> Self {
        let written = written.into();
        let unit = match &value {
            Value::Number(_) => Quantity::parse(&written).ok(),
            _ => None,
        };
        Self {
            value,
            unit: unit.and_then(|quantity| quantity.unit()),
            written,
            at,
            meter_assumed: false,
        }
    }

    /// A value that is worked out of a code or a count in the text: of no quantity.
    #[must_use]
    pub fn worked_out(value: Value, written: &str, at: usize) -> Self {
        Self {
            value,
            written: written.into(),
            unit: None,
            at: Some(at),
            meter_assumed: false,
        }
    }

    /// The stretch of the source at which it was written, if it was.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        let start = self.at?;
        Some(Span {
            start,
            end: start + self.written.len(),
        })
    }
}

/// One of a subject, or several with the same facts: its name, what it belongs to, and what is
/// known of it.
#[derive(Debug, Clone, Default)]
pub struct Instance {
    /// The name in reports; empty for a single subject.
    pub name: String,
    /// The position of what contains it, if the subject has a container.
    pub container: Option<usize>,
    /// Positions of what it contains.
    pub members: Vec<usize>,
    /// How many more it stands for than itself.
    more: usize,
    /// Whether the proposal calls for it and does not list it.
    unlisted: bool,
    /// The position of the one of another subject that it names as what it came out of, where there
    /// is one of that name.
    pub origin: Option<usize>,
    /// The facts given, in the order in which they were given. Most facts of most instances are not
    /// given.
    given: Vec<Given>,
    /// By slot, where among them its fact is, counted from 1: 0 is nothing given. A catalogue has
    /// few facts of a subject.
    places: Vec<u32>,
}

impl Instance {
    /// A named instance of which nothing is known.
    #[must_use]
    pub fn named(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            ..Self::default()
        }
    }

    /// The same, containing these.
    #[must_use]
    pub fn holding(self, members: Vec<usize>) -> Self {
        Self { members, ..self }
    }

    /// The same, inside this one.
    #[must_use]
    pub fn inside(self, container: Option<usize>) -> Self {
        Self { container, ..self }
    }

    /// The same, standing for so many: at least one.
    #[must_use]
    pub fn standing_for(self, count: usize) -> Self {
        Self {
            more: count.saturating_sub(1),
            ..self
        }
    }

    /// The same, which the proposal calls for and does not list. Its name is for reports.
    #[must_use]
    pub fn not_listed(self) -> Self {
        Self {
            unlisted: true,
            ..self
        }
    }

    /// Whether the proposal lists it, or need not.
    #[must_use]
    pub const fn is_listed(&self) -> bool {
        !self.unlisted
    }

    /// How many it stands for: one, unless several are alike in that nothing is known of them.
    #[must_use]
    pub const fn stands_for(&self) -> usize {
        self.more + 1
    }

    /// Makes room for so many facts more, with slots below this.
    pub fn make_room(&mut self, facts: usize, slots: usize) {
        self.given.reserve(facts);
        self.places.resize(slots.max(self.places.len()), 0);
    }

    /// What was given of the fact in a slot.
    #[must_use]
    pub fn given(&self, slot: usize) -> Option<&Given> {
        let place = self.places.get(slot).copied()? as usize;
        self.given.get(place.checked_sub(1)?)
    }

    /// Sets the fact in a slot.
    pub fn set(&mut self, slot: usize, given: Given) {
        if self.places.len() <= slot {
            self.places.resize(slot + 1, 0);
        }
        let Some(place) = self.places.get_mut(slot) else {
            return;
        };
        match (*place as usize)
            .checked_sub(1)
            .and_then(|at| self.given.get_mut(at))
        {
            Some(before) => *before = given,
            None => {
                self.given.push(given);
                *place = u32::try_from(self.given.len()).unwrap_or(0);
            }
        }
    }
}

/// All of one subject.
#[derive(Debug, Clone, Default)]
pub struct Roster {
    /// Each of them, those that are alike as one; just one for a single subject.
    pub instances: Vec<Instance>,
    /// Whether it is unknown which members belong to which of them. Then nothing that depends on it
    /// is known.
    pub unsettled: bool,
    /// Whether the last of them stands for those that no entry names. Then it is not known which
    /// ones there are, and nothing is known of that one.
    pub open: bool,
}

impl Roster {
    /// Whether it is known which ones there are.
    #[must_use]
    pub const fn is_known(&self) -> bool {
        !self.unsettled && !self.open
    }
}

/// The facts given of one proposal, by subject.
#[derive(Debug, Clone, Default)]
pub struct Sheet {
    rosters: Vec<Roster>,
    source: Option<Arc<Source>>,
    meters: StatedMeters,
}

impl Sheet {
    /// A sheet of these, by the positions of their subjects.
    pub(super) const fn of(rosters: Vec<Roster>) -> Self {
        Self {
            rosters,
            source: None,
            meters: StatedMeters(Vec::new()),
        }
    }

    /// The same, with values that were written in this text.
    #[must_use]
    pub fn written_in(self, source: Arc<Source>) -> Self {
        Self {
            source: Some(source),
            ..self
        }
    }

    /// The same, with readings that were taken with these meters.
    #[must_use]
    pub fn read_with(self, meters: StatedMeters) -> Self {
        Self { meters, ..self }
    }

    /// The meters that readings were taken with, as far as they are stated.
    #[must_use]
    pub const fn meters(&self) -> &StatedMeters {
        &self.meters
    }

    /// The text that values were written in, if they were.
    #[must_use]
    pub fn source(&self) -> Option<&Source> {
        self.source.as_deref()
    }

    /// Where a value was written, if it was.
    #[must_use]
    pub fn place(&self, given: &Given) -> Option<Place> {
        Some(self.source.as_ref()?.place(given.at?))
    }

    /// All of a subject.
    #[must_use]
    pub fn roster(&self, subject: SubjectId) -> Option<&Roster> {
        self.rosters.get(subject.position())
    }

    /// All of a subject, to change.
    pub fn roster_mut(&mut self, subject: SubjectId) -> Option<&mut Roster> {
        self.rosters.get_mut(subject.position())
    }

    /// How many of a subject are listed apart. One that stands for several counts once.
    #[must_use]
    pub fn count(&self, subject: SubjectId) -> usize {
        self.roster(subject)
            .map_or(0, |roster| roster.instances.len())
    }

    /// How many of a subject there are, whether told apart or not.
    #[must_use]
    pub fn count_in_all(&self, subject: SubjectId) -> usize {
        self.roster(subject).map_or(0, |roster| {
            roster.instances.iter().map(Instance::stands_for).sum()
        })
    }

    /// How many one of a subject stands for: of all or, inside a container, of those in each.
    #[must_use]
    pub fn stands_for(
        &self,
        subject: SubjectId,
        position: usize,
        within: Option<SubjectId>,
    ) -> usize {
        let Some(one) = self.instance(subject, position) else {
            return 0;
        };
        let containers = within
            .zip(one.container)
            .and_then(|(container, at)| self.instance(container, at))
            .map_or(1, Instance::stands_for);
        one.stands_for() / containers
    }

    /// How many are listed apart of the subject with the most.
    #[must_use]
    pub fn count_of_most(&self) -> usize {
        self.rosters
            .iter()
            .map(|roster| roster.instances.len())
            .max()
            .unwrap_or(0)
    }

    /// One of a subject.
    #[must_use]
    pub fn instance(&self, subject: SubjectId, position: usize) -> Option<&Instance> {
        self.roster(subject)
            .and_then(|roster| roster.instances.get(position))
    }

    /// One of a subject, to change.
    pub fn instance_mut(&mut self, subject: SubjectId, position: usize) -> Option<&mut Instance> {
        self.roster_mut(subject)
            .and_then(|roster| roster.instances.get_mut(position))
    }

    /// What was given of a fact.
    #[must_use]
    pub fn given(&self, subject: SubjectId, position: usize, slot: usize) -> Option<&Given> {
        self.instance(subject, position)
            .and_then(|instance| instance.given(slot))
    }

    /// What is known of a fact: what was given, or nothing if the members of its subject are not
    /// settled.
    #[must_use]
    pub fn known(&self, subject: SubjectId, position: usize, slot: usize) -> Option<&Given> {
        let roster = self.roster(subject).filter(|roster| !roster.unsettled)?;
        roster.instances.get(position)?.given(slot)
    }

    /// The text given of a fact.
    #[must_use]
    pub fn text(&self, subject: SubjectId, position: usize, slot: usize) -> Option<&Arc<str>> {
        match &self.given(subject, position, slot)?.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Whether it is known which ones of a subject there are.
    #[must_use]
    pub fn are_known(&self, subject: SubjectId) -> bool {
        self.roster(subject).is_some_and(Roster::is_known)
    }

    /// Whether one of a subject stands for others that are not known.
    #[must_use]
    pub fn is_nobody(&self, subject: SubjectId, position: usize) -> bool {
        self.roster(subject).is_some_and(|roster| {
            roster.unsettled || (roster.open && position + 1 == roster.instances.len())
        })
    }

    /// Whether it is unknown which members belong to which of a subject.
    #[must_use]
    pub fn is_unsettled(&self, subject: SubjectId) -> bool {
        self.roster(subject).is_some_and(|roster| roster.unsettled)
    }
}

stored!(
    enum Value {
        Number(measure),
        Choice(options),
        YesNo(yes),
        Text(text),
    }
);
stored!(struct Given { value, written, unit, at, meter_assumed });
