//! What capacity tests bound of a discharge without the model.

use super::model::{CapacityTest, CellModel, Discharge, Draw, Duty, Shown};
use crate::class::Class;
use crate::figures::margin::{Mark, Of, Run, by_test, half_by_mean, shown_voltage};
use crate::span::{both, not_negative, ratio, span, times};
use rules_core::quantity::Interval;

/// The discharge that the model states, within what the tests bound. Of the first test and a model
/// that part, the test counts; a further test that does not fit takes no part, and the report says
/// so.
pub(super) fn within(class: Class, cell: &CellModel, duty: &Duty, model: &Discharge) -> Discharge {
    let of = Of {
        class,
        r10: not_negative(cell.r10),
        joined: cell.joined,
    };
    // An end above all that the class has at rest gives nothing, whatever was read.
    if model.delivered.hi() <= 0.0 {
        return *model;
    }
    let bound = |test: &CapacityTest| delivered(&of, duty, test);
    let first = narrowed(model, class, duty, bound(&cell.capacity), |model, test| {
        both(model, test).unwrap_or(test)
    });
    cell.others().fold(first, |so_far, test| {
        narrowed(&so_far, class, duty, bound(&test), |so_far, test| {
            both(so_far, test).unwrap_or(so_far)
        })
    })
}

/// The voltages half way and near the end within what tests showed there, and how much of that a cell
/// of the class cannot have shown. That takes no part.
pub(super) fn as_shown(
    class: Class,
    cell: &CellModel,
    duty: &Duty,
    stated: &Discharge,
) -> (Discharge, usize) {
    if cell.joined || duty.start != Interval::point(1.0) {
        return (*stated, 0);
    }
    let of = Of {
        class,
        r10: not_negative(cell.r10),
        joined: false,
    };
    let other = run(of.class, duty);
    let mut misfits = 0;
    let mut within =
        |stated: Interval,
         mark: Mark,
         shown: fn(Class, &CapacityTest, &Shown) -> Option<Interval>| {
            cell.shown_by().fold(stated, |stated, (test, all)| {
                let Some(shown) = shown(class, &test, &all) else {
                    return stated;
                };
                let tested = (&Run::of(&test), test.charge);
                let bound = shown_voltage((class, mark), of.r10, tested, shown, &other);
                both(stated, bound).unwrap_or_else(|| {
                    misfits += 1;
                    stated
                })
            })
        };
    let by_half = within(stated.mid, Mark::Mid, |_, _, shown| shown.half);
    let mid = within(by_half, Mark::Mid, by_energy);
    let late = within(stated.late, Mark::Late, |_, _, shown| shown.late);
    (
        Discharge {
            mid,
            late,
            ..*stated
        },
        misfits,
    )
}

/// The voltage half way of a test of which the energy is known: that by its charge is the mean.
fn by_energy(class: Class, test: &CapacityTest, shown: &Shown) -> Option<Interval> {
    let (energy, charge) = (not_negative(shown.energy?), not_negative(test.charge));
    let mean = span(
        ratio(energy.lo(), charge.hi()),
        ratio(energy.hi(), charge.lo()),
    );
    mean.is_bounded().then(|| half_by_mean(class, mean))
}

/// The charge in Ah that the tests of a cell bound, of whichever class it is.
#[must_use]
pub fn bounded(cell: &CellModel, duty: &Duty) -> Interval {
    cell.classes.hull(|class| {
        let of = Of {
            class,
            r10: not_negative(cell.r10),
            joined: cell.joined,
        };
        cell.others()
            .map(|test| delivered(&of, duty, &test))
            .fold(delivered(&of, duty, &cell.capacity), |first, test| {
                both(first, test).unwrap_or(first)
            })
    })
}

fn narrowed(
    stated: &Discharge,
    class: Class,
    duty: &Duty,
    bound: Interval,
    narrow: impl Fn(Interval, Interval) -> Interval,
) -> Discharge {
    let delivered = narrow(stated.delivered, bound);
    // While it runs, the voltage is no lower than the end and no higher than full.
    let energy = narrow(
        stated.energy,
        span(
            times(bound.lo(), duty.cut_off.lo()),
            times(bound.hi(), highest(class)),
        ),
    );
    let run_time = narrow(stated.run_time, duty.draw.time(delivered, energy));
    Discharge {
        delivered,
        energy,
        run_time,
        open: stated.open.filter(|_| run_time.lo() <= 0.0),
        ..*stated
    }
}

/// The charge in Ah that a test bounds.
fn delivered(of: &Of, duty: &Duty, test: &CapacityTest) -> Interval {
    let full = by_test(of, test, &run(of.class, duty));
    // A cell that may start below full may have given any part of it before.
    let least = if duty.start.lo() >= 1.0 {
        full.lo()
    } else {
        0.0
    };
    span(least, times(full.hi(), duty.start.hi().max(1.0)))
}

/// The discharge that a use is.
fn run(class: Class, duty: &Duty) -> Run {
    Run {
        current: current(class, duty),
        cut_off: duty.cut_off,
        temperature: duty.temperature,
    }
}

/// The currents in A that the draw may take from the cell on the way.
fn current(class: Class, duty: &Duty) -> Interval {
    match duty.draw {
        Draw::Current(current) => current,
        Draw::Power(power) => span(
            ratio(power.lo(), highest(class)),
            ratio(power.hi(), duty.cut_off.lo()),
        ),
    }
}

/// No cell of the class shows more, in V.
const fn highest(class: Class) -> f64 {
    if class.is_four_volt() { 4.4 } else { 3.8 }
}
