//! What all forms say alike: of a finding, of a problem, and on one line.

use std::collections::BTreeSet;

use crate::check::{FactReport, FactState, Finding, Report};
use crate::document::{Place, Problem, harmless};
use crate::report::text::{self, InTheOpen, Standing, doubt, standing, without_shipped};
use crate::ruleset::{LoadedRuleset, Rules, Template};

/// A finding with its subject: title, whom it is of, how sure it is, and why.
pub(super) fn finding(finding: &Finding, report: &Report) -> String {
    let (title, subject) = (&finding.title, &finding.subject);
    format!("{title}: {subject}. {}", why(finding, report))
}

/// Why, and what else it could be where it is not settled. Where nobody answered yet, what is asked:
/// no reason accuses.
pub(super) fn why(finding: &Finding, report: &Report) -> String {
    let reason = match standing(finding) {
        Standing::Open => format!("Not known: {}.", asked(finding, report)),
        Standing::InDoubt | Standing::Against => finding.reason.to_string(),
    };
    match doubt(finding) {
        Some(doubt) => format!("{reason} ({doubt})"),
        None => reason,
    }
}

/// The keys of what is missing.
fn asked(finding: &Finding, report: &Report) -> String {
    let keys: BTreeSet<String> = missing(finding, report).collect();
    keys.into_iter().collect::<Vec<_>>().join(", ")
}

/// Where each fact that is missing is written: `cables[K4].rated.current`.
pub(super) fn missing<'r>(
    finding: &'r Finding,
    report: &'r Report,
) -> impl Iterator<Item = String> + 'r {
    let listed = finding.facts.iter().map(|fact| &**fact);
    let listed = listed.filter(|fact| fact.state == FactState::Missing);
    let is_listed = |name: &str| finding.facts.iter().any(|fact| fact.name == *name);
    let others = finding
        .missing
        .iter()
        .filter(move |name| !is_listed(name.as_ref()));
    let key = |fact: &FactReport| match report.places.get(&fact.name) {
        Some(place) => place.path(&fact.subject),
        None => fact.name.to_string(),
    };
    listed.map(key).chain(others.map(ToString::to_string))
}

/// The first place where the proposal gives a fact that took part.
pub(super) fn place(finding: &Finding) -> Option<&Place> {
    finding.facts.iter().find_map(|fact| fact.place.as_ref())
}

/// A problem with how to correct it.
pub(super) fn problem(problem: &Problem) -> String {
    match &problem.help {
        Some(help) => format!("{}; {help}", problem.message),
        None => problem.message.clone(),
    }
}

/// What a rule says to do, with a sign in place of each value.
pub(super) fn template(template: &Template) -> String {
    let words = template.words.iter();
    words.map(|text| text.as_deref().unwrap_or("…")).collect()
}

/// The stage of each caution by its name; of one that is of every stage, that.
pub(super) fn stage_of(caution: &crate::ruleset::Caution, rules: &Rules) -> String {
    let stage = rules.stage_of(caution);
    stage.map_or_else(|| "every stage".to_owned(), |stage| stage.id.to_string())
}

/// What weakens the check of a report.
pub(super) fn in_the_open(report: &Report) -> Vec<InTheOpen> {
    let without = without_shipped(report).map(|says| InTheOpen {
        of: "rules".to_owned(),
        title: "Without the shipped rules".to_owned(),
        says: says.to_owned(),
    });
    let all = text::in_the_open(report.acceptance, &report.loosened);
    without.into_iter().chain(all).collect()
}

/// The version of a ruleset with its digest, and its file where it is not a shipped one.
pub(super) fn version(loaded: &LoadedRuleset) -> String {
    let file = loaded.file.as_ref();
    let file = file.map(|file| format!(" ({file})")).unwrap_or_default();
    format!("{}{file} {}", loaded.version, loaded.digest)
}

/// A text on one line, in which nothing acts.
pub(super) fn one_line(text: &str) -> String {
    let words: Vec<&str> = text.split(['\n', '\r', '\t']).map(str::trim).collect();
    let joined = words.join(" ");
    harmless(joined.trim()).into_owned()
}
