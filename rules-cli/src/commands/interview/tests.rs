//! Conversations without a terminal. The verdicts are those of a small ruleset, written here.

use std::collections::VecDeque;
use std::io;

use rules_core::check::{Options, Report, Verdict, check};
use rules_core::report::text::Plain;
use rules_core::ruleset::{Rules, Texts};
use rulesets::catalogue;
use rulesets::proposal::Draft;
use serde_json::{Value, json};

use super::console::Console;
use super::talk::Talk;

const RULES: &str = "
format: 1
ruleset: relay
version: 1.0.0
title: Lamps of the relay
stages:
  looking: Looking
  measuring: Measuring
cautions:
  - id: rest-low
    title: Rest voltage low
    about: each cell
    stage: measuring
    refuse_unless: cell.rest_voltage >= 2.5 V
    reason: It rests at {cell.rest_voltage}.
    basis: [{ common_practice: the club's }]
  - id: looks-bad
    title: Looks bad
    about: each cell
    stage: looking
    refuse_unless: cell.wrap == intact and cell.top_ring == present and cell.body == sound and cell.tabs == clean and cell.weld_marks == flat
    reason: It looks bad.
    basis: [{ common_practice: the club's }]
  - id: sealed
    title: Gas cannot get out
    about: light
    stage: looking
    warn_unless: light.vented
    reason: Gas cannot get out.
    basis: [{ common_practice: the club's }]
";

struct Scripted {
    answers: VecDeque<&'static str>,
    said: String,
}

impl Console for Scripted {
    fn ask(&mut self, _: &[String]) -> io::Result<Option<String>> {
        let answer = self.answers.pop_front();
        self.said += &format!("> {}\n", answer.unwrap_or("(end of input)"));
        Ok(answer.map(str::to_owned))
    }

    fn say(&mut self, text: &str) -> io::Result<()> {
        self.said += text;
        Ok(())
    }
}

/// How a conversation ended.
struct Held {
    said: String,
    saved: Vec<Value>,
    report: Option<Report>,
}

impl Held {
    fn last(&self) -> &Value {
        self.saved.last().expect("something was saved")
    }

    /// The places of the questions, in their order.
    fn asked(&self) -> Vec<&str> {
        let lines = self.said.lines();
        let heads = lines.filter(|line| line.contains(" of about "));
        heads.filter_map(|line| line.split(' ').next()).collect()
    }
}

fn hold(begun: Value, answers: &[&'static str]) -> Held {
    hold_by(RULES, begun, answers)
}

fn hold_by(rules: &str, begun: Value, answers: &[&'static str]) -> Held {
    let library = Texts::of([("relay.yaml", rules)]);
    let rules = Rules::load(&["relay.yaml"], &library, &catalogue());
    let rules = rules.unwrap_or_else(|problems| panic!("{problems}"));
    let mut console = Scripted {
        answers: answers.iter().copied().collect(),
        said: String::new(),
    };
    let mut saved = Vec::new();
    let held = Talk {
        console: &mut console,
        check: &mut |draft, _| check(&rules, &draft.proposal(&rules)?, Options::default()),
        save: &mut |draft| {
            saved.push(draft.value().clone());
            Ok(())
        },
        bench: None,
        copies: false,
        width: 80,
        style: &Plain,
    }
    .hold(Draft::of("torch.yaml", begun));
    let report = held.unwrap_or_else(|_| panic!("{}", console.said));
    Held {
        said: console.said,
        saved,
        report,
    }
}

fn one_cell() -> Value {
    json!({ "format": 1, "title": "T", "arrangement": "1S1P", "cells": [{ "id": "K4" }] })
}

#[test]
fn from_nothing_to_a_pass() {
    let answers = ["T", "1S1P", "K4", "sound", "3.71 V", "yes", ""];
    let held = hold(json!({ "format": 1 }), &answers);
    let order = [
        "title",
        "arrangement",
        "cells",
        "cells[K4].look",
        "cells[K4].rest.voltage",
        "light.vented",
    ];
    assert_eq!(held.asked(), order, "{}", held.said);
    let report = held.report.as_ref().expect("a report");
    assert_eq!(report.verdict(), Some(Verdict::Pass));
    let written = json!({
        "format": 1, "title": "T", "arrangement": "1S1P", "light": { "vented": "yes" },
        "cells": [{ "id": "K4", "look": "sound", "rest": { "voltage": "3.71 V" } }],
    });
    assert_eq!(held.last(), &written);
    assert_eq!(held.saved.len(), 6, "each answer is written at once");
    assert!(
        held.said.contains("REFUSE until 1 more is answered."),
        "{}",
        held.said
    );
}

#[test]
fn what_cannot_change_the_verdict_is_asked_only_on_request() {
    let held = hold(one_cell(), &["sound", "1.87 V", ""]);
    let asked = ["cells[K4].look", "cells[K4].rest.voltage"];
    assert_eq!(held.asked(), asked, "{}", held.said);
    let against = "Against it so far: refuse Rest voltage low, cell K4. REFUSE, whatever else is";
    assert!(held.said.contains(against), "{}", held.said);
    let held = hold(one_cell(), &["sound", "1.87 V", "more", "no", ""]);
    assert_eq!(held.asked().last(), Some(&"light.vented"), "{}", held.said);
}

#[test]
fn what_is_not_known_is_left_open_and_back_takes_an_answer_back() {
    let held = hold(
        one_cell(),
        &["?", "3.71 V", "back", "back", "sound", "quit"],
    );
    let asked = [
        "cells[K4].look",
        "cells[K4].rest.voltage",
        "light.vented",
        "cells[K4].rest.voltage",
        "cells[K4].look",
        "cells[K4].rest.voltage",
    ];
    assert_eq!(held.asked(), asked, "{}", held.said);
    assert_eq!(
        held.last()["cells"],
        json!([{ "id": "K4", "look": "sound" }])
    );
}

#[test]
fn a_bad_answer_is_told_and_asked_again() {
    let held = hold(one_cell(), &["sond", "sound", "3.71", "3.71 A", "3.71 V"]);
    assert!(held.said.contains("Did you mean `sound`?"), "{}", held.said);
    assert_eq!(held.saved.len(), 2, "nothing bad is written");
    assert_eq!(held.last()["cells"][0]["rest"]["voltage"], "3.71 V");
}

#[test]
fn a_word_is_taken_apart() {
    let answers = ["each", "sound", "?", "present", "flat", "intact", "quit"];
    let held = hold(one_cell(), &answers);
    let facts = ["body", "tabs", "top_ring", "weld_marks", "wrap"];
    let facts = facts.map(|fact| format!("cells[K4].{fact}"));
    let asked = held.asked();
    assert_eq!(asked.first(), Some(&"cells[K4].look"));
    assert_eq!(asked.get(1..6).expect("its facts"), facts, "{}", held.said);
    let cell = json!({
        "id": "K4", "body": "sound", "top_ring": "present", "weld_marks": "flat", "wrap": "intact",
    });
    assert_eq!(held.last()["cells"], json!([cell]));
}

/// What the light is made for is read off its leaflet together.
fn rules_of_input() -> String {
    let caution = "
  - id: input
    title: The light wants other voltages
    about: light
    stage: measuring
    refuse_unless: light.input_min <= 3.0 V and light.input_max >= 4.2 V and light.vented
    reason: It wants others.
    basis: [{ common_practice: the club's }]
";
    let (head, _) = RULES
        .split_once("  - id: rest-low")
        .expect("its first caution");
    format!("{head}{}", caution.trim_start_matches('\n'))
}

#[test]
fn what_one_map_holds_is_asked_at_once() {
    let rules = rules_of_input();
    let held = hold_by(&rules, one_cell(), &["2.8 V, 4.5 V", "yes", ""]);
    assert_eq!(
        held.asked(),
        ["light.input", "light.vented"],
        "{}",
        held.said
    );
    let input = json!({ "min": "2.8 V", "max": "4.5 V" });
    assert_eq!(held.last()["light"]["input"], input);
    let pass = held.report.as_ref().and_then(Report::verdict);
    assert_eq!(pass, Some(Verdict::Pass));
    // What is left out at the end is asked by itself, and so is each on request.
    let held = hold_by(&rules, one_cell(), &["2.8 V", "4.5 V", "quit"]);
    let asked = ["light.input", "light.input.max", "light.vented"];
    assert_eq!(held.asked(), asked, "{}", held.said);
    let held = hold_by(&rules, one_cell(), &["each", "4.5 V", "2.8 V", "quit"]);
    let asked = [
        "light.input",
        "light.input.max",
        "light.input.min",
        "light.vented",
    ];
    assert_eq!(held.asked(), asked, "{}", held.said);
    assert_eq!(held.last()["light"]["input"], input);
}

#[test]
fn of_what_is_asked_at_once_some_may_not_be_known() {
    let rules = rules_of_input();
    let held = hold_by(&rules, one_cell(), &["?, 4.5 V", "yes", ""]);
    assert_eq!(
        held.asked(),
        ["light.input", "light.vented"],
        "{}",
        held.said
    );
    assert_eq!(held.last()["light"]["input"], json!({ "max": "4.5 V" }));
    let held = hold_by(&rules, one_cell(), &["?", "yes", ""]);
    assert_eq!(
        held.asked(),
        ["light.input", "light.vented"],
        "{}",
        held.said
    );
    assert_eq!(held.last()["light"], json!({ "vented": "yes" }));
    // Of bad answers nothing is written, be they too many or one of them wrong.
    let bad = ["2.8 V, 4.5 V, 1", "2.8 V, 4.5 A", "quit"];
    let held = hold_by(&rules, one_cell(), &bad);
    assert!(held.saved.is_empty(), "{:?}", held.saved);
    assert!(
        held.said.contains("2 answers belong here, and these are 3"),
        "{}",
        held.said
    );
}

#[test]
fn of_several_cells_a_word_is_asked_once_and_a_reading_of_each() {
    let two = json!({
        "format": 1, "title": "T", "arrangement": "2S1P", "cells": [{ "id": "K4" }, { "id": "K7" }],
    });
    let held = hold(two.clone(), &["sound", "3.71 V", "3.72 V"]);
    let asked = [
        "cells[K4",
        "cells[K4].rest.voltage",
        "cells[K7].rest.voltage",
        "light.vented",
    ];
    assert_eq!(held.asked(), asked, "{}", held.said);
    let cells = json!([
        { "id": "K4", "look": "sound", "rest": { "voltage": "3.71 V" } },
        { "id": "K7", "look": "sound", "rest": { "voltage": "3.72 V" } },
    ]);
    assert_eq!(held.last()["cells"], cells);
    let held = hold(two, &["each", "sound", "?"]);
    let asked = ["cells[K4", "cells[K4].look", "cells[K7].look"];
    assert_eq!(
        held.asked().get(..3),
        Some(asked.as_slice()),
        "{}",
        held.said
    );
}

#[test]
fn without_the_arrangement_nothing_can_be_checked() {
    let held = hold(json!({ "format": 1 }), &["T", "?", "quit"]);
    assert!(held.report.is_none());
    assert_eq!(held.last(), &json!({ "format": 1, "title": "T" }));
}
