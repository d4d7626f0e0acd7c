//! What the page writes: into the file where it is written, and never over what somebody else wrote.

use std::fs;

use serde_json::{Value, json};

use super::served::{Served, body, status};
use crate::running::Folder;

const PLAN: &str = "\
# The torch of the marshal.
format: 1
title: Torch            # as it stands on the box
arrangement: 1S1P
light:
  draw: 2.8 W           # at full power
  input: { min: 2.8 V, max: 4.5 V }
cells:
  # Out of the grey box.
  - id: M2
    wrap: intact
";

/// What the form of a plan holds when it is opened.
fn opened(served: &Served, name: &str) -> (Value, String) {
    let page = served.get(&format!("plan/{name}"));
    assert_eq!(status(&page), 200, "{page}");
    let held = |key: &str| {
        let (_, rest) = page.split_once(&format!("{key}=\"")).expect(key);
        let text = rest.split('"').next().expect("its end");
        text.replace("&quot;", "\"")
            .replace("&#39;", "'")
            .replace("&amp;", "&")
    };
    let plan = serde_json::from_str(&held("data-plan")).expect("a plan");
    (plan, held("data-digest"))
}

fn sent(name: &str, (plan, digest): &(Value, String), about: &str) -> Value {
    json!({ "name": name, "plan": plan, "digest": digest, "about": about })
}

fn file(served: &Served, name: &str) -> String {
    fs::read_to_string(served.folder.path().join(name)).expect("a file")
}

#[test]
fn saving_changes_what_was_changed_and_keeps_the_rest() {
    let served = Served::of(Folder::with("torch.yaml", PLAN));
    let mut held = opened(&served, "torch.yaml");
    held.0["light"]["draw"] = json!("2.4 W");
    held.0["light"]["drive"] = json!("buck");
    held.0["cells"][0]["tabs"] = json!("clean");
    let answer = served.post("do/save", &sent("torch.yaml", &held, ""));
    assert_eq!(status(&answer), 200, "{answer}");
    let expected = PLAN
        .replace("2.8 W  ", "2.4 W  ")
        .replace("4.5 V }\n", "4.5 V }\n  drive: buck\n")
        .replace("wrap: intact\n", "wrap: intact\n    tabs: clean\n");
    assert_eq!(file(&served, "torch.yaml"), expected);
    // What was saved is begun from: it can be saved again.
    let again = opened(&served, "torch.yaml");
    let answer = served.post("do/save", &sent("torch.yaml", &again, ""));
    assert_eq!(
        (status(&answer), file(&served, "torch.yaml")),
        (200, expected)
    );
}

#[test]
fn what_somebody_else_changed_is_not_written_over() {
    let served = Served::of(Folder::with("torch.yaml", PLAN));
    let held = opened(&served, "torch.yaml");
    let theirs = PLAN.replace("2.8 W", "3.1 W");
    fs::write(served.folder.path().join("torch.yaml"), &theirs).expect("theirs");
    let answer = served.post("do/save", &sent("torch.yaml", &held, ""));
    assert_eq!(status(&answer), 409, "{answer}");
    for way in ["Take what the file says now", "Save as"] {
        assert!(body(&answer).contains(way), "{answer}");
    }
    assert_eq!(file(&served, "torch.yaml"), theirs);
    let answer = served.post("do/save", &sent("torch.yaml", &held, "mine.yaml"));
    assert_eq!(status(&answer), 200, "{answer}");
    assert!(file(&served, "mine.yaml").contains("draw: 2.8 W"));
    // One that is there already is none to save beside.
    let answer = served.post("do/save", &sent("torch.yaml", &held, "mine.yaml"));
    assert_eq!(status(&answer), 422, "{answer}");
    // A file that went away is not made anew behind somebody's back.
    fs::remove_file(served.folder.path().join("torch.yaml")).expect("it was there");
    let answer = served.post("do/save", &sent("torch.yaml", &held, ""));
    assert_eq!(status(&answer), 409, "{answer}");
}

#[test]
fn what_is_not_saved_outlives_the_command() {
    let served = Served::of(Folder::with("torch.yaml", PLAN));
    let mut held = opened(&served, "torch.yaml");
    held.0["light"]["draw"] = json!("9 W");
    let answer = served.post("do/check", &sent("torch.yaml", &held, "changed"));
    assert_eq!(status(&answer), 200, "{answer}");
    assert_eq!(file(&served, "torch.yaml"), PLAN, "the file itself waits");
    let kept = file(&served, ".torch.yaml.unsaved");
    drop(served);
    let folder = Folder::with("torch.yaml", PLAN).and(".torch.yaml.unsaved", kept);
    let served = Served::of(folder);
    assert_eq!(opened(&served, "torch.yaml"), held);
    served.post("do/forget", &sent("torch.yaml", &held, ""));
    assert_eq!(opened(&served, "torch.yaml").0["light"]["draw"], "2.8 W");
}

#[test]
fn a_new_plan_is_made_when_it_is_saved() {
    let served = Served::of(Folder::new());
    let mut held = opened(&served, "lamp.yaml");
    assert_eq!(held, (json!({ "format": 1 }), String::new()));
    held.0["title"] = json!("Lamp");
    held.0["arrangement"] = json!("1S1P");
    let answer = served.post("do/save", &sent("lamp.yaml", &held, ""));
    assert_eq!(status(&answer), 200, "{answer}");
    let said = file(&served, "lamp.yaml");
    assert_eq!(said, "format: 1\ntitle: Lamp\narrangement: 1S1P\n");
}

#[test]
fn facts_of_a_local_ruleset_are_in_the_form() {
    let rules = "
format: 1
ruleset: club-lamps
version: 1.0.0
title: Lamps of the club
extends: [rescued-cells]
facts:
  light.painted: { kind: yes-no, meaning: Whether it has the colour of the club }
cautions:
  - id: unpainted
    title: Not painted
    about: light
    warn_unless: light.painted
    reason: Nobody finds it again.
    basis: [{ common_practice: the club's }]
";
    let bench = "format: 1\nbench: Club\nrules: [./club.yaml]\nlights: { torch: { bays: 1, draw: 2.8 W, arrangement: 1S1P } }\n";
    let folder = Folder::with("club.yaml", rules).and("bench.yaml", bench);
    let served = Served::of(folder);
    let plan = json!({ "format": 1, "title": "T", "bench": "./bench.yaml", "light": "torch" });
    let part = |about: &str| {
        let sent = json!({ "name": "t.yaml", "plan": plan, "about": about });
        served.post("do/part", &sent)
    };
    let light = part("light");
    assert!(
        light.contains("Whether it has the colour of the club"),
        "{light}"
    );
    assert!(
        light.contains("data-places=\"light.extra.painted\""),
        "{light}"
    );
    assert!(light.contains("2.8 W (bench)"), "{light}");
    assert_eq!(body(&part("lights")), "");
    assert_eq!(body(&part("light[K4]")), "");
}

#[test]
fn a_plan_without_a_bench_has_fields_for_its_meters() {
    let served = Served::of(Folder::with("torch.yaml", PLAN));
    let page = served.get("plan/torch.yaml");
    assert!(page.contains("data-part=\"meters\""), "{page}");
    let (plan, digest) = opened(&served, "torch.yaml");
    let mut held = (plan, digest);
    held.0["meters"] = json!({ "voltage": "± 0.5 %" });
    let part = served.post("do/part", &sent("torch.yaml", &held, "meters"));
    assert!(part.contains("data-places=\"meters.charge\""), "{part}");
    assert!(part.contains("value=\"± 0.5 %\""), "{part}");
}
