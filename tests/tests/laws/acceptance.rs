//! Law 4: nominal values decide under simple acceptance, and whole intervals under guarded
//! acceptance, which is never the milder.

use rules_core::check::Status;
use rules_core::ruleset::Acceptance;
use rules_tests::law::law;

use super::ignorance::{each_subject, subject};
use crate::generate::choices::three;
use crate::generate::document::Style;
use crate::generate::quantity::Care;
use crate::generate::scene::{Plan, Scene};
use crate::generate::vocabulary::fact_named;

/// What passes under guarded acceptance passes under simple acceptance; what simple acceptance
/// settles is in the range that guarded acceptance leaves.
#[test]
fn guarded_is_never_milder_than_simple() {
    law(
        "guarded is never milder than simple",
        300,
        three(),
        |[rules, proposal, _], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let guarded = scene.outcomes(&scene.draft, Some(Acceptance::Guarded))?;
            let simple = scene.outcomes(&scene.draft, Some(Acceptance::Simple))?;
            // Only what is divided by nothing is in doubt though every value is its nominal one.
            let divides = scene.ruleset.doc().write(Style::Json).contains(" / ")
                || scene
                    .ruleset
                    .facts()
                    .contains(&fact_named("light.draw_power"));
            for caution in scene.rules.cautions() {
                let about = subject(scene.rules.catalogue().subject_name(caution.about));
                for (name, several) in each_subject(about, &scene.draft) {
                    let (strict, mild) = (
                        guarded.get(&caution.id, &name, several),
                        simple.get(&caution.id, &name, several),
                    );
                    seen.count(usize::from(strict != mild));
                    if mild.worst > strict.worst
                        || mild.best < strict.best
                        || mild.status == Status::InDoubt && several == 1 && !divides
                    {
                        let what = format!(
                            "`{}` for {name}: guarded {strict:?}, simple {mild:?}",
                            caution.id
                        );
                        return Err(scene.broken(what, &scene.draft, ""));
                    }
                }
            }
            if simple.whole.worst > guarded.whole.worst || simple.whole.best < guarded.whole.best {
                let what = format!(
                    "the report: guarded {:?}, simple {:?}",
                    guarded.whole, simple.whole
                );
                return Err(scene.broken(what, &scene.draft, ""));
            }
            Ok(())
        },
    );
}

/// Where every value is exact the two are one: the same findings, word for word.
#[test]
fn exact_values_need_no_acceptance() {
    law(
        "exact values need no acceptance",
        200,
        three(),
        |[rules, proposal, _], seen| {
            // A designation gives sizes as ranges, and two limits may be ranges too.
            let shunned = ["cell.code_diameter", "cell.code_length"].map(fact_named);
            let mut scene = Scene::grow(
                &rules,
                &proposal,
                Plan {
                    shunned: &shunned,
                    care: Care::Exact,
                    ..Plan::ANY
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
            let of = |acceptance| {
                scene
                    .report(&scene.draft, Some(acceptance))
                    .map(|report| report.findings)
            };
            let (guarded, simple) = (of(Acceptance::Guarded)?, of(Acceptance::Simple)?);
            seen.count(1);
            if guarded == simple {
                return Ok(());
            }
            Err(scene.broken(
                "everything is exact, and acceptance makes a difference",
                &scene.draft,
                &format!("{guarded:#?}\n{simple:#?}"),
            ))
        },
    );
}
