//! How a library works out its figures.

use std::fmt::Debug;

use super::fact::FactId;
use super::known::Facts;
use super::narrowing::Narrowing;
use super::readings::{Clash, Unused};
use super::worked::{Needs, Reach, Worked, WorkedId};
use crate::quantity::{Interval, Measure};

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
}

/// Works out figures of one sheet, and keeps what several of them rest on.
pub trait Workings {
    /// A figure of one of its subject. Wider facts give a wider value.
    fn work(&self, figure: WorkedId, position: usize) -> Worked;

    /// What would narrow that figure, what narrows it most first. Of a large sheet nothing is said,
    /// so that no report costs more than in proportion to it.
    fn narrowings(&self, _: WorkedId, _: usize) -> Vec<Narrowing> {
        Vec::new()
    }

    /// Readings of the sheet that no figure can use.
    fn unused(&self) -> Vec<Unused> {
        Vec::new()
    }
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
            value: Measure::of(Interval::WHOLE),
            used: Needs::NONE,
            missing: Needs::NONE,
            reach: Reach::Own,
            open: None,
        }
    }
}
