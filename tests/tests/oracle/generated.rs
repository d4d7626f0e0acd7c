//! The oracle and the engine on generated rules and proposals: every caution for every subject, and
//! the report, under both kinds of acceptance.

use proptest::test_runner::TestCaseError;
use rules_core::document::ProblemList;
use rules_core::ruleset::Acceptance;
use rules_tests::law::{Seen, law};

use super::compare::{difference, told};
use super::consistent::broken as relations_broken;
use super::end::Close;
use super::judge::check;
use super::proposal;
use super::readings::contradict;
use super::rules::{Rules, Shelf, load};
use super::tally::Tally;
use crate::generate::choices::{Choices, broken, three, words};
use crate::generate::document::{Doc, Style, map, text};
use crate::generate::layering::{Change, extending, files};
use crate::generate::proposal::{Draft, Wish, draft};
use crate::generate::quantity::Care;
use crate::generate::ruleset::{Caution, Ruleset, head};
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::{checked, listed, load_files, short};
use crate::generate::sound::{WORDS, near};

/// The two checkers with the same rules.
struct Both {
    engine: rules_core::ruleset::Rules,
    oracle: Rules,
}

impl Both {
    fn load(docs: &[(&str, &Doc)], names: &[&str]) -> Result<Self, ProblemList> {
        let shelf: Shelf = docs
            .iter()
            .map(|(name, doc)| ((*name).to_owned(), (*doc).clone()))
            .collect();
        Ok(Self {
            engine: load_files(&files(docs), names)?,
            oracle: load(&shelf, names),
        })
    }

    /// Compares them on a proposal, under the acceptance of the rules or another.
    fn agree(
        &self,
        draft: &Draft,
        acceptance: Option<Acceptance>,
        (seen, tally): (&Seen, &Tally),
    ) -> Result<(), String> {
        let doc = draft.doc();
        let simple = acceptance.map_or(self.oracle.simple, |acceptance| {
            acceptance == Acceptance::Simple
        });
        let read = proposal::read(&doc, &self.oracle.defs, &self.oracle.meters);
        let (outcome, judged) = check(&self.oracle, &read, simple, &[]);
        tally.add("pairs", 1);
        let close = Close::default();
        let readings = contradict(&read, &close);
        let relations = relations_broken(&self.oracle, &read);
        let Some((outcome, relations)) = outcome.zip(relations).filter(|_| !close.met()) else {
            tally.add("left to rounding", 1);
            return Ok(());
        };
        if readings || relations || read.too_coarse {
            let why = if read.too_coarse {
                "too coarse"
            } else {
                "contradictory"
            };
            tally.add(why, 1);
            return match checked(&self.engine, &doc.write(Style::Yaml), acceptance) {
                Err(TestCaseError::Reject(_)) => Ok(()),
                other => Err(format!(
                    "facts contradict each other or a meter is too coarse, and the engine says {other:?}\n--- proposal\n{}",
                    doc.write(Style::Yaml)
                )),
            };
        }
        let report = checked(&self.engine, &doc.write(Style::Yaml), acceptance)
            .map_err(|error| error.to_string())?;
        seen.count(judged);
        tally.compared(&outcome);
        match difference(&told(&report), &outcome) {
            None => Ok(()),
            Some(said) => Err(format!(
                "under {acceptance:?} acceptance:\n{said}\n--- proposal\n{}",
                doc.write(Style::Yaml)
            )),
        }
    }
}

const BOTH: [Option<Acceptance>; 2] = [Some(Acceptance::Guarded), Some(Acceptance::Simple)];

/// Rounding is to leave next to nothing out.
fn finish(tally: &Tally, name: &str) {
    tally.print(name);
    assert!(
        tally.of("left to rounding") * 20 <= tally.of("pairs"),
        "rounding leaves too much out"
    );
}

#[test]
fn the_oracle_agrees_on_one_ruleset() {
    let tally = Tally::default();
    law(
        "the oracle agrees on one ruleset",
        1000,
        three(),
        |[rules, proposal, further], seen| {
            let care = if rules.len() % 5 == 0 {
                Care::Exact
            } else {
                Care::Any
            };
            let scene = Scene::grow(
                &rules,
                &proposal,
                Plan {
                    complete: rules.len() % 3 == 0,
                    care,
                    ..Plan::ANY
                },
            )?;
            let both = Both::load(&[("one.yaml", &scene.ruleset.doc())], &["one.yaml"])
                .map_err(|problems| broken(listed(&problems), &[]))?;
            let wish = Wish {
                likely: &scene.ruleset.facts(),
                complete: false,
                care: Care::Any,
            };
            let other = draft(&mut Choices::of(&further), &wish);
            for (draft, acceptance) in [
                (&scene.draft, BOTH[0]),
                (&scene.draft, BOTH[1]),
                (&other, BOTH[0]),
            ] {
                both.agree(draft, acceptance, (seen, &tally))
                    .map_err(|said| failed(&said, &scene.ruleset, ""))?;
            }
            Ok(())
        },
    );
    finish(&tally, "one ruleset");
}

fn failed(said: &str, ruleset: &Ruleset, layers: &str) -> TestCaseError {
    broken(
        said,
        &[
            ("rules", &short(&ruleset.doc().write(Style::Yaml))),
            ("layers", layers),
        ],
    )
}

/// A base in two files, two rulesets of local practice on it, and one on both.
fn layers(ruleset: &Ruleset, choices: &mut Choices<'_>) -> Vec<(&'static str, Doc)> {
    let base = map(head("base")
        .into_iter()
        .chain(acceptance(choices))
        .chain(ruleset.definitions()));
    let mut more = extending("more", &["./base.yaml"]);
    more.set(
        &["cautions"],
        Doc::List(ruleset.cautions.iter().map(Caution::doc).collect()),
    );
    let mut local = |name: &str, bases: &[&str]| {
        let mut doc = extending(name, bases);
        (0..choices.below(4)).for_each(|_| Change::chosen(choices, ruleset).set(&mut doc, true));
        if choices.one_in(4) {
            doc.set(&["adjust", "acceptance"], map([("to", text("guarded"))]));
        }
        doc
    };
    let (one, other) = (
        local("one", &["./more.yaml"]),
        local("other", &["./more.yaml"]),
    );
    let top = local("top", &["./one.yaml", "./other.yaml"]);
    vec![
        ("base.yaml", base),
        ("more.yaml", more),
        ("one.yaml", one),
        ("other.yaml", other),
        ("top.yaml", top),
    ]
}

fn acceptance(choices: &mut Choices<'_>) -> Option<(&'static str, Doc)> {
    let word = *choices.pick(&["", "simple", "guarded"]);
    (!word.is_empty()).then(|| ("acceptance", text(word)))
}

#[test]
fn the_oracle_agrees_on_layers() {
    const ASKED: [&[&str]; 5] = [
        &["top.yaml"],
        &["one.yaml", "other.yaml"],
        &["other.yaml"],
        &["more.yaml", "one.yaml"],
        &["top.yaml", "one.yaml"],
    ];
    let tally = Tally::default();
    law(
        "the oracle agrees on layers",
        400,
        three(),
        |[rules, proposal, changes], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let docs = layers(&scene.ruleset, &mut Choices::of(&changes));
            let docs: Vec<(&str, &Doc)> = docs.iter().map(|(name, doc)| (*name, doc)).collect();
            let shown = || {
                docs.iter()
                    .skip(2)
                    .map(|(_, doc)| doc.write(Style::Yaml))
                    .collect::<String>()
            };
            for names in ASKED {
                // Some changes are errors, as a caution that is dropped where it is not seen.
                let Ok(both) = Both::load(&docs, names) else {
                    continue;
                };
                both.agree(&scene.draft, None, (seen, &tally))
                    .map_err(|said| {
                        failed(&format!("{names:?}: {said}"), &scene.ruleset, &shown())
                    })?;
            }
            Ok(())
        },
    );
    finish(&tally, "layers");
}

/// A ruleset without the cautions that rest on library figures that the oracle does not work out,
/// and how many these are.
fn within_reach(mut doc: Doc) -> (Doc, usize) {
    let rules = load(&Shelf::from([("all".to_owned(), doc.clone())]), &["all"]);
    let beyond = rules.beyond();
    let kept = doc
        .get("cautions")
        .unwrap()
        .items()
        .iter()
        .filter(|caution| !beyond.contains(&caution.text_of("id").unwrap()));
    let kept = Doc::List(kept.cloned().collect());
    doc.set(&["cautions"], kept);
    (doc, beyond.len())
}

#[test]
fn the_oracle_agrees_on_the_shipped_rules() {
    let read = |name: &str| {
        Doc::read(
            &std::fs::read_to_string(format!(
                "{}/../rulesets/{name}.yaml",
                env!("CARGO_MANIFEST_DIR")
            ))
            .unwrap(),
        )
    };
    let (trade, local) = (read("rescued-cells"), read("local-practice-example"));
    let (mut trade, left_out) = within_reach(trade);
    // What is left of the shipped rules is not the shipped rules.
    trade.set(&["ruleset"], text("rescued-cells-in-part"));
    let docs = [
        ("rescued-cells", &trade),
        ("local-practice-example", &local),
    ];
    let rules = [&["rescued-cells"][..], &["local-practice-example"]]
        .map(|names| Both::load(&docs, names).unwrap());
    assert!(
        rules[0].oracle.cautions.len() >= 30,
        "{left_out} cautions are left out, which leaves too few"
    );
    let tally = Tally::default();
    tally.add("cautions left out", left_out);
    law(
        "the oracle agrees on the shipped rules",
        150,
        words(WORDS),
        |proposal, seen| {
            let draft = near(&proposal);
            for (both, acceptance) in [
                (&rules[0], BOTH[0]),
                (&rules[0], BOTH[1]),
                (&rules[1], None),
            ] {
                both.agree(&draft, acceptance, (seen, &tally))
                    .map_err(|said| broken(said, &[]))?;
            }
            Ok(())
        },
    );
    finish(&tally, "shipped rules");
}
