//! A cell of one class, with the charge that its capacity test implies.

use super::load::Load;
use super::model::{CapacityTest, Duty};
use super::path::{Corner, come_of_growth, come_of_lag};
use super::seen::Seen;
use super::warmth;
use crate::class::{Class, Classes};
use crate::figures::margin::SlowCapacity;
use crate::figures::ocv::{self, Curve};
use crate::figures::resistance;
use crate::span::{VAST, not_known, not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// Activation energy of the lag, in J/mol.
const LAG_ENERGY: f64 = 30_000.0;

/// A capacity test that leaves more of the charge than this in the cell says little of it, or is
/// not of such a cell.
const MOST_LEFT: f64 = 0.5;

/// More than the charge of any cell or group, in Ah: a test that implies more says nothing.
const MOST_CHARGE: f64 = 1e5;

/// Less than the charge of any cell, in Ah. It stands for none where a rate is taken.
const LEAST_CHARGE: f64 = 1e-9;

/// A cell taken to be of one class.
#[derive(Clone, Copy, Debug)]
pub(in crate::figures) struct Body {
    class: Class,
    test: CapacityTest,
    /// Charge between the ends of the class's curve, in Ah.
    charge: Interval,
    /// 10-second resistance at 25 degC, in ohms.
    r10: Interval,
    doubtful: bool,
    slow: Option<SlowCapacity>,
}

impl Body {
    pub(in crate::figures) fn of(class: Class, cell: &Seen) -> Self {
        let (r10, test) = (not_negative(cell.r10), cell.capacity);
        let implied = implied(class, &test, r10);
        let charge = implied.unwrap_or(not_known());
        let slow = cell
            .beside
            .and_then(|slow| beside(class, &slow, r10, charge));
        Self {
            class,
            test,
            charge,
            r10,
            doubtful: implied.is_none(),
            slow,
        }
    }

    pub(in crate::figures) const fn class(&self) -> Class {
        self.class
    }

    pub(in crate::figures) const fn classes(&self) -> Classes {
        Classes::of(self.class)
    }

    pub(in crate::figures) const fn test(&self) -> CapacityTest {
        self.test
    }

    /// Charge between the ends of the class's curve, in Ah.
    pub(in crate::figures) const fn charge(&self) -> Interval {
        self.charge
    }

    /// What a slow capacity test shows beside the ordinary one: nothing if there is none, or if it
    /// may not be of such a cell.
    pub(in crate::figures) const fn slow(&self) -> Option<SlowCapacity> {
        self.slow
    }

    /// Whether the capacity test may not be of such a cell. Its charge is then anything.
    pub(in crate::figures) const fn is_doubtful(&self) -> bool {
        self.doubtful
    }

    /// The resistance in ohms that the cell may have at a temperature in degC.
    pub(in crate::figures) fn resistance(&self, temperature: Interval) -> Interval {
        resistance::at(self.r10, self.class, temperature)
    }

    /// The part by which the resistance grows.
    pub(in crate::figures) const fn growth(&self) -> f64 {
        growth(self.class)
    }

    /// The sag in V of a current in A by the grown resistance at 25 degC.
    pub(in crate::figures) fn drop(&self, current: Interval) -> Interval {
        let grown = 1.0 + growth(self.class);
        span(
            times(current.lo(), self.r10.lo()) * grown,
            times(current.hi(), self.r10.hi()) * grown,
        )
    }

    /// The ratio of the model's resistance at a temperature in degC to that at 25 degC.
    pub(in crate::figures) fn slowed(&self, temperature: Interval) -> Interval {
        span(
            resistance::factor(self.class, temperature.hi()),
            resistance::factor(self.class, temperature.lo()),
        )
    }

    /// How far the front may lag at 1 C and at a temperature in degC, as a charge state.
    pub(in crate::figures) fn lag(&self, temperature: f64) -> f64 {
        lag(self.class, temperature)
    }

    /// The corner that gives least: everything at its worse end.
    pub(in crate::figures) fn worst(&self, load: Load, duty: &Duty) -> Corner {
        let temperature = duty.temperature.lo();
        Corner {
            class: self.class,
            curve: low_curve(self.class),
            load,
            start: duty.start.lo(),
            since: duty.start.hi(),
            charge: self.charge.lo().max(LEAST_CHARGE),
            growth_charge: self.charge.hi().min(VAST),
            resistance: self.heated(self.r10.hi(), temperature),
            growth: growth(self.class),
            lag: lag(self.class, temperature),
        }
    }

    /// The corner that gives most.
    pub(in crate::figures) fn best(&self, load: Load, duty: &Duty) -> Corner {
        let rate = ratio(load.pace(), self.charge.lo());
        let temperature = duty.temperature.hi() + warmth::in_use(self.class, rate);
        Corner {
            class: self.class,
            curve: high_curve(self.class),
            load,
            start: duty.start.hi(),
            since: duty.start.lo(),
            charge: self.charge.hi().clamp(LEAST_CHARGE, VAST),
            growth_charge: self.charge.lo(),
            resistance: self.heated(self.r10.lo(), temperature),
            growth: growth(self.class),
            lag: lag(self.class, temperature),
        }
    }

    fn heated(&self, r10: f64, temperature: f64) -> f64 {
        r10.min(VAST) * resistance::factor(self.class, temperature)
    }
}

/// The charge in Ah between the ends of the class's curve that a capacity test implies; none if it
/// may not be of such a cell.
fn implied(class: Class, test: &CapacityTest, r10: Interval) -> Option<Interval> {
    let (least, _) = Test::gentle(class, test).implies(class, high_curve(class), r10.lo());
    let (greatest, left) = Test::harsh(test).implies(class, low_curve(class), r10.hi());
    let doubtful = left > MOST_LEFT || greatest >= MOST_CHARGE;
    (!doubtful).then(|| span(least, greatest))
}

/// What a slow test shows beside the ordinary one, which implies a `charge` in Ah.
fn beside(
    class: Class,
    slow: &CapacityTest,
    r10: Interval,
    charge: Interval,
) -> Option<SlowCapacity> {
    let by = |of: Interval, whole: Interval| {
        span(ratio(of.lo(), whole.hi()), ratio(of.hi(), whole.lo()))
    };
    let whole = implied(class, slow, r10)?;
    Some(SlowCapacity {
        rate: by(not_negative(slow.current), whole),
        temperature: slow.temperature,
        ratio: by(charge, whole),
    })
}

/// One end of a capacity test.
struct Test {
    charge: f64,
    current: f64,
    cut_off: f64,
    temperature: f64,
}

impl Test {
    /// The ends that imply the least charge in the cell.
    fn gentle(class: Class, test: &CapacityTest) -> Self {
        Self::at(
            test.charge.lo(),
            test.current.lo(),
            test.cut_off.lo(),
            test.temperature.hi()
                + warmth::in_test(class, ratio(test.current.lo(), test.charge.lo())),
        )
    }

    /// The ends that imply the most.
    fn harsh(test: &CapacityTest) -> Self {
        Self::at(
            test.charge.hi(),
            test.current.hi(),
            test.cut_off.hi(),
            test.temperature.lo(),
        )
    }

    fn at(charge: f64, current: f64, cut_off: f64, temperature: f64) -> Self {
        let within = |value: f64| value.clamp(0.0, VAST);
        Self {
            charge: within(charge),
            current: within(current),
            cut_off: within(cut_off),
            temperature,
        }
    }

    /// The charge in Ah between the ends of the curve that gives this test's charge, and the part
    /// of it that was left behind. Each rises with the charge, the current and the end voltage of
    /// the test.
    fn implies(&self, class: Class, curve: Curve, r10: f64) -> (f64, f64) {
        let hours = ratio(self.charge, self.current);
        let resistance = r10.min(VAST)
            * resistance::factor(class, self.temperature)
            * (1.0 + growth(class) * come_of_growth(hours));
        let left = ocv::greatest_charge(class, curve, self.cut_off + self.current * resistance);
        let lagging = times(
            self.current,
            lag(class, self.temperature) * come_of_lag(hours),
        );
        (ratio(self.charge + lagging, 1.0 - left), left)
    }
}

/// The part by which the 10-second resistance grows in a long discharge.
const fn growth(class: Class) -> f64 {
    if class.is_four_volt() { 0.5 } else { 0.0 }
}

/// Hours by which the front of the charge lags at a temperature: the lag in charge state at 1 C.
fn lag(class: Class, temperature: f64) -> f64 {
    let settled = if class.is_four_volt() { 0.02 } else { 0.07 };
    settled * resistance::arrhenius(LAG_ENERGY, temperature)
}

/// The curve of a class that gives less. The sets of a class lie close together where a capacity is
/// known, so that `margin` covers them; the mixtures have no curve of their own.
const fn low_curve(class: Class) -> Curve {
    if matches!(class, Class::Imr) {
        Curve::Lowest
    } else {
        Curve::Mean
    }
}

/// The curve of a class that gives more.
const fn high_curve(class: Class) -> Curve {
    if matches!(class, Class::Imr) {
        Curve::Highest
    } else {
        Curve::Mean
    }
}
