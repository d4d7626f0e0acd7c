//! Ranges worked by hand: each limit of the rules here says where its piece ends.

mod open;
mod refused;

use rules_core::check::{Options, Verdict};
use rules_core::document::Syntax;
use rules_core::report::text::Plain;
use rules_core::ruleset::{Rules, Texts};

use super::*;
use crate::bench::{Benches, Plan};
use crate::{rules_from_texts, shipped_rules};

const RULES: &str = "
format: 1
ruleset: night-relay-limits
version: 1.0.0
title: Limits of the night relay, for the tests of ranges
meters: { voltage: { is: ± 1 %, basis: [{ common_practice: example }] } }
cautions:
  - id: draw-high
    title: Draw high for the lamp
    about: light
    warn_unless: light.draw_current <= 1.62 A
    refuse_unless: light.draw_current <= 2.105 A
    reason: outside the limit
    basis: [{ common_practice: example }]
  - id: draw-and-capacity
    title: Draw high for the capacity
    about: each cell
    applies_when: cell.origin == salvaged
    refuse_unless: light.draw_current <= cell.capacity / 1 h
    reason: outside the limit
    basis: [{ common_practice: example }]
  - id: bays-many
    title: Many bays
    about: light
    refuse_unless: light.bays <= 2
    reason: outside the limit
    basis: [{ common_practice: example }]
  - id: drive-direct
    title: Driven directly
    about: light
    refuse_unless: light.drive != direct
    warn_unless: light.drive in [buck, boost, buck-boost]
    reason: outside the limit
    basis: [{ common_practice: example }]
  - id: rest-low
    title: Rests low
    about: each cell
    refuse_unless: cell.rest_voltage >= 3.00 V
    reason: outside the limit
    basis: [{ common_practice: example }]
  - id: charged-out-of-band
    title: Charged too cold or too warm
    about: charging
    refuse_unless: charging.ambient >= 10 degC and charging.ambient <= 40 degC
    reason: outside the limit
    basis: [{ common_practice: example }]
  - id: warm-and-strong
    title: Warm, and a high draw
    about: conditions
    applies_when: conditions.ambient is known
    refuse_unless: conditions.ambient <= 30 degC or light.draw_current <= 1.0 A
    reason: outside the limit
    basis: [{ common_practice: example }]
";

const PLAN: &str = "
format: 1
title: Marshal's torch
arrangement: 1S1P
light: { draw: 1.0 A, bays: 1, drive: buck }
charging: { ambient: 20 degC }
conditions: { ambient: 20 degC, carried: case }
cells: [{ id: K4, origin: new, rest: { voltage: 3.8 V } }]
";

fn rules() -> Rules {
    rules_from_texts(&["limits.yaml"], Texts::of([("limits.yaml", RULES)])).unwrap()
}

fn trial<'r>(plan: &str, rules: &'r Rules) -> Trial<'r> {
    let texts = Texts::of([("plan.yaml", "")]);
    let mut benches = Benches::of(&texts);
    let plan = Plan::read("plan.yaml", plan.into(), Syntax::Yaml, &mut benches).unwrap();
    Trial::of(&plan, rules, Options::default()).unwrap()
}

fn vary<'a>(fact: &'a str, from: &'a str, to: &'a str, resolution: &'a str) -> Vary<'a> {
    let written = |called, text: &'a str| (!text.is_empty()).then_some(Written { called, text });
    Vary {
        fact,
        from: written("from", from),
        to: written("to", to),
        resolution: written("resolution", resolution),
    }
}

fn found(plan: &str, asked: &Vary<'_>) -> RangeReport {
    let rules = rules();
    range(&trial(plan, &rules), asked, USUAL_CHECKS).unwrap()
}

fn pieces(report: &RangeReport) -> Vec<(&str, &str, Class)> {
    report
        .pieces
        .iter()
        .map(|one| {
            (
                one.from.text.as_str(),
                one.to.text.as_str(),
                one.found.class,
            )
        })
        .collect()
}

#[test]
fn limits_are_enclosed_to_the_resolution() {
    let report = found(PLAN, &vary("light.draw", "0.5 A", "3 A", "0.01 A"));
    assert_eq!(
        pieces(&report),
        [
            ("0.50 A", "1.62 A", Class::Pass),
            ("1.62 A", "1.63 A", Class::Boundary),
            ("1.63 A", "2.10 A", Class::Warn),
            ("2.10 A", "2.11 A", Class::Boundary),
            ("2.11 A", "3.00 A", Class::Refuse),
        ]
    );
    let changing = |at: usize| -> Vec<&str> {
        let cautions = &report.pieces[at].found.cautions;
        cautions.iter().map(|one| &*one.caution).collect()
    };
    assert_eq!(
        [1, 2, 3, 4].map(changing),
        [["draw-high"], ["draw-high"], ["draw-high"], ["draw-high"]]
    );
    let own: Vec<bool> = report.pieces.iter().map(|one| one.holds_own).collect();
    assert_eq!(own, [true, false, false, false, false]);
}

#[test]
fn whole_numbers_are_gone_through_one_by_one() {
    let report = found(PLAN, &vary("light.bays", "1", "6", ""));
    assert_eq!(
        pieces(&report),
        [("1", "2", Class::Pass), ("3", "6", Class::Refuse)]
    );
}

#[test]
fn a_choice_gets_a_verdict_for_each_option() {
    let report = found(PLAN, &vary("light.drive", "", "", ""));
    let options: Vec<(&str, Class, bool)> = report
        .options
        .iter()
        .map(|one| (one.option.as_str(), one.found.class, one.is_own))
        .collect();
    assert_eq!(
        options,
        [
            ("direct", Class::Refuse, false),
            ("linear", Class::Warn, false),
            ("buck", Class::Pass, true),
            ("boost", Class::Pass, false),
            ("buck-boost", Class::Pass, false),
        ]
    );
}

/// The rules assume a meter of 1 %: a reading of 3.00 V would be 2.97 V to 3.03 V by it. What is varied
/// is the true value.
#[test]
fn no_meter_widens_what_is_varied() {
    let report = found(PLAN, &vary("cell.rest_voltage", "2.9 V", "3.2 V", "0.01 V"));
    assert_eq!(
        pieces(&report),
        [
            ("2.90 V", "2.99 V", Class::Refuse),
            ("2.99 V", "3.00 V", Class::Boundary),
            ("3.00 V", "3.20 V", Class::Pass),
        ]
    );
}

#[test]
fn a_pass_between_two_refusals_is_found() {
    let report = found(
        PLAN,
        &vary("charging.ambient", "-20 degC", "60 degC", "0.5 K"),
    );
    assert_eq!(
        pieces(&report),
        [
            ("-20.0 degC", "9.5 degC", Class::Refuse),
            ("9.5 degC", "10.0 degC", Class::Boundary),
            ("10.0 degC", "40.0 degC", Class::Pass),
            ("40.0 degC", "40.5 degC", Class::Boundary),
            ("40.5 degC", "60.0 degC", Class::Refuse),
        ]
    );
}

/// Refused where it is warmer than 30 °C and more than 1 A is drawn, by hand.
#[test]
fn a_map_encloses_boxes() {
    let rules = rules();
    let across = vary("light.draw", "0.5 A", "1.5 A", "0.1 A");
    let up = vary("conditions.ambient", "20 degC", "40 degC", "2 K");
    let report = map(&trial(PLAN, &rules), &across, &up, USUAL_MAP_CHECKS).unwrap();
    let mut cells = 0;
    for area in &report.areas {
        cells += (area.columns[1] - area.columns[0]) * (area.rows[1] - area.rows[0]);
        let (draw, warm) = (&area.across, &area.up);
        let passes = draw.to.value <= 1.0 || warm.to.value <= 30.0;
        let is_refused = draw.from.value > 1.05 && warm.from.value > 30.5;
        match area.found.class {
            Class::Pass => assert!(passes, "{area:?}"),
            Class::Refuse => assert!(is_refused, "{area:?}"),
            Class::Boundary => assert!(!passes && !is_refused, "{area:?}"),
            other => panic!("{other:?} {area:?}"),
        }
    }
    assert_eq!(cells, 100);
    let said = map_text(&report, 80, &Plain);
    assert!(said.contains("  38 degC  ...../RRRR\n"), "{said}");
    assert!(said.contains("  20 degC  .......... <\n"), "{said}");
}

/// The shipped rules, by their limits: a charge to 4.20 V is full, one to more than 4.23 V too high.
#[test]
fn the_charge_voltage_ends_where_the_shipped_limits_say() {
    let plan = "
format: 1
title: Marshal's torch
arrangement: 1S1P
charging: { termination: 4.20 V }
cells: [{ id: K4 }]
";
    let rules = shipped_rules().unwrap();
    let asked = vary("charging.termination", "4.10 V", "4.40 V", "0.01 V");
    let report = range(&trial(plan, &rules), &asked, USUAL_CHECKS).unwrap();
    let refusing = report
        .pieces
        .iter()
        .find(|one| one.found.class == Class::Refuse);
    let refusing = refusing.unwrap();
    assert_eq!(refusing.from.text, "4.24 V");
    let too_high = |one: &RangeCaution| &*one.caution == "charge-over-voltage";
    assert!(refusing.found.cautions.iter().any(too_high));
    let below = |one: &&RangePiece| one.to.value <= 4.20;
    let speaking = |one: &RangePiece| one.found.cautions.iter().any(too_high);
    assert!(!report.pieces.iter().filter(below).any(speaking));
}

/// Under simple acceptance an interval would be judged by its middle, which proves nothing of the rest.
#[test]
fn what_is_proved_is_guarded_whatever_the_rules_have() {
    let simple = RULES.replacen("meters:", "acceptance: simple\nmeters:", 1);
    let rules = rules_from_texts(&["limits.yaml"], Texts::of([("limits.yaml", simple)])).unwrap();
    let asked = vary("light.draw", "0.5 A", "3 A", "0.01 A");
    let report = range(&trial(PLAN, &rules), &asked, USUAL_CHECKS).unwrap();
    assert_eq!(report.pieces[0].to.text, "1.62 A");
    assert!(text(&report, 80, &Plain).contains("here it is guarded"));
}

/// Every text has the notice, whatever it says.
#[test]
fn the_notice_is_on_every_page() {
    let rules = rules();
    let pages = [
        text(&found(PLAN, &vary("light.draw", "", "", "")), 200, &Plain),
        text(&found(PLAN, &vary("light.drive", "", "", "")), 200, &Plain),
        text(
            &found(PLAN, &vary("conditions.carried", "", "", "")),
            200,
            &Plain,
        ),
        map_text(
            &map(
                &trial(PLAN, &rules),
                &vary("light.draw", "", "", ""),
                &vary("conditions.ambient", "", "", ""),
                USUAL_MAP_CHECKS,
            )
            .unwrap(),
            200,
            &Plain,
        ),
    ];
    for page in pages {
        for point in rules.notice() {
            let short = point.short.as_deref().unwrap_or(&point.says);
            assert!(
                page.contains(short) || page.replace('\n', " ").contains(short),
                "{page}"
            );
        }
    }
}
