//! The oracle on the cases of `tests/conformance/`: what was worked out by hand from the language's
//! text it must say too.

use rules_core::check::{RungName, Status, Verdict};
use rules_tests::conformance::{self as suite, Case, Expect, cases};

use super::compare::difference;
use super::consistent::broken as relations_broken;
use super::end::Close;
use super::explain::Named;
use super::judge::{Finding, Outcome, Said, Whole, check};
use super::proposal;
use super::readings::contradict;
use super::rules::{Shelf, load};
use crate::generate::document::Doc;

#[test]
fn the_oracle_conforms() {
    let (mut count, mut close, mut failed) = (0, Vec::new(), Vec::new());
    for case in cases().expect("the suite") {
        let Expect::Outcome(expected) = &case.expect else {
            continue;
        };
        count += 1;
        match of_case(&case) {
            None => close.push(case.name.clone()),
            Some(outcome) => failed.extend(
                difference(&wanted(expected), &without_range(outcome))
                    .map(|said| format!("{}:\n{said}", case.name)),
            ),
        }
    }
    println!(
        "{count} cases, {} left to rounding: {close:#?}",
        close.len()
    );
    assert!(
        count >= 400 && failed.is_empty(),
        "{} of {count} (what `the engine` says is what the case says):\n{}",
        failed.len(),
        failed.join("\n")
    );
}

/// The rulesets that a case asks for, and those that its bench has in force.
fn asked(case: &Case) -> Vec<String> {
    let mut all: Vec<String> = case.given().into_iter().map(str::to_owned).collect();
    let beside = case.beside.iter().flatten();
    let benches = beside.filter(|(name, _)| name.ends_with(".yaml"));
    for (_, text) in benches {
        let bench = Doc::read(text);
        let rules = bench.get("rules").map(Doc::items).unwrap_or_default();
        let names = rules
            .iter()
            .map(|name| name.text().trim_start_matches("./"));
        all.extend(names.map(str::to_owned));
    }
    all
}

/// The proposal of a case: of one that takes from a bench, what results, as the suite has it.
fn plain(case: &Case) -> &str {
    match &case.expect {
        Expect::Outcome(outcome) => outcome.plain.as_deref().unwrap_or(&case.proposal),
        _ => &case.proposal,
    }
}

fn of_case(case: &Case) -> Option<Outcome> {
    let (rules, proposal) = loaded(case);
    check(&rules, &proposal, rules.simple, &case.stages()).0
}

/// What the suite calls too coarse is so here, and what has an outcome is not.
#[test]
fn the_oracle_finds_meters_that_are_too_coarse() {
    let (mut found, mut none) = (0, 0);
    for case in cases().expect("the suite") {
        let expected = match &case.expect {
            Expect::Outcome(_) => false,
            Expect::Failure(failure) if failure.error.about == "too-coarse" => true,
            _ => continue,
        };
        let (_, proposal) = loaded(&case);
        assert_eq!(proposal.too_coarse, expected, "{}", case.name);
        *(if expected { &mut found } else { &mut none }) += 1;
    }
    println!("{found} too coarse, {none} not");
    assert!(found >= 5 && none >= 400);
}

/// The rules of a case, and its proposal.
fn loaded(case: &Case) -> (super::rules::Rules, proposal::Proposal) {
    let asked = asked(case);
    let asked: Vec<&str> = asked.iter().map(String::as_str).collect();
    let rules = load(&shelf(case), &asked);
    let proposal = proposal::read(&Doc::read(plain(case)), &rules.defs, &rules.meters);
    (rules, proposal)
}

fn shelf(case: &Case) -> Shelf {
    let files = case.files().into_iter();
    files
        .map(|(name, text)| (name.to_owned(), Doc::read(text)))
        .collect()
}

/// What the suite calls a contradiction is one here, and what has an outcome is none.
#[test]
fn the_oracle_finds_contradictions() {
    let (mut found, mut none) = (0, 0);
    for case in cases().expect("the suite") {
        let expected = match &case.expect {
            Expect::Outcome(_) => false,
            Expect::Failure(failure) if failure.error.about == "contradiction" => true,
            _ => continue,
        };
        let Some(contradicts) = contradicts(&case) else {
            continue;
        };
        assert_eq!(contradicts, expected, "{}", case.name);
        *(if expected { &mut found } else { &mut none }) += 1;
    }
    println!("{found} contradictions, {none} without");
    assert!(found >= 30 && none >= 400);
}

fn contradicts(case: &Case) -> Option<bool> {
    let (rules, proposal) = loaded(case);
    let close = Close::default();
    let readings = contradict(&proposal, &close);
    let relations = relations_broken(&rules, &proposal)?;
    (!close.met()).then_some(readings || relations)
}

const fn verdict(of: suite::Verdict) -> Verdict {
    match of {
        suite::Verdict::Pass => Verdict::Pass,
        suite::Verdict::Warn => Verdict::Warn,
        suite::Verdict::Refuse => Verdict::Refuse,
    }
}

fn wanted(expected: &suite::Outcome) -> Outcome {
    let mut findings: Vec<Finding> = expected.findings.iter().map(finding).collect();
    findings.sort_by(|one, other| one.said.cmp(&other.said));
    let mut not_applicable = expected.not_applicable.clone();
    not_applicable.sort();
    let of_stage = |one: &suite::StageOutcome| {
        let range = (one.best, one.worst);
        (
            one.stage.clone(),
            whole(one.verdict, range, one.nothing_checked),
        )
    };
    let range = (expected.best, expected.worst);
    Outcome {
        whole: expected
            .verdict
            .map(|verdict| whole(verdict, range, expected.nothing_checked)),
        stages: expected.stages.iter().map(of_stage).collect(),
        findings,
        not_applicable,
    }
}

fn whole(
    given: suite::Verdict,
    (best, worst): (Option<suite::Verdict>, Option<suite::Verdict>),
    nothing_checked: bool,
) -> Whole {
    Whole {
        verdict: verdict(given),
        best: verdict(best.unwrap_or(given)),
        worst: verdict(worst.unwrap_or(given)),
        nothing_checked,
    }
}

fn without_range(mut outcome: Outcome) -> Outcome {
    outcome.findings.iter_mut().for_each(|finding| {
        (finding.said.best, finding.said.worst) = (Verdict::Pass, Verdict::Pass)
    });
    outcome
}

/// The suite does not say the best and the worst of a finding.
fn finding(of: &suite::Finding) -> Finding {
    let status = match of.status {
        suite::Status::Decided => Status::Decided,
        suite::Status::InDoubt => Status::InDoubt,
        suite::Status::Unmeasured => Status::Unmeasured,
    };
    let rung = match of.rung {
        suite::Rung::RefuseUnless => RungName::RefuseUnless,
        suite::Rung::WarnUnless => RungName::WarnUnless,
    };
    let said = Said {
        caution: of.caution.clone(),
        subject: of.subject.clone(),
        count: of.count,
        verdict: verdict(of.verdict),
        best: Verdict::Pass,
        worst: Verdict::Pass,
        status: status.words(),
        rung: rung.key(),
    };
    let facts: Named = of
        .facts
        .iter()
        .map(|name| (name.clone(), of.missing.contains(name)))
        .collect();
    Finding {
        said,
        facts,
        whole: true,
    }
}
