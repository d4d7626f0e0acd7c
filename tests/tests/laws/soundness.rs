//! Law 3: a sure answer on intervals is the answer for every value inside them.

use std::fmt::Write as _;

use proptest::test_runner::TestCaseError;
use rules_core::check::Verdict;
use rules_tests::law::{Seen, law};

use crate::generate::choices::{Choices, three};
use crate::generate::quantity::Care;
use crate::generate::ruleset::Caution;
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{Outcome, Outcomes};
use crate::generate::truth::{Judged, Seat};
use crate::generate::vocabulary::{FACTS, Subject, fact_named};
use crate::generate::world::{Lean, One, World, world};

const LEANS: [Lean; 6] = [
    Lean::Low,
    Lean::High,
    Lean::Nominal,
    Lean::Anywhere,
    Lean::Anywhere,
    Lean::Anywhere,
];

/// In every world in which the proposal is true, each finding is between its best and its worst,
/// and so is the report.
#[test]
fn sure_answers_are_true_of_every_value() {
    law(
        "sure answers are true of every value",
        400,
        three(),
        |[rules, proposal, sample], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let outcomes = scene.outcomes(&scene.draft, None)?;
            let mut choices = Choices::of(&sample);
            for lean in LEANS {
                let world = world(&scene.draft, &scene.ruleset, &mut choices, lean);
                agrees(&scene, &outcomes, &world, seen)?;
            }
            Ok(())
        },
    );
}

/// Where everything that matters is given exactly, each finding is settled, and is what arithmetic
/// says.
#[test]
fn exact_facts_settle_everything() {
    law(
        "exact facts settle everything",
        400,
        three(),
        |[rules, proposal, sample], seen| {
            // What is never given, or given by a code as a range.
            let shunned = [
                "light.draw_current",
                "light.draw_power",
                "cell.code_diameter",
                "cell.code_length",
                "group.id",
            ]
            .map(fact_named);
            let mut scene = Scene::grow(
                &rules,
                &proposal,
                Plan {
                    shunned: &shunned,
                    complete: true,
                    care: Care::Exact,
                    directed: false,
                },
            )?;
            scene.draft.meters.clear();
            if scene
                .ruleset
                .limits
                .iter()
                .any(|limit| limit.low < limit.high)
            {
                return Ok(());
            }
            let outcomes = scene.outcomes(&scene.draft, None)?;
            let world = world(
                &scene.draft,
                &scene.ruleset,
                &mut Choices::of(&sample),
                Lean::Anywhere,
            );
            for (caution, one, judged, outcome) in each(&scene, &outcomes, &world) {
                let Some(judged) = judged else { continue };
                seen.count(1);
                if outcome.best != judged.verdict
                    || outcome.worst != judged.verdict
                    || outcome.verdict != judged.verdict
                {
                    let what = format!(
                        "everything is exact; `{}` for {} is {:?} and comes out {outcome:?}",
                        caution.id, one.subject, judged.verdict
                    );
                    return Err(scene.broken(what, &scene.draft, &shown(&scene, &world)));
                }
            }
            Ok(())
        },
    );
}

/// Each caution for each of its subjects: what is true, and what the engine says.
fn each<'s>(
    scene: &'s Scene,
    outcomes: &'s Outcomes,
    world: &'s World,
) -> impl Iterator<Item = (&'s Caution, &'s One, Option<Judged>, Outcome)> {
    scene.ruleset.cautions.iter().flat_map(move |caution| {
        let subjects: Vec<&One> = match caution.about {
            Subject::Cell => world.cells.iter().collect(),
            Subject::Group => world.groups.iter().collect(),
            Subject::Pack => world.packs.iter().collect(),
            single => vec![&world.singles[&single]],
        };
        subjects
            .into_iter()
            .enumerate()
            .map(move |(position, one)| {
                let judged =
                    Seat::new(world, &scene.ruleset, caution.about, position).judged(caution);
                (
                    caution,
                    one,
                    judged,
                    outcomes.get(&caution.id, &one.subject, one.several),
                )
            })
    })
}

fn agrees(
    scene: &Scene,
    outcomes: &Outcomes,
    world: &World,
    seen: &Seen,
) -> Result<(), TestCaseError> {
    let mut whole = Some((false, Verdict::Pass));
    for (caution, one, judged, outcome) in each(scene, outcomes, world) {
        let Some(judged) = judged else {
            whole = None;
            continue;
        };
        seen.count(usize::from(outcome.best == outcome.worst));
        if !(outcome.best <= judged.verdict && judged.verdict <= outcome.worst) {
            let what = format!(
                "`{}` for {} can be {:?}, but comes out {outcome:?}",
                caution.id, one.subject, judged.verdict
            );
            return Err(scene.broken(what, &scene.draft, &shown(scene, world)));
        }
        whole = whole
            .map(|(applied, verdict)| (applied || judged.applies, verdict.max(judged.verdict)));
    }
    let Some((applied, verdict)) = whole else {
        return Ok(());
    };
    let verdict = if applied { verdict } else { Verdict::Warn };
    if outcomes.whole.best <= verdict && verdict <= outcomes.whole.worst {
        return Ok(());
    }
    Err(scene.broken(
        format!(
            "the report can be {verdict:?}, but comes out {:?}",
            outcomes.whole
        ),
        &scene.draft,
        &shown(scene, world),
    ))
}

/// The values of a world that the rules look at.
fn shown(scene: &Scene, world: &World) -> String {
    let mut text = format!(
        "limits {:?}, current {}, groups of cells {:?}\n",
        world.limits, world.current, world.group_of
    );
    for one in world
        .singles
        .values()
        .chain(&world.groups)
        .chain(&world.cells)
        .chain(&world.packs)
    {
        for (at, value) in one
            .facts
            .iter()
            .filter(|(at, _)| scene.ruleset.facts().contains(at))
        {
            let _ = writeln!(text, "{}: {} = {value:?}", one.subject, FACTS[*at].name);
        }
    }
    text
}
