//! Law 6: nothing passes by accident.

use proptest::prelude::*;
use rules_core::check::{Options, Verdict, check};
use rules_core::document::{Fault, ProblemList, Syntax};
use rules_core::ruleset::Rules;
use rules_tests::law::law;
use rulesets::proposal::Proposal;

use crate::generate::choices::{Choices, broken, three};
use crate::generate::document::{Doc, Style, text};
use crate::generate::formula::Condition;
use crate::generate::proposal::{Draft, Given};
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{checked, load_text, rules};
use crate::generate::vocabulary::{FACTS, fact_named};

/// Rules without a caution, or whose cautions surely apply to nothing, warn that nothing was
/// checked.
#[test]
fn nothing_checked_is_never_a_pass() {
    law(
        "nothing checked is never a pass",
        200,
        three(),
        |[rules_words, proposal, way], seen| {
            let mut scene = Scene::grow(&rules_words, &proposal, Plan::ANY)?;
            let never = |caution: &crate::generate::ruleset::Caution| {
                let when = caution
                    .applies_when
                    .clone()
                    .unwrap_or(Condition::YesNo(true));
                let mut parts = vec![when, Condition::Not(Box::new(Condition::YesNo(true)))];
                parts.reverse();
                crate::generate::ruleset::Caution {
                    applies_when: Some(Condition::And(parts)),
                    ..caution.clone()
                }
            };
            scene.ruleset.cautions = scene.ruleset.cautions.iter().map(never).collect();
            if Choices::of(&way).one_in(3) {
                scene.ruleset.cautions.clear();
                scene.draft.forget(|fact| fact.declared);
            }
            let report = checked(
                &rules(&scene.ruleset.doc().write(Style::Yaml))?,
                &scene.draft.doc().write(Style::Yaml),
                None,
            )?;
            seen.count(1);
            if report.gravest().verdict == Verdict::Warn
                && report.gravest().worst >= Verdict::Warn
                && report.gravest().best >= Verdict::Warn
                && report.gravest().nothing_checked
                && report.findings.is_empty()
            {
                return Ok(());
            }
            Err(scene.broken(
                format!(
                    "nothing applies, and the report is {:?}",
                    report.gravest().verdict
                ),
                &scene.draft,
                "",
            ))
        },
    );
}

/// A pass has a caution that applied, and nothing in it is open.
#[test]
fn a_pass_is_sure() {
    law(
        "a pass is sure",
        300,
        three(),
        |[rules_words, proposal, _], seen| {
            let scene = Scene::grow(&rules_words, &proposal, Plan::ANY)?;
            let report = scene.report(&scene.draft, None)?;
            if report.gravest().verdict != Verdict::Pass {
                return Ok(());
            }
            seen.count(1);
            let sure = report.gravest().worst == Verdict::Pass
                && report.findings.is_empty()
                && report.counts.applied > 0
                && report.counts.undecided == 0;
            if sure {
                Ok(())
            } else {
                Err(scene.broken(
                    format!("a pass that is not sure: {:?}", report.counts),
                    &scene.draft,
                    "",
                ))
            }
        },
    );
}

/// A key twice, an unknown key, a number without its unit or with one of another kind, an unknown
/// fact under `extra`: the proposal is refused.
#[test]
fn a_faulty_proposal_is_refused() {
    law(
        "a faulty proposal is refused",
        250,
        three(),
        |[rules_words, proposal, fault], seen| {
            let scene = Scene::grow(&rules_words, &proposal, Plan::ANY)?;
            let mut choices = Choices::of(&fault);
            let Some((doc, expected)) = faulty_proposal(&scene.draft, &mut choices) else {
                return Ok(());
            };
            let written = doc.write(Style::chosen(&mut choices));
            seen.count(1);
            let read = Proposal::read("proposal", written.as_bytes().to_vec(), Syntax::Yaml);
            let outcome = read
                .and_then(|proposal| check(&scene.rules, &proposal, Options::default()).map(drop));
            refused(outcome, &expected, &written)
        },
    );
}

fn faulty_proposal(draft: &Draft, choices: &mut Choices<'_>) -> Option<(Doc, Vec<Fault>)> {
    let mut doc = draft.doc();
    match choices.below(4) {
        0 => twice(&mut doc, choices).then_some((doc, vec![Fault::RepeatedKey])),
        1 => {
            stranger(&mut doc, choices);
            Some((doc, vec![Fault::UnknownKey]))
        }
        2 => {
            doc.set(&["light", "extra", "club_unheard_of"], text("3 V"));
            Some((doc, vec![Fault::UnknownKey]))
        }
        _ => {
            let mut hurt = draft.clone();
            let numbers: Vec<usize> = hurt
                .singles
                .iter()
                .filter(|(_, given)| matches!(given, Given::Number(_)))
                .map(|(at, _)| *at)
                .collect();
            let with_unit: Vec<usize> = numbers.into_iter().filter(|at| needs_unit(*at)).collect();
            if with_unit.is_empty() {
                return None;
            }
            let at = *choices.pick(&with_unit);
            let bare = choices.one_in(2);
            let other = if FACTS[at].kind() == Some(rules_core::quantity::Kind::Length) {
                "3 V"
            } else {
                "3 mm"
            };
            hurt.singles
                .insert(at, Given::Text(if bare { "3" } else { other }.to_owned()));
            Some((
                hurt.doc(),
                vec![if bare {
                    Fault::NoUnit
                } else {
                    Fault::WrongKind
                }],
            ))
        }
    }
}

fn needs_unit(at: usize) -> bool {
    use rules_core::quantity::Kind::{Count, Ratio};
    FACTS[at]
        .kind()
        .is_some_and(|kind| !matches!(kind, Count | Ratio))
        && at != fact_named("light.draw_current")
        && at != fact_named("light.draw_power")
}

/// Says an entry of some map again.
fn twice(doc: &mut Doc, choices: &mut Choices<'_>) -> bool {
    let map = some_map(doc, choices);
    if map.is_empty() {
        return false;
    }
    let again = map[choices.below(map.len())].clone();
    map.push(again);
    true
}

/// Adds a key that nobody knows to a map whose keys are all fixed.
fn stranger(doc: &mut Doc, choices: &mut Choices<'_>) {
    some_map(doc, choices).push(("unheard_of".to_owned(), text("3 V")));
}

/// Some map of a document, the outermost first. Any word can be a stage, so that map is none of them.
fn some_map<'d>(doc: &'d mut Doc, choices: &mut Choices<'_>) -> &'d mut Vec<(String, Doc)> {
    let Doc::Map(entries) = doc else {
        panic!("a document is a map")
    };
    let inner: Vec<usize> = (0..entries.len())
        .filter(|at| matches!(entries[*at].1, Doc::Map(_)) && entries[*at].0 != "stages")
        .collect();
    if inner.is_empty() || choices.one_in(2) {
        return entries;
    }
    some_map(&mut entries[*choices.pick(&inner)].1, choices)
}

/// What may not be in a ruleset: in a formula, and the fault of each.
const BAD_CLAUSES: [(&str, Fault); 10] = [
    ("cell.unheard_of >= 3 V", Fault::UnknownName),
    ("light.bays >= limit.unheard_of", Fault::UnknownName),
    ("light.bay_length >= 3", Fault::KindsDiffer),
    ("light.bay_length >= 3 V", Fault::KindsDiffer),
    (
        "light.bay_length + conditions.run_time >= 3 mm",
        Fault::KindsDiffer,
    ),
    (
        "conditions.ambient + conditions.ambient >= 3 degC",
        Fault::KindsDiffer,
    ),
    ("light.vented >= yes", Fault::KindsDiffer),
    ("light.drive == unheard-of", Fault::UnknownOption),
    ("1 < light.bays < 3", Fault::ChainedComparison),
    ("max of (min of cell.capacity) >= 1 Ah", Fault::NestedFold),
];

/// A formula that does not fit, a key twice, an unknown key: the ruleset is refused.
#[test]
fn a_faulty_ruleset_is_refused() {
    law(
        "a faulty ruleset is refused",
        250,
        three(),
        |[rules_words, _, fault], seen| {
            let scene = Scene::grow(&rules_words, &[], Plan::ANY)?;
            let mut choices = Choices::of(&fault);
            let mut doc = scene.ruleset.doc();
            let expected = match choices.below(3) {
                0 if twice(&mut doc, &mut choices) => vec![Fault::RepeatedKey],
                1 => {
                    stranger(&mut doc, &mut choices);
                    vec![Fault::UnknownKey, Fault::WrongShape, Fault::BadName]
                }
                _ => {
                    let (clause, fault) = *choices.pick(&BAD_CLAUSES);
                    let caution =
                        &scene.ruleset.cautions[choices.below(scene.ruleset.cautions.len())];
                    let good = caution
                        .refuse_unless
                        .as_ref()
                        .or(caution.warn_unless.as_ref())
                        .map(Condition::text)
                        .unwrap_or_default();
                    let (mut bad, mut all) = (
                        caution.doc(),
                        scene
                            .ruleset
                            .cautions
                            .iter()
                            .map(crate::generate::ruleset::Caution::doc)
                            .collect::<Vec<_>>(),
                    );
                    bad.set(&["id"], text("bad"));
                    bad.set(&["refuse_unless"], text(format!("({good}) or {clause}")));
                    all.push(bad);
                    doc.set(&["cautions"], Doc::List(all));
                    vec![fault]
                }
            };
            let style = Style::chosen(&mut choices);
            let written = doc.write(style);
            seen.count(1);
            refused(load_text(&written, style.ending()), &expected, &written)
        },
    );
}

fn refused<T>(
    outcome: Result<T, ProblemList>,
    expected: &[Fault],
    text: &str,
) -> Result<(), TestCaseError> {
    match outcome {
        Err(problems)
            if problems
                .iter()
                .any(|problem| expected.contains(&problem.fault)) =>
        {
            Ok(())
        }
        Err(problems) => Err(broken(
            format!("refused, but not as {expected:?}: {problems:?}"),
            &[("text", text)],
        )),
        Ok(_) => Err(broken(
            format!("{expected:?} goes unseen"),
            &[("text", text)],
        )),
    }
}

/// For the long run: rules that load can be kept and shared between threads.
const _: fn() = || {
    fn shared<T: Send + Sync>() {}
    shared::<Rules>();
};
