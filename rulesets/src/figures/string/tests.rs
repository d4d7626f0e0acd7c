//! Strings against modelled ones, and at the edges.

use super::*;
use crate::class::{Class, Classes};
use crate::figures::discharge::CapacityTest;
use crate::figures::discharge::CellModel;

fn point(value: f64) -> Interval {
    Interval::point(value)
}

/// A cell of a part of the area of another: less charge and more resistance in that ratio.
fn member(class: Class, charge: f64, ohms: f64, part: f64) -> Member {
    let capacity = CapacityTest {
        charge: point(charge * part),
        current: point(charge * part * 0.2),
        cut_off: point(3.0),
        temperature: point(25.0),
    };
    Member {
        cell: CellModel {
            classes: Classes::of(class),
            capacity,
            further: [None; 3],
            shown: Default::default(),
            joined: false,
            r10: point(ohms / part),
        },
        start: point(1.0),
    }
}

/// The class, and one of the sets below; how many cells, the weak one's part of the others, the
/// end voltage; after how many seconds it is reached, and the strong and the weak cells' voltage
/// then.
type Modelled = (Class, (f64, f64, f64), usize, f64, f64, (f64, f64, f64));

/// Strings of equal cells and a weaker one at 1 C, in a full physical model (sets Chen2020,
/// Ai2020 and BPX_LFP in PyBaMM 26.10.1.1).
const MODELLED: [Modelled; 7] = [
    (Class::Inr, INR, 3, 0.8, 9.0, (2862.88, 3.2807, 2.4385)),
    (Class::Inr, INR, 3, 0.8, 8.4, (2928.41, 3.2622, 1.8755)),
    (Class::Inr, INR, 2, 0.95, 6.0, (3244.35, 3.0928, 2.9072)),
    (Class::Icr, ICR, 3, 0.8, 8.4, (3088.43, 3.5341, 1.3318)),
    (Class::Icr, ICR, 2, 0.9, 5.6, (3478.6, 3.4334, 2.1666)),
    (Class::Ifr, IFR, 3, 0.8, 8.4, (2824.63, 3.0757, 2.2485)),
    (Class::Ifr, IFR, 2, 0.95, 6.0, (3103.17, 3.0213, 2.9787)),
];

/// Charge at 0.2 C to 3.0 V, 10-second resistance, current at 1 C.
const INR: (f64, f64, f64) = (4.91624, 0.02867, 5.0);
const ICR: (f64, f64, f64) = (2.45386, 0.045754, 2.28);
const IFR: (f64, f64, f64) = (1.98984, 0.061047, 2.0);

#[test]
fn modelled_strings_lie_within() {
    for (class, cell, count, part, cut_off, (seconds, strong, weak)) in MODELLED {
        let (charge, ohms, current) = cell;
        let mut members = vec![member(class, charge, ohms, 1.0); count];
        members[count - 1] = member(class, charge, ohms, part);
        let duty = StringDuty {
            draw: Draw::Current(point(current)),
            temperature: point(25.0),
            cut_off: point(cut_off),
        };
        let given = discharge(&members, &duty).unwrap();
        assert!(
            given.run_time.contains(seconds / 3600.0),
            "{class:?} {count} {part}: {given:?}"
        );
        assert!(
            given.cells[0].contains(strong) && given.cells[count - 1].contains(weak),
            "{class:?} {count} {part}: {given:?}"
        );
        assert!(
            given.weakest.contains(weak) && given.weakest.width() < 1.7,
            "{class:?} {count} {part}: {given:?}"
        );
    }
}

/// Two strong cells hold a third up: it may be reversed before 6.0 V are reached. With 9.0 V
/// for three, no cell can be under 0.4 V: the others have no more.
#[test]
fn a_low_end_reverses_the_weak_cell() {
    let members = [
        member(Class::Icr, 2.4, 0.05, 1.0),
        member(Class::Icr, 2.4, 0.05, 1.0),
        member(Class::Icr, 2.4, 0.05, 0.6),
    ];
    let at = |cut_off: f64| {
        let duty = StringDuty {
            draw: Draw::Current(point(1.2)),
            temperature: point(25.0),
            cut_off: point(cut_off),
        };
        discharge(&members, &duty).unwrap()
    };
    let low = at(6.0);
    assert!(
        low.weakest.lo() < 0.0 && low.cells_open == Some(OpenReason::Reversal),
        "{low:?}"
    );
    assert!(at(9.0).weakest.lo() > 0.4 && at(0.0).weakest.lo().is_infinite());
    assert_eq!(
        discharge(
            &[],
            &StringDuty {
                draw: Draw::Current(point(1.0)),
                temperature: point(25.0),
                cut_off: point(6.0)
            }
        ),
        None
    );
}

/// Two thousand cells are worked through, and nobody knows anything of them.
#[test]
fn long_strings_of_unknown_cells_end() {
    let unknown = CapacityTest {
        charge: Interval::WHOLE,
        current: Interval::WHOLE,
        cut_off: Interval::WHOLE,
        temperature: Interval::WHOLE,
    };
    let cell = CellModel {
        classes: Classes::ALL,
        capacity: unknown,
        further: [None; 3],
        shown: Default::default(),
        joined: false,
        r10: Interval::WHOLE,
    };
    let duty = StringDuty {
        draw: Draw::Power(Interval::WHOLE),
        temperature: Interval::WHOLE,
        cut_off: Interval::WHOLE,
    };
    let given = discharge(
        &vec![
            Member {
                cell,
                start: Interval::WHOLE
            };
            2_000
        ],
        &duty,
    )
    .unwrap();
    assert_eq!(given.run_time, span(0.0, f64::INFINITY));
    assert!(given.cells.iter().all(|end| end.lo().is_infinite()) && given.open.is_some());
}
