//! What is known in two ways: inputs of the model, once as narrow as they are and once wider.

use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use rules_core::quantity::Interval;
use rulesets::class::{Class, Classes};
use rulesets::figures::discharge::{CapacityTest, CellModel, Draw, Duty};

/// A value known in two ways: all that the second allows, the first allows too.
#[derive(Clone, Copy, Debug)]
pub(super) struct Known<T> {
    pub(super) less: T,
    pub(super) more: T,
}

impl<T> Known<T> {
    pub(super) fn map<U>(&self, work: impl Fn(&T) -> U) -> Known<U> {
        Known {
            less: work(&self.less),
            more: work(&self.more),
        }
    }
}

fn interval(lo: f64, hi: f64) -> Interval {
    Interval::new(lo, hi).expect("ends in order")
}

/// A number known in two ways, around what is usual, or with nothing known.
pub(super) fn known(least: f64, greatest: f64) -> impl Strategy<Value = Known<Interval>> {
    let at = move |part: f64| least + (greatest - least) * part;
    let parts = (
        0.0..=1.0_f64,
        0.0..=1.0_f64,
        0.0..=1.0_f64,
        0.0..=1.0_f64,
        0.0..=0.2_f64,
    );
    let between = parts.prop_map(move |(a, b, c, d, near)| {
        let centre = b;
        let mut ends = [a, c, d].map(|end| at((centre + (end - 0.5) * near).clamp(0.0, 1.0)));
        ends.sort_by(f64::total_cmp);
        Known {
            less: interval(ends[0], ends[2]),
            more: Interval::point(ends[1]),
        }
    });
    let wide = (0.0..=1.0_f64, 0.0..=1.0_f64, 0.0..=1.0_f64, 0.0..=1.0_f64).prop_map(
        move |(a, b, c, d)| {
            let mut ends = [a, b, c, d].map(at);
            ends.sort_by(f64::total_cmp);
            Known {
                less: interval(ends[0], ends[3]),
                more: interval(ends[1], ends[2]),
            }
        },
    );
    let open = select(vec![
        (Interval::WHOLE, Interval::WHOLE),
        (Interval::WHOLE, interval(0.0, f64::INFINITY)),
        (interval(0.0, f64::INFINITY), Interval::point(0.0)),
        (interval(0.0, greatest), Interval::point(0.0)),
        (Interval::WHOLE, Interval::point(greatest)),
        (interval(0.0, greatest), interval(0.0, greatest)),
        (Interval::point(0.0), Interval::point(0.0)),
        (Interval::WHOLE, interval(1e300, f64::INFINITY)),
    ]);
    prop_oneof![6 => between, 4 => wide, 1 => open.prop_map(|(less, more)| Known { less, more })]
}

pub(super) fn classes() -> impl Strategy<Value = Known<Classes>> {
    subsequence(Class::ALL.to_vec(), 1..=4).prop_flat_map(|less| {
        let set = Classes::collect(less.clone()).expect("not empty");
        let most = less.len();
        subsequence(less, 1..=most).prop_map(move |more| Known {
            less: set,
            more: Classes::collect(more).expect("not empty"),
        })
    })
}

pub(super) fn cell() -> impl Strategy<Value = Known<CellModel>> {
    (
        classes(),
        known(0.5, 3.5),
        known(0.1, 3.0),
        known(2.0, 3.2),
        known(10.0, 40.0),
        known(0.01, 0.25),
        slow(),
    )
        .prop_map(
            |(classes, charge, current, cut_off, temperature, r10, slow)| {
                let model =
                    |classes, charge, current, cut_off, temperature, slow: Option<Slow>, r10| {
                        CellModel {
                            classes,
                            capacity: CapacityTest {
                                charge,
                                current,
                                cut_off,
                                temperature,
                            },
                            further: [
                                slow.map(|slow| slow.of(charge, cut_off, temperature)),
                                None,
                                None,
                            ],
                            shown: Default::default(),
                            joined: false,
                            r10,
                        }
                    };
                Known {
                    less: model(
                        classes.less,
                        charge.less,
                        current.less,
                        cut_off.less,
                        temperature.less,
                        slow.less,
                        r10.less,
                    ),
                    more: model(
                        classes.more,
                        charge.more,
                        current.more,
                        cut_off.more,
                        temperature.more,
                        slow.more,
                        r10.more,
                    ),
                }
            },
        )
}

/// A slow capacity test beside an ordinary one: its charge by that one's, and its current by its
/// charge.
#[derive(Clone, Copy, Debug)]
struct Slow {
    charge: Interval,
    rate: Interval,
}

impl Slow {
    fn of(self, charge: Interval, cut_off: Interval, temperature: Interval) -> CapacityTest {
        let charge = charge * self.charge;
        CapacityTest {
            charge,
            current: charge * self.rate,
            cut_off,
            temperature,
        }
    }
}

/// None is to know less than some.
fn slow() -> impl Strategy<Value = Known<Option<Slow>>> {
    let test = (known(1.0, 1.2), known(0.02, 0.4)).prop_map(|(charge, rate)| Known {
        less: Slow {
            charge: charge.less,
            rate: rate.less,
        },
        more: Slow {
            charge: charge.more,
            rate: rate.more,
        },
    });
    (test, 0..4_u8).prop_map(|(test, kept)| Known {
        less: (kept > 1).then_some(test.less),
        more: (kept > 0).then_some(test.more),
    })
}

pub(super) fn draw() -> impl Strategy<Value = Known<Draw>> {
    prop_oneof![
        known(0.05, 5.0).prop_map(|draw| draw.map(|draw| Draw::Current(*draw))),
        known(0.2, 20.0).prop_map(|draw| draw.map(|draw| Draw::Power(*draw)))
    ]
}

pub(super) fn duty() -> impl Strategy<Value = Known<Duty>> {
    (draw(), known(0.2, 1.02), known(-5.0, 45.0), known(0.0, 3.4)).prop_map(
        |(draw, start, temperature, cut_off)| Known {
            less: Duty {
                draw: draw.less,
                start: start.less,
                temperature: temperature.less,
                cut_off: cut_off.less,
            },
            more: Duty {
                draw: draw.more,
                start: start.more,
                temperature: temperature.more,
                cut_off: cut_off.more,
            },
        },
    )
}
