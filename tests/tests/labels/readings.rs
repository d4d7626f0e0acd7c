//! What a label may be of: wider numbers never lose a reading, what is true is among them, and there
//! are never too many.

use proptest::prelude::*;
use rules_core::quantity::Interval;
use rules_tests::law::{always, law};
use rulesets::label::{
    Contradiction, Decoded, Family, Label, LabelFault, PackReading, Plausible, Printed, decode,
};

use super::made::{Made, labels, packs, rounded};

fn is_same(one: &PackReading, other: &PackReading) -> bool {
    (one.series, one.parallel, one.family, one.class)
        == (other.series, other.parallel, other.family, other.class)
}

fn encloses(wide: Option<Interval>, narrow: Option<Interval>) -> bool {
    match (wide, narrow) {
        (Some(wide), Some(narrow)) => wide.encloses(narrow),
        (wide, narrow) => wide.is_none() && narrow.is_none(),
    }
}

/// What a contradiction of wider numbers has to be of narrower ones: the same; or no series at all
/// where some were not shared.
fn goes_on(wide: &Contradiction, narrow: &Contradiction) -> bool {
    let same = std::mem::discriminant(wide) == std::mem::discriminant(narrow);
    same || matches!(
        (wide, narrow),
        (
            Contradiction::CellsNotShared { .. },
            Contradiction::NoSeries { .. }
        )
    )
}

fn assert_no_less(narrow: &Decoded, wide: &Decoded) {
    for reading in &narrow.readings {
        let kept = wide
            .readings
            .iter()
            .find(|kept| is_same(kept, reading))
            .unwrap_or_else(|| panic!("lost: {reading:?}"));
        assert!(
            encloses(kept.cell_voltage, reading.cell_voltage),
            "{kept:?} {reading:?}"
        );
        assert!(
            encloses(kept.cell_capacity, reading.cell_capacity),
            "{kept:?} {reading:?}"
        );
        assert!(
            kept.plausible() <= reading.plausible(),
            "{kept:?} {reading:?}"
        );
    }
    for contradiction in &wide.contradictions {
        assert!(
            narrow
                .contradictions
                .iter()
                .any(|one| goes_on(contradiction, one)),
            "{contradiction:?}"
        );
    }
}

/// Wider numbers lose no reading and make none less plausible, nor do they add a contradiction. If
/// they are too wide to be counted, that is an error.
#[test]
fn wider_numbers_never_lose_a_reading() {
    law(
        "wider numbers never lose a reading",
        3000,
        labels(),
        |(narrow, wide), seen| {
            match (narrow.decode(), wide.decode()) {
                (Ok(narrow), Ok(wide)) => {
                    assert_no_less(&narrow, &wide);
                    seen.count(1);
                }
                (Ok(_), Err(faults)) => prop_assert!(
                    matches!(faults.as_slice(), [LabelFault::TooMany(_)]),
                    "{faults:?}"
                ),
                (Err(faults), Ok(_)) => {
                    prop_assert!(false, "{faults:?} is mended by wider numbers");
                }
                (Err(_), Err(_)) => {}
            }
            Ok(())
        },
    );
}

/// Whatever a pack is, its label with its numbers rounded has it among the readings, without a
/// doubt and without a contradiction; and the count or the code settles it.
#[test]
fn what_is_true_is_a_reading() {
    always("what is true is a reading", 3000, packs(), |pack| {
        let (series, parallel, ..) = pack;
        let of_cobalt = |reading: &&PackReading| reading.family == Family::CobaltNickel;
        let is_it = |reading: &&PackReading| {
            of_cobalt(reading) && (reading.series, reading.parallel) == (series, Some(parallel))
        };
        let made = rounded(pack);
        let decoded = made.decode().unwrap();
        prop_assert!(
            decoded.contradictions.is_empty(),
            "{:?}",
            decoded.contradictions
        );
        let found = decoded.readings.iter().find(is_it);
        prop_assert!(
            found.is_some_and(|found| found.plausible() == Plausible::Yes),
            "{found:?}"
        );
        // The two that are nearest are 14 and 15: 3.85 V x 14 is 53.9 V, 3.60 V x 15 is 54.0 V.
        let mut all = decoded.readings.iter().filter(of_cobalt);
        prop_assert!(series == 14 || all.all(|reading| reading.series == series));

        let cells = Some(series * parallel);
        let counted = Made {
            cells,
            ..made.clone()
        };
        let counted = counted.decode().unwrap();
        let all = counted.readings.iter().filter(of_cobalt);
        let of_it: Vec<_> = all.filter(|reading| reading.series == series).collect();
        prop_assert!(of_it.len() == 1 && is_it(&of_it[0]) && counted.contradictions.is_empty());

        let suffix = if parallel == 1 {
            String::new()
        } else {
            format!("-{parallel}")
        };
        let code = Some(format!("{series}INR19/66{suffix}"));
        let coded = Made { code, ..made }.decode().unwrap();
        prop_assert!(
            coded.readings.len() == 1 && is_it(&&coded.readings[0]) && coded.is_believable()
        );
        Ok(())
    });
}

/// The widest numbers that are accepted are still searched in no time and with few readings.
#[test]
fn the_widest_label_is_bounded() {
    let label = Label {
        voltage: Interval::new(1e-6, 323.0),
        capacity: Interval::new(1e-6, 55.0),
        ..Label::default()
    };
    let readings = decode(&label).unwrap().readings;
    // 3.60 V x 89 is 320.4 V, 3.2 V x 100 is 320 V; 1.0 Ah x 55 and 0.55 Ah x 100 are 55 Ah.
    assert_eq!(readings.len(), 89 * 55 + 100 * 100);
    let wider = |voltage, capacity| {
        decode(&Label {
            voltage: Interval::new(1.0, voltage),
            capacity: Interval::new(1.0, capacity),
            ..Label::default()
        })
    };
    assert_eq!(
        wider(323.3, 55.0),
        Err(vec![LabelFault::TooMany(Printed::Voltage)])
    );
    assert_eq!(
        wider(323.0, 55.6),
        Err(vec![LabelFault::TooMany(Printed::Capacity)])
    );
}

#[test]
fn every_fault_is_told_at_once() {
    let label = Label {
        voltage: Some(Interval::point(0.0)),
        capacity: Interval::new(1.0, f64::INFINITY),
        energy: Some(Interval::point(-1.0)),
        code: Some("x"),
        cells: Some(0),
    };
    let faults = decode(&label).unwrap_err();
    assert!(matches!(
        faults.as_slice(),
        [
            LabelFault::NotPositive(Printed::Voltage),
            LabelFault::OutOfReach(Printed::Capacity),
            LabelFault::NotPositive(Printed::Energy),
            LabelFault::Code(_),
            LabelFault::Cells(0)
        ]
    ));
}
