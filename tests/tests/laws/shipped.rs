//! The laws on the ruleset that is shipped, with proposals near its limits.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use proptest::test_runner::TestCaseError;
use rules_core::check::{Report, Verdict};
use rules_core::document::Syntax;
use rules_core::ruleset::{Acceptance, Rules};
use rules_tests::law::{Seen, law};

use super::ignorance::{each_subject, never_better, subject};
use super::less::{Widen, less};
use super::order::told;
use crate::generate::choices::{Choices, broken, words};
use crate::generate::document::Style;
use crate::generate::marks::CODES;
use crate::generate::proposal::{Draft, Facts, Given};
use crate::generate::quantity::Quantity;
use crate::generate::ruleset::Ruleset;
use crate::generate::setting::{Outcomes, checked, load_files, still};
use crate::generate::sound::{FACTS_OF_TRADE, WORDS, is_across_a_load, is_another_watch, near};
use crate::generate::vocabulary::{FACTS, FactAt, Place, fact_named};
use crate::generate::world::{Lean, One, Value, World, world};

static SHIPPED: LazyLock<Rules> = LazyLock::new(|| load_files(&[], &["rescued-cells"]).unwrap());

fn report(draft: &Draft, acceptance: Option<Acceptance>) -> Result<Report, TestCaseError> {
    checked(&SHIPPED, &draft.doc().write(Style::Yaml), acceptance)
}

fn failed(what: impl AsRef<str>, draft: &Draft, more: &str) -> TestCaseError {
    broken(
        what,
        &[
            ("proposal", &draft.doc().write(Style::Yaml)),
            ("more", more),
        ],
    )
}

/// The sound use keeps all cautions, so that what the laws below change is what matters.
#[test]
fn a_sound_use_passes_by_the_shipped_rules() {
    let report = report(&near(&[]), None).unwrap();
    let findings: Vec<String> = report
        .findings
        .iter()
        .map(|finding| format!("{} {}", finding.caution, finding.reason))
        .collect();
    assert_eq!(report.gravest().verdict, Verdict::Pass, "{findings:#?}");
}

/// Law 5.
#[test]
fn knowing_less_never_pays_by_the_shipped_rules() {
    law(
        "knowing less never pays, shipped",
        60,
        (words(WORDS), words(60)),
        |(proposal, steps), seen| saying_less(&proposal, &steps, None, seen),
    );
}

/// Law 5 where nominal values decide: what the library works out stays an interval.
#[test]
fn knowing_less_never_pays_by_the_shipped_rules_under_simple_acceptance() {
    law(
        "knowing less never pays, shipped, simple",
        60,
        (words(WORDS), words(60)),
        |(proposal, steps), seen| saying_less(&proposal, &steps, Some(Acceptance::Simple), seen),
    );
}

/// Three times something is left out of a proposal, and each time the result is no better.
fn saying_less(
    proposal: &[u16],
    steps: &[u16],
    acceptance: Option<Acceptance>,
    seen: &Seen,
) -> Result<(), TestCaseError> {
    let widen = match acceptance {
        Some(Acceptance::Simple) => Widen::RoundNominal,
        _ => Widen::AnyHow,
    };
    let (mut before, mut choices) = (near(proposal), Choices::of(steps));
    let mut known = Outcomes::of(&report(&before, acceptance)?);
    for _ in 0..3 {
        let Some((after, what)) = less(&before, &mut choices, &FACTS_OF_TRADE, widen) else {
            break;
        };
        let outcomes = Outcomes::of(&still(report(&after, acceptance), &what)?);
        count(seen, &known);
        never_better(&SHIPPED, (&before, &known), (&after, &outcomes)).map_err(|why| {
            failed(
                format!("{what}: {why}"),
                &before,
                &after.doc().write(Style::Yaml),
            )
        })?;
        (before, known) = (after, outcomes);
    }
    Ok(())
}

/// A comparison counts where there was something to make worse.
fn count(seen: &Seen, known: &Outcomes) {
    seen.count(usize::from(known.whole.worst < Verdict::Refuse));
}

/// Law 3: a proposal that gives one value out of each interval, and something for all that is
/// missing, gives a result within what the other leaves open.
#[test]
fn exact_values_come_out_within_the_range() {
    law(
        "exact values come out within the range, shipped",
        60,
        (words(WORDS), words(400)),
        |(proposal, sample), seen| {
            let draft = near(&proposal);
            let outcomes = Outcomes::of(&report(&draft, None)?);
            let nothing = Ruleset {
                meters: BTreeMap::new(),
                limits: Vec::new(),
                figures: Vec::new(),
                cautions: Vec::new(),
                simple: false,
            };
            let mut choices = Choices::of(&sample);
            for lean in [Lean::Low, Lean::High, Lean::Anywhere] {
                let world = world(&draft, &nothing, &mut choices, lean);
                let exact = exactly(&draft, &world);
                let settled = Outcomes::of(&report(&exact, None)?);
                seen.count(1);
                never_better(&SHIPPED, (&exact, &settled), (&draft, &outcomes)).map_err(|why| {
                    failed(
                        format!("one value of each interval, against the intervals: {why}"),
                        &exact,
                        &draft.doc().write(Style::Yaml),
                    )
                })?;
            }
            Ok(())
        },
    );
}

/// The proposal that says what is true in a world. Labels stay as they are printed: numbers drawn
/// apart would contradict one another.
fn exactly(draft: &Draft, world: &World) -> Draft {
    let mut exact = draft.clone();
    exact.meters.clear();
    for (subject, one) in &world.singles {
        let own = one
            .facts
            .iter()
            .filter(|(at, _)| FACTS[**at].subject == *subject);
        exact.singles.extend(
            own.filter(|(at, _)| stated(**at) || draft.singles.contains_key(at))
                .filter(|(at, _)| !could_contradict(**at, &draft.singles))
                .map(|(at, value)| (*at, written(*at, value))),
        );
    }
    for (at, cell) in exact
        .cells
        .iter_mut()
        .enumerate()
        .filter(|(_, cell)| cell.listed)
    {
        // A world draws the two ways to give a resistance separately. Together they would often
        // contradict each other, so the draft takes only a part of one.
        let across_a_load = cell.facts.contains_key(&fact_named("cell.loaded_resistor"));
        let both = across_a_load && cell.facts.contains_key(&fact_named("cell.resistance"));
        let told_otherwise = |at: FactAt| {
            if across_a_load {
                at == fact_named("cell.resistance")
            } else {
                is_across_a_load(at)
            }
        };
        let watches = cell.facts.clone();
        let told = facts_of(&world.cells[at])
            .filter(|(at, _)| both || !told_otherwise(*at))
            .filter(|(at, _)| !could_contradict(*at, &watches))
            .filter(|(at, _)| !is_another_watch(*at, &watches));
        cell.facts.extend(told);
        // One that brings no packs is no plan of which less is known than of one that does.
        if world.packs.is_empty() {
            cell.facts.remove(&fact_named("cell.pack"));
        }
        let name = char::from(b'A' + u8::try_from(world.group_of[at]).unwrap());
        if draft.parallel > 1
            && draft.series > 1
            && draft.cells.len() == draft.called()
            && !(0..draft.cells.len()).any(|at| draft.group_of(at).is_some())
        {
            cell.facts
                .insert(fact_named("cell.group"), Given::Text(name.to_string()));
        }
    }
    exact
}

/// Facts of which a world draws each by itself, though relations tie it to others: left as a draft has
/// them, with those that they are tied to.
const TIED: [(&str, &[&str]); 12] = [
    ("light.made_for", &[]),
    ("protection.over_current", &[]),
    ("cell.rated_full", &[]),
    ("cell.mark", &["cell.rated_full"]),
    ("build.series", &["light.made_for"]),
    ("conditions.battery_at", &["conditions.ambient"]),
    ("protection.under_voltage", &[]),
    ("protection.over_voltage", &[]),
    ("charging.stop_current", &[]),
    (
        "cell.rated_discharge",
        &["cell.rated_capacity", "cell.class"],
    ),
    ("cell.origin", &["cell.pack", "cell.found_voltage"]),
    ("cell.pack", &["cell.origin", "cell.rated_full"]),
];

/// Whether a fact that a draft does not tell could contradict what it does.
fn could_contradict(at: FactAt, draft: &Facts) -> bool {
    let is = |name: &str| at == fact_named(name);
    let tied = TIED.iter().any(|(name, others)| {
        is(name) || (draft.contains_key(&fact_named(name)) && others.iter().any(|other| is(other)))
    });
    tied && !draft.contains_key(&at)
}

fn facts_of(one: &One) -> impl Iterator<Item = (FactAt, Given)> {
    one.facts
        .iter()
        .filter(|(at, _)| stated(**at))
        .map(|(at, value)| (*at, written(*at, value)))
}

/// Whether a proposal has a key for a fact, and any value of its kind will do there.
fn stated(at: FactAt) -> bool {
    let fact = &FACTS[at];
    matches!(fact.place, Place::Section(_))
        && !["cell.id", "cell.group"].contains(&fact.name.as_str())
        && !CODES.contains(&fact.name.as_str())
}

fn written(at: FactAt, value: &Value) -> Given {
    match value {
        Value::Number(number) => Given::Number(Quantity::exactly(&FACTS[at], *number)),
        Value::Choice(option) => Given::Choice(*option),
        Value::YesNo(yes) => Given::YesNo(*yes),
        Value::Text(text) => Given::Text(text.clone()),
    }
}

/// Laws 4, 5 and 9: simple is never the stricter, no order matters, the same bytes give the same
/// report.
#[test]
fn acceptance_and_order_of_the_shipped_rules() {
    law(
        "acceptance and order, shipped",
        60,
        (words(WORDS), words(200)),
        |(proposal, mix), seen| {
            let draft = near(&proposal);
            let first = report(&draft, None)?;
            let (guarded, simple) = (
                Outcomes::of(&first),
                Outcomes::of(&report(&draft, Some(Acceptance::Simple))?),
            );
            for caution in SHIPPED.cautions() {
                for (name, several) in each_subject(
                    subject(SHIPPED.catalogue().subject_name(caution.about)),
                    &draft,
                ) {
                    let (strict, mild) = (
                        guarded.get(&caution.id, &name, several),
                        simple.get(&caution.id, &name, several),
                    );
                    seen.count(usize::from(strict != mild));
                    if mild.worst > strict.worst || mild.best < strict.best {
                        return Err(failed(
                            format!(
                                "`{}` for {name}: guarded {strict:?}, simple {mild:?}",
                                caution.id
                            ),
                            &draft,
                            "",
                        ));
                    }
                }
            }
            let mut order: Vec<usize> = (0..draft.cells.len()).collect();
            let mut choices = Choices::of(&mix);
            choices.shuffle(&mut order);
            let mixed = draft
                .doc_in(&order)
                .shuffled(&mut choices)
                .write(Style::Yaml);
            let (one, other) = (
                told(&first, false),
                told(&checked(&SHIPPED, &mixed, None)?, false),
            );
            match super::order::first_difference(&one, &other, "report") {
                None => Ok(()),
                Some(said) => Err(failed(
                    format!("in another order this differs: {said}"),
                    &draft,
                    &mixed,
                )),
            }
        },
    );
}

/// Laws 5 and 7: the example of local practice beside the shipped rules makes nothing milder.
#[test]
fn local_practice_beside_the_shipped_rules() {
    let local = include_bytes!("../../../rulesets/local-practice-example.yaml").to_vec();
    let both = load_files(
        &[("local.yaml".to_owned(), local)],
        &["rescued-cells", "local.yaml"],
    )
    .unwrap();
    law(
        "local practice beside the shipped rules",
        60,
        words(WORDS),
        |proposal, seen| {
            let draft = near(&proposal);
            let (alone, together) = (
                Outcomes::of(&report(&draft, None)?),
                Outcomes::of(&checked(&both, &draft.doc().write(Style::Yaml), None)?),
            );
            count(seen, &alone);
            never_better(&SHIPPED, (&draft, &alone), (&draft, &together)).or_else(|why| {
                // Knowing more rules may make the best worse, unlike knowing less of the facts.
                if why.contains("the best is worse") {
                    Ok(())
                } else {
                    Err(failed(why, &draft, ""))
                }
            })
        },
    );
}

/// Law 8: any damage to a proposal is refused or checked.
#[test]
fn damaged_proposals_by_the_shipped_rules() {
    law(
        "damaged proposals, shipped",
        80,
        (words(WORDS), words(30)),
        |(proposal, damage), seen| {
            let mut choices = Choices::of(&damage);
            let style = Style::chosen(&mut choices);
            let bytes = super::totality::damaged(
                near(&proposal).doc().write(style).as_bytes(),
                &mut choices,
            );
            seen.count(1);
            super::totality::runs(
                &SHIPPED,
                &bytes,
                if style == Style::Json {
                    Syntax::Json
                } else {
                    Syntax::Yaml
                },
                seen,
            )
        },
    );
}
