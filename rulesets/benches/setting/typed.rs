//! A proposal as plain structs, read by `serde_json` alone: what reading the same bytes costs
//! without places, units, kinds or checks.
#![allow(
    dead_code,
    reason = "the fields are filled to be timed, not to be used"
)]

use std::collections::BTreeMap;
use std::fmt;

use serde::de::{Deserializer, Visitor};
use serde::{Deserialize, de};

type Words = Option<String>;

/// `true`, or `yes` as a text.
struct YesNo(bool);

impl<'de> Deserialize<'de> for YesNo {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Either;

        impl Visitor<'_> for Either {
            type Value = YesNo;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("yes or no")
            }

            fn visit_bool<E: de::Error>(self, yes: bool) -> Result<YesNo, E> {
                Ok(YesNo(yes))
            }

            fn visit_str<E: de::Error>(self, word: &str) -> Result<YesNo, E> {
                Ok(YesNo(word == "yes"))
            }
        }

        deserializer.deserialize_any(Either)
    }
}

#[derive(Deserialize)]
pub(crate) struct Proposal {
    format: u32,
    title: Words,
    light: Option<Light>,
    arrangement: String,
    protection: Option<Protection>,
    #[serde(default)]
    meters: BTreeMap<String, String>,
    #[serde(default)]
    cells: Vec<Cell>,
    #[serde(default)]
    packs: Vec<Pack>,
    charging: Option<Charging>,
    conditions: Option<Conditions>,
}

#[derive(Deserialize)]
struct Light {
    bays: Option<u32>,
    made_for: Option<u32>,
    contacts: Words,
    spacer: Words,
    polarity_guard: Words,
    lockout: Option<YesNo>,
    cell_temperature: Words,
    drive: Words,
    draw: Words,
    input: Option<Input>,
    cut_off: Words,
    standby: Words,
    bay: Option<Size>,
    vented: Option<YesNo>,
}

#[derive(Deserialize)]
struct Input {
    min: Words,
    max: Words,
}

#[derive(Deserialize)]
struct Size {
    code: Words,
    length: Words,
    diameter: Words,
}

#[derive(Deserialize)]
struct Protection {
    kind: Words,
    each_cell: Option<YesNo>,
    under_voltage: Words,
    over_voltage: Words,
    over_current: Words,
    fused: Option<YesNo>,
}

#[derive(Deserialize)]
struct Cell {
    id: String,
    mark: Words,
    class: Words,
    class_from: Words,
    weld_marks: Words,
    mishap: Words,
    revived: Words,
    mate_failed: Option<YesNo>,
    quarantined_for: Words,
    idle_rise: Words,
    tested_ago: Words,
    card: Option<YesNo>,
    ends_with: Words,
    group: Words,
    designation: Words,
    origin: Words,
    pack: Words,
    protected: Option<YesNo>,
    found: Option<Found>,
    rest: Option<Rest>,
    capacity: Option<Capacity>,
    rated: Option<Rated>,
    resistance: Option<Resistance>,
    drift: Option<Drift>,
    charge: Option<Charge>,
    wrap: Words,
    top_ring: Words,
    body: Words,
    tabs: Words,
    size: Option<Size>,
}

#[derive(Deserialize)]
struct Pack {
    id: String,
    designation: Words,
    voltage: Words,
    capacity: Words,
    energy: Words,
    cells: Option<u32>,
    state: Words,
    opened_at: Words,
    opened_by: Words,
    insulated_tools: Option<YesNo>,
}

#[derive(Deserialize)]
struct Found {
    voltage: Words,
}

#[derive(Deserialize)]
struct Rest {
    voltage: Words,
    after: Words,
}

#[derive(Deserialize)]
struct Capacity {
    by: Words,
    stop: Words,
    value: Words,
    at: Words,
    to: Words,
}

#[derive(Deserialize)]
struct Rated {
    capacity: Words,
    full: Words,
    discharge: Words,
    charge: Words,
}

#[derive(Deserialize)]
struct Resistance {
    value: Words,
    method: Words,
    initial: Words,
}

#[derive(Deserialize)]
struct Drift {
    from: Words,
    to: Words,
    fall: Words,
    over: Words,
}

#[derive(Deserialize)]
struct Charge {
    rise: Words,
    taken: Words,
}

#[derive(Deserialize)]
struct Charging {
    charger: Words,
    after_full: Words,
    on_way_out: Option<YesNo>,
    alarm: Option<YesNo>,
    termination: Words,
    current: Words,
    stop_current: Words,
    low_start: Words,
    low_current: Words,
    place: Words,
    balanced: Option<YesNo>,
    timer: Option<YesNo>,
    ambient: Words,
    attended: Option<YesNo>,
    surface: Words,
}

#[derive(Deserialize)]
struct Conditions {
    r#use: Words,
    idle: Words,
    stored_at: Words,
    stored_in: Words,
    flown: Words,
    handed_on: Words,
    ambient: Words,
    run_time: Words,
    carried: Words,
    check_every: Words,
}
