//! What a range proves of a piece holds for each value in it: values drawn at chance, written into the
//! plan as text and checked, never come to anything else.

use std::sync::LazyLock;

use proptest::test_runner::TestCaseError;
use rules_core::check::{Options, Verdict};
use rules_core::document::Syntax;
use rules_core::facts::FactKind;
use rules_core::quantity::Kind;
use rules_core::ruleset::{Acceptance, Rules, Texts};
use rules_tests::law::{Seen, law};
use rulesets::bench::{Benches, Plan};
use rulesets::jobs::Trial;
use rulesets::jobs::range::{Class, RangePiece, RangeReport, Vary, range};

use super::generate::choices::{Choices, broken, words};
use super::generate::document::Style;
use super::generate::scene::{Plan as Wanted, Scene};
use super::generate::setting::load_files;
use super::generate::sound::{WORDS, near};

/// So many values of each range are tried.
const POINTS: usize = 50;
/// So many checks a range has.
const CHECKS: usize = 200;

static SHIPPED: LazyLock<Rules> = LazyLock::new(|| load_files(&[], &["rescued-cells"]).unwrap());

#[test]
fn no_value_contradicts_a_proved_piece_by_the_shipped_rules() {
    law(
        "no value contradicts a proved piece, shipped",
        20,
        (words(WORDS), words(200)),
        |(proposal, chances), seen| {
            let text = near(&proposal).doc().write(Style::Yaml);
            tried(&SHIPPED, &text, &mut Choices::of(&chances), seen)
        },
    );
}

#[test]
fn no_value_contradicts_a_proved_piece() {
    law(
        "no value contradicts a proved piece",
        50,
        (words(400), words(400), words(200)),
        |(rules, proposal, chances), seen| {
            let scene = Scene::grow(&rules, &proposal, Wanted::ANY)?;
            let text = scene.draft.doc().write(Style::Yaml);
            tried(&scene.rules, &text, &mut Choices::of(&chances), seen)
        },
    );
}

fn tried(
    rules: &Rules,
    text: &str,
    choices: &mut Choices<'_>,
    seen: &Seen,
) -> Result<(), TestCaseError> {
    let texts = Texts::of([("plan.yaml", "")]);
    let mut benches = Benches::of(&texts);
    let plan = Plan::read("plan.yaml", text.into(), Syntax::Yaml, &mut benches);
    let options = Options {
        acceptance: Some(Acceptance::Guarded),
        ..Options::default()
    };
    let trial = Trial::of(&plan.unwrap(), rules, options).unwrap();
    // What contradicts itself before anything is varied has no range.
    if trial.brief().is_err() {
        return Err(TestCaseError::reject("the plan has faults"));
    }
    let mut named = facts(rules, &trial);
    choices.shuffle(&mut named);
    let ranges = named.iter().filter_map(|fact| {
        let asked = Vary {
            fact,
            from: None,
            to: None,
            resolution: None,
        };
        let report = range(&trial, &asked, CHECKS).ok()?;
        (!report.search.bearing.is_empty()).then_some(report)
    });
    // The first that is no single piece, or else any.
    let mut fallback = None;
    for report in ranges.take(4) {
        let is_plain = report.pieces.len() < 2;
        if !is_plain {
            return sampled(&trial, &report, choices, seen, text);
        }
        fallback.get_or_insert(report);
    }
    match fallback {
        Some(report) => sampled(&trial, &report, choices, seen, text),
        None => Ok(()),
    }
}

/// The numbers that can be varied, by their dotted names or by the path of the first listed cell.
fn facts(rules: &Rules, trial: &Trial<'_>) -> Vec<String> {
    let catalogue = rules.catalogue();
    let cell = trial.draft().value()["cells"][0]["id"].as_str();
    let numbers = catalogue.facts().filter(|(_, def)| {
        matches!(def.kind, FactKind::Number(kind) if kind != Kind::Count) && def.from.is_none()
    });
    numbers
        .filter_map(
            |(id, def)| match (catalogue.subject_name(def.subject), &def.key) {
                ("cell", Some(key)) => Some(format!("cells[{}].{key}", cell?)),
                ("cell" | "group" | "pack" | "build", _) => None,
                _ => Some(catalogue.fact_name(id).to_owned()),
            },
        )
        .chain(["light.draw".to_owned(), "light.draw".to_owned()])
        .collect()
}

fn sampled(
    trial: &Trial<'_>,
    report: &RangeReport,
    choices: &mut Choices<'_>,
    seen: &Seen,
    text: &str,
) -> Result<(), TestCaseError> {
    let range = report.fact.range.as_ref().unwrap();
    let (from, to) = (range.from.value, range.to.value);
    for point in 0..POINTS {
        // A third of them lie about the ends of pieces.
        let value = match report.pieces.get(choices.below(report.pieces.len())) {
            Some(piece) if point % 3 == 0 => {
                let near = (choices.part() - 0.5) * 0.02 * (to - from);
                (piece.to.value + near).clamp(from, to)
            }
            _ => choices.part().mul_add(to - from, from),
        };
        let value: f64 = format!("{value:.9e}").parse().unwrap();
        let written = format!("{value}..{value} {}", report.fact.unit);
        let Ok(with) = trial.with(|draft| draft.set(&report.fact.path, written.trim())) else {
            return Err(TestCaseError::reject("the plan has a list there"));
        };
        let came = with.brief();
        let holding = |piece: &&RangePiece| piece.from.value <= value && value <= piece.to.value;
        for piece in report.pieces.iter().filter(holding) {
            let fits = match (piece.found.class, &came) {
                (Class::Pass, Ok(came)) => came.gravest().verdict == Verdict::Pass,
                (Class::Warn, Ok(came)) => is(Verdict::Warn, came),
                (Class::Refuse, Ok(came)) => is(Verdict::Refuse, came),
                (Class::CannotBe, came) => came.is_err() || on_an_end(piece, value),
                // What contradicts the plan has no verdict; nothing is proved of the rest.
                _ => continue,
            };
            seen.count(1);
            if !fits {
                let what = format!(
                    "{} at {written} comes to {came:?}, in {piece:?}",
                    report.fact.path
                );
                return Err(broken(what, &[("proposal", text)]));
            }
        }
    }
    Ok(())
}

fn is(verdict: Verdict, came: &rules_core::check::Brief) -> bool {
    let outcome = came.gravest();
    (outcome.verdict, outcome.best) == (verdict, verdict)
}

#[expect(clippy::float_cmp, reason = "an end is the very number")]
fn on_an_end(piece: &RangePiece, value: f64) -> bool {
    value == piece.from.value || value == piece.to.value
}
