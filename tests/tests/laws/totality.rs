//! Law 8: for any text, everything terminates and nothing panics; and the work grows with cautions
//! times subjects.

use std::time::{Duration, Instant};

use proptest::prelude::*;
use rules_core::check::{Options, check};
use rules_core::document::{Problem, Syntax};
use rules_core::ruleset::Rules;
use rules_tests::law::{Seen, law};
use rulesets::proposal::Proposal;

use crate::generate::choices::{Choices, broken, three, words};
use crate::generate::document::Style;
use crate::generate::proposal::Draft;
use crate::generate::ruleset::Caution;
use crate::generate::scene::{Plan, Scene};
use crate::generate::setting::load_text;
use crate::generate::vocabulary::{FACTS, Many, Subject};

/// Longer than any case takes by far, so that only what does not end, or grows out of bounds, is
/// caught.
const LONG: Duration = Duration::from_secs(20);

/// Pieces of formulas, in any order.
const PIECES: [&str; 62] = [
    "(",
    ")",
    "[",
    "]",
    ",",
    "+",
    "-",
    "*",
    "/",
    "<",
    "<=",
    ">",
    ">=",
    "==",
    "!=",
    "=",
    ".",
    " ",
    "\n",
    "and",
    "or",
    "not",
    "in",
    "is",
    "known",
    "yes",
    "no",
    "min",
    "max",
    "sum",
    "mean",
    "spread",
    "distinct",
    "count",
    "of",
    "where",
    "has",
    "every",
    "any",
    "abs",
    "cell",
    "cells",
    "group",
    "groups",
    "limit.l0",
    "cell.",
    "3",
    "3.",
    "2.5 V",
    "1e400",
    "1e-400",
    "0 A",
    "-1 K",
    "20 degC",
    "5 %",
    "mV/d",
    "1/h",
    "µ",
    "{",
    "buck-boost",
    "ICR",
    "é",
];

fn formula(choices: &mut Choices<'_>) -> String {
    if choices.one_in(12) {
        // Deep or long, far beyond what is allowed.
        let (open, times) = (
            *choices.pick(&[
                "(",
                "-",
                "not ",
                "abs(",
                "min(",
                "1 + ",
                "not not (",
                "every cell has ",
            ]),
            [40, 600, 20_000][choices.below(3)],
        );
        return format!("{}cell.rest_voltage", open.repeat(times));
    }
    let piece = |choices: &mut Choices<'_>| {
        if choices.one_in(4) {
            FACTS[choices.below(FACTS.len())].name.clone()
        } else {
            (*choices.pick(&PIECES)).to_owned()
        }
    };
    let gap = if choices.one_in(3) { "" } else { " " };
    (0..choices.below(30))
        .map(|_| piece(choices))
        .collect::<Vec<_>>()
        .join(gap)
}

/// Any text as a formula: of letters, of pieces, and of whole formulas with damage.
#[test]
fn any_formula_is_read_or_refused() {
    let letters = prop_oneof![r"\PC{0,40}", r"[a-z0-9_. ()<>=*/+\-,]{0,60}"];
    law(
        "any formula is read or refused",
        500,
        (words(80), words(120), letters),
        |(pieces, grown, letters), seen| {
            let mut choices = Choices::of(&pieces);
            let written = match choices.below(3) {
                0 => formula(&mut choices),
                1 => letters,
                _ => {
                    let text =
                        crate::generate::ruleset::ruleset(&mut Choices::of(&grown), &[], false)
                            .cautions[0]
                            .refuse_unless
                            .as_ref()
                            .map(crate::generate::formula::Condition::text);
                    String::from_utf8_lossy(&damaged(
                        text.unwrap_or_default().as_bytes(),
                        &mut choices,
                    ))
                    .into_owned()
                }
            };
            let quoted = serde_json::Value::from(written.as_str());
            let rules = format!(
                "format: 1\nruleset: r\nversion: 1.0.0\ntitle: t\nlimits: {{ l0: {{ value: 3 V, stricter: higher, meaning: m }} }}\ncautions:\n  - id: c\n    title: t\n    about: each cell\n    \
             refuse_unless: {quoted}\n    reason: {quoted}\n"
            );
            let started = Instant::now();
            let (_, loaded) = (
                rules_core::formula::parse(&written),
                load_text(&rules, "yaml"),
            );
            soon(started, &written)?;
            seen.count(1);
            match loaded {
                Ok(rules) => runs(
                    &rules,
                    "format: 1\ntitle: t\narrangement: 2S2P\ncells: [{ id: K1 }]\n".as_bytes(),
                    Syntax::Yaml,
                    seen,
                ),
                Err(problems) => well_placed(&problems, &rules),
            }
        },
    );
}

/// Any bytes as a ruleset or a proposal, in YAML or JSON: arbitrary ones, and good documents with
/// damage.
#[test]
fn any_bytes_are_read_or_refused() {
    let bytes = prop::collection::vec(any::<u8>(), 0..60);
    law(
        "any bytes are read or refused",
        500,
        (three(), bytes),
        |([rules, proposal, damage], bytes), seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let mut choices = Choices::of(&damage);
            let (style, of_rules) = (Style::chosen(&mut choices), choices.one_in(2));
            let good = if of_rules {
                scene.ruleset.doc().write(style)
            } else {
                scene.draft.doc().write(style)
            };
            let bad = if choices.one_in(4) {
                bytes
            } else {
                damaged(good.as_bytes(), &mut choices)
            };
            let started = Instant::now();
            let shown = String::from_utf8_lossy(&bad).into_owned();
            let syntax = if style == Style::Json {
                Syntax::Json
            } else {
                Syntax::Yaml
            };
            seen.count(1);
            if !of_rules {
                runs(&scene.rules, &bad, syntax, seen)?;
                return soon(started, &shown);
            }
            let name = format!("rules.{}", style.ending());
            match crate::generate::setting::load_files(&[(name.clone(), bad)], &[&name]) {
                Ok(rules) => runs(
                    &rules,
                    scene.draft.doc().write(Style::Yaml).as_bytes(),
                    Syntax::Yaml,
                    seen,
                )?,
                Err(problems) => well_placed(&problems, &shown)?,
            }
            soon(started, &shown)
        },
    );
}

/// A few hurts: bytes taken out, put in, changed, or a stretch said many times.
pub(crate) fn damaged(good: &[u8], choices: &mut Choices<'_>) -> Vec<u8> {
    let mut bytes = good.to_vec();
    for _ in 0..1 + choices.below(4) {
        let at = choices.below(bytes.len() + 1);
        let end = (at + choices.below(12)).min(bytes.len());
        match choices.below(6) {
            0 => drop(bytes.drain(at..end)),
            1 => bytes.insert(at, *choices.pick(b"{}[]:,-#&*!|>'\"%@`\n\t \0\xff\xc3~?0")),
            2 if at < bytes.len() => {
                bytes[at] = bytes[at].wrapping_add(u8::try_from(1 + choices.below(255)).unwrap())
            }
            3 => {
                let stretch = bytes[at..end].repeat([2, 40, 3000][choices.below(3)]);
                bytes.splice(at..at, stretch);
            }
            4 => bytes.truncate(at),
            _ => {
                let word = *choices.pick(&[
                    "1e999", ".nan", "null", "~", "!!str ", "&a ", "*a", "<<: ", "---\n", "...\n",
                    "yes", "{{", "}}", "± ", "\u{feff}", "- - - ",
                ]);
                bytes.splice(at..at, word.bytes());
            }
        }
    }
    bytes
}

/// A proposal in bytes is refused with its place, or checked with work in bounds.
pub(crate) fn runs(
    rules: &Rules,
    proposal: &[u8],
    syntax: Syntax,
    seen: &Seen,
) -> Result<(), TestCaseError> {
    let shown = String::from_utf8_lossy(proposal).into_owned();
    let proposal = match Proposal::read("proposal", proposal.to_vec(), syntax) {
        Ok(proposal) => proposal,
        Err(problems) => return well_placed(&problems, &shown),
    };
    match check(rules, &proposal, Options::default()) {
        Ok(report) => {
            seen.count(1);
            let cells = shown.matches("id").count() + 10_000;
            prop_assert!(report.counts.checks <= report.counts.cautions * cells);
            prop_assert!(serde_json::to_string(&report).is_ok());
            Ok(())
        }
        Err(problems) => well_placed(&problems, &shown),
    }
}

/// A refusal says something, and where.
fn well_placed(problems: &[Problem], text: &str) -> Result<(), TestCaseError> {
    let lines = text.lines().count() + 1;
    let good = |problem: &Problem| {
        !problem.message.is_empty()
            && problem
                .place
                .as_ref()
                .is_none_or(|place| (1..=lines).contains(&place.line) && place.column >= 1)
    };
    if !problems.is_empty() && problems.iter().all(good) {
        return Ok(());
    }
    Err(broken(
        format!("a refusal that does not say what and where: {problems:?}"),
        &[("text", text)],
    ))
}

fn soon(started: Instant, text: &str) -> Result<(), TestCaseError> {
    let took = started.elapsed();
    if took < LONG {
        Ok(())
    } else {
        Err(broken(format!("it took {took:?}"), &[("text", text)]))
    }
}

/// How many packs there are, with the one that nobody names.
fn packs(draft: &Draft) -> usize {
    draft.pack_names().len() + usize::from(draft.has_nameless_pack())
}

/// The work is each caution once for each of its subjects.
#[test]
fn work_is_cautions_times_subjects() {
    law(
        "work is cautions times subjects",
        100,
        three(),
        |[rules, proposal, _], seen| {
            let scene = Scene::grow(&rules, &proposal, Plan::ANY)?;
            let report = scene.report(&scene.draft, None)?;
            let (cells, packs) = (scene.draft.cells.len(), packs(&scene.draft));
            let most: usize = scene
                .ruleset
                .cautions
                .iter()
                .map(|caution| match caution.about.many() {
                    Some(Many::Packs) => packs,
                    Some(_) => cells,
                    None => 1,
                })
                .sum();
            let each = |caution: &Caution| match caution.about {
                Subject::Pack => packs,
                _ => 1,
            };
            let least = scene.ruleset.cautions.iter().map(each).sum();
            seen.count(report.counts.checks);
            prop_assert!(
                (least..=most).contains(&report.counts.checks),
                "{} checks, {least} to {most} expected",
                report.counts.checks
            );
            Ok(())
        },
    );
}
