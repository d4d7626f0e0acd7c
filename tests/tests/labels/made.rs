//! Labels that are made up: of packs as they are, with wider numbers, and of any numbers at all.

use proptest::prelude::*;
use rules_core::quantity::Interval;
use rulesets::label::{Decoded, Label, LabelFault, Printed, decode};

/// Codes of packs and of cells, of every class and several sizes, and texts that are none.
pub(crate) const CODES: [&str; 16] = [
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
pub(crate) struct Made {
    pub(crate) voltage: Option<Interval>,
    pub(crate) capacity: Option<Interval>,
    pub(crate) energy: Option<Interval>,
    pub(crate) code: Option<String>,
    pub(crate) cells: Option<u32>,
}

impl Made {
    pub(crate) fn label(&self) -> Label<'_> {
        Label {
            voltage: self.voltage,
            capacity: self.capacity,
            energy: self.energy,
            code: self.code.as_deref(),
            cells: self.cells,
        }
    }

    pub(crate) fn decode(&self) -> Result<Decoded, Vec<LabelFault>> {
        decode(&self.label())
    }
}

/// An interval round a number, and a wider one.
pub(crate) fn nested(of: std::ops::Range<f64>) -> impl Strategy<Value = (Interval, Interval)> {
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

pub(crate) fn code() -> impl Strategy<Value = Option<String>> {
    prop_oneof![3 => Just(None), 3 => prop::sample::select(&CODES[..14]).prop_map(|code| Some(code.to_owned()))]
}

/// A label, and one whose numbers are wider.
pub(crate) fn labels() -> impl Strategy<Value = (Made, Made)> {
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

/// A pack as it is, and whether its numbers are written in tenths.
pub(crate) fn packs() -> impl Strategy<Value = (u32, u32, bool, f64, f64)> {
    (
        1..=14_u32,
        1..=12_u32,
        prop::bool::ANY,
        3.6..=3.85_f64,
        1.8..=3.6_f64,
    )
}

/// The label of a pack with its numbers rounded.
pub(crate) fn rounded(
    (series, parallel, tenths, volts, ampere_hours): (u32, u32, bool, f64, f64),
) -> Made {
    let (voltage, capacity) = (
        f64::from(series) * volts,
        f64::from(parallel) * ampere_hours,
    );
    let read = |printed: Printed, written: String| Some(printed.read(&written).unwrap());
    let (volts, ampere_hours) = if tenths {
        (format!("{voltage:.1} V"), format!("{capacity:.1} Ah"))
    } else {
        let milliampere_hours = capacity * 1000.0;
        (
            format!("{voltage:.2} V"),
            format!("{milliampere_hours:.0} mAh"),
        )
    };
    Made {
        voltage: read(Printed::Voltage, volts),
        capacity: read(Printed::Capacity, ampere_hours),
        energy: read(Printed::Energy, format!("{:.0} Wh", voltage * capacity)),
        code: None,
        cells: None,
    }
}

/// Any label at all. Of any numbers few make sense together, so half are labels as there are, with
/// an odd number among them or none.
pub(crate) fn any_label() -> impl Strategy<Value = Made> {
    let numbers = (
        any_interval(),
        any_interval(),
        any_interval(),
        any_code(),
        prop::option::of(any::<u32>()),
    );
    let any = numbers.prop_map(|(voltage, capacity, energy, code, cells)| Made {
        voltage,
        capacity,
        energy,
        code,
        cells,
    });
    let usual = (labels(), prop::option::of(any_interval())).prop_map(|((_, wide), odd)| Made {
        energy: odd.flatten().or(wide.energy),
        ..wide
    });
    prop_oneof![any, usual]
}

/// Any interval that can be written, most of them of a size that labels have.
pub(crate) fn any_interval() -> impl Strategy<Value = Option<Interval>> {
    let any_end = || prop_oneof![3 => 0.01..400.0_f64, 1 => any::<f64>(), 1 => prop::sample::select(vec![0.0, -0.0, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN_POSITIVE, 1e-6, 1e6])];
    (any_end(), any_end()).prop_map(|(one, other)| Interval::new(one.min(other), one.max(other)))
}

pub(crate) fn any_code() -> impl Strategy<Value = Option<String>> {
    let listed = prop::sample::select(&CODES[..]).prop_map(str::to_owned);
    prop::option::of(
        prop_oneof![3 => listed, 1 => ".{0,30}", 1 => "[0-9]{0,5}I[A-Z]{0,3}R[0-9]{0,6}/?[0-9]{0,4}-?[0-9]{0,5}"],
    )
}
