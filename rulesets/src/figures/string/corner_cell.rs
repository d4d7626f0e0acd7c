//! The voltage of one cell of a string by the charge taken from it, at one corner of what is known.

use crate::class::Class;
use crate::figures::discharge::{Corner, come_of_growth, come_of_lag};
use crate::figures::ocv::{self, Line};
use crate::span::{VAST, ratio, times};

/// A moment of a discharge: charge taken in Ah, current in A, and how far the slow terms have come.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moment {
    pub(super) charge: f64,
    pub(super) current: f64,
    pub(super) grown: f64,
    pub(super) lagged: f64,
}

impl Moment {
    /// The moment when a charge has been taken at a constant current.
    pub(super) fn at(charge: f64, current: f64) -> Self {
        Self::paced(charge, current, current)
    }

    /// The moment when a charge has been taken in the time that a constant `pace` would need, and
    /// the current is now another.
    pub(super) fn paced(charge: f64, pace: f64, current: f64) -> Self {
        let hours = ratio(charge, pace);
        Self {
            charge,
            current,
            grown: come_of_growth(hours),
            lagged: come_of_lag(hours),
        }
    }
}

/// One cell, taken to be of one class.
#[derive(Clone, Copy, Debug)]
struct OneClass {
    line: &'static Line,
    start: f64,
    charge: f64,
    resistance: f64,
    growth: f64,
    lag: f64,
}

impl OneClass {
    fn of(corner: &Corner) -> Self {
        let Corner {
            class,
            curve,
            start,
            charge,
            resistance,
            growth,
            lag,
            ..
        } = *corner;
        Self {
            line: ocv::line(class, curve),
            start,
            charge,
            resistance,
            growth,
            lag,
        }
    }

    fn source(&self, moment: &Moment) -> f64 {
        let lagging = times(moment.current, self.lag * moment.lagged);
        self.line
            .voltage(self.start - ratio(moment.charge + lagging, self.charge))
            .max(-VAST)
    }

    /// Voltage at a charge state after a long time at a current in A.
    fn settled(&self, charge: f64, current: f64) -> f64 {
        let lagging = ratio(times(current, self.lag), self.charge);
        self.line.voltage(charge - lagging) - times(current, self.resistance * (1.0 + self.growth))
    }

    fn resistance(&self, moment: &Moment) -> f64 {
        self.resistance * (1.0 + self.growth * moment.grown)
    }
}

/// Which of the classes that a cell may be of decides: that with the lowest or the highest value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Decides {
    Lowest,
    Highest,
}

/// A cell at one corner, as each of the classes that it may be of.
#[derive(Clone, Copy, Debug)]
pub(super) struct CornerCell {
    classes: [Option<OneClass>; Class::ALL.len()],
    decides: Decides,
}

impl CornerCell {
    pub(super) fn of(corners: impl Iterator<Item = Corner>, decides: Decides) -> Self {
        let mut classes = [None; Class::ALL.len()];
        for (class, corner) in classes.iter_mut().zip(corners) {
            *class = Some(OneClass::of(&corner));
        }
        Self { classes, decides }
    }

    /// Voltage under load.
    pub(super) fn voltage(&self, moment: &Moment) -> f64 {
        let loaded = |class: &OneClass| {
            (class.source(moment) - times(moment.current, class.resistance(moment))).max(-VAST)
        };
        self.decide(loaded, self.decides)
    }

    /// Voltage at a charge state after a long time at a current in A.
    pub(super) fn settled(&self, charge: f64, current: f64) -> f64 {
        self.decide(
            |class| class.settled(charge, current).max(-VAST),
            self.decides,
        )
    }

    /// Voltage without load of the part of the cell that gives the current, and its resistance.
    pub(super) fn source(&self, moment: &Moment) -> (f64, f64) {
        let other = if self.decides == Decides::Lowest {
            Decides::Highest
        } else {
            Decides::Lowest
        };
        (
            self.decide(|class| class.source(moment), self.decides),
            self.decide(|class| class.resistance(moment), other),
        )
    }

    fn decide(&self, value: impl Fn(&OneClass) -> f64, decides: Decides) -> f64 {
        let values = self.classes.iter().map_while(Option::as_ref).map(value);
        match decides {
            Decides::Lowest => values.reduce(f64::min),
            Decides::Highest => values.reduce(f64::max),
        }
        .unwrap_or(0.0)
    }
}
