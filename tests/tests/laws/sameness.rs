//! Law 9: the same bytes give the same bytes.

use rules_core::check::{Options, check};
use rules_tests::law::law;

use super::order::{first_difference, may_be_capped, told};
use crate::generate::choices::{Choices, three};
use crate::generate::document::Style;
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{load_text, proposal, rules, short};

/// Loading and checking again, in another thread with other hash keys, gives the same report to the
/// last byte.
#[test]
fn the_same_bytes_give_the_same_bytes() {
    law(
        "the same bytes give the same bytes",
        150,
        three(),
        |[rules_words, proposal_words, _], seen| {
            let scene = Scene::grow(&rules_words, &proposal_words, Plan::ANY)?;
            let (rules_text, proposal_text) = (
                scene.ruleset.doc().write(Style::Yaml),
                scene.draft.doc().write(Style::Yaml),
            );
            let tell = || -> Option<(String, String)> {
                let rules = rules(&rules_text).ok()?;
                let report =
                    check(&rules, &proposal(&proposal_text).ok()?, Options::default()).ok()?;
                Some((serde_json::to_string(&report).ok()?, rules.merged_json()))
            };
            let again = std::thread::scope(|scope| scope.spawn(tell).join().unwrap());
            seen.count(1);
            // The same rules once more, without loading, must not remember the first check either.
            let report = scene.report(&scene.draft, None)?;
            let kept = scene.report(&scene.draft, None)?;
            if tell() == again && again.is_some() && kept == report {
                return Ok(());
            }
            Err(scene.broken("the same bytes give other bytes", &scene.draft, ""))
        },
    );
}

/// Problems come in the same words too.
#[test]
fn the_same_faults_give_the_same_problems() {
    law(
        "the same faults give the same problems",
        150,
        three(),
        |[rules_words, damage, _], seen| {
            let text = Scene::grow(&rules_words, &[], Plan::ANY)?
                .ruleset
                .doc()
                .write(Style::Yaml);
            let damaged = super::totality::damaged(text.as_bytes(), &mut Choices::of(&damage));
            let tell = || {
                load_text(&String::from_utf8_lossy(&damaged), "yaml")
                    .map(|rules| rules.digest().to_owned())
            };
            let again = std::thread::scope(|scope| scope.spawn(tell).join().unwrap());
            let first = tell();
            seen.count(usize::from(first.is_err()));
            if first == again {
                Ok(())
            } else {
                Err(crate::generate::choices::broken(
                    format!("{first:?}\n{again:?}"),
                    &[("rules", &String::from_utf8_lossy(&damaged))],
                ))
            }
        },
    );
}

/// A merged ruleset, read again, is the same ruleset: merged again it is the same text, and it gives
/// the same findings.
#[test]
fn what_is_merged_says_the_same() {
    law(
        "what is merged says the same",
        150,
        three(),
        |[rules_words, proposal_words, _], seen| {
            let scene = Scene::grow(&rules_words, &proposal_words, Plan::ANY)?;
            let merged = scene.rules.merged_json();
            let again = load_text(&merged, "json").map_err(|problems| {
                scene.broken(
                    format!("a merged ruleset does not load: {problems:?}"),
                    &scene.draft,
                    &merged,
                )
            })?;
            let text = scene.draft.doc().write(Style::Yaml);
            let partial = may_be_capped(&scene.ruleset, &scene.draft);
            let (first, second) = (
                told(&scene.report(&scene.draft, None)?, partial),
                told(
                    &crate::generate::setting::checked(&again, &text, None)?,
                    partial,
                ),
            );
            seen.count(1);
            match first_difference(&first, &second, "report") {
                None if again.merged_json() == merged => Ok(()),
                None => Err(scene.broken(
                    "merged again it is another text",
                    &scene.draft,
                    &short(&again.merged_json()),
                )),
                Some(said) => Err(scene.broken(
                    format!("merged, it says something else: {said}"),
                    &scene.draft,
                    &merged,
                )),
            }
        },
    );
}
