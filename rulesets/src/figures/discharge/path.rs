//! Voltage along a discharge, for one choice of every input: a corner of what is known.
//!
//! The voltage is worked out at fixed charge states, whatever the inputs, and joined by straight
//! lines. At each of them it falls or stays as the inputs turn for the worse, so that a worse
//! corner ends no later and gives no more, to the last bits.

use super::load::Load;
use crate::class::Class;
use crate::figures::ocv::{self, Curve, Line};
use crate::span::ratio;

/// The charge states at which the voltage is worked out.
#[rustfmt::skip]
const NODES: [f64; 73] = [
    -0.40, -0.15, -0.05, -0.02, -0.01,
    0.0, 0.005, 0.01, 0.015, 0.02, 0.025, 0.03, 0.035, 0.04, 0.045, 0.05, 0.055, 0.06, 0.065, 0.07, 0.075, 0.08, 0.085, 0.09, 0.095, 0.1,
    0.125, 0.15, 0.175, 0.2, 0.225, 0.25, 0.275, 0.3, 0.325, 0.35, 0.375, 0.4, 0.425, 0.45, 0.475, 0.5, 0.525, 0.55, 0.575, 0.6, 0.625, 0.65, 0.675,
    0.7, 0.725, 0.75, 0.775, 0.8, 0.825, 0.85, 0.875, 0.9, 0.925, 0.95,
    0.955, 0.96, 0.965, 0.97, 0.975, 0.98, 0.985, 0.99, 0.995, 1.0, 1.01, 1.05, 1.10,
];

/// The least and greatest charge state that the model follows.
pub(in crate::figures) const LEAST: f64 = -0.40;
pub(in crate::figures) const GREATEST: f64 = 1.10;

/// Hours in which the part of the resistance that grows does so, and in which the front of the
/// charge lags behind its mean.
pub(super) const GROWTH_TIME: f64 = 300.0 / 3600.0;
pub(super) const LAG_TIME: f64 = 900.0 / 3600.0;

/// How far the growth of the resistance has come after so many hours: 0 to 1.
pub(in crate::figures) fn come_of_growth(hours: f64) -> f64 {
    -(-hours / GROWTH_TIME).exp_m1()
}

/// How far the lag of the front has come after so many hours: 0 to 1.
pub(in crate::figures) fn come_of_lag(hours: f64) -> f64 {
    -(-hours / LAG_TIME).exp_m1()
}

/// One choice of every input. Where an input makes one term better and another worse, each term has
/// its own.
#[derive(Clone, Copy, Debug)]
pub(in crate::figures) struct Corner {
    pub(in crate::figures) class: Class,
    pub(in crate::figures) curve: Curve,
    pub(in crate::figures) load: Load,
    /// Charge state at the start.
    pub(in crate::figures) start: f64,
    /// Charge state from which the time of the slow terms is counted.
    pub(in crate::figures) since: f64,
    /// Charge of the cell in Ah, for the rate.
    pub(in crate::figures) charge: f64,
    /// Charge of the cell in Ah, for the time that the resistance has had to grow.
    pub(in crate::figures) growth_charge: f64,
    /// 10-second resistance at the temperature of use, in ohms.
    pub(in crate::figures) resistance: f64,
    /// The part by which it grows.
    pub(in crate::figures) growth: f64,
    /// Lag of the front of the charge behind its mean, in hours: the lag in charge state at 1 C.
    pub(in crate::figures) lag: f64,
}

impl Corner {
    /// Loaded voltage at the start, with the 10-second resistance.
    pub(in crate::figures) fn first_voltage(&self) -> f64 {
        self.load.loaded(
            ocv::voltage(self.class, self.curve, self.start),
            self.resistance,
        )
    }
}

/// How far a slow term has come at the nodes of a discharge: from 0, where it starts, to 1.
///
/// What is left of it shrinks by the same factor in each step of equal width, and most steps have
/// one of two widths: so few exponentials are taken.
struct Slow {
    /// Times its time constant that the whole charge takes.
    pace: f64,
    since: f64,
    last: Option<f64>,
    come: f64,
    left: f64,
    width: f64,
    /// What the last step took of what was left, and what it left of it.
    part: f64,
    factor: f64,
}

impl Slow {
    fn new(corner: &Corner, charge: f64, time: f64) -> Self {
        let pace = ratio(charge, corner.load.pace() * time);
        Self {
            pace,
            since: corner.since,
            last: None,
            come: 0.0,
            left: 1.0,
            width: 0.0,
            part: 0.0,
            factor: 1.0,
        }
    }

    fn come(&mut self, node: f64) -> f64 {
        let from = self.last.map_or(self.since, |last| last.min(self.since));
        self.last = Some(node);
        let width = from - node;
        if width <= 0.0 {
            return 0.0;
        }
        if (width - self.width).abs() > 1e-9 {
            self.part = -(-width * self.pace).exp_m1();
            (self.width, self.factor) = (width, 1.0 - self.part);
        }
        self.come += self.left * self.part;
        self.left *= self.factor;
        self.come
    }
}

/// The voltages along a discharge, and the charge state at which it stops.
#[derive(Clone, Copy, Debug)]
pub(in crate::figures) struct Path {
    /// Voltages at the nodes; 0 where it has not come to.
    volts: [f64; NODES.len()],
    /// The voltage that it does not fall below while it runs.
    floor: f64,
    stop: f64,
    start: f64,
}

impl Path {
    /// The path of a corner that stops at `cut_off` volts, followed until `least` volts. While it
    /// runs its voltage is not below `floor`.
    pub(in crate::figures) fn of(corner: &Corner, cut_off: f64, least: f64, floor: f64) -> Self {
        let mut path = Self {
            volts: [0.0; NODES.len()],
            floor,
            stop: LEAST,
            start: corner.start,
        };
        let first = NODES.partition_point(|node| *node < corner.start.max(corner.since)) + 1;
        let mut descent = Descent::new(corner, cut_off);
        for (node, kept) in NODES.iter().zip(&mut path.volts).take(first).rev() {
            descent.step(*node);
            *kept = descent.volts.max(0.0);
            if descent.stop.is_some() && descent.volts <= least {
                break;
            }
        }
        path.stop = descent.stop.unwrap_or(LEAST);
        path
    }

    /// The charge state at which it stops; above the start if it never starts.
    pub(in crate::figures) const fn stop(&self) -> f64 {
        self.stop
    }

    /// The part of the charge that it gives.
    pub(in crate::figures) const fn given(&self) -> f64 {
        (self.start - self.stop).max(0.0)
    }

    /// The voltage at a charge state.
    pub(in crate::figures) fn voltage(&self, charge: f64) -> f64 {
        let after = NODES
            .partition_point(|node| *node < charge)
            .clamp(1, NODES.len() - 1);
        let at = |place: usize| {
            NODES
                .get(place)
                .zip(self.volts.get(place).map(|volts| volts.max(self.floor)))
        };
        match at(after - 1).zip(at(after)) {
            Some(((lower, low), (upper, high))) => {
                low + (high - low) * ((charge - lower) / (upper - lower)).clamp(0.0, 1.0)
            }
            None => self.floor,
        }
    }

    /// The mean voltage, less so many volts, times the part of the charge given: energy by
    /// capacity, in volts.
    pub(in crate::figures) fn energy(&self, less: f64) -> f64 {
        let nodes = NODES
            .iter()
            .zip(self.volts.iter().map(|volts| (volts - less).max(0.0)));
        let spans = nodes.clone().zip(nodes.skip(1));
        spans
            .map(|((from, low), (to, high))| area((*from, low), (*to, high), self.stop, self.start))
            .sum()
    }
}

/// The area under a straight line, between two charge states only.
fn area((from, low): (f64, f64), (to, high): (f64, f64), least: f64, greatest: f64) -> f64 {
    if least <= from && to <= greatest {
        return low.midpoint(high) * (to - from);
    }
    let (left, right) = (from.max(least), to.min(greatest));
    if left >= right {
        return 0.0;
    }
    let at = |charge: f64| low + (high - low) * ((charge - from) / (to - from));
    at(left).midpoint(at(right)) * (right - left)
}

/// The way down the nodes.
struct Descent<'c> {
    corner: &'c Corner,
    line: &'static Line,
    growth: Slow,
    lag: Slow,
    cut_off: f64,
    /// Voltage at the last node.
    volts: f64,
    /// The last node before the stop, and by how much its source voltage was above what the cut-off
    /// needs.
    before: Option<(f64, f64)>,
    stop: Option<f64>,
}

impl<'c> Descent<'c> {
    fn new(corner: &'c Corner, cut_off: f64) -> Self {
        let growth = Slow::new(corner, corner.growth_charge, GROWTH_TIME);
        let lag = Slow::new(corner, corner.charge, LAG_TIME);
        let line = ocv::line(corner.class, corner.curve);
        Self {
            corner,
            line,
            growth,
            lag,
            cut_off,
            volts: f64::INFINITY,
            before: None,
            stop: None,
        }
    }

    fn step(&mut self, node: f64) {
        let corner = self.corner;
        let (grown, lagged) = (self.growth.come(node), self.lag.come(node));
        let rate = ratio(corner.load.current(self.volts), corner.charge);
        let source = self.line.voltage(node - rate * corner.lag * lagged);
        let resistance = corner.resistance * (1.0 + corner.growth * grown);
        self.volts = corner.load.loaded(source, resistance);
        if self.stop.is_none() {
            self.look(node, source - corner.load.needed(self.cut_off, resistance));
        }
    }

    fn look(&mut self, node: f64, spare: f64) {
        if spare > 0.0 {
            self.before = Some((node, spare));
            return;
        }
        let part = |last: f64| -spare / (last - spare);
        self.stop = Some(
            self.before
                .map_or(node, |(above, last)| node + (above - node) * part(last)),
        );
    }
}
