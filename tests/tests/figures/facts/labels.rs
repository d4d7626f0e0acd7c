//! Figures of a pack that follow from its label.

use std::collections::BTreeMap;

use rules_core::check::{FigureReport, Options, check};

use rules_core::document::Syntax;
use rules_core::ruleset::Rules;
use rulesets::proposal::Proposal;
use serde_json::{Value, json};

use super::setting::{encloses, rules, worked};

/// Each of the fields of a pack's label in several ways, in all combinations.
fn labels() -> Vec<Value> {
    const FIELDS: [(&str, &[&str]); 4] = [
        ("voltage", &["11.1 V", "14.8 V", "0.5..12 V"]),
        ("capacity", &["5.2 Ah", "0.05 Ah", "500 Ah"]),
        ("energy", &["58 Wh", "60 Wh", "150 Wh"]),
        ("designation", &["3INR19/66-2", "4ICR19/66", "INR19/66"]),
    ];
    let mut all = vec![json!({})];
    for (field, values) in FIELDS {
        let with = |label: &Value| {
            values
                .iter()
                .map(|value| {
                    let mut with = label.clone();
                    with[field] = json!(value);
                    with
                })
                .collect::<Vec<_>>()
        };
        let more: Vec<Value> = all.iter().flat_map(with).collect();
        all.extend(more);
    }
    let counted = [json!(6), json!(8), json!("4..6")];
    let more: Vec<Value> = counted
        .iter()
        .flat_map(|count| {
            all.iter().map(|label| {
                let mut with = label.clone();
                with["cells"] = count.clone();
                with
            })
        })
        .collect();
    all.extend(more);
    all
}

/// All that a label can say less: each field left out, or a number known less well.
fn less_of(label: &Value) -> Vec<Value> {
    let fields: Vec<String> = label.as_object().unwrap().keys().cloned().collect();
    let mut all = Vec::new();
    for field in fields {
        let mut left_out = label.clone();
        left_out.as_object_mut().unwrap().remove(&field);
        all.push(left_out);
        let number = label[&field].as_str().filter(|text| !text.contains(".."));
        let Some(text) = number.filter(|_| field != "designation") else {
            continue;
        };
        for percent in [4, 100] {
            let mut wider = label.clone();
            wider[&field] = json!(format!("{text} ± {percent} %"));
            all.push(wider);
        }
    }
    all
}

/// Figures of many labels at once: one map of figures by name for each.
fn of_labels(rules: &Rules, labels: &[Value]) -> Vec<BTreeMap<String, FigureReport>> {
    let mut all = Vec::new();
    for chunk in labels.chunks(5_000) {
        let packs: Vec<Value> = chunk
            .iter()
            .enumerate()
            .map(|(at, label)| {
                let mut pack = label.clone();
                pack["id"] = json!(format!("P{at}"));
                pack
            })
            .collect();
        let proposal = json!({ "format": 1, "arrangement": "1S1P", "packs": packs });
        let mut of_each = vec![BTreeMap::new(); chunk.len()];
        for ((subject, name), figure) in worked(rules, &proposal) {
            if let Some(at) = subject.strip_prefix("pack P") {
                of_each[at.parse::<usize>().unwrap()].insert(name, figure);
            }
        }
        all.extend(of_each);
    }
    all
}

/// Of a label that says less no figure is narrower. A label that contradicts itself is no error, for
/// labels are printed so: nothing is known by it, and no law speaks of it.
#[test]
fn a_label_that_says_less_never_gives_a_narrower_figure() {
    let rules = rules();
    let labels = labels();
    let less: Vec<(usize, Value)> = labels
        .iter()
        .enumerate()
        .flat_map(|(at, label)| less_of(label).into_iter().map(move |less| (at, less)))
        .collect();
    let known = of_labels(&rules, &labels);
    let wide = of_labels(
        &rules,
        &less
            .iter()
            .map(|(_, label)| label.clone())
            .collect::<Vec<_>>(),
    );
    let (mut compared, mut narrowed) = (0, 0);
    let contradictory = known
        .iter()
        .filter(|figures| figures["pack.series"].open.is_some())
        .count();
    for ((at, label), wide) in less.iter().zip(&wide) {
        for (name, narrow) in &known[*at] {
            if narrow.open.is_some() {
                let value = narrow.value.as_ref().unwrap();
                assert!(value.high().is_none(), "{name}: {:?}", labels[*at]);
                continue;
            }
            compared += 1;
            narrowed += usize::from(!encloses(narrow, &wide[name]));
            assert!(
                encloses(&wide[name], narrow),
                "{name}: {} says less than {}\n{:?}\n{:?}",
                label,
                labels[*at],
                wide[name].value,
                narrow.value
            );
        }
    }
    println!(
        "{compared} figures of labels that say less were compared, {narrowed} of them wider; {contradictory} of {} labels contradict themselves",
        labels.len()
    );
    assert!(compared > 2_000 && narrowed > 500 && contradictory > 100);
}

/// Voltage times capacity and energy are two ways to say one thing: what both allow counts.
#[test]
fn the_numbers_of_a_label_are_taken_together() {
    let rules = rules();
    let capacity = |label: Value| {
        let figures = of_labels(&rules, &[label]).remove(0);
        let shown = figures["pack.cell_capacity"].value.clone().unwrap();
        (shown.low(), shown.high())
    };
    // 6 Wh over 3.7 V are 1.62 Ah, and 5 % either way.
    let label = |capacity: Option<&str>| {
        let mut label = json!({ "voltage": "3.70..3.70 V", "energy": "6.00..6.00 Wh", "cells": 1 });
        if let Some(capacity) = capacity {
            label["capacity"] = json!(capacity);
        }
        label
    };
    let by_energy = capacity(label(None));
    let (low, high) = (by_energy.0.unwrap(), by_energy.1.unwrap());
    assert!((low - 0.95 * 6.0 / 3.7).abs() < 1e-6 && (high - 1.05 * 6.0 / 3.7).abs() < 1e-6);
    let both = capacity(label(Some("1.6..2.0 Ah")));
    assert_eq!(both, (Some(1.6), by_energy.1));
    // Of one that contradicts the energy nothing is known.
    assert_eq!(capacity(label(Some("1.8..2.0 Ah"))).1, None);
}

/// The figures of a pack by a label with these facts besides voltage and capacity: the hull, whether
/// it is open, and whether the caution on labels passes.
fn by_label(facts: &Value) -> (BTreeMap<String, (f64, f64, bool)>, bool) {
    let mut pack = json!({ "id": "P", "voltage": "11.1 V", "capacity": "5.2 Ah" });
    let more = facts.as_object().unwrap().clone();
    pack.as_object_mut().unwrap().extend(more);
    let cell = json!({ "id": "K1", "pack": "P" });
    let proposal = json!({ "format": 1, "arrangement": "1S1P", "cells": [cell], "packs": [pack] });
    let rules = rules();
    let figures = worked(&rules, &proposal)
        .into_iter()
        .filter(|((subject, _), _)| subject == "pack P")
        .map(|((_, name), figure)| {
            let range = figure.value.unwrap().number.value.range();
            (name, (range.lo(), range.hi(), figure.open.is_some()))
        })
        .collect();
    let proposal =
        Proposal::read("p.json", proposal.to_string().into(), Syntax::Json).expect("it is right");
    let report = check(&rules, &proposal, Options::default()).expect("it is checked");
    let passes = report
        .passed
        .iter()
        .any(|caution| **caution == *"label-does-not-add-up");
    (figures, passes)
}

/// Eighteen cells, counted, are six in parallel of 0.87 Ah; of two cells in parallel by their code
/// each has 6 Ah, as a 26700 can. Without the count or the code the same has to be possible.
#[test]
fn without_a_count_the_number_in_parallel_is_not_known() {
    let small = json!({ "voltage": "11.1 V", "capacity": "5.2 Ah", "cells": 18 });
    let large = json!({ "voltage": "11.1 V", "capacity": "12.0 Ah", "designation": "3INR26/70-2" });
    for (whole, left_out, parallel, capacity) in [
        (small, "cells", 6.0, 5.2 / 6.0),
        (large, "designation", 2.0, 6.0),
    ] {
        let (known, _) = by_label(&whole);
        assert_eq!(known["pack.parallel"], (parallel, parallel, false));
        let (low, high, _) = known["pack.cell_capacity"];
        assert!(low < capacity && capacity < high, "{low} to {high}");
        let mut less = whole;
        less.as_object_mut().unwrap().remove(left_out);
        let (unknown, _) = by_label(&less);
        assert_eq!(unknown["pack.parallel"], (1.0, f64::INFINITY, false));
        assert_eq!(unknown["pack.cell_capacity"], (0.0, f64::INFINITY, false));
    }
}

/// `3ICR19/66-2` is three in series and two in parallel (IEC 61960, clause 5.1): six cells. Where
/// others are counted, the label or the count is false, and neither says what the cells are.
#[test]
fn a_label_that_contradicts_the_count_tells_nothing() {
    let label = |cells: u32| {
        by_label(&json!({ "designation": "3ICR19/66-2", "energy": "58 Wh", "cells": cells }))
    };
    let (figures, passes) = label(6);
    assert_eq!(figures["pack.parallel"], (2.0, 2.0, false));
    assert!(passes);
    for cells in [3, 9, 12] {
        let (figures, passes) = label(cells);
        assert_eq!(
            figures["pack.series"],
            (1.0, f64::INFINITY, true),
            "{cells}"
        );
        assert_eq!(
            figures["pack.parallel"],
            (1.0, f64::INFINITY, true),
            "{cells}"
        );
        assert!(figures["pack.cell_capacity"].2 && !passes, "{cells}");
    }
}
