//! Law 7: local practice tightens freely and loosens in the open, and a further ruleset never
//! improves a verdict.

use proptest::prelude::*;
use rules_core::check::Report;
use rules_core::document::{Fault, ProblemList};
use rules_core::ruleset::Rules;
use rules_tests::law::law;

use super::ignorance::{each_subject, subject};
use crate::generate::choices::{Choices, broken, three};
use crate::generate::document::{Doc, Style, text};
use crate::generate::layering::{Change, extending, files};
use crate::generate::ruleset::Ruleset;
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{Outcomes, checked, listed, load_files};

/// Marks every limit and caution of a ruleset's document as fixed.
fn fixed(ruleset: &Ruleset) -> Doc {
    let mut doc = ruleset.doc();
    for at in 0..ruleset.limits.len() {
        doc.set(&["limits", &format!("l{at}"), "fixed"], text("yes"));
    }
    let mut cautions: Vec<Doc> = ruleset
        .cautions
        .iter()
        .map(crate::generate::ruleset::Caution::doc)
        .collect();
    cautions
        .iter_mut()
        .for_each(|caution| caution.set(&["fixed"], text("yes")));
    doc.set(&["cautions"], Doc::List(cautions));
    doc
}

/// A loosening without a reason is an error, with one it is shown in every report, and of what is
/// fixed it is an error all the same.
#[test]
fn loosening_is_in_the_open() {
    law(
        "loosening is in the open",
        250,
        three(),
        |[rules_words, proposal, change], seen| {
            let scene = Scene::grow(
                &rules_words,
                &proposal,
                Plan {
                    directed: true,
                    ..Plan::ANY
                },
            )?;
            let change = Change::chosen(&mut Choices::of(&change), &scene.ruleset);
            let loosens = change.loosens();
            let load = |base: &Doc, because: bool| {
                let mut local = extending("local", &["./base.yaml"]);
                change.set(&mut local, because);
                load_files(
                    &files(&[("base.yaml", base), ("local.yaml", &local)]),
                    &["local.yaml"],
                )
            };
            seen.count(usize::from(loosens));
            let plain = scene.ruleset.doc();
            let mut wrong = Vec::new();
            wrong.extend(unlike(
                load(&plain, false),
                loosens.then_some(Fault::LooseningWithoutReason),
                "without a reason",
            ));
            let is_fixed = loosens && change.is_of_what_can_be_fixed();
            wrong.extend(unlike(
                load(&fixed(&scene.ruleset), true),
                is_fixed.then_some(Fault::Fixed),
                "of what is fixed",
            ));
            match load(&plain, true) {
                Err(problems) => wrong.push(format!(
                    "with a reason it is refused: {}",
                    listed(&problems)
                )),
                Ok(rules) => wrong.extend(unshown(
                    &checked(&rules, &scene.draft.doc().write(Style::Yaml), None)?,
                    &change,
                    loosens,
                )),
            }
            if wrong.is_empty() {
                Ok(())
            } else {
                Err(scene.broken(
                    format!("{change:?}: {}", wrong.join("; ")),
                    &scene.draft,
                    "",
                ))
            }
        },
    );
}

fn unlike(
    outcome: Result<Rules, ProblemList>,
    expected: Option<Fault>,
    when: &str,
) -> Option<String> {
    match (outcome, expected) {
        (Ok(_), None) => None,
        (Err(problems), Some(fault)) if problems.iter().any(|problem| problem.fault == fault) => {
            None
        }
        (Ok(_), Some(fault)) => Some(format!("{when} it goes unseen, not {fault:?}")),
        (Err(problems), _) => Some(format!("{when} it is refused: {}", listed(&problems))),
    }
}

/// A loosening that the report does not show, or one that it shows and that is none.
fn unshown(report: &Report, change: &Change, loosens: bool) -> Option<String> {
    let shown = report.loosened.iter().any(|loosening| {
        loosening.what.to_string() == change.what()
            && loosening.by == "local"
            && loosening.because == "the club has its reasons"
    });
    (shown != loosens || report.loosened.len() != usize::from(loosens))
        .then(|| format!("the report shows {:?}", report.loosened))
}

/// One base, and two rulesets of local practice over it.
struct TwoLocal<'s> {
    scene: &'s Scene,
    shelf: Vec<(String, Vec<u8>)>,
    proposal: String,
    shown: String,
}

impl<'s> TwoLocal<'s> {
    fn over(scene: &'s Scene, changes: &[u16]) -> Self {
        let mut choices = Choices::of(changes);
        let mut local = |name: &str| {
            let mut doc = extending(name, &["./base.yaml"]);
            (0..choices.below(4))
                .for_each(|_| Change::chosen(&mut choices, &scene.ruleset).set(&mut doc, true));
            doc
        };
        let (base, one, other) = (scene.ruleset.doc(), local("one"), local("other"));
        let both_by_extending = extending("both", &["./one.yaml", "./other.yaml"]);
        let shelf = files(&[
            ("base.yaml", &base),
            ("one.yaml", &one),
            ("other.yaml", &other),
            ("both.yaml", &both_by_extending),
        ]);
        Self {
            scene,
            shelf,
            proposal: scene.draft.doc().write(Style::Yaml),
            shown: format!("{}\n{}", one.write(Style::Yaml), other.write(Style::Yaml)),
        }
    }

    fn report(&self, names: &[&str]) -> Result<Report, TestCaseError> {
        let rules = load_files(&self.shelf, names).map_err(|problems| {
            broken(
                format!("{names:?}: {}", listed(&problems)),
                &[("rules", &self.shown)],
            )
        })?;
        checked(&rules, &self.proposal, None)
    }

    fn broken(&self, why: String) -> TestCaseError {
        self.scene.broken(why, &self.scene.draft, &self.shown)
    }

    /// In any order of naming, and by any way that they come in.
    fn says_the_same(&self, names: &[&str], together: &Report) -> Result<(), TestCaseError> {
        let again = self.report(names)?;
        let said = |report: &Report| {
            (
                report.findings.clone(),
                report.gravest().verdict,
                report.gravest().worst,
                report.stages.clone(),
                report.loosened.clone(),
            )
        };
        if said(&again) == said(together) {
            return Ok(());
        }
        Err(self.broken(format!(
            "{names:?} differs from one with the other: {:?}, {:?}",
            Outcomes::of(&again).whole,
            Outcomes::of(together).whole
        )))
    }
}

/// Two rulesets of local practice over one base: together they are no milder than either, in
/// whichever order they are named.
#[test]
fn a_further_ruleset_never_pays() {
    law(
        "a further ruleset never pays",
        250,
        three(),
        |[rules_words, proposal, changes], seen| {
            let scene = Scene::grow(
                &rules_words,
                &proposal,
                Plan {
                    directed: true,
                    ..Plan::ANY
                },
            )?;
            let local = TwoLocal::over(&scene, &changes);
            let together = local.report(&["one.yaml", "other.yaml"])?;
            for names in [
                &["other.yaml", "one.yaml"][..],
                &["both.yaml"],
                &["one.yaml", "other.yaml", "one.yaml"],
            ] {
                local.says_the_same(names, &together)?;
            }
            for names in [["one.yaml"], ["other.yaml"]] {
                seen.count(1);
                no_milder(&scene, &local.report(&names)?, &together)
                    .map_err(|why| local.broken(format!("{names:?}: {why}")))?;
            }
            let with_base = local.report(&["one.yaml", "other.yaml", "base.yaml"])?;
            no_milder(&scene, &together, &with_base)
                .map_err(|why| local.broken(format!("with the base: {why}")))
        },
    );
}

/// Why a report under more rules is milder, if it is.
fn no_milder(scene: &Scene, fewer: &Report, more: &Report) -> Result<(), String> {
    let (before, after) = (Outcomes::of(fewer), Outcomes::of(more));
    for caution in scene.rules.cautions() {
        for (name, several) in each_subject(
            subject(scene.rules.catalogue().subject_name(caution.about)),
            &scene.draft,
        ) {
            let (old, new) = (
                before.get(&caution.id, &name, several),
                after.get(&caution.id, &name, several),
            );
            if new.worst < old.worst {
                return Err(format!(
                    "`{}` for {name} is milder: {old:?}, {new:?}",
                    caution.id
                ));
            }
        }
    }
    for (stage, (old, nothing_checked)) in &before.stages {
        if after.stages[stage].0.worst < old.worst && !nothing_checked {
            return Err(format!("the stage {stage} is milder"));
        }
    }
    // Where nothing was checked, a further caution may be what is met.
    if after.whole.worst < before.whole.worst && !before.nothing_checked {
        Err("the report is milder".to_owned())
    } else {
        Ok(())
    }
}
