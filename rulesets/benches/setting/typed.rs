//! A proposal as plain structs, read by `serde_json` alone: what reading the same bytes costs
//! without places, units, kinds or checks.
#![allow(
    dead_code,
    reason = "the fields are filled to be timed, not to be used"
)]

use std::collections::BTreeMap;

use serde::Deserialize;

type Words = Option<String>;

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
    charging: Option<Charging>,
    conditions: Option<Conditions>,
}

#[derive(Deserialize)]
struct Light {
    bays: Option<u32>,
    drive: Words,
    draw: Words,
    input: Option<Input>,
    cut_off: Words,
    standby: Words,
    bay: Option<Size>,
    vented: Option<bool>,
}

#[derive(Deserialize)]
struct Input {
    min: Words,
    max: Words,
}

#[derive(Deserialize)]
struct Size {
    length: Words,
    diameter: Words,
}

#[derive(Deserialize)]
struct Protection {
    kind: Words,
    each_cell: Option<bool>,
    under_voltage: Words,
    over_voltage: Words,
    over_current: Words,
    fused: Option<bool>,
}

#[derive(Deserialize)]
struct Cell {
    id: String,
    group: Words,
    designation: Words,
    origin: Words,
    pack: Words,
    protected: Option<bool>,
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
    termination: Words,
    current: Words,
    stop_current: Words,
    low_start: Words,
    low_current: Words,
    place: Words,
    balanced: Option<bool>,
    timer: Option<bool>,
    ambient: Words,
    attended: Option<bool>,
    surface: Words,
}

#[derive(Deserialize)]
struct Conditions {
    ambient: Words,
    run_time: Words,
    carried: Words,
    check_every: Words,
}
