//! Coverage by outcome: every fault, every thing that vetting says, and every way in which a
//! finding can have is produced by the conformance suite or by a small file here.

use std::collections::BTreeSet;

use rules_core::check::{Finding, Report};
use rules_core::document::{Fault, Problem, Severity, Syntax};
use rules_core::ruleset::Texts;
use rules_core::vetting::{Vetting, worth_a_look};
use rules_tests::conformance::cases;
use rules_tests::one_caution::{self, BASIS, LIMIT};
use rulesets::proposal::Proposal;

use super::run::{Came, run};

/// What came of every case of the suite.
fn suite() -> Vec<Came> {
    cases().expect("the suite").iter().map(run).collect()
}

/// What vetting says of a ruleset with these definitions and one caution.
fn vetted(definitions: &str, caution: &str) -> Vec<Problem> {
    one_caution::vetted(definitions, caution).expect("the ruleset loads")
}

/// What vetting says, by the words of it that do not change, and a ruleset that it says it of.
#[rustfmt::skip]
const ADVICE: &[(&str, &str, &str)] = &[
    ("the caution `tested` has no basis", LIMIT, "refuse_unless: cell.rest_voltage >= limit.floor"),
    ("the limit `bare` has no basis", "limits:\n  bare: { value: 3.00 V, stricter: higher, meaning: Floor }\n", "refuse_unless: cell.rest_voltage >= limit.bare"),
    ("the caution `tested` can never apply", LIMIT, "applies_when: cell.rest_voltage > 20 V\nrefuse_unless: cell.rest_voltage >= limit.floor"),
    ("the caution `tested` can never fail", LIMIT, "refuse_unless: cell.rest_voltage >= -5 V"),
    ("what the caution `tested` asks can never be kept", LIMIT, "refuse_unless: cell.rest_voltage > 20 V"),
    ("the warn rung of `tested` asks no more than its refuse rung", LIMIT, "refuse_unless: cell.rest_voltage >= 3 V\nwarn_unless: cell.rest_voltage >= 2.9 V"),
    ("a stricter `limit.floor` would be easier to keep here", LIMIT, "refuse_unless: cell.rest_voltage <= limit.floor"),
    ("`limit.share` is the plain number 80, and is compared with a ratio", "limits:\n  share: { value: 80, stricter: higher, meaning: Share }\n", "refuse_unless: cell.capacity / cell.rated_capacity >= limit.share"),
    ("no case of `tested` shows a decided `pass`", LIMIT, "refuse_unless: cell.rest_voltage >= limit.floor"),
    ("nothing uses the limit `floor`", LIMIT, "refuse_unless: cell.rest_voltage >= 3 V"),
    ("nothing uses the figure `spare`", "figures:\n  spare: { about: build, is: build.series, meaning: Spare }\n", "refuse_unless: cell.rest_voltage >= 3 V"),
    ("nothing uses the source `sheet`", "sources:\n  sheet: { title: Sheet, publisher: a supplier, year: 2012, read: second-hand }\n", "refuse_unless: cell.rest_voltage >= 3 V"),
    ("nothing uses the stage `fitting`", "stages: { fitting: Fitting cell and light }\n", "refuse_unless: cell.rest_voltage >= 3 V"),
    ("this case of `tested` gives refuse, decided; it expects pass, decided", LIMIT, "refuse_unless: cell.rest_voltage >= limit.floor\ncases: [{ given: { cell.rest_voltage: 2.9 V }, expect: pass }]"),
];

/// Outcomes that a caution can have, and the words by which vetting asks for a case of each.
const OUTCOMES: [&str; 6] = [
    "pass",
    "warn",
    "refuse",
    "not-applicable",
    "doubt",
    "unmeasured",
];

#[test]
fn everything_that_vetting_says_is_said() {
    for (words, definitions, caution) in ADVICE {
        let found = vetted(
            definitions,
            &if words.contains("has no basis") {
                (*caution).to_owned()
            } else {
                format!("{caution}\n{BASIS}")
            },
        );
        // A case that fails is an error; all else is advice.
        let severity = if words.starts_with("this case") {
            Severity::Error
        } else {
            Severity::Advice
        };
        assert!(
            found
                .iter()
                .any(|problem| problem.message.contains(words) && problem.severity == severity),
            "`{words}`: {found:#?}"
        );
    }
    let all = "applies_when: cell.class != IFR\nrefuse_unless: cell.rest_voltage >= limit.floor\nwarn_unless: cell.rest_voltage >= 3.2 V";
    let asked = vetted(LIMIT, &format!("{all}\n{BASIS}"));
    let asked = asked
        .iter()
        .find(|problem| problem.message.starts_with("no case"))
        .unwrap();
    for outcome in OUTCOMES {
        assert!(
            asked.message.contains(outcome),
            "`{outcome}` is not asked for: {}",
            asked.message
        );
    }
}

/// A ruleset with all that is worth a look: a quantity that is no limit, two cautions that ask the same,
/// a limit from memory alone that refuses, readings for which no meter is assumed, and refusals without
/// a stage. It extends none of the shipped rulesets.
const WORTH_A_LOOK: &str = "format: 1
ruleset: night-relay
version: 1.0.0
title: Night relay lamps
stages: { using: Using }
limits:
  floor: { value: 3.00 V, stricter: higher, meaning: Floor, basis: [{ from_memory: a talk }] }
cautions:
  - { id: low, title: t, about: each cell, refuse_unless: cell.rest_voltage >= limit.floor, reason: r }
  - { id: same, title: t, about: each cell, refuse_unless: cell.rest_voltage >= limit.floor, reason: r }
  - { id: literal, title: t, about: each cell, refuse_unless: cell.rest_voltage >= 2 V, reason: r }
";

/// What is worth a look in it.
fn looks() -> Vec<Problem> {
    let files = Texts::of([("rules.yaml", WORTH_A_LOOK)]);
    let vetting = Vetting::load(&["rules.yaml"], &files, &rulesets::catalogue());
    worth_a_look(&vetting.expect("the ruleset loads"))
}

/// Faults that no case of the suite shows, each with how it comes about here.
fn faults_besides() -> Vec<Problem> {
    let proposal = |bytes: &[u8]| {
        Proposal::read("proposal", bytes.to_vec(), Syntax::Yaml)
            .err()
            .unwrap_or_default()
    };
    let mut all = proposal(b"format: 1\ntitle: \xff\narrangement: 1S\n").into_vec();
    all.extend(proposal(
        b"format: 1\narrangement: 1S\ncells: [{ id: K1, designation: 18-65-0 }]\n",
    ));
    all.extend(
        ADVICE.iter().flat_map(|(_, definitions, caution)| {
            vetted(definitions, &format!("{caution}\n{BASIS}"))
        }),
    );
    all.extend(looks());
    all.extend(vetted(
        LIMIT,
        "refuse_unless: cell.rest_voltage >= limit.floor",
    ));
    all
}

#[test]
fn every_fault_is_shown() {
    let shown: BTreeSet<Fault> = suite()
        .into_iter()
        .filter_map(Result::err)
        .flatten()
        .map(|problem| problem.fault)
        .collect();
    let besides: BTreeSet<Fault> = faults_besides()
        .iter()
        .map(|problem| problem.fault)
        .collect();
    let all = Fault::ALL;
    let nowhere: Vec<&Fault> = all
        .iter()
        .filter(|fault| !shown.contains(*fault) && !besides.contains(*fault))
        .collect();
    println!(
        "{} faults, {} by the suite, {} by files here",
        all.len(),
        shown.len(),
        besides.difference(&shown).count()
    );
    assert!(
        all.len() >= 42 && nowhere.is_empty(),
        "nothing shows {nowhere:?}"
    );
}

/// Verdict, best, worst, status and rung of a finding.
type Way = (
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    &'static str,
);

/// Every outcome that a finding can have, by the rules of LANGUAGE.md section 6 for a refuse and a
/// warn rung that fail surely, not at all, by doubt, or for want of a fact, with and without
/// `if_unmeasured: warn`.
#[rustfmt::skip]
const WAYS: [Way; 11] = [
    ("warn", "warn", "warn", "decided", "warn_unless"),
    ("warn", "pass", "warn", "in doubt", "warn_unless"),
    ("warn", "pass", "warn", "unmeasured", "warn_unless"),
    ("refuse", "refuse", "refuse", "decided", "refuse_unless"),
    ("refuse", "pass", "refuse", "in doubt", "refuse_unless"),
    ("refuse", "pass", "refuse", "unmeasured", "refuse_unless"),
    ("refuse", "warn", "refuse", "in doubt", "refuse_unless"),
    ("refuse", "warn", "refuse", "unmeasured", "refuse_unless"),
    ("warn", "pass", "refuse", "unmeasured", "refuse_unless"),
    ("warn", "warn", "refuse", "unmeasured", "refuse_unless"),
    ("warn", "pass", "refuse", "in doubt", "refuse_unless"),
];

fn way(finding: &Finding) -> Way {
    let (verdict, best, worst) = (
        finding.verdict.word(),
        finding.best.word(),
        finding.worst.word(),
    );
    (
        verdict,
        best,
        worst,
        finding.status.words(),
        finding.rung.key(),
    )
}

#[test]
fn every_way_a_finding_comes_out_is_shown() {
    let reports: Vec<Report> = suite().into_iter().filter_map(Result::ok).collect();
    let shown: BTreeSet<Way> = reports
        .iter()
        .flat_map(|report| &report.findings)
        .map(way)
        .collect();
    let wanted = BTreeSet::from(WAYS);
    println!("{} ways, {} shown", wanted.len(), shown.len());
    let (absent, unforeseen): (Vec<&Way>, Vec<&Way>) = (
        wanted.difference(&shown).collect(),
        shown.difference(&wanted).collect(),
    );
    assert!(
        absent.is_empty() && unforeseen.is_empty(),
        "not shown: {absent:?}; shown, and not foreseen: {unforeseen:?}"
    );
    let nothing = reports
        .iter()
        .filter(|report| report.gravest().nothing_checked)
        .map(|report| report.gravest().best.word())
        .collect::<BTreeSet<_>>();
    assert_eq!(
        nothing,
        BTreeSet::from(["pass", "warn"]),
        "nothing checked, with something that could apply and with nothing"
    );
}
