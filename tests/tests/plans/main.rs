//! The shipped rules beside what an expert says of a plan. The plans and their verdicts stand in
//! `tests/plans/`, and were written down before any rule was run on them.
#![cfg(test)]

mod answers;
mod first_page;
mod plan;
mod would_change;
mod would_lift;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use plan::{Level, Plan, Set, plans};
use rules_core::check::{Options, Report, Verdict, check};
use rules_core::document::Syntax;
use rules_core::ruleset::Rules;
use rulesets::bench::{self, Benches};
use rulesets::jobs::{Trial, would_change, would_lift};
use rulesets::shipped::Shipped;

/// A plan at a level, with the report of it.
struct Judged {
    plan: Plan,
    level: Level,
    report: Report,
}

/// Both sets, judged once for all tests.
static JUDGED: LazyLock<[Vec<Judged>; 2]> = LazyLock::new(|| Set::ALL.map(judge));

fn judged(set: Set) -> &'static [Judged] {
    match set {
        Set::First => &JUDGED[0],
        Set::Blind => &JUDGED[1],
    }
}

static RULES: LazyLock<Rules> = LazyLock::new(|| {
    let rules = Rules::load(&["rescued-cells"], &Shipped, &rulesets::catalogue());
    rules.unwrap_or_else(|problems| panic!("{problems:#?}"))
});

fn judge(set: Set) -> Vec<Judged> {
    let each = |plan: Plan| {
        Level::ALL.into_iter().map(move |level| Judged {
            report: report(&plan, level),
            plan: plan.clone(),
            level,
        })
    };
    plans(set).into_iter().flat_map(each).collect()
}

fn read(plan: &Plan, level: Level) -> bench::Plan {
    let name = format!("{}, {}", plan.name, level.name());
    let text = plan.proposal(level).into_bytes();
    let read = bench::Plan::read(&name, text, Syntax::Yaml, &mut Benches::of(&Shipped));
    read.unwrap_or_else(|problems| panic!("{name}: {problems:#?}"))
}

/// The report of a plan, with what would change it and which answers would lift it.
fn report(plan: &Plan, level: Level) -> Report {
    let (rules, options) = (&*RULES, Options::default());
    let read = read(plan, level);
    let proposal = read.proposal(Some(rules));
    let report = proposal.and_then(|proposal| check(rules, &proposal, options));
    let trial = Trial::of(&read, rules, options);
    match (report, trial) {
        (Ok(mut report), Ok(trial)) => {
            report.would_change = would_change(&trial, &report);
            report.would_lift = would_lift(&trial, &report);
            report
        }
        (report, _) => panic!("{}: {:#?}", plan.name, report.err()),
    }
}

/// How many plans have which verdict, by what the expert says: refuse, warn and pass.
fn table(judged: &[Judged]) -> BTreeMap<(Level, Verdict), [usize; 3]> {
    let mut table = BTreeMap::new();
    for one in judged {
        let row: &mut [usize; 3] = table.entry((one.level, one.plan.verdict)).or_default();
        row[match one.report.gravest().verdict {
            Verdict::Refuse => 0,
            Verdict::Warn => 1,
            Verdict::Pass => 2,
        }] += 1;
    }
    table
}

/// What stands in the way of plans of one verdict at one level, the most often first.
fn in_the_way(judged: &[Judged], level: Level, verdict: Verdict) -> Vec<(usize, String)> {
    let mut often: BTreeMap<String, usize> = BTreeMap::new();
    let of_these = |one: &&Judged| one.level == level && one.plan.verdict == verdict;
    for one in judged.iter().filter(of_these) {
        let findings = one.report.findings.iter();
        let mut named: Vec<String> = findings
            .map(|finding| {
                let (verdict, missing) = (finding.verdict.word(), finding.missing.join(" "));
                format!("{verdict} {}, missing: {missing}", finding.caution)
            })
            .collect();
        named.sort();
        named.dedup();
        for name in named {
            *often.entry(name).or_default() += 1;
        }
    }
    let mut often: Vec<_> = often
        .into_iter()
        .map(|(name, count)| (count, name))
        .collect();
    often.sort_by(|a, b| b.cmp(a));
    often
}

fn told(set: Set) -> &'static [Judged] {
    let judged = judged(set);
    println!("{set:?}: level, expert: refuse, warn, pass by the rules");
    for ((level, expert), [refuse, warn, pass]) in table(judged) {
        let expert = expert.word();
        println!("{}, {expert}: {refuse} {warn} {pass}", level.name());
    }
    for (count, name) in in_the_way(judged, Level::Hobby, Verdict::Pass) {
        println!("{count} {name}");
    }
    judged
}

/// The names of plans that the rules and the expert judge so, with more than is told unasked.
fn names(judged: &[Judged], rules: Verdict, expert: Verdict) -> Vec<&str> {
    let so = |one: &&Judged| {
        one.level != Level::Unasked
            && one.report.gravest().verdict == rules
            && one.plan.verdict == expert
    };
    judged
        .iter()
        .filter(so)
        .map(|one| one.plan.name.as_str())
        .collect()
}

/// Whoever is passed wrongly gets hurt.
#[test]
fn no_plan_that_an_expert_refuses_passes() {
    for set in Set::ALL {
        let judged = told(set);
        let passed = judged
            .iter()
            .filter(|one| one.report.gravest().verdict == Verdict::Pass);
        let wrongly = passed.filter(|one| one.plan.verdict == Verdict::Refuse);
        let wrongly: Vec<_> = wrongly.map(|one| (&one.plan.name, one.level)).collect();
        assert!(wrongly.is_empty(), "{wrongly:?}");
    }
}

/// Who is always refused stops asking. Of what an expert passes none is refused, and eight of ten
/// pass, with the instruments of a hobby.
#[test]
fn what_an_expert_passes_is_not_refused() {
    for set in Set::ALL {
        let judged = judged(set);
        let refused = names(judged, Verdict::Refuse, Verdict::Pass);
        assert!(refused.is_empty(), "{refused:?}");
        let [_, warn, pass] = table(judged)[&(Level::Hobby, Verdict::Pass)];
        assert!(
            10 * pass >= 8 * (warn + pass),
            "{pass} pass and {warn} warn"
        );
    }
}

/// Before anything is asked for, nothing passes.
#[test]
fn what_is_told_unasked_never_passes() {
    for set in Set::ALL {
        let judged = judged(set);
        let unasked = judged.iter().filter(|one| one.level == Level::Unasked);
        let passed = unasked.filter(|one| one.report.gravest().verdict == Verdict::Pass);
        assert_eq!(passed.count(), 0);
    }
}
