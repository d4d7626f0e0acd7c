//! Law 5 through what the library works out, under both kinds of acceptance: of every figure a
//! caution from below and one from above, with limits where the figure is.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::LazyLock;

use proptest::test_runner::TestCaseError;
use rules_core::check::{Options, figures};
use rules_core::quantity::Kind;
use rules_core::ruleset::{Acceptance, Rules};
use rules_tests::law::{Seen, law};

use super::ignorance::never_better;
use super::less::{Widen, less};
use crate::generate::choices::{Choices, broken, words};
use crate::generate::document::Style;
use crate::generate::proposal::Draft;
use crate::generate::setting::{Outcomes, checked, load_text, proposal, still};
use crate::generate::sound::{FACTS_OF_TRADE, WORDS, near};

/// Rules that define no figures of their own.
static NO_FIGURES: LazyLock<Rules> = LazyLock::new(|| {
    load_text(
        "format: 1\nruleset: none\nversion: 1.0.0\ntitle: none\ncautions:\n  - { id: one, title: t, about: light, warn_unless: light.bays >= 1, reason: r }\n",
        "yaml",
    )
    .unwrap()
});

/// The kinds of the library's figures, by their names.
fn kinds() -> BTreeMap<String, Kind> {
    let catalogue = rulesets::catalogue();
    let name = |subject, name: &str| catalogue.full_name(subject, name);
    catalogue
        .worked()
        .iter()
        .map(|def| (name(def.subject, def.name), def.kind))
        .collect()
}

/// A value at an end of a figure, at its middle, or between.
fn inside(low: Option<f64>, high: Option<f64>, choices: &mut Choices<'_>) -> f64 {
    match (low, high) {
        (Some(low), Some(high)) => {
            low + (high - low) * [0.5, 0.0, 1.0, 0.25, 0.75, 0.45, 0.55][choices.below(7)]
        }
        (Some(end), None) | (None, Some(end)) => end,
        (None, None) => 0.0,
    }
}

/// Cautions about every figure of a proposal, at values that it can have.
fn rules_near(draft: &Draft, choices: &mut Choices<'_>) -> Result<Rules, TestCaseError> {
    let sheet = figures(
        &NO_FIGURES,
        &proposal(&draft.doc().write(Style::Yaml))?,
        Options::default(),
    )
    .map_err(|_| TestCaseError::reject("readings contradict each other"))?;
    let kinds = kinds();
    let mut values: BTreeMap<&str, f64> = BTreeMap::new();
    for figure in sheet.figures.iter().filter(|figure| figure.is.is_none()) {
        if let Some(value) = &figure.value {
            values.insert(&figure.name, inside(value.low(), value.high(), choices));
        }
    }
    let mut text = "format: 1\nruleset: near\nversion: 1.0.0\ntitle: near\ncautions:\n".to_owned();
    for (at, (name, value)) in values.into_iter().enumerate() {
        let (subject, unit) = (name.split('.').next().unwrap(), kinds[name].base_unit());
        let about = match subject {
            "build" => "build".to_owned(),
            many => format!("each {many}"),
        };
        for (id, rung, sign) in [
            ("floor", "refuse_unless", ">="),
            ("ceiling", "warn_unless", "<="),
        ] {
            writeln!(
                text,
                "  - {{ id: {id}-{at}, title: t, about: {about}, {rung}: \"{name} {sign} {value:e} {unit}\", reason: r }}"
            )
            .unwrap();
        }
    }
    load_text(&text, "yaml").map_err(|problems| {
        broken(
            crate::generate::setting::listed(&problems),
            &[("rules", &text)],
        )
    })
}

fn saying_less(
    [draft, near_it, steps]: [&[u16]; 3],
    (acceptance, widen): (Acceptance, Widen),
    seen: &Seen,
) -> Result<(), TestCaseError> {
    let mut before = near(draft);
    // The rules are made for the proposal, and assume no meters.
    before.assumed.clear();
    let rules = rules_near(&before, &mut Choices::of(near_it))?;
    let report = |draft: &Draft| {
        checked(&rules, &draft.doc().write(Style::Yaml), Some(acceptance))
            .map(|report| Outcomes::of(&report))
    };
    let (mut known, mut choices) = (report(&before)?, Choices::of(steps));
    for _ in 0..3 {
        let Some((after, what)) = less(&before, &mut choices, &FACTS_OF_TRADE, widen) else {
            break;
        };
        let outcomes = still(report(&after), &what)?;
        seen.count(1);
        never_better(&rules, (&before, &known), (&after, &outcomes)).map_err(|why| {
            broken(
                format!("{what}, {acceptance:?}: {why}"),
                &[
                    ("before", &before.doc().write(Style::Yaml)),
                    ("after", &after.doc().write(Style::Yaml)),
                ],
            )
        })?;
        (before, known) = (after, outcomes);
    }
    Ok(())
}

#[test]
fn knowing_less_never_pays_through_figures() {
    law(
        "knowing less never pays through figures",
        60,
        (words(WORDS), words(120), words(60)),
        |(draft, near_it, steps), seen| {
            saying_less(
                [&draft, &near_it, &steps],
                (Acceptance::Guarded, Widen::AnyHow),
                seen,
            )
        },
    );
}

#[test]
fn knowing_less_never_pays_through_figures_under_simple_acceptance() {
    law(
        "knowing less never pays through figures, simple",
        60,
        (words(WORDS), words(120), words(60)),
        |(draft, near_it, steps), seen| {
            saying_less(
                [&draft, &near_it, &steps],
                (Acceptance::Simple, Widen::RoundNominal),
                seen,
            )
        },
    );
}
