//! The pack as a whole: what is printed, and what follows from it.

use super::fault::LabelFault;
use super::printed::{Label, Printed};
use rules_core::quantity::Interval;

/// No label has smaller or larger numbers, in base units.
const REACH: (f64, f64) = (1e-6, 1e6);

/// A number of the pack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// What it can be, in the base unit of its kind.
    pub range: Interval,
    /// Whether it was worked out from the two others and is not printed.
    pub worked_out: bool,
}

/// The pack as a whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pack {
    /// Nominal voltage, in volts.
    pub voltage: Option<Amount>,
    /// Rated capacity, in ampere-hours.
    pub capacity: Option<Amount>,
    /// Energy, in watt-hours.
    pub energy: Option<Amount>,
}

impl Pack {
    /// What a label prints, and what follows where one of the three is missing. A printed number is
    /// always kept as it is.
    pub(super) fn of(label: &Label<'_>) -> Self {
        let (voltage, capacity, energy) = (label.voltage, label.capacity, label.energy);
        let over = |part: Option<Interval>| energy.zip(part).map(|(energy, part)| energy / part);
        Self {
            voltage: amount(voltage, || over(capacity)),
            capacity: amount(capacity, || over(voltage)),
            energy: amount(energy, || Some(voltage? * capacity?)),
        }
    }

    /// The energy worked out from voltage and capacity, if all three are printed.
    pub(super) fn worked_energy(&self) -> Option<Interval> {
        let printed = |amount: Option<Amount>| {
            amount
                .filter(|amount| !amount.worked_out)
                .map(|amount| amount.range)
        };
        printed(self.energy)?;
        Some(printed(self.voltage)? * printed(self.capacity)?)
    }
}

fn amount(
    printed: Option<Interval>,
    work_out: impl FnOnce() -> Option<Interval>,
) -> Option<Amount> {
    let worked = || {
        work_out().map(|range| Amount {
            range,
            worked_out: true,
        })
    };
    printed
        .map(|range| Amount {
            range,
            worked_out: false,
        })
        .or_else(worked)
}

/// What is wrong with the printed numbers.
pub(super) fn faults(label: &Label<'_>) -> Vec<LabelFault> {
    let all = [
        (Printed::Voltage, label.voltage),
        (Printed::Capacity, label.capacity),
        (Printed::Energy, label.energy),
    ];
    all.into_iter()
        .filter_map(|(printed, range)| fault(printed, range?))
        .collect()
}

fn fault(printed: Printed, range: Interval) -> Option<LabelFault> {
    if range.lo() <= 0.0 && range.lo().is_finite() {
        return Some(LabelFault::NotPositive(printed));
    }
    let within = REACH.0 <= range.lo() && range.hi() <= REACH.1;
    (!within).then_some(LabelFault::OutOfReach(printed))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(low: f64, high: f64) -> Option<LabelFault> {
        fault(Printed::Voltage, Interval::new(low, high).unwrap())
    }

    #[test]
    fn numbers_are_above_zero_and_within_reach() {
        assert_eq!([of(1e-6, 1e6), of(3.7, 3.7)], [None, None]);
        for (low, high) in [(0.0, 1.0), (-1.0, 1.0), (-2.0, -1.0), (0.0, 0.0)] {
            assert_eq!(
                of(low, high),
                Some(LabelFault::NotPositive(Printed::Voltage)),
                "{low}..{high}"
            );
        }
        for (low, high) in [
            (0.9e-6, 1.0),
            (1.0, 1.1e6),
            (1.0, f64::INFINITY),
            (f64::NEG_INFINITY, 1.0),
            (f64::MIN_POSITIVE, 1.0),
        ] {
            assert_eq!(
                of(low, high),
                Some(LabelFault::OutOfReach(Printed::Voltage)),
                "{low}..{high}"
            );
        }
    }

    #[test]
    fn the_third_follows_from_two() {
        let one = |value| Some(Interval::point(value));
        let pack = |voltage, capacity, energy| {
            Pack::of(&Label {
                voltage,
                capacity,
                energy,
                ..Label::default()
            })
        };
        let whole = pack(one(12.0), one(2.0), one(25.0));
        assert!(
            whole
                .energy
                .is_some_and(|energy| energy.range.contains(25.0) && !energy.worked_out)
        );
        assert!(
            whole
                .worked_energy()
                .is_some_and(|worked| worked.contains(24.0))
        );
        let worked = |amount: Option<Amount>, value: f64| {
            amount.is_some_and(|amount| amount.worked_out && amount.range.contains(value))
        };
        assert!(worked(pack(None, one(2.0), one(24.0)).voltage, 12.0));
        assert!(worked(pack(one(12.0), None, one(24.0)).capacity, 2.0));
        assert!(worked(pack(one(12.0), one(2.0), None).energy, 24.0));
        let single = pack(None, one(2.0), None);
        assert_eq!(
            (single.voltage, single.energy, single.worked_energy()),
            (None, None, None)
        );
    }
}
