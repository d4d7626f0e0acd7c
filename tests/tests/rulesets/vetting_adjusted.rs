//! Vetting looks at the limits that a ruleset adjusts as it does at its own.

use rules_core::document::{Fault, Problem};
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::{Vetting, vet, worth_a_look};
use rulesets::catalogue;
use rulesets::shipped::Shipped;

/// A ruleset with a floor, a warning above it, a share and a ceiling.
const BASE: &str = "format: 1
ruleset: base
version: 1.0.0
title: Base
limits:
  floor: { value: 3.00 V, stricter: higher, meaning: A floor }
  watch: { value: 3.20 V, stricter: higher, meaning: A floor to watch }
  share: { value: 60 %, stricter: higher, meaning: A share }
  heat: { value: 40 degC, stricter: lower, meaning: A ceiling }
cautions:
  - id: rest-low
    title: Voltage
    about: each cell
    refuse_unless: cell.rest_voltage >= limit.floor
    warn_unless: cell.rest_voltage >= limit.watch
    reason: low
  - id: worn
    title: Capacity
    about: each cell
    refuse_unless: cell.capacity / cell.rated_capacity >= limit.share
    reason: worn
  - id: hot
    title: Heat
    about: build
    refuse_unless: conditions.ambient <= limit.heat
    reason: hot
";

fn vetting(adjust: &str, cautions: &str) -> Vetting {
    let club = format!(
        "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [./base.yaml]\n\
         adjust:\n  limits:\n    {adjust}\n{cautions}"
    );
    let files = [("club.yaml", club), ("base.yaml", BASE.to_owned())];
    Vetting::load(&["club.yaml"], &Texts::of(files), &catalogue()).expect("the rulesets load")
}

fn told(problems: Vec<Problem>) -> Vec<(Fault, String)> {
    let problems = problems.into_iter();
    problems.map(|one| (one.fault, one.message)).collect()
}

/// What is found, and what is worth a look besides that the base is none of the shipped rulesets.
fn found(adjust: &str) -> [Vec<(Fault, String)>; 2] {
    let vetting = vetting(adjust, "");
    let mut others = told(worth_a_look(&vetting));
    others.retain(|(fault, _)| *fault != Fault::WithoutShipped);
    [told(vet(&vetting)), others]
}

fn one(fault: Fault, message: &str) -> Vec<(Fault, String)> {
    vec![(fault, message.to_owned())]
}

#[test]
fn a_limit_that_keeps_its_sense_is_left_alone() {
    for adjust in [
        "floor: { to: 3.10 V }",
        "floor: { to: 2.90 V, because: our cells are old }",
        "share: { to: 85 % }",
        "share: { to: 0.85 }",
        "share: { to: 1 }",
        "heat: { to: 35 degC }",
    ] {
        assert_eq!(found(adjust), [vec![], vec![]], "{adjust}");
    }
}

#[test]
fn a_plain_number_for_a_share_is_found() {
    let message = "`limit.share` is a share, and is adjusted to the plain number 85";
    let expected = [one(Fault::KindsDiffer, message), vec![]];
    assert_eq!(found("share: { to: 85 }"), expected);
}

#[test]
fn a_limit_that_nothing_can_keep_or_fail_is_found() {
    // 40 K is 233 degrees under nought, where nobody carries a lamp.
    let message = "by `limit.heat` the caution `hot` can do nothing but refuse";
    let expected = [one(Fault::NeverKept, message), vec![]];
    assert_eq!(found("heat: { to: 40 K }"), expected);
    // No capacity is under nought.
    let message = "by `limit.share` the caution `worn` can never refuse";
    let expected = [one(Fault::NeverFails, message), vec![]];
    let adjust = "share: { to: 0 %, because: worn cells are all we have }";
    assert_eq!(found(adjust), expected);
}

#[test]
fn a_warning_without_an_effect_is_worth_a_look() {
    let of = |limit: &str| {
        format!("by `limit.{limit}` the warn rung of `rest-low` asks no more than its refuse rung")
    };
    let expected = [vec![], one(Fault::LaxWarning, &of("floor"))];
    assert_eq!(found("floor: { to: 3.20 V }"), expected);
    let expected = [vec![], one(Fault::LaxWarning, &of("watch"))];
    let adjust = "watch: { to: 2.90 V, because: we watch no cell }";
    assert_eq!(found(adjust), expected);
}

/// A caution of the ruleset's own is vetted whole, and its fault is told there, once.
#[test]
fn what_is_wrong_with_an_own_caution_is_told_at_the_caution() {
    let own = "cautions:
  - id: own
    title: Heat
    about: build
    refuse_unless: conditions.ambient <= limit.heat
    reason: hot
    basis: [{ common_practice: example }]
";
    let all = told(vet(&vetting("heat: { to: 40 K }", own)));
    let by = "by `limit.heat` the caution `hot` can do nothing but refuse";
    let expected = [
        (Fault::NeverKept, by.to_owned()),
        (
            Fault::NeverKept,
            "what the caution `own` asks can never be kept".to_owned(),
        ),
    ];
    assert_eq!(all, expected);
}

/// Adjusted to what they are, the shipped limits keep their sense.
#[test]
fn the_shipped_limits_are_sound() {
    let names: Vec<&str> = Shipped::names().collect();
    let shipped = Rules::load(&names, &Shipped, &catalogue()).expect("the shipped rules load");
    let limits = shipped.limits().iter().map(|limit| {
        let value = &limit.written.value;
        format!("    {}: {{ to: \"{value}\" }}\n", limit.name)
    });
    let limits: Vec<String> = limits.collect();
    assert!(limits.len() > 50, "{}", limits.len());
    let club = format!(
        "format: 1\nruleset: club\nversion: 1.0.0\ntitle: Club\nextends: [{}]\n\
         adjust:\n  limits:\n{}",
        names.join(", "),
        limits.concat()
    );
    let texts = Texts::of([("club", club)]).or(Shipped);
    let vetting = Vetting::load(&["club"], &texts, &catalogue()).expect("the ruleset loads");
    assert_eq!(
        [told(vet(&vetting)), told(worth_a_look(&vetting))],
        [vec![], vec![]]
    );
}
