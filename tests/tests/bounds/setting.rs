//! Rulesets and proposals as the bounds are tried on.

use rules_core::check::{Options, Report, check};

use rules_core::ruleset::{Rules, Texts};

use rules_core::document::{Fault, Problem, ProblemList, Syntax};
use rules_core::vetting::Vetting;
use rulesets::proposal::Proposal;

pub(crate) fn rules(text: &str) -> Result<Rules, ProblemList> {
    Rules::load(
        &["rules"],
        &Texts::of([("rules", text)]),
        &rulesets::catalogue(),
    )
}

pub(crate) const HEAD: &str = "format: 1\nruleset: bounds\nversion: 1.0.0\ntitle: Bounds\n";

pub(crate) fn caution(about: &str, rung: &str) -> String {
    format!(
        "cautions:\n  - {{ id: tested, title: Tested, about: {about}, refuse_unless: \"{rung}\", reason: outside, basis: [{{ common_practice: example }}] }}\n"
    )
}

pub(crate) fn checked(rules_text: &str, proposal: String) -> Report {
    let rules = rules(rules_text).unwrap_or_else(|problems| panic!("{problems:?}"));
    let proposal = Proposal::read("proposal", proposal.into_bytes(), Syntax::Yaml)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    check(&rules, &proposal, Options::default()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

pub(crate) fn vetted(text: &str) -> Result<Vetting, ProblemList> {
    Vetting::load(
        &["one"],
        &Texts::of([("one", text)]),
        &rulesets::catalogue(),
    )
}

pub(crate) fn told_at(problem: &Problem) -> (Fault, String) {
    let place = problem.place.as_ref();
    let place = place.map_or("nowhere".to_owned(), |place| {
        format!("{}:{}", place.file, place.line)
    });
    (problem.fault, place)
}
