//! What each caution comes to for each of its subjects, and the report, by LANGUAGE.md section 6.

use rules_core::check::{RungName, Status, Verdict};

use super::end::Close;
use super::evaluate::{Seat, Walk};
use super::explain::{Named, Search};
use super::grammar::Tree;
use super::proposal::{Proposal, UNNAMED};
use super::rules::{Caution, Rules};
use super::truth::Truth;

/// A finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Finding {
    pub(crate) said: Said,
    /// The deciding facts.
    pub(crate) facts: Named,
    /// Whether all facts are listed, or only those that are missing.
    pub(crate) whole: bool,
}

/// What a finding says, but for its facts.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Said {
    pub(crate) caution: String,
    pub(crate) subject: String,
    /// How many it stands for: cells that are not listed have one finding.
    pub(crate) count: usize,
    pub(crate) verdict: Verdict,
    pub(crate) best: Verdict,
    pub(crate) worst: Verdict,
    /// The words of the status.
    pub(crate) status: &'static str,
    /// The key of the deciding rung.
    pub(crate) rung: &'static str,
}

/// What a check comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Outcome {
    /// None if some stages are asked for.
    pub(crate) whole: Option<Whole>,
    /// In order, those that are asked for.
    pub(crate) stages: Vec<(String, Whole)>,
    /// What is no pass, sorted.
    pub(crate) findings: Vec<Finding>,
    /// The cautions that apply to none of their subjects, sorted.
    pub(crate) not_applicable: Vec<String>,
}

/// A verdict, and what else it could be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Whole {
    pub(crate) verdict: Verdict,
    pub(crate) best: Verdict,
    pub(crate) worst: Verdict,
    pub(crate) nothing_checked: bool,
}

/// The outcome, with how many judgements it rests on; no outcome where rounding alone would decide.
/// No stage asked for is all of it.
pub(crate) fn check(
    rules: &Rules,
    proposal: &Proposal,
    simple: bool,
    asked: &[&str],
) -> (Option<Outcome>, usize) {
    let walk = Walk {
        rules,
        proposal,
        simple,
        close: Close::default(),
    };
    let mut judged = Vec::new();
    let is_asked = |stage: &String| asked.is_empty() || asked.contains(&stage.as_str());
    let wanted = |caution: &&Caution| caution.stage.as_ref().is_none_or(is_asked);
    let cautions: Vec<&Caution> = rules.cautions.iter().filter(wanted).collect();
    for caution in &cautions {
        for (seat, name) in subjects(&walk, caution) {
            judged.push((*caution, name, judge(&walk, caution, seat)));
        }
    }
    let count = judged.len();
    if walk.close.met() {
        return (None, count);
    }
    let stages = rules.stages.iter().filter(|stage| is_asked(stage));
    let made = Outcome {
        whole: asked.is_empty().then(|| whole(&judged, |_| true, |_| true)),
        stages: stages
            .map(|stage| (stage.clone(), of_stage(&judged, stage)))
            .collect(),
        findings: findings(&judged),
        not_applicable: not_applicable(&cautions, &judged),
    };
    (Some(made), count)
}

fn subjects<'w>(walk: &Walk<'w>, caution: &'w Caution) -> Vec<(Seat<'w>, String)> {
    let called = |name: &str| format!("{} {name}", caution.about);
    match (caution.about.as_str(), &walk.proposal.groups) {
        ("cell", _) => walk
            .proposal
            .cells
            .iter()
            .enumerate()
            .map(|(at, cell)| (walk.seat("cell", at), called(&cell.name)))
            .collect(),
        ("group", Some(groups)) => groups
            .iter()
            .enumerate()
            .map(|(at, group)| (walk.seat("group", at), called(&group.name)))
            .collect(),
        ("group", None) => vec![(walk.seat("group", 0), called(UNNAMED))],
        ("pack", _) => walk
            .proposal
            .packs
            .iter()
            .enumerate()
            .map(|(at, pack)| (walk.seat("pack", at), called(&pack.name)))
            .collect(),
        (single, _) => vec![(walk.seat(single, 0), single.to_owned())],
    }
}

/// What a caution comes to for a subject.
struct Judged {
    applies: Truth,
    verdict: Verdict,
    best: Verdict,
    worst: Verdict,
    status: Status,
    rung: RungName,
    facts: Named,
}

fn judge<'w>(walk: &Walk<'w>, caution: &'w Caution, seat: Seat<'w>) -> Judged {
    let of = |formula: &'w Option<Tree>| {
        formula
            .as_ref()
            .map_or(Truth::Yes, |tree| walk.truth(tree, seat))
    };
    let applies = of(&caution.applies_when);
    let fails = |rung: &'w Option<Tree>| Truth::and([applies, of(rung).not()]);
    let (refuse, warn) = (fails(&caution.refuse_unless), fails(&caution.warn_unless));
    let by_doubt = |failure: Truth| failure.doubts().is_some_and(|(doubt_yes, _)| doubt_yes);
    let unmeasured = refuse.doubts().is_some() && !by_doubt(refuse);
    let verdict = match (refuse, warn) {
        (Truth::Open { .. }, _) if unmeasured && caution.unmeasured_warns => Verdict::Warn,
        (Truth::Yes | Truth::Open { .. }, _) => Verdict::Refuse,
        (Truth::No, Truth::Yes | Truth::Open { .. }) => Verdict::Warn,
        (Truth::No, Truth::No) => Verdict::Pass,
    };
    let highest = |fails: &dyn Fn(Truth) -> bool| match (fails(refuse), fails(warn)) {
        (true, _) => Verdict::Refuse,
        (false, true) => Verdict::Warn,
        (false, false) => Verdict::Pass,
    };
    let (worst, best) = (
        highest(&|failure| failure != Truth::No).max(verdict),
        highest(&|failure| failure == Truth::Yes),
    );
    let status = if worst == best {
        Status::Decided
    } else if by_doubt(refuse) || by_doubt(warn) {
        Status::InDoubt
    } else {
        Status::Unmeasured
    };
    let rung = if refuse == Truth::No {
        RungName::WarnUnless
    } else {
        RungName::RefuseUnless
    };
    let facts = if verdict == Verdict::Pass {
        Named::default()
    } else {
        deciding(walk, caution, seat, (rung, applies))
    };
    Judged {
        applies,
        verdict,
        best,
        worst,
        status,
        rung,
        facts,
    }
}

/// The facts that keep the deciding rung from being surely met, and those that leave the condition
/// open.
fn deciding<'w>(
    walk: &Walk<'w>,
    caution: &'w Caution,
    seat: Seat<'w>,
    (rung, applies): (RungName, Truth),
) -> Named {
    let mut search = Search::new(walk);
    let formula = if rung == RungName::RefuseUnless {
        &caution.refuse_unless
    } else {
        &caution.warn_unless
    };
    formula.iter().for_each(|tree| search.rung(tree, seat));
    if applies.doubts().is_some() {
        caution
            .applies_when
            .iter()
            .for_each(|tree| search.condition(tree, seat));
    }
    search.found
}

type All<'w> = [(&'w Caution, String, Judged)];

/// What the cautions of a stage come to, with the findings of those of every stage.
fn of_stage(judged: &All<'_>, stage: &str) -> Whole {
    whole(
        judged,
        |caution| caution.stage.as_deref().is_none_or(|own| own == stage),
        |caution| caution.stage.as_deref() == Some(stage),
    )
}

/// What the cautions that count come to; it is checked if one that checks it applies.
fn whole(
    judged: &All<'_>,
    counts: impl Fn(&Caution) -> bool,
    checks: impl Fn(&Caution) -> bool,
) -> Whole {
    let counted = || judged.iter().filter(|(caution, ..)| counts(caution));
    let highest = |of: fn(&Judged) -> Verdict| counted().map(|(_, _, judged)| of(judged)).max();
    let applies = |is: fn(Truth) -> bool| {
        let mut checking = judged.iter().filter(|(caution, ..)| checks(caution));
        checking.any(|(_, _, judged)| is(judged.applies))
    };
    let found = counted().any(|(_, _, judged)| judged.verdict != Verdict::Pass);
    if !found && !applies(|truth| truth == Truth::Yes) {
        let could = applies(|truth| truth != Truth::No);
        return Whole {
            verdict: Verdict::Warn,
            best: if could { Verdict::Pass } else { Verdict::Warn },
            worst: Verdict::Warn,
            nothing_checked: true,
        };
    }
    Whole {
        verdict: highest(|judged| judged.verdict).unwrap_or(Verdict::Pass),
        best: highest(|judged| judged.best).unwrap_or(Verdict::Pass),
        worst: highest(|judged| judged.worst).unwrap_or(Verdict::Pass),
        nothing_checked: false,
    }
}

fn findings(judged: &All<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = judged
        .iter()
        .filter_map(|(caution, name, judged)| finding(caution, name, judged))
        .collect();
    findings.sort_by(|one, other| one.said.cmp(&other.said));
    unlisted_as_one(findings)
}

/// The cautions that apply nowhere.
fn not_applicable(cautions: &[&Caution], judged: &All<'_>) -> Vec<String> {
    let nowhere = |id: &str| {
        judged
            .iter()
            .filter(|(caution, ..)| caution.id == id)
            .all(|(_, _, judged)| judged.applies == Truth::No)
    };
    let ids = cautions.iter().map(|caution| caution.id.clone());
    let mut all: Vec<String> = ids.filter(|id| nowhere(id)).collect();
    all.sort();
    all
}

/// Cells that are not listed, and groups of such cells, have one finding of each caution, which
/// says how many they are. Here each was judged on its own, so that they show to be alike.
fn unlisted_as_one(findings: Vec<Finding>) -> Vec<Finding> {
    let mut all: Vec<Finding> = Vec::new();
    for finding in findings {
        match all.last_mut() {
            Some(last)
                if finding.said.subject.ends_with(UNNAMED)
                    && (&last.said.caution, &last.said.subject)
                        == (&finding.said.caution, &finding.said.subject) =>
            {
                let count = last.said.count;
                last.said.count = 1;
                assert_eq!(*last, finding, "cells of which nothing is known are alike");
                last.said.count = count + 1;
            }
            _ => all.push(finding),
        }
    }
    all
}

fn finding(caution: &Caution, name: &str, judged: &Judged) -> Option<Finding> {
    let said = Said {
        caution: caution.id.clone(),
        subject: name.to_owned(),
        count: 1,
        verdict: judged.verdict,
        best: judged.best,
        worst: judged.worst,
        status: judged.status.words(),
        rung: judged.rung.key(),
    };
    (judged.verdict != Verdict::Pass).then(|| Finding {
        said,
        facts: judged.facts.clone(),
        whole: true,
    })
}
