//! Texts that are changed where they are written.

use serde_json::json;

use super::*;

const PLAN: &str = "\
# Of the club.
format: 1
title: Lamp     # as it stands on the box
light:
  draw: 7.5 W   # at full power
  input: { min: 5.4 V, max: 8.6 V }
arrangement: 2S1P

cells:
  # The better one.
  - id: K4
    rest: { voltage: 3.87 V, after: 24 h }
    wrap: intact
  - { id: K7, wrap: nicked } # to be wrapped anew
ours: [1, 2]
conditions: clubhouse
";

fn value_of(text: &str) -> Value {
    let own = source("", text.into()).unwrap();
    value(&read(&own, Syntax::Yaml).unwrap())
}

/// The text after a change of its value.
fn after(change: impl FnOnce(&mut Value)) -> Result<String, String> {
    let mut wanted = value_of(PLAN);
    change(&mut wanted);
    changed(PLAN, Syntax::Yaml, &wanted).map_err(|problems| problems.to_string())
}

#[track_caller]
fn is_edited(change: impl FnOnce(&mut Value), pieces: &[(&str, &str)]) {
    let mut expected = PLAN.to_owned();
    for (before, behind) in pieces {
        assert!(expected.contains(before), "{before}");
        expected = expected.replacen(before, behind, 1);
    }
    assert_eq!(after(change), Ok(expected));
}

#[test]
fn a_value_is_changed_in_its_place() {
    let draw = |plan: &mut Value| plan["light"]["draw"] = json!("6 W");
    is_edited(draw, &[("draw: 7.5 W  ", "draw: 6 W  ")]);
    let min = |plan: &mut Value| plan["light"]["input"]["min"] = json!("5.0 V");
    is_edited(min, &[("min: 5.4 V", "min: 5.0 V")]);
    let wrap = |plan: &mut Value| plan["cells"][1]["wrap"] = json!("torn");
    is_edited(wrap, &[("wrap: nicked", "wrap: torn")]);
    let title = |plan: &mut Value| plan["title"] = json!("Lamp: the # first");
    is_edited(title, &[("title: Lamp", "title: \"Lamp: the # first\"")]);
}

#[test]
fn a_key_is_added_behind_its_neighbours() {
    let drive = |plan: &mut Value| plan["light"]["drive"] = json!("buck");
    is_edited(drive, &[("max: 8.6 V }", "max: 8.6 V }\n  drive: buck")]);
    let drift = |plan: &mut Value| plan["cells"][0]["drift"] = json!({ "from": "3.9 V" });
    is_edited(
        drift,
        &[("wrap: intact", "wrap: intact\n    drift: { from: 3.9 V }")],
    );
    let tabs = |plan: &mut Value| plan["cells"][1]["tabs"] = json!("clean");
    is_edited(tabs, &[("nicked }", "nicked, tabs: clean }")]);
    let charging =
        |plan: &mut Value| plan["charging"] = json!({ "timer": "yes", "current": "0.5 A" });
    is_edited(
        charging,
        &[(
            "clubhouse\n",
            "clubhouse\ncharging:\n  current: 0.5 A\n  timer: yes\n",
        )],
    );
    let idle = |plan: &mut Value| plan["conditions"] = json!({ "at": "clubhouse", "idle": "9 d" });
    is_edited(idle, &[(": clubhouse", ": { at: clubhouse, idle: 9 d }")]);
}

#[test]
fn a_key_is_taken_away_and_its_neighbours_stay() {
    let take = |section: &'static str, key: &'static str| {
        move |plan: &mut Value| drop(plan[section].as_object_mut().unwrap().remove(key))
    };
    is_edited(
        take("light", "input"),
        &[("  input: { min: 5.4 V, max: 8.6 V }\n", "")],
    );
    // What is said of a value stays, though the value went.
    is_edited(take("light", "draw"), &[("  draw: 7.5 W   # at", "  # at")]);
    let min = |plan: &mut Value| {
        drop(
            plan["light"]["input"]
                .as_object_mut()
                .unwrap()
                .remove("min"),
        )
    };
    is_edited(min, &[("min: 5.4 V, ", "")]);
    let max = |plan: &mut Value| {
        drop(
            plan["light"]["input"]
                .as_object_mut()
                .unwrap()
                .remove("max"),
        )
    };
    is_edited(max, &[(", max: 8.6 V", "")]);
    let whole = |plan: &mut Value| drop(plan.as_object_mut().unwrap().remove("arrangement"));
    is_edited(whole, &[("arrangement: 2S1P\n", "")]);
}

#[test]
fn entries_come_and_go() {
    let more = |plan: &mut Value| {
        plan["cells"]
            .as_array_mut()
            .unwrap()
            .push(json!({ "id": "K9", "wrap": "intact" }))
    };
    is_edited(more, &[("anew\n", "anew\n  - id: K9\n    wrap: intact\n")]);
    let none = |plan: &mut Value| drop(plan["ours"].as_array_mut().unwrap().remove(0));
    is_edited(none, &[("[1, 2]", "[2]")]);
    let first = |plan: &mut Value| drop(plan["cells"].as_array_mut().unwrap().remove(0));
    let lines = "  - id: K4\n    rest: { voltage: 3.87 V, after: 24 h }\n    wrap: intact\n";
    is_edited(first, &[(lines, "")]);
}

#[test]
fn what_cannot_be_changed_in_place_is_not_changed() {
    let turned = after(|plan| plan["cells"].as_array_mut().unwrap().reverse());
    assert!(
        turned
            .unwrap_err()
            .contains("cannot be changed where it is written")
    );
    let lost = after(|plan| drop(plan.as_object_mut().unwrap().remove("light")));
    assert!(lost.unwrap_err().contains("a comment would be lost"));
}

const DEMOS: [&str; 6] = [
    include_str!("../../../../demo/course-setter-bike-light.yaml"),
    include_str!("../../../../demo/helmet-lamp.yaml"),
    include_str!("../../../../demo/marshal-torch.yaml"),
    include_str!("../../../../demo/club/bench.yaml"),
    include_str!("../../../../demo/club/helmet-lamp.yaml"),
    include_str!("../../../../starters/plan.yaml"),
];

/// The ways to all single values of a map.
fn ways(value: &Value, way: &str) -> Vec<String> {
    match value {
        Value::Object(entries) => {
            let inner = entries.iter();
            let inner = inner.flat_map(|(key, value)| ways(value, &format!("{way}/{key}")));
            inner.collect()
        }
        Value::Array(items) => {
            let inner = items.iter().enumerate();
            let inner = inner.flat_map(|(at, value)| ways(value, &format!("{way}/{at}")));
            inner.collect()
        }
        _ => vec![way.to_owned()],
    }
}

#[test]
fn every_value_of_the_demos_can_be_changed_and_nothing_else_changes() {
    let mut count = 0;
    for text in DEMOS {
        let own = value_of(text);
        for way in ways(&own, "").iter().filter(|way| !way.ends_with("/id")) {
            let mut wanted = own.clone();
            *wanted.pointer_mut(way).unwrap() = json!("some other: value");
            let written = changed(text, Syntax::Yaml, &wanted).unwrap();
            let lines = text.lines().zip(written.lines());
            let differing = lines.filter(|(before, after)| before != after).count();
            assert_eq!(differing, 1, "{way}: {written}");
            assert_eq!(text.lines().count(), written.lines().count(), "{way}");
            count += 1;
        }
    }
    assert!(count > 400, "{count}");
}

#[test]
fn every_key_of_a_demo_can_be_taken_away_and_put_back() {
    for text in [DEMOS[2], DEMOS[4], DEMOS[5]] {
        let own = value_of(text);
        for way in ways(&own, "") {
            let (map, key) = way.rsplit_once('/').unwrap();
            let mut wanted = own.clone();
            let map = wanted.pointer_mut(map).unwrap().as_object_mut();
            // The last key of a map, an entry of a list by itself, and a name go otherwise.
            let Some(map) = map.filter(|map| map.len() > 1 && key != "id") else {
                continue;
            };
            map.remove(key);
            let less = changed(text, Syntax::Yaml, &wanted).unwrap();
            assert_eq!(value_of(&less), wanted, "{way}");
            let again = changed(&less, Syntax::Yaml, &own).unwrap();
            assert_eq!(value_of(&again), own, "{way}");
            assert_eq!(scan::comments(&again), scan::comments(text), "{way}");
        }
    }
}

#[test]
fn what_is_written_in_other_ways_is_changed_rightly_or_not_at_all() {
    let mut count = 0;
    for text in [
        "a: |\n  1\n  2\nb: 1\n",
        "a: >-\n  x # no comment\n  y\nb: 1\n",
        "a: 'it''s'\nb: 1 # one\n",
        "a: \"x \\\" # y\"\nb: 1\n",
        "a: long\n  text\nb: 1\n",
        "a:\nb: 1\n",
        "{ a: [1, 'x, y'], b: 1 }\n",
        "{ a: { c: 1, }, b: 1 }",
        "a:\n- 1\n-   2 # two\nb: 1",
        "a: 1\r\nb: 1 # one\r\n",
        "? a\n: 1\nb: 1\n",
        "---\na: 1\nb: 1\n...\n",
        "\n# begins\n\na: { c: 1 } #x\n\nb: 1\n# ends",
    ] {
        let own = value_of(text);
        let mut more = own.clone();
        more["c"] = json!({ "d": "1 V" });
        let mut less = own.clone();
        less.as_object_mut().unwrap().remove("a");
        let mut other = own.clone();
        other["a"] = json!("3 V");
        for wanted in [more, less, other] {
            if let Ok(written) = changed(text, Syntax::Yaml, &wanted) {
                count += 1;
                assert_eq!(value_of(&written), wanted, "{text:?}: {written:?}");
                assert_eq!(scan::comments(&written), scan::comments(text), "{text:?}");
            }
        }
    }
    assert!(count > 24, "{count}");
}

#[test]
fn json_stays_json() {
    let text = "{\n  \"format\": 1,\n  \"light\": { \"draw\": \"7.5 W\" },\n  \"ours\": 3\n}\n";
    let wanted = json!({ "format": 1, "light": { "draw": "6 W", "drive": "buck" }, "ours": 3 });
    let written = changed(text, Syntax::Json, &wanted).unwrap();
    let expected = text.replace("\"7.5 W\"", "\"6 W\", \"drive\": \"buck\"");
    assert_eq!(written, expected);
}
