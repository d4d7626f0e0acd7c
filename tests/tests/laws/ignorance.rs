//! Law 5: ignorance never pays. Knowing less never improves the worst, never makes the best worse,
//! and never makes a pass.

use proptest::test_runner::TestCaseError;
use rules_core::check::Verdict;
use rules_core::ruleset::{Acceptance, IfUnmeasured, Rules};
use rules_tests::law::law;

use super::less::{Widen, less};
use crate::generate::choices::{Choices, three};
use crate::generate::proposal::Draft;
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{Outcome, Outcomes, TOO_COARSE, still};
use crate::generate::vocabulary::Subject;
use crate::generate::world::together::group_subject;

/// Facts are taken out, intervals widened, cells left off the list, one after the other.
#[test]
fn knowing_less_never_pays() {
    law(
        "knowing less never pays",
        500,
        three(),
        |[rules, proposal, steps], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let mut choices = Choices::of(&steps);
            let (mut before, mut known) =
                (scene.draft.clone(), scene.outcomes(&scene.draft, None)?);
            for _ in 0..3 {
                let Some((after, what)) =
                    less(&before, &mut choices, &scene.ruleset.facts(), Widen::AnyHow)
                else {
                    break;
                };
                let outcomes = still(scene.outcomes(&after, None), &what)?;
                seen.count(1);
                never_better(&scene.rules, (&before, &known), (&after, &outcomes)).map_err(
                    |why| {
                        scene.broken(
                            format!("{what}: {why}"),
                            &before,
                            &after.doc().write(crate::generate::document::Style::Yaml),
                        )
                    },
                )?;
                (before, known) = (after, outcomes);
            }
            Ok(())
        },
    );
}

/// The same where nominal values decide: a missing value has none, one that is known less well has
/// the same, and what the library works out of either is an interval.
#[test]
fn knowing_less_never_pays_under_simple_acceptance() {
    law(
        "knowing less never pays under simple acceptance",
        400,
        three(),
        |[rules, proposal, steps], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let mut choices = Choices::of(&steps);
            let simple = Some(Acceptance::Simple);
            let (mut before, mut known) =
                (scene.draft.clone(), scene.outcomes(&scene.draft, simple)?);
            for _ in 0..3 {
                let Some((after, what)) = less(
                    &before,
                    &mut choices,
                    &scene.ruleset.facts(),
                    Widen::RoundNominal,
                ) else {
                    break;
                };
                let outcomes = still(scene.outcomes(&after, simple), &what)?;
                seen.count(1);
                never_better(&scene.rules, (&before, &known), (&after, &outcomes)).map_err(
                    |why| {
                        scene.broken(
                            format!("{what}: {why}"),
                            &before,
                            &after.doc().write(crate::generate::document::Style::Yaml),
                        )
                    },
                )?;
                (before, known) = (after, outcomes);
            }
            Ok(())
        },
    );
}

/// Readings taken with a meter that is worse in each part of what it says.
#[test]
fn a_worse_meter_never_pays() {
    law(
        "a worse meter never pays",
        300,
        three(),
        |[rules, proposal, steps], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let mut choices = Choices::of(&steps);
            let mut after = scene.draft.clone();
            after
                .meters
                .values_mut()
                .for_each(|meter| *meter = meter.worse(&mut choices));
            for acceptance in [None, Some(Acceptance::Simple)] {
                let known = scene.outcomes(&scene.draft, acceptance)?;
                let Some(outcomes) = unless_too_coarse(scene.outcomes(&after, acceptance))? else {
                    continue;
                };
                seen.count(usize::from(!after.meters.is_empty()));
                never_better(&scene.rules, (&scene.draft, &known), (&after, &outcomes)).map_err(
                    |why| {
                        scene.broken(
                            format!("meters are worse, {acceptance:?}: {why}"),
                            &scene.draft,
                            &after.doc().write(crate::generate::document::Style::Yaml),
                        )
                    },
                )?;
            }
            Ok(())
        },
    );
}

/// What comes of worse meters, if they are not too coarse for the rules.
fn unless_too_coarse(
    came: Result<Outcomes, TestCaseError>,
) -> Result<Option<Outcomes>, TestCaseError> {
    match came {
        Err(TestCaseError::Reject(reason)) if reason.message() == TOO_COARSE => Ok(None),
        came => still(came, "meters are worse").map(Some),
    }
}

/// The whole line that states meters is left out, under rules that assume one of each kind.
#[test]
fn leaving_meters_out_never_pays() {
    law(
        "leaving meters out never pays",
        300,
        three(),
        |[rules, proposal, _], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let mut after = scene.draft.clone();
            after
                .meters
                .retain(|kind, _| !scene.ruleset.meters.contains_key(kind));
            let left_out = scene.draft.meters.len() - after.meters.len();
            for acceptance in [None, Some(Acceptance::Simple)] {
                let (known, outcomes) = (
                    scene.outcomes(&scene.draft, acceptance)?,
                    still(scene.outcomes(&after, acceptance), "no meter is stated")?,
                );
                seen.count(left_out);
                never_better(&scene.rules, (&scene.draft, &known), (&after, &outcomes)).map_err(
                    |why| {
                        scene.broken(
                            format!("no meter is stated, {acceptance:?}: {why}"),
                            &scene.draft,
                            &after.doc().write(crate::generate::document::Style::Yaml),
                        )
                    },
                )?;
            }
            Ok(())
        },
    );
}

/// Why the outcome of a proposal that says less is better than before, if it is.
pub(crate) fn never_better(
    rules: &Rules,
    before: (&Draft, &Outcomes),
    after: (&Draft, &Outcomes),
) -> Result<(), String> {
    for caution in rules.cautions() {
        let about = subject(rules.catalogue().subject_name(caution.about));
        let soft = caution.if_unmeasured == Some(IfUnmeasured::Warn);
        for ((was, several_were), (is, several_are)) in subjects(about, before.0, after.0) {
            let (old, new) = (
                before.1.get(&caution.id, &was, several_were),
                after.1.get(&caution.id, &is, several_are),
            );
            worse_or_same(old, new, soft)
                .map_err(|why| format!("`{}` for {was}: {why}", caution.id))?;
        }
    }
    let soft = rules
        .cautions()
        .iter()
        .any(|caution| caution.if_unmeasured == Some(IfUnmeasured::Warn));
    for (stage, (old, _)) in &before.1.stages {
        let (new, _) = after.1.stages[stage];
        worse_or_same(*old, new, soft).map_err(|why| format!("the stage {stage}: {why}"))?;
    }
    worse_or_same(before.1.whole, after.1.whole, soft).map_err(|why| format!("the report: {why}"))
}

/// Only where a measurement is missing altogether may a caution soften a refusal, to a warning that
/// says what it could be.
fn worse_or_same(old: Outcome, new: Outcome, soft: bool) -> Result<(), String> {
    let softened = soft
        && old.verdict == Verdict::Refuse
        && new.verdict == Verdict::Warn
        && new.worst == Verdict::Refuse;
    let said = if new.worst < old.worst {
        "the worst is better"
    } else if new.best > old.best {
        "the best is worse"
    } else if new.verdict == Verdict::Pass && old.verdict != Verdict::Pass {
        "it has become a pass"
    } else if new.verdict < old.verdict && !softened {
        "the verdict is better"
    } else {
        return Ok(());
    };
    Err(format!("{said}: {old:?} has become {new:?}"))
}

/// The subject of a name.
pub(crate) fn subject(name: &str) -> Option<Subject> {
    Subject::ALL
        .into_iter()
        .find(|subject| subject.name() == name)
}

/// A subject's name in a report, and how many are called so.
type Named = (String, usize);

/// Each of a subject, as the report on a proposal calls it.
pub(crate) fn each_subject(about: Option<Subject>, draft: &Draft) -> impl Iterator<Item = Named> {
    subjects(about, draft, draft)
        .into_iter()
        .map(|(name, _)| name)
}

/// Each of a subject, as the reports on two proposals call it; one proposal says less than the
/// other.
fn subjects(about: Option<Subject>, before: &Draft, after: &Draft) -> Vec<(Named, Named)> {
    let all: Vec<usize> = (0..before.cells.len()).collect();
    let each: Vec<Vec<usize>> = all.iter().map(|at| vec![*at]).collect();
    match about {
        None => Vec::new(),
        Some(Subject::Cell) => each
            .iter()
            .map(|of| (cell_subject(before, of[0]), cell_subject(after, of[0])))
            .collect(),
        Some(Subject::Group) => groups(before, all, each)
            .iter()
            .map(|of| (group_subject(before, of), group_subject(after, of)))
            .collect(),
        Some(Subject::Pack) => packs(before, after),
        Some(single) => vec![((single.name().to_owned(), 1), (single.name().to_owned(), 1))],
    }
}

fn cell_subject(draft: &Draft, at: usize) -> Named {
    let unlisted = draft.cells.iter().filter(|cell| !cell.listed).count();
    if draft.cells[at].listed {
        (format!("cell {}", draft.cells[at].id), 1)
    } else {
        (crate::generate::setting::unnamed("cell"), unlisted)
    }
}

/// Each pack. One that is no longer mentioned is one that nobody names.
fn packs(before: &Draft, after: &Draft) -> Vec<(Named, Named)> {
    let nobody = || (crate::generate::setting::unnamed("pack"), 1);
    let known = after.pack_names();
    let named = |name: &str| (format!("pack {name}"), 1);
    let mut all: Vec<(Named, Named)> = before
        .pack_names()
        .into_iter()
        .map(|name| match known.contains(name) {
            true => (named(name), named(name)),
            false => (named(name), nobody()),
        })
        .collect();
    if before.has_nameless_pack() {
        all.push((nobody(), nobody()));
    }
    all
}

/// The cells of each group, as far as they are known.
fn groups(draft: &Draft, all: Vec<usize>, each: Vec<Vec<usize>>) -> Vec<Vec<usize>> {
    if draft.parallel == 1 {
        return each;
    }
    if draft.series == 1 || !draft.settled() {
        return vec![all];
    }
    let mut names: Vec<&str> = all.iter().filter_map(|at| draft.group_of(*at)).collect();
    names.sort_unstable();
    names.dedup();
    names
        .iter()
        .map(|name| {
            all.iter()
                .copied()
                .filter(|at| draft.group_of(*at) == Some(*name))
                .collect()
        })
        .collect()
}
