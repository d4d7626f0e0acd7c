//! Figures follow the facts of a proposal: knowing less never gives a narrower figure, and one that
//! is not asked for is not worked.
#![cfg(test)]

#[path = "figure_facts/declared.rs"]
mod declared;

use std::collections::BTreeMap;

use rules_core::check::{Options, brief, check, figures};
use rules_core::document::{Problem, Syntax};
use rules_core::report::FigureReport;
use rules_core::ruleset::{Acceptance, Rules};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;
use serde_json::{Value, json};

#[path = "figure_facts/domains.rs"]
mod domains;

/// A build in which every fact that figures look at is given.
fn whole(arrangement: &str, draw: &str) -> Value {
    let cells: Vec<Value> = [("A", 3.87, 2310, 61), ("A", 3.86, 2250, 64), ("B", 3.88, 2400, 58), ("B", 3.87, 2290, 66)]
        .iter()
        .enumerate()
        .map(|(at, (group, rest, capacity, resistance))| {
            json!({
                "id": format!("K{at}"), "group": group, "designation": "ICR18650", "pack": "P",
                "rest": { "voltage": format!("{rest} V"), "after": "24 h" },
                "capacity": { "value": format!("{capacity} mAh"), "at": "1 A", "to": "3.0 V", "temperature": "22 degC" },
                "capacity_2": { "value": format!("{} mAh", capacity + 40), "at": "0.4 A", "to": "3.0 V", "temperature": "22 degC" },
                "rated": { "capacity": "2600 mAh" },
                "resistance": { "value": format!("{resistance} mΩ"), "method": if at % 2 == 0 { "dc-10s" } else { "charger-display" }, "temperature": "21 degC" },
                "loaded": { "open": "4.000 V", "closed": "3.950 V", "resistor": "5 ohm" },
                "drift": { "fall": "6 mV", "over": "14 d" },
            })
        })
        .collect();
    let count = if arrangement == "2S2P" { 4 } else { 1 };
    json!({
        "format": 1,
        "light": { "draw": draw, "input": { "min": "2.6 V" }, "cut_off": if count == 4 { "5.8 V" } else { "2.9 V" }, "standby": "50 uA" },
        "arrangement": arrangement,
        "cells": cells[..count],
        "packs": [{ "id": "P", "voltage": "11.1 V", "capacity": "5.2 Ah", "energy": "58 Wh", "designation": "3ICR19/66-2", "cells": 6 }],
        "charging": { "current": "1 A" },
        "conditions": { "ambient": "20 degC" },
    })
}

fn rules() -> Rules {
    Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
        .expect("the shipped rules load")
}

/// All library figures by subject and name.
fn worked(rules: &Rules, proposal: &Value) -> BTreeMap<(String, String), FigureReport> {
    let text = proposal.to_string();
    let proposal = Proposal::read("p.json", text.clone().into(), Syntax::Json)
        .unwrap_or_else(|problems| panic!("{problems:?}\n{text}"));
    let sheet = figures(rules, &proposal, Options::default()).expect("its facts are known");
    sheet
        .figures
        .into_iter()
        .filter(|figure| figure.is.is_none())
        .map(|figure| ((figure.subject.to_string(), figure.name.clone()), figure))
        .collect()
}

/// The model's arithmetic is not rounded outward: ends may cross by their last bits.
const ROUNDING: f64 = 1e-12;

fn encloses(wide: &FigureReport, narrow: &FigureReport) -> bool {
    let (wide, narrow) = (wide.value.as_ref().unwrap(), narrow.value.as_ref().unwrap());
    let slack = |end: f64| ROUNDING * end.abs().max(1.0);
    let low = match (wide.low(), narrow.low()) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(wide), Some(narrow)) => wide <= narrow + slack(narrow),
    };
    let high = match (wide.high(), narrow.high()) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(wide), Some(narrow)) => wide >= narrow - slack(narrow),
    };
    low && high
}

/// Places of everything that may be left out.
fn places(value: &Value, here: &str, into: &mut Vec<String>) {
    // A reading that tells no temperature says that it was taken in a room.
    const KEPT: [&str; 5] = ["/format", "/arrangement", "id", "group", "temperature"];
    let mut visit = |key: &str, inner: &Value| {
        let place = format!("{here}/{key}");
        if !KEPT.iter().any(|kept| place.ends_with(kept))
            && !inner.is_array()
            && inner.get("id").is_none()
        {
            into.push(place.clone());
        }
        places(inner, &place, into);
    };
    match value {
        Value::Object(map) => map.iter().for_each(|(key, inner)| visit(key, inner)),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .for_each(|(at, inner)| visit(&at.to_string(), inner)),
        _ => {}
    }
}

fn without(proposal: &Value, place: &str) -> Value {
    let mut changed = proposal.clone();
    let (outer, key) = place.rsplit_once('/').unwrap();
    changed
        .pointer_mut(outer)
        .unwrap()
        .as_object_mut()
        .unwrap()
        .remove(key);
    changed
}

/// The same with a tolerance on a number that is wider than its digits, if it is one with a unit.
fn widened(proposal: &Value, place: &str) -> Option<Value> {
    let mut changed = proposal.clone();
    let text = changed.pointer(place)?.as_str()?.to_owned();
    let (number, unit) = text.split_once(' ')?;
    number.parse::<f64>().ok()?;
    let tolerance = if unit == "degC" {
        "7 K".to_owned()
    } else {
        "9 %".to_owned()
    };
    *changed.pointer_mut(place)? = json!(format!("{text} ± {tolerance}"));
    Some(changed)
}

const BUILDS: [(&str, &str); 4] = [
    ("1S1P", "2 A"),
    ("1S1P", "7 W"),
    ("2S2P", "1.5 A"),
    ("2S2P", "9 W"),
];

#[test]
fn knowing_less_never_gives_a_narrower_figure() {
    let rules = rules();
    let mut compared = 0;
    for (arrangement, draw) in BUILDS {
        let proposal = whole(arrangement, draw);
        let known = worked(&rules, &proposal);
        let mut all = Vec::new();
        places(&proposal, "", &mut all);
        for place in all {
            let changed =
                std::iter::once(without(&proposal, &place)).chain(widened(&proposal, &place));
            for less in changed {
                let wide = worked(&rules, &less);
                // A pack or a light that is left out whole has no figures of its own.
                for (key, narrow) in known.iter().filter(|(key, _)| wide.contains_key(*key)) {
                    compared += 1;
                    assert!(
                        encloses(&wide[key], narrow),
                        "{arrangement} {draw}: {key:?} at {place}\n{:?}\n{:?}",
                        wide[key].value,
                        narrow.value
                    );
                }
            }
        }
    }
    println!("{compared} figures of proposals that say less were compared");
    assert!(compared > 10_000);
}

#[test]
fn with_everything_given_every_figure_is_known() {
    let rules = rules();
    for (arrangement, draw) in BUILDS {
        for (key, figure) in worked(&rules, &whole(arrangement, draw)) {
            let value = figure.value.unwrap();
            assert!(!value.number.missing, "{arrangement} {draw}: {key:?}");
            assert!(
                value.low().is_some(),
                "{arrangement} {draw}: {key:?} {value:?}"
            );
        }
    }
}

/// What is missing is named, of the cell that lacks it.
#[test]
fn what_is_missing_is_named() {
    let rules = rules();
    let worked = worked(
        &rules,
        &without(&whole("2S2P", "9 W"), "/cells/2/capacity/at"),
    );
    let missing = |subject: &str, name: &str| {
        let facts = &worked[&(subject.to_owned(), name.to_owned())].facts;
        let missing = facts.iter().filter(|fact| fact.value.is_none());
        missing
            .map(|fact| (fact.subject.to_string(), fact.name.clone()))
            .collect::<Vec<_>>()
    };
    let expected = [("cell K2".to_owned(), "cell.capacity_at".to_owned())];
    assert_eq!(missing("group B", "group.start_voltage"), expected);
    assert_eq!(missing("build", "build.run_time"), expected);
    assert_eq!(missing("group A", "group.start_voltage"), []);
}

/// A slow capacity test narrows the upper end of what a gentle use gives. Half of one is as good as
/// none, and takes no part.
#[test]
fn a_slow_test_takes_part_whole_or_not_at_all() {
    let rules = rules();
    for arrangement in ["1S1P", "2S2P"] {
        let proposal = whole(arrangement, "0.5 A");
        let time = |proposal: &Value| {
            worked(&rules, proposal)[&("build".to_owned(), "build.run_time".to_owned())].clone()
        };
        let facts = |figure: &FigureReport| figure.facts.len() + figure.more_facts;
        let (twice, once) = (
            time(&proposal),
            time(&without(&proposal, "/cells/0/capacity_2")),
        );
        let (narrow, wide) = (twice.value.as_ref().unwrap(), once.value.as_ref().unwrap());
        assert!(
            narrow.high().unwrap() < 0.99 * wide.high().unwrap() && narrow.low() >= wide.low(),
            "{narrow:?} {wide:?}"
        );
        assert_eq!(facts(&twice), facts(&once) + 4);
        for part in ["value", "at", "to"] {
            let half = time(&without(&proposal, &format!("/cells/0/capacity_2/{part}")));
            assert_eq!(half.value, once.value, "{part}");
            // Beside one cell with half a test, those of the others count.
            assert!(
                arrangement != "1S1P" || facts(&half) == facts(&once),
                "{part}"
            );
            assert!(half.facts.iter().all(|fact| fact.value.is_some()), "{part}");
        }
    }
}

/// The ratio of the two tests names what it lacks.
#[test]
fn the_ratio_of_tests_names_what_is_missing() {
    let rules = rules();
    let proposal = whole("1S1P", "2 A");
    let ratio = |proposal: &Value| {
        worked(&rules, proposal)[&("cell K0".to_owned(), "cell.capacity_ratio".to_owned())].clone()
    };
    let known = ratio(&proposal).value.unwrap();
    assert!(
        known.low().unwrap() > 0.95 && known.high().unwrap() < 1.05,
        "{known:?}"
    );
    let half = ratio(&without(&proposal, "/cells/0/capacity_2/to"));
    let missing: Vec<&str> = half
        .facts
        .iter()
        .filter(|fact| fact.value.is_none())
        .map(|fact| fact.name.as_str())
        .collect();
    assert_eq!(missing, ["cell.capacity_2_to"]);
    assert!(half.value.unwrap().number.missing);
}

/// One cell with a resistance in two ways.
fn read_twice(resistance: Option<Value>, loaded: Option<Value>) -> Value {
    let mut cell = json!({ "id": "K0", "designation": "ICR18650" });
    for (key, reading) in [("resistance", resistance), ("loaded", loaded)] {
        if let Some(reading) = reading {
            cell[key] = reading;
        }
    }
    json!({ "format": 1, "arrangement": "1S1P", "cells": [cell] })
}

/// 4.000 V before, and so much across 5 ohm.
fn across(closed: &str) -> Value {
    json!({ "open": "4.000 V", "closed": closed, "resistor": "5 ohm ± 1 %" })
}

/// A resistance read in two ways is what both allow. A load that does not surely lower the voltage
/// tells nothing.
#[test]
fn two_readings_of_a_resistance_are_taken_together() {
    let rules = rules();
    let read = |resistance: Option<&str>, closed: Option<&str>| {
        let by_method = resistance.map(|value| json!({ "value": value, "method": "dc-10s" }));
        let proposal = read_twice(by_method, closed.map(across));
        let figure = worked(&rules, &proposal)
            [&("cell K0".to_owned(), "cell.dc_resistance".to_owned())]
            .clone();
        let missing: Vec<String> = figure
            .facts
            .iter()
            .filter(|fact| fact.value.is_none())
            .map(|fact| fact.name.clone())
            .collect();
        (figure.value.unwrap().number.value.range(), missing)
    };
    // 4.000 V to 3.950 V across 5 ohm is 63 mohm.
    let (by_method, near) = (read(Some("60 mΩ"), None).0, read(None, Some("3.950 V")).0);
    assert!(near.contains(0.063));
    assert_eq!(
        read(Some("60 mΩ"), Some("3.950 V")),
        (by_method.meets(near).unwrap(), Vec::new())
    );
    for closed in ["4.000 V", "4.010 V"] {
        assert_eq!(read(Some("60 mΩ"), Some(closed)), (by_method, Vec::new()));
        assert_eq!(read(None, Some(closed)).1, ["cell.resistance"]);
    }
}

/// The problems of a proposal, in whatever way it is used: all ways must say the same.
fn problems(rules: &Rules, proposal: &Value) -> Vec<Problem> {
    let proposal = Proposal::read("p.json", proposal.to_string().into(), Syntax::Json).unwrap();
    let mut all = Vec::new();
    for acceptance in [Acceptance::Guarded, Acceptance::Simple] {
        let options = Options {
            acceptance: Some(acceptance),
        };
        all.push(check(rules, &proposal, options).err());
        all.push(brief(rules, &proposal, options).err());
        all.push(figures(rules, &proposal, options).err());
    }
    assert!(all.iter().all(|one| *one == all[0]), "{all:?}");
    all.swap_remove(0).unwrap_or_default()
}

/// Vagueness does not pay: what refuses, or is an error, does not pass for being known less well.
/// 3.90 V that fall to 1.00 V across 1 ohm are 2.9 ohm, of which at least a fifth is the cell's.
#[test]
fn readings_that_contradict_each_other_are_an_error() {
    let rules = rules();
    let by_method = json!({ "value": "61 mΩ", "method": "dc-10s" });
    let of = |closed: &str| json!({ "open": "3.90 V", "closed": closed, "resistor": "1 ohm" });
    let both = read_twice(Some(by_method.clone()), Some(of("1.00 V")));
    let found = problems(&rules, &both);
    let [problem] = found.as_slice() else {
        panic!("{found:?}")
    };
    assert_eq!(problem.fault.word(), "contradiction");
    // Both places: that of the reading across the load, and in words that of the other.
    let text = both.to_string();
    let column = |value: &str| text.find(&format!("\"{value}\"")).unwrap() + 1;
    let place = problem.place.as_ref().unwrap();
    let (first, second) = {
        let places = [column("61 mΩ"), column("1.00 V")];
        (places[0].min(places[1]), places[0].max(places[1]))
    };
    // Columns are characters; what stands before has as many letters as bytes, but for `Ω`.
    assert!(
        place.line == 1 && place.column + 1 >= second && place.column <= second,
        "{place:?} {second}"
    );
    // 60.5 mΩ times 0.65 and 61.5 mΩ times 1.06; 3.895/1.005 - 1 times 0.2 and 3.905/0.995 - 1
    // times 1.3.
    for said in [
        "39.32..65.19 mΩ".to_owned(),
        "0.5751..3.803 Ω".to_owned(),
        format!("line 1, column {first}"),
        "`resistance`".to_owned(),
        "`loaded`".to_owned(),
        "`K0`".to_owned(),
    ] {
        assert!(problem.message.contains(&said), "{said}: {problem}");
    }
    let (alone, less) = (
        read_twice(Some(by_method.clone()), None),
        [
            read_twice(Some(by_method.clone()), Some(of("1.00 V ± 3 V"))),
            without(&both, "/cells/0/loaded/resistor"),
        ],
    );
    let figure = |proposal: &Value| {
        worked(&rules, proposal)[&("cell K0".to_owned(), "cell.dc_resistance".to_owned())]
            .value
            .clone()
    };
    for proposal in less {
        assert_eq!(problems(&rules, &proposal), []);
        assert_eq!(figure(&proposal), figure(&alone));
    }
}

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

/// A slow capacity test that gives less than nine tenths of a faster one to no lower an end
/// contradicts it.
#[test]
fn capacity_tests_that_contradict_each_other_are_an_error() {
    let rules = rules();
    let tested = |slow: Value| {
        let cell = json!({
            "id": "K0",
            "capacity": [{ "value": "2.0..2.0 Ah", "at": "1 A", "to": "3.0 V" }, slow],
        });
        json!({ "format": 1, "arrangement": "1S1P", "cells": [cell] })
    };
    let slow =
        |value: &str, at: &str, to: &str| tested(json!({ "value": value, "at": at, "to": to }));
    for (proposal, words) in [
        (
            slow("1.79..1.799 Ah", "0.4 A", "3.0 V"),
            vec!["contradiction"],
        ),
        (
            slow("1.79..1.799 Ah", "1 A", "2.9 V"),
            vec!["contradiction"],
        ),
        (slow("1.79..1.8 Ah", "0.4 A", "3.0 V"), Vec::new()),
        (slow("1.79..1.799 Ah", "1.1 A", "3.0 V"), Vec::new()),
        (slow("1.79..1.799 Ah", "0.4 A", "3.1 V"), Vec::new()),
        (
            tested(json!({ "value": "1.5 Ah", "at": "0.4 A" })),
            Vec::new(),
        ),
    ] {
        let found: Vec<String> = problems(&rules, &proposal)
            .iter()
            .map(|problem| problem.fault.word())
            .collect();
        assert_eq!(found, words, "{proposal}");
    }
}

/// What the library works out does not hang on acceptance.
#[test]
fn a_figure_is_the_same_under_both_acceptances() {
    let rules = rules();
    for (arrangement, draw) in BUILDS {
        let text = widened(&whole(arrangement, draw), "/cells/0/capacity/value").unwrap();
        let proposal = Proposal::read("p.json", text.to_string().into(), Syntax::Json).unwrap();
        let of = |acceptance| {
            let options = Options {
                acceptance: Some(acceptance),
            };
            let all = figures(&rules, &proposal, options).unwrap().figures;
            all.into_iter()
                .filter(|figure| figure.is.is_none())
                .map(|figure| (figure.subject, figure.name, figure.value, figure.open))
                .collect::<Vec<_>>()
        };
        assert_eq!(of(Acceptance::Guarded), of(Acceptance::Simple));
    }
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
/// others are counted, the label or the count is false, and neither tells what the cells are.
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
