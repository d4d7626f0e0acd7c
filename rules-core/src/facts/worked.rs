//! Figures that the library works out from facts, as the catalogue knows them.

use std::fmt::Debug;
use std::sync::Arc;

use super::catalogue::{Catalogue, FactId, OptionSet, SubjectId};
use super::readings::{Clash, Unused};
use super::sheet::{Sheet, Value};
use crate::quantity::{Kind, Measure};

/// A library figure by number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WorkedId(u16);

impl WorkedId {
    /// The figure at a position of the catalogue's list.
    #[must_use]
    pub fn new(position: usize) -> Self {
        Self(u16::try_from(position).unwrap_or(u16::MAX))
    }

    /// The position in the catalogue's list.
    #[must_use]
    pub const fn position(self) -> usize {
        self.0 as usize
    }
}

/// Facts that library figures look at, as a set of positions in [`Figures::needs`]; at most 64.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub struct Needs(u64);

impl Needs {
    /// No fact.
    pub const NONE: Self = Self(0);

    /// The fact at a position.
    #[must_use]
    pub const fn one(position: usize) -> Self {
        if position < 64 {
            Self(1 << position)
        } else {
            Self(0)
        }
    }

    /// This and the facts of another set.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The positions, in order.
    pub fn positions(self) -> impl Iterator<Item = usize> {
        (0..64).filter(move |position| self.0 & (1 << position) != 0)
    }
}

/// Whose facts a figure looked at, of those there are many of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub enum Reach {
    /// Those of its own subject, of what that is in and of what is in it.
    #[default]
    Own,
    /// Also those of all that are in the same container.
    Together,
    /// Those of all there are.
    All,
}

/// A figure worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worked {
    /// The value: an interval that holds the truth for every value the inputs allow, the model's
    /// own error included.
    pub value: Measure,
    /// Which facts took part.
    pub used: Needs,
    /// Which of those were missing.
    pub missing: Needs,
    /// Whose facts took part.
    pub reach: Reach,
    /// Where the model does not reach, so that the interval is open towards the cautious side: why,
    /// and what would close it.
    pub open: Option<&'static str>,
}

/// The definition of a library figure.
#[derive(Debug, Clone, Copy)]
pub struct WorkedDef {
    /// The subject it is about.
    pub subject: SubjectId,
    /// Its name within the subject.
    pub name: &'static str,
    /// The kind of number it gives.
    pub kind: Kind,
    /// What it means and how it is worked out.
    pub meaning: &'static str,
    /// The facts it may look at.
    pub needs: Needs,
}

/// The figures of a library: what they look at, and how they are worked out.
pub trait Figures: Debug + Send + Sync {
    /// The facts that figures look at, in the order that [`Needs`] numbers them.
    fn needs(&self) -> &[FactId];

    /// Gets ready to work out figures of a sheet. Nothing is worked out before it is asked for.
    fn open<'s>(&'s self, facts: Facts<'s>) -> Box<dyn Workings + 's>;

    /// Readings of a sheet that cannot both be true. Figures are worked out of sheets that have
    /// none.
    fn clashes(&self, _: Facts<'_>) -> Vec<Clash> {
        Vec::new()
    }

    /// Readings of a sheet that no figure can use.
    fn unused(&self, _: Facts<'_>) -> Vec<Unused> {
        Vec::new()
    }
}

/// Works out figures of one sheet, and keeps what several of them rest on.
pub trait Workings {
    /// A figure of one of its subject. Wider facts give a wider value.
    fn work(&self, figure: WorkedId, position: usize) -> Worked;
}

/// No figures: what a catalogue without a library has.
#[derive(Debug)]
pub(super) struct NoFigures;

impl Figures for NoFigures {
    fn needs(&self) -> &[FactId] {
        &[]
    }

    fn open<'s>(&'s self, _: Facts<'s>) -> Box<dyn Workings + 's> {
        Box::new(Self)
    }
}

impl Workings for NoFigures {
    fn work(&self, _: WorkedId, _: usize) -> Worked {
        Worked {
            value: Measure::of(crate::quantity::Interval::WHOLE),
            used: Needs::NONE,
            missing: Needs::NONE,
            reach: Reach::Own,
            open: None,
        }
    }
}

/// The facts of a sheet, as figures see them: whole intervals, whatever acceptance is in force.
///
/// Under simple acceptance too, since nominal values alone would let a figure be better for being
/// known less well: two readings of one thing are taken together, and their nominal values need not
/// agree where their intervals do.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'s> {
    catalogue: &'s Catalogue,
    sheet: &'s Sheet,
}

impl<'s> Facts<'s> {
    /// The facts of a sheet.
    #[must_use]
    pub const fn new(catalogue: &'s Catalogue, sheet: &'s Sheet) -> Self {
        Self { catalogue, sheet }
    }

    /// The sheet.
    #[must_use]
    pub const fn sheet(self) -> &'s Sheet {
        self.sheet
    }

    /// What was given of a fact for one of its subject. Nothing is known where it is unsettled
    /// which members a subject has.
    #[must_use]
    pub fn value(self, fact: FactId, position: usize) -> Option<&'s Value> {
        self.sheet
            .known(
                self.catalogue.fact(fact)?.subject,
                position,
                self.catalogue.slot(fact),
            )
            .map(|given| &given.value)
    }

    /// The number given of a fact.
    #[must_use]
    pub fn number(self, fact: FactId, position: usize) -> Option<Measure> {
        match self.value(fact, position)? {
            Value::Number(value) => Some(*value),
            _ => None,
        }
    }

    /// The options that a choice may be.
    #[must_use]
    pub fn choice(self, fact: FactId, position: usize) -> Option<OptionSet> {
        match self.value(fact, position)? {
            Value::Choice(set) => Some(*set),
            _ => None,
        }
    }

    /// The text given of a fact.
    #[must_use]
    pub fn text(self, fact: FactId, position: usize) -> Option<&'s Arc<str>> {
        match self.value(fact, position)? {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_are_a_set_of_64() {
        let both = Needs::one(0).with(Needs::one(63));
        assert_eq!(both.positions().collect::<Vec<_>>(), [0, 63]);
        assert!(Needs::one(64).is_empty() && !both.is_empty());
    }
}
