//! Labels of packs, as properties: wider numbers never lose a reading, what is true is among the
//! readings, nothing panics, and the JSON is as its schema says.
#![cfg(test)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "functions that tests call are tests too"
)]

use jsonschema::{PatternOptions, Validator};
use proptest::prelude::*;
use rules_core::quantity::Interval;
use rules_core::report::text::Plain;
use rulesets::facts::catalogue;
use rulesets::label::{
    Contradiction, Decoded, Family, Label, LabelFault, LabelReport, MOST_COUNTED, PackReading,
    Plausible, Printed, decode, text,
};
use serde_json::{Value, json};

/// Codes of packs and of cells, of every class and several sizes, and texts that are none.
const CODES: [&str; 16] = [
    "3INR19/66-2",
    "4ICR19/66",
    "1IMR19/65-4",
    "4IFR19/66-2",
    "2IVR19/66-3",
    "3ICR18650",
    "1ITR26650",
    "INR19/66",
    "ICR18650",
    "INR21700",
    "IFR32700",
    "IFR10440",
    "IVR18650",
    "1000ICR99/250-1000",
    "3INP19/66-2",
    "pack",
];

/// A label that owns its code.
#[derive(Debug, Clone)]
struct Made {
    voltage: Option<Interval>,
    capacity: Option<Interval>,
    energy: Option<Interval>,
    code: Option<String>,
    cells: Option<u32>,
}

impl Made {
    fn label(&self) -> Label<'_> {
        Label {
            voltage: self.voltage,
            capacity: self.capacity,
            energy: self.energy,
            code: self.code.as_deref(),
            cells: self.cells,
        }
    }

    fn decode(&self) -> Result<Decoded, Vec<LabelFault>> {
        decode(&self.label())
    }
}

/// An interval round a number, and a wider one.
fn nested(of: std::ops::Range<f64>) -> impl Strategy<Value = (Interval, Interval)> {
    let part =
        || prop_oneof![2 => Just(0.0), 3 => 0.0..0.01_f64, 2 => 0.0..0.2_f64, 1 => 0.0..0.9_f64];
    (of, part(), part(), part(), part()).prop_map(|(middle, down, up, more_down, more_up)| {
        let (low, high) = (middle * (1.0 - down), middle * (1.0 + up));
        let inner = Interval::new(low, high).unwrap();
        (
            inner,
            Interval::new(low * (1.0 - more_down), high * (1.0 + more_up)).unwrap(),
        )
    })
}

fn code() -> impl Strategy<Value = Option<String>> {
    prop_oneof![3 => Just(None), 3 => prop::sample::select(&CODES[..14]).prop_map(|code| Some(code.to_owned()))]
}

/// A label, and one whose numbers are wider.
fn labels() -> impl Strategy<Value = (Made, Made)> {
    let numbers = (
        prop::option::weighted(0.9, nested(2.0..70.0)),
        prop::option::of(nested(0.5..30.0)),
        prop::option::of(nested(5.0..500.0)),
    );
    let cells = prop::option::weighted(0.3, prop_oneof![4 => 1..30_u32, 1 => any::<u32>()]);
    (numbers, code(), cells).prop_map(|((voltage, capacity, energy), code, cells)| {
        let inner = |pair: Option<(Interval, Interval)>| pair.map(|(inner, _)| inner);
        let outer = |pair: Option<(Interval, Interval)>| pair.map(|(_, outer)| outer);
        let wider = Made {
            voltage: outer(voltage),
            capacity: outer(capacity),
            energy: outer(energy),
            code: code.clone(),
            cells,
        };
        (
            Made {
                voltage: inner(voltage),
                capacity: inner(capacity),
                energy: inner(energy),
                code,
                cells,
            },
            wider,
        )
    })
}

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

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Wider numbers lose no reading and make none less plausible, nor do they add a contradiction.
    /// If they are too wide to be counted, that is an error.
    #[test]
    fn wider_numbers_never_lose_a_reading((narrow, wide) in labels()) {
        match (narrow.decode(), wide.decode()) {
            (Ok(narrow), Ok(wide)) => assert_no_less(&narrow, &wide),
            (Ok(_), Err(faults)) => prop_assert!(matches!(faults.as_slice(), [LabelFault::TooMany(_)]), "{:?}", faults),
            (Err(faults), Ok(_)) => prop_assert!(false, "{:?} is mended by wider numbers", faults),
            (Err(_), Err(_)) => {}
        }
    }

    /// Whatever a pack is, its label with its numbers rounded has it among the readings, without a
    /// doubt and without a contradiction; and the count or the code settles it.
    #[test]
    fn what_is_true_is_a_reading(
        series in 1..=14_u32, parallel in 1..=12_u32, tenths in prop::bool::ANY, cell_voltage in 3.6..=3.85_f64, cell_capacity in 1.8..=3.6_f64,
    ) {
        let (voltage, capacity) = (f64::from(series) * cell_voltage, f64::from(parallel) * cell_capacity);
        let energy = voltage * capacity;
        let read = |printed: Printed, written: String| Some(printed.read(&written).unwrap());
        let (volts, ampere_hours) = if tenths { (format!("{voltage:.1} V"), format!("{capacity:.1} Ah")) } else { (format!("{voltage:.2} V"), format!("{:.0} mAh", capacity * 1000.0)) };
        let made = Made {
            voltage: read(Printed::Voltage, volts),
            capacity: read(Printed::Capacity, ampere_hours),
            energy: read(Printed::Energy, format!("{energy:.0} Wh")),
            code: None,
            cells: None,
        };
        let is_it = |reading: &&PackReading| (reading.series, reading.parallel, reading.family) == (series, Some(parallel), Family::CobaltNickel);
        let decoded = made.decode().unwrap();
        prop_assert!(decoded.contradictions.is_empty(), "{:?}", decoded.contradictions);
        let found = decoded.readings.iter().find(is_it);
        prop_assert!(found.is_some_and(|found| found.plausible() == Plausible::Yes), "{:?}", found);
        // The two that are nearest are 14 and 15: 3.85 V x 14 is 53.9 V, 3.60 V x 15 is 54.0 V.
        let all_of_it = decoded.readings.iter().filter(|reading| reading.family == Family::CobaltNickel).all(|reading| reading.series == series);
        prop_assert!(series == 14 || all_of_it);

        let counted = Made { cells: Some(series * parallel), ..made.clone() }.decode().unwrap();
        let of_it: Vec<_> = counted.readings.iter().filter(|reading| reading.series == series && reading.family == Family::CobaltNickel).collect();
        prop_assert!(of_it.len() == 1 && is_it(&of_it[0]) && counted.contradictions.is_empty());

        let suffix = if parallel == 1 { String::new() } else { format!("-{parallel}") };
        let coded = Made { code: Some(format!("{series}INR19/66{suffix}")), ..made }.decode().unwrap();
        prop_assert!(coded.readings.len() == 1 && is_it(&&coded.readings[0]) && coded.is_believable());
    }

}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_panics_and_nothing_is_without_bound(
        voltage in any_interval(), capacity in any_interval(), energy in any_interval(), code in any_code(), cells in prop::option::of(any::<u32>()), columns in 1..200_usize,
    ) {
        let made = Made { voltage, capacity, energy, code, cells };
        match made.decode() {
            Err(faults) => prop_assert!(!faults.is_empty() && faults.iter().all(|fault| !fault.help().is_empty() && !fault.to_string().is_empty())),
            Ok(decoded) => {
                prop_assert!(decoded.readings.len() <= 2 * MOST_COUNTED as usize * MOST_COUNTED as usize);
                prop_assert!(!decoded.readings.is_empty() || !decoded.contradictions.is_empty());
                let report = LabelReport::new(&made.label(), &decoded, catalogue().notice());
                prop_assert!(text(&report, columns, &Plain).contains("A label proves"));
            }
        }
    }

    #[test]
    fn the_json_is_as_its_schema_says((label, _) in labels()) {
        if let Ok(decoded) = label.decode() {
            let report = serde_json::to_value(LabelReport::new(&label.label(), &decoded, catalogue().notice())).unwrap();
            VALIDATOR.with(|validator| {
                let objections: Vec<String> = validator.iter_errors(&report).map(|error| format!("{}: {error}", error.instance_path())).collect();
                assert_eq!(objections, Vec::<String>::new());
            });
        }
    }
}

thread_local! {
    static VALIDATOR: Validator = validator();
}

fn validator() -> Validator {
    let schema = rulesets::schema::by_name("label").expect("a schema");
    jsonschema::options()
        .with_pattern_options(PatternOptions::regex())
        .build(&schema)
        .expect("a schema")
}

/// Any interval that can be written, most of them of a size that labels have.
fn any_interval() -> impl Strategy<Value = Option<Interval>> {
    let any_end = || prop_oneof![3 => 0.01..400.0_f64, 1 => any::<f64>(), 1 => prop::sample::select(vec![0.0, -0.0, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN_POSITIVE, 1e-6, 1e6])];
    (any_end(), any_end()).prop_map(|(one, other)| Interval::new(one.min(other), one.max(other)))
}

fn any_code() -> impl Strategy<Value = Option<String>> {
    let listed = prop::sample::select(&CODES[..]).prop_map(str::to_owned);
    prop::option::of(
        prop_oneof![3 => listed, 1 => ".{0,30}", 1 => "[0-9]{0,5}I[A-Z]{0,3}R[0-9]{0,6}/?[0-9]{0,4}-?[0-9]{0,5}"],
    )
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

/// The schema is strict enough to notice a change.
#[test]
fn a_changed_label_does_not_conform() {
    let label = Label {
        voltage: Printed::Voltage.read("11.1 V").ok(),
        capacity: Printed::Capacity.read("5.6 Ah").ok(),
        cells: Some(5),
        code: Some("3INR19/66-2"),
        energy: None,
    };
    let report = serde_json::to_value(LabelReport::new(
        &label,
        &decode(&label).unwrap(),
        catalogue().notice(),
    ))
    .unwrap();
    let validator = validator();
    assert!(validator.is_valid(&report));
    let changes: [(&str, Value); 6] = [
        ("/format", json!(2)),
        ("/believable", json!("no")),
        ("/readings/0/plausible", json!("maybe")),
        ("/readings/0/parallel", json!(null)),
        ("/contradictions/0/about", json!("colour")),
        ("/voltage/low", json!("11.05")),
    ];
    for (at, value) in changes {
        let mut changed = report.clone();
        *changed
            .pointer_mut(at)
            .unwrap_or_else(|| panic!("{at} is there")) = value;
        assert!(!validator.is_valid(&changed), "{at}");
    }
    let mut more = report;
    more["readings"][0]["colour"] = json!("red");
    assert!(!validator.is_valid(&more));
}

#[test]
fn the_notice_is_on_every_label() {
    let label = Label {
        code: Some("3INR19/66-2"),
        ..Label::default()
    };
    let report = LabelReport::new(&label, &decode(&label).unwrap(), catalogue().notice());
    assert_eq!(report.notice, catalogue().notice());
    let page = text(&report, 200, &Plain);
    assert!(
        catalogue()
            .notice()
            .iter()
            .all(|one| page.replace("\n      ", " ").contains(&one.says)),
        "{page}"
    );
}
