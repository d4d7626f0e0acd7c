//! What the margin of a run time is in known uses.

use super::*;

fn mild() -> TimeUse {
    let point = Interval::point;
    TimeUse {
        class: Class::Inr,
        rate: point(0.5),
        tested: point(0.5),
        temperature: point(25.0),
        test_temperature: point(25.0),
        cut_off: point(3.0),
        test_cut_off: point(3.0),
        drop: point(0.1),
        power: false,
        slow: None,
    }
}

fn beside(rate: f64, ratio: f64) -> Option<SlowCapacity> {
    Some(SlowCapacity {
        rate: Interval::point(rate),
        temperature: Interval::point(25.0),
        ratio: Interval::point(ratio),
    })
}

/// In the same use as its test a cell gives the same, but for a few percent.
#[test]
fn a_use_like_the_test_is_known_best() {
    let margin = time(&mild());
    assert!(
        (0.94..1.0).contains(&margin.least)
            && (1.0..1.08).contains(&margin.greatest)
            && margin.open.is_none(),
        "{margin:?}"
    );
    let slow = time(&TimeUse {
        tested: Interval::point(0.2),
        rate: Interval::point(1.0),
        ..mild()
    });
    // By the curve of the worst: 0.513 / 0.98, less the shape.
    assert!((0.45..0.52).contains(&slow.least), "{slow:?}");
}

#[test]
fn what_no_data_reach_is_open() {
    let at = |rate: f64, temperature: f64| {
        let margin = time(&TimeUse {
            rate: Interval::point(rate),
            temperature: Interval::point(temperature),
            tested: Interval::point(0.2),
            ..mild()
        });
        assert_eq!(margin.open.is_some(), margin.least <= 0.0);
        margin.open
    };
    assert_eq!(
        (at(1.5, 25.0), at(1.6, 25.0), at(3.5, 25.0)),
        (None, Some(OpenReason::SlowTest), Some(OpenReason::Fast))
    );
    // 25.5 kJ/mol slow a cell at 0 degC to 2.56 times its rate; a quarter is left at 1.55 C.
    assert_eq!(
        (at(0.60, 0.0), at(0.61, 0.0)),
        (None, Some(OpenReason::Cold))
    );
    assert_eq!(
        (at(0.1, -10.0), at(0.1, -10.1)),
        (None, Some(OpenReason::Cold))
    );
    assert_eq!(
        (at(0.1, 45.0), at(0.1, 45.1)),
        (None, Some(OpenReason::Hot))
    );
    assert!(
        time(&TimeUse {
            drop: Interval::point(0.61),
            ..mild()
        })
        .greatest
        .is_infinite()
    );
    assert!(
        time(&TimeUse {
            tested: Interval::point(3.5),
            ..mild()
        })
        .greatest
        .is_infinite()
    );
}

/// Known from a test at 1 C and used gently: more by what the worst cell regains, or with a
/// proof by what the slow test left open.
#[test]
fn a_slow_test_bounds_what_a_gentle_use_regains() {
    let used = TimeUse {
        tested: Interval::point(1.0),
        rate: Interval::point(0.2),
        ..mild()
    };
    let greatest = |slow: Option<SlowCapacity>| {
        time(&TimeUse { slow, ..used }).greatest
            / time(&TimeUse {
                rate: used.tested,
                ..used
            })
            .greatest
    };
    let plain = greatest(None);
    // By the curves: 0.98 / 0.757; then 0.998 / 0.99; then what the slow test showed more.
    assert!((plain - 1.295).abs() < 0.012, "{plain}");
    assert!((greatest(beside(0.2, 1.02)) - 1.005).abs() < 0.01);
    assert!((greatest(beside(0.2, 0.96)) - 1.0 / 0.96).abs() < 0.01);
    for unproved in [beside(0.2, 0.949), beside(0.301, 1.0)] {
        assert!((greatest(unproved) - plain).abs() < 1e-12);
    }
    for proved in [beside(0.2, 0.95), beside(0.3, 1.0), beside(0.299, 0.951)] {
        assert!(greatest(proved) < 1.09);
    }
}

/// Iron phosphate has no such limit, and what is lost by another cause or beyond what is known
/// stays.
#[test]
fn a_slow_test_narrows_nothing_else() {
    let gentle = TimeUse {
        tested: Interval::point(1.0),
        rate: Interval::point(0.2),
        ..mild()
    };
    let iron = TimeUse {
        class: Class::Ifr,
        ..gentle
    };
    assert_eq!(
        time(&TimeUse {
            slow: beside(0.2, 1.0),
            ..iron
        }),
        time(&iron)
    );
    let fast = TimeUse {
        tested: Interval::point(2.4),
        ..gentle
    };
    assert_eq!(
        time(&TimeUse {
            slow: beside(0.2, 1.0),
            ..fast
        }),
        time(&fast)
    );
    let faster = TimeUse {
        rate: Interval::point(1.5),
        ..gentle
    };
    assert_eq!(
        time(&TimeUse {
            slow: beside(0.2, 1.0),
            ..faster
        }),
        time(&faster)
    );
}

/// The curve of the proved cells lies nowhere below that of the worst.
#[test]
fn a_proved_cell_keeps_no_less() {
    for step in 0..800 {
        let rate = f64::from(step) / 200.0;
        assert!(
            NOT_ELECTROLYTE.left(rate, 25.0) >= ELECTROLYTE.left(rate, 25.0) - 1e-12,
            "{rate}"
        );
    }
}
