//! Small rulesets, and the faults that loading finds in them.

use rules_core::document::{Fault, Problem, ProblemList};
use rules_core::ruleset::{Rules, Texts};

pub(crate) fn head(name: &str) -> String {
    format!("format: 1\nruleset: {name}\nversion: 1.0.0\ntitle: A ruleset\n")
}

/// One ruleset with these lines.
pub(crate) fn one(lines: &str) -> Texts {
    Texts::of([("one", format!("{}{lines}", head("one")))])
}

pub(crate) fn load(files: &[(&str, String)], names: &[&str]) -> Result<Rules, ProblemList> {
    let folder = Texts::of(files.iter().cloned());
    Rules::load(names, &folder, &rulesets::catalogue())
}

/// The faults of one ruleset with these lines.
pub(crate) fn faults(lines: &str) -> Vec<Fault> {
    Rules::load(&["one"], &one(lines), &rulesets::catalogue())
        .map(|_| Vec::new())
        .unwrap_or_else(|problems| of(&problems))
}

pub(crate) fn of(problems: &[Problem]) -> Vec<Fault> {
    problems.iter().map(|problem| problem.fault).collect()
}

pub(crate) fn limit(name: &str, basis: &str) -> String {
    format!(
        "limits:\n  {name}: {{ value: 3 V, stricter: higher, meaning: A limit, basis: [{basis}] }}\n"
    )
}

pub(crate) fn caution(about: &str, rung: &str) -> String {
    format!(
        "cautions:\n  - {{ id: tested, title: T, about: {about}, refuse_unless: \"{rung}\", reason: r, basis: [{{ common_practice: example }}] }}\n"
    )
}
