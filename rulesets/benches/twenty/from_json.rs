//! The build of the twenty rules read by hand: typed structs, quantities to plain numbers, no
//! places and no checks. With the check by hand it is the way from JSON bytes to answers that there is
//! without a language. It stands apart from the twenty rules, which are timed elsewhere too.

use rules_core::facts::Proposed;
use rules_core::ruleset::Rules;
use serde::{Deserialize, Deserializer, de};

use crate::twenty::by_hand::{self, Build, Cell, Fails, Wrap};
use crate::twenty::{self, Example};

/// A quantity such as `3.52 V`, in volts, ampere-hours, ohms, hours, millimetres, degrees Celsius.
#[derive(Clone, Copy)]
struct Amount(f64);

impl<'de> Deserialize<'de> for Amount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <&str>::deserialize(deserializer)?;
        amount(text).ok_or_else(|| de::Error::custom("no quantity that the builds use"))
    }
}

fn amount(text: &str) -> Option<Amount> {
    let (number, unit) = text.split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    Some(Amount(match unit {
        "V" | "A" | "mm" | "h" | "degC" => number,
        "mV" | "mAh" | "mohm" => number / 1000.0,
        "d" => number * 24.0,
        "min" => number / 60.0,
        _ => return None,
    }))
}

#[derive(Deserialize)]
struct Given<'j> {
    light: Light,
    arrangement: &'j str,
    #[serde(borrow)]
    protection: Protection<'j>,
    #[serde(borrow)]
    cells: Vec<GivenCell<'j>>,
    #[serde(borrow)]
    charging: Charging<'j>,
    conditions: Conditions,
}

#[derive(Deserialize)]
struct Light {
    draw: Amount,
    cut_off: Amount,
    bay: Size,
}

#[derive(Deserialize)]
struct Size {
    length: Amount,
    diameter: Amount,
}

#[derive(Deserialize)]
struct Protection<'j> {
    kind: &'j str,
    each_cell: bool,
}

#[derive(Deserialize)]
struct GivenCell<'j> {
    found: Voltage,
    rest: Voltage,
    capacity: Value,
    rated: Rated,
    resistance: Value,
    drift: Drift,
    wrap: &'j str,
    body: &'j str,
    size: Size,
}

#[derive(Deserialize)]
struct Voltage {
    voltage: Amount,
}

#[derive(Deserialize)]
struct Value {
    value: Amount,
}

#[derive(Deserialize)]
struct Rated {
    capacity: Amount,
    full: Amount,
}

#[derive(Deserialize)]
struct Drift {
    fall: Amount,
    over: Amount,
}

#[derive(Deserialize)]
struct Charging<'j> {
    termination: Amount,
    current: Amount,
    ambient: Amount,
    attended: bool,
    surface: &'j str,
}

#[derive(Deserialize)]
struct Conditions {
    run_time: Amount,
}

/// From the JSON of an example to what the rules say.
pub(crate) fn answers(example: Example, rules: &Rules) -> Vec<Fails> {
    let proposal = example.proposal();
    let sheet = proposal.facts(rules.catalogue());
    twenty::answers(rules, &sheet.expect("its facts are known"))
}

/// From the JSON of an example to its answers, all by hand.
pub(crate) fn answers_by_hand(example: Example) -> Vec<Fails> {
    by_hand::check(&build(example.json.as_bytes()))
}

/// Reads a build.
pub(crate) fn build(json: &[u8]) -> Build {
    let given: Given<'_> = serde_json::from_slice(json).expect("it fits");
    let (series, parallel) = given
        .arrangement
        .trim_end_matches('P')
        .split_once('S')
        .expect("such as 2S2P");
    let number = |text: &str| text.parse().expect("a number");
    Build {
        cells: given.cells.iter().map(cell).collect(),
        series: number(series),
        parallel: number(parallel),
        draw: given.light.draw.0,
        cut_off: given.light.cut_off.0,
        bay_length: given.light.bay.length.0,
        bay_diameter: given.light.bay.diameter.0,
        pack_circuit: given.protection.kind == "pack",
        each_cell: given.protection.each_cell,
        termination: given.charging.termination.0,
        charge_current: given.charging.current.0,
        charge_ambient: given.charging.ambient.0,
        attended: given.charging.attended,
        surface_safe: given.charging.surface == "non-combustible",
        run_time: given.conditions.run_time.0,
    }
}

fn cell(given: &GivenCell<'_>) -> Cell {
    Cell {
        rest_voltage: given.rest.voltage.0,
        found_voltage: given.found.voltage.0,
        capacity: given.capacity.value.0,
        rated_capacity: given.rated.capacity.0,
        rated_full: given.rated.full.0,
        resistance: given.resistance.value.0,
        drift_fall: given.drift.fall.0,
        drift_over: given.drift.over.0,
        wrap: match given.wrap {
            "intact" => Wrap::Intact,
            "rewrapped" => Wrap::Rewrapped,
            _ => Wrap::Nicked,
        },
        sound: given.body == "sound",
        length: given.size.length.0,
        diameter: given.size.diameter.0,
    }
}
