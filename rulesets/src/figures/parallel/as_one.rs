//! A parallel group taken as one cell.

use crate::figures::discharge::{CapacityTest, CellModel, MOST_TESTS, is_proved_unlimited};
use crate::span::{not_negative, ratio, span};
use rules_core::quantity::Interval;

/// A parallel group taken as one cell: capacities and conductances add. None if there is no cell.
///
/// Its classes are those of any of its cells, and its capacity test runs to an end voltage and at a
/// temperature of any of theirs. It has a further test only if every cell had one in that place, and if
/// the tests of each prove it not to be limited by its rate: the sum of all would hide one that is.
#[must_use]
pub fn as_one(cells: &[CellModel]) -> Option<CellModel> {
    let (first, rest) = cells.split_first()?;
    let conductance = cells
        .iter()
        .map(|cell| conductance_of(cell.r10))
        .fold(Interval::point(0.0), |sum, one| sum + one);
    let ohms = |siemens: f64| {
        if siemens > 0.0 {
            1.0 / siemens
        } else {
            f64::INFINITY
        }
    };
    let joined = rest.iter().fold(*first, |joined, cell| CellModel {
        classes: joined.classes.or(cell.classes),
        capacity: together(&joined.capacity, &cell.capacity),
        ..joined
    });
    let further = if rest.is_empty() {
        first.further
    } else {
        std::array::from_fn(|place| joint_test(cells, place + 1))
    };
    let r10 = if rest.is_empty() {
        first.r10
    } else {
        span(ohms(conductance.hi()), ohms(conductance.lo()))
    };
    let shown = if rest.is_empty() {
        first.shown
    } else {
        Default::default()
    };
    Some(CellModel {
        r10,
        further,
        shown,
        joined: first.joined || !rest.is_empty(),
        ..joined
    })
}

/// The further test of a place, of all cells together.
fn joint_test(cells: &[CellModel], place: usize) -> Option<CapacityTest> {
    debug_assert!(place < MOST_TESTS);
    let tests: Vec<CapacityTest> = cells
        .iter()
        .map(|cell| cell.test(place))
        .collect::<Option<_>>()?;
    // Only where all have one is it worked out what they show.
    if !cells.iter().all(is_proved_unlimited) {
        return None;
    }
    tests
        .into_iter()
        .reduce(|one, other| together(&one, &other))
}

/// A conductance that an infinity bounds where the resistance may be nothing.
fn conductance_of(resistance: Interval) -> Interval {
    let resistance = not_negative(resistance);
    span(ratio(1.0, resistance.hi()), ratio(1.0, resistance.lo()))
}

fn together(one: &CapacityTest, other: &CapacityTest) -> CapacityTest {
    CapacityTest {
        charge: not_negative(one.charge) + not_negative(other.charge),
        current: not_negative(one.current) + not_negative(other.current),
        cut_off: one.cut_off.hull(other.cut_off),
        temperature: one.temperature.hull(other.temperature),
    }
}
