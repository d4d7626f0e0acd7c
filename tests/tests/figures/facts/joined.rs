//! What readings of several cells in one group say of each other: their meter's common error, and
//! what like cells have alike.

use rules_core::check::ReportedNumber;
use serde_json::{Value, json};

use super::setting::{rules, worked};

/// Cells in parallel, with a meter for voltages.
fn group(cells: &[Value], meter: &str) -> Value {
    let cells: Vec<Value> = cells
        .iter()
        .enumerate()
        .map(|(at, cell)| {
            let mut cell = cell.clone();
            cell["id"] = json!(format!("K{at}"));
            cell["group"] = json!("A");
            cell["designation"] = json!("ICR18650");
            cell
        })
        .collect();
    json!({
        "format": 1, "title": "Night relay", "arrangement": format!("1S{}P", cells.len()),
        "light": { "draw": "3 A" }, "meters": { "voltage": meter }, "packs": [{ "id": "P" }],
        "cells": cells, "conditions": { "ambient": "5 degC" },
    })
}

/// The ends of a figure.
fn ends(proposal: &Value, subject: &str, name: &str) -> (f64, f64) {
    let all = worked(&rules(), proposal);
    let figure = &all[&(subject.to_owned(), name.to_owned())];
    let end = |of: fn(&ReportedNumber) -> Option<f64>| of(figure.value.as_ref().unwrap()).unwrap();
    (end(ReportedNumber::low), end(ReportedNumber::high))
}

fn at_rest(volts: &str) -> Value {
    json!({ "rest": { "voltage": volts }, "resistance": { "value": "60 mΩ ± 0 mΩ", "method": "dc-10s" } })
}

/// Four cells of 60 mΩ read alike with one meter of 0.5 % and 2 digits: each is off by 2 mV at the
/// most from what the meter makes of it, for all alike off by 0.5 %. One 4 mV above three others
/// drives 4 mV · 1.005 / (r + r / 3), with r no less than 60 mΩ · 0.65 / 3: 0.232 A, by hand.
#[test]
fn what_one_meter_has_in_all_readings_drives_no_current() {
    let meter = "± (0.5 % + 2 digits)";
    let alike = vec![at_rest("3.842 V"); 4];
    let (least, most) = ends(&group(&alike, meter), "group A", "group.inrush");
    assert!(least <= 0.0 && (0.2319..0.2321).contains(&most), "{most}");
    // By readings that say their own error the whole of it may part the cells: 42 mV.
    let apart = vec![at_rest("3.842 V ± 21.2 mV"); 4];
    let (_, most) = ends(&group(&apart, meter), "group A", "group.inrush");
    assert!(most > 2.4, "{most}");
    // One of them alone makes them unlike.
    let mixed: Vec<Value> = apart[..1].iter().chain(&alike[..3]).cloned().collect();
    let (_, most) = ends(&group(&mixed, meter), "group A", "group.inrush");
    assert!(most > 2.0, "{most}");
}

/// A difference that is there drives its current: 3.90 V against three of 3.80 V, 0.1 V / (r + r /
/// 3) with r from 0.65 · 60 / 3 mΩ to 1.06 · 60 · 2 mΩ, so from 0.59 to 5.8 A, less and more for the
/// digits.
#[test]
fn a_difference_beyond_the_common_error_stays() {
    let cells: Vec<Value> = ["3.900 V", "3.800 V", "3.800 V", "3.800 V"]
        .map(at_rest)
        .to_vec();
    let (least, most) = ends(
        &group(&cells, "± (0.5 % + 2 digits)"),
        "group A",
        "group.inrush",
    );
    assert!(
        (0.5..0.59).contains(&least) && (5.8..6.1).contains(&most),
        "{least} {most}"
    );
}

fn at_1_khz(resistance: &str) -> Value {
    json!({ "pack": "P", "resistance": { "value": resistance, "method": "ac-1khz", "temperature": "5 degC" } })
}

/// Three cells read alike at 1 kHz: what their ratio to direct current has in common cancels. Of 3 A
/// each carries 1 / (1 + 2 · 1.5) to 1 / (1 + 2 / 1.5) if they came out of one pack, by hand.
#[test]
fn like_cells_share_more_evenly_than_their_method_is_known() {
    let alike = vec![at_1_khz("60 mΩ ± 0 mΩ"); 3];
    let (least, most) = ends(&group(&alike, "± 1 mV"), "cell K0", "cell.current");
    assert!(
        (least - 0.75).abs() < 1e-9 && (most - 9.0 / 7.0).abs() < 1e-9,
        "{least} {most}"
    );
    let without = |key: &str, cells: &[Value]| -> Vec<Value> {
        let mut cells = cells.to_vec();
        cells.iter_mut().for_each(|cell| {
            cell.as_object_mut().unwrap().remove(key);
        });
        cells
    };
    // Cells of any pack: 1 / (1 + 2 · 2) to 1 / (1 + 2 / 2).
    let (least, most) = ends(
        &group(&without("pack", &alike), "± 1 mV"),
        "cell K0",
        "cell.current",
    );
    assert!(
        (least - 0.6).abs() < 1e-9 && (most - 1.5).abs() < 1e-9,
        "{least} {most}"
    );
    // Readings at other temperatures have nothing in common but their method: 3.5 to 1.5.
    let mut unlike = alike;
    unlike[1]["resistance"]["temperature"] = json!("20 degC");
    let (least, most) = ends(&group(&unlike, "± 1 mV"), "cell K0", "cell.current");
    assert!(least < 0.54 && most > 1.61, "{least} {most}");
}

/// A cell that is used as warm as it was read has the resistance that was read: 60 mΩ at 1 kHz are
/// 210 mΩ at the most, and 3 A through it 1.89 W.
#[test]
fn a_resistance_read_where_it_is_used_is_not_heated_twice() {
    let one = [at_1_khz("60 mΩ ± 0 mΩ")];
    let (least, most) = ends(&group(&one, "± 1 mV"), "cell K0", "cell.heat");
    assert!(
        (least - 0.81).abs() < 1e-9 && (most - 1.89).abs() < 1e-9,
        "{least} {most}"
    );
}
