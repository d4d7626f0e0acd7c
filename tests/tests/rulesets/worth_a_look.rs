//! What vetting tells apart, as worth a look and no fault.

use rules_core::document::Fault;
use rules_core::ruleset::Texts;
use rules_core::vetting::{Vetting, vet, worth_a_look};
use rulesets::shipped::Shipped;

/// A floor with a source, a meter for voltages, and one caution that rests on them.
const SOUND: &str = "format: 1
ruleset: night-relay
version: 1.0.0
title: Night relay lamps
sources:
  sheet: { title: Sheet of a cell, year: 2012, read: in source }
  recalled: { title: Talk at a meeting, read: from memory }
meters:
  voltage: { is: ± (1 % + 3 digits), basis: [{ common_practice: example of the suite }] }
limits:
  floor:
    value: 3.00 V
    stricter: higher
    meaning: A limit of the suite
    basis: [{ source: sheet }]
cautions:
  - id: rest-low
    title: A caution of the suite
    about: each cell
    refuse_unless: cell.rest_voltage >= limit.floor
    reason: outside the limit
    basis: [{ common_practice: example of the suite }]
";

/// A further caution about each cell.
fn with_caution(id: &str, rungs: &str) -> String {
    format!(
        "{SOUND}  - id: {id}
    title: A caution of the suite
    about: each cell
    {rungs}
    reason: outside the limit
    basis: [{{ common_practice: example of the suite }}]
"
    )
}

fn vetting(text: &str) -> Vetting {
    let files = vec![("rules.yaml".to_owned(), text.as_bytes().to_vec())];
    Vetting::load(&["rules.yaml"], &Texts::of(files), &rulesets::catalogue())
        .expect("the ruleset loads")
}

/// What is worth a look in a ruleset, besides that it extends no other.
fn looks(text: &str) -> Vec<Fault> {
    let found = worth_a_look(&vetting(text)).into_iter();
    let found = found.map(|problem| problem.fault);
    found
        .filter(|fault| *fault != Fault::WithoutShipped)
        .collect()
}

#[test]
fn a_sound_ruleset_needs_no_look() {
    assert_eq!(looks(SOUND), []);
}

#[test]
fn a_quantity_without_a_name() {
    let asks = |rungs: &str| looks(&with_caution("other", rungs));
    let literal = [Fault::LiteralQuantity];
    assert_eq!(asks("refuse_unless: cell.rest_voltage <= 4.20 V"), literal);
    assert_eq!(
        asks("refuse_unless: cell.rest_voltage >= limit.floor - 0.1 V"),
        literal
    );
    assert_eq!(
        asks("applies_when: not (cell.rest_voltage > 4.0 V)\n    warn_unless: cell.wrap == intact"),
        literal
    );
    // A limit, nothing at all, a factor and a number of things are none.
    for rungs in [
        "warn_unless: cell.rest_voltage > limit.floor",
        "warn_unless: cell.rest_voltage > 0 V",
        "warn_unless: cell.rest_voltage > 0.9 * limit.floor",
        "warn_unless: build.series <= 3",
    ] {
        assert_eq!(asks(rungs), [], "{rungs}");
    }
}

#[test]
fn two_cautions_that_ask_the_same() {
    let same = "refuse_unless: cell.rest_voltage   >= limit.floor";
    assert_eq!(looks(&with_caution("second", same)), [Fault::SameCondition]);
    let elsewhere =
        "applies_when: cell.wrap == intact\n    refuse_unless: cell.rest_voltage >= limit.floor";
    assert_eq!(looks(&with_caution("second", elsewhere)), []);
    let softer = "warn_unless: cell.rest_voltage >= limit.floor";
    assert_eq!(looks(&with_caution("second", softer)), []);
}

#[test]
fn a_limit_of_a_refusal_from_memory_alone() {
    let resting_on = |basis: &str| looks(&SOUND.replace("[{ source: sheet }]", basis));
    let alone = [Fault::RememberedAlone];
    assert_eq!(resting_on("[{ source: recalled }]"), alone);
    assert_eq!(resting_on("[{ from_memory: heard at a meeting }]"), alone);
    assert_eq!(
        resting_on("[{ from_memory: heard at a meeting }, { source: sheet }]"),
        []
    );
    assert_eq!(resting_on("[{ common_practice: usual }]"), []);
    let warns = SOUND
        .replace("[{ source: sheet }]", "[{ source: recalled }]")
        .replace("refuse_unless", "warn_unless");
    assert_eq!(looks(&warns), []);
}

#[test]
fn a_declared_fact_that_no_caution_uses() {
    let facts = "facts:\n  cell.seam: { kind: choice, options: [left, right], meaning: A seam }\n";
    let declared = SOUND.replace("limits:\n", &format!("{facts}limits:\n"));
    assert_eq!(looks(&declared), [Fault::Unused]);
    let used = with_caution("seam-left", "warn_unless: cell.seam == right");
    let used = used.replace("limits:\n", &format!("{facts}limits:\n"));
    assert_eq!(looks(&used), []);
}

#[test]
fn readings_without_an_assumed_meter() {
    let rungs = "warn_unless: cell.resistance <= limit.most";
    let limit = "limits:\n  most: { value: 100 mohm, stricter: lower, meaning: m, basis: [{ source: sheet }] }\n";
    let resistance = with_caution("resists", rungs).replace("limits:\n", limit);
    assert_eq!(looks(&resistance), [Fault::NoMeter]);
    // What is stated needs none.
    let stated = with_caution(
        "voltage",
        "warn_unless: charging.termination >= limit.floor",
    );
    assert_eq!(looks(&stated), []);
}

/// A stage says in which part of the work a refusal can still be acted on.
#[test]
fn a_refusal_of_one_of_many_without_a_stage() {
    let stages = "stages: { sorting: Sorting cells, using: Using }\nlimits:\n";
    let of = |keys: &str| {
        let asked = with_caution("wrap-damaged", keys).replace("limits:\n", stages);
        let own = "about: each cell\n    stage: using\n    refuse_unless: cell.rest_voltage";
        looks(&asked.replace(
            "about: each cell\n    refuse_unless: cell.rest_voltage",
            own,
        ))
    };
    let refuses = "refuse_unless: cell.wrap == intact";
    assert_eq!(of(refuses), [Fault::NoStage]);
    assert_eq!(of(&format!("stage: sorting\n    {refuses}")), []);
    assert_eq!(of(&format!("refused: retire\n    {refuses}")), []);
    assert_eq!(of("warn_unless: cell.wrap == intact"), []);
    // Where there are no stages, nothing can be named.
    assert_eq!(looks(&with_caution("wrap-damaged", refuses)), []);
}

/// The light is one: what refuses it refuses the plan.
#[test]
fn a_refusal_of_the_only_one_needs_no_stage() {
    let light = SOUND
        .replace("limits:\n", "stages: { using: Using }\nlimits:\n")
        .replace("about: each cell", "about: light")
        .replace("cell.rest_voltage", "light.cut_off");
    assert_eq!(looks(&light), []);
}

#[test]
fn rules_without_a_shipped_ruleset() {
    let found = |text: &str| {
        let found = worth_a_look(&vetting(text));
        let mut all = found.into_iter();
        all.find(|problem| problem.fault == Fault::WithoutShipped)
    };
    let forgotten = found(SOUND).expect("it is told");
    assert_eq!(
        forgotten.message,
        "`night-relay` extends none of the shipped rulesets"
    );
    let merged = "merged: { from: [{ ruleset: rescued-cells, version: 1.0.0 }] }\nlimits:\n";
    assert_eq!(found(&SOUND.replace("limits:\n", merged)), None);
}

#[test]
fn a_shipped_ruleset_extends_itself() {
    let catalogue = rulesets::catalogue();
    for name in ["rescued-cells", "rescued-cells-measured"] {
        let vetting = Vetting::load(&[name], &Shipped, &catalogue).expect(name);
        let found = worth_a_look(&vetting);
        assert!(found.iter().all(|one| one.fault != Fault::WithoutShipped));
    }
}

/// Worth a look is told apart from what there is to correct, in which a meter without a basis is.
#[test]
fn it_is_no_fault() {
    let literal = vetting(&with_caution(
        "other",
        "refuse_unless: cell.rest_voltage <= 4.20 V",
    ));
    let told_apart = |fault: &Fault| vet(&literal).iter().all(|problem| problem.fault != *fault);
    assert!(
        [Fault::LiteralQuantity, Fault::NoMeter]
            .iter()
            .all(told_apart)
    );
    let bare = SOUND.replace(
        "digits), basis: [{ common_practice: example of the suite }] }",
        "digits) }",
    );
    let missing = |text: &str| {
        let found = vet(&vetting(text));
        found
            .iter()
            .any(|problem| problem.fault == Fault::MissingBasis)
    };
    assert!(missing(&bare) && !missing(SOUND));
}
