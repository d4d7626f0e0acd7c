//! JUnit XML: a suite for each proposal or ruleset, and a test for each caution.
//!
//! A caution that refuses is a failure. One that warns has passed with what it says as its output: a
//! server has no third state, and shows it there. One that applies to nothing is skipped. What cannot be
//! used is an error, and so is that nothing was checked: no suite is green by accident. Times are left
//! out, because the same input gives the same bytes.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use super::of_ruleset::{CasesOf, OfRuleset};
use super::said::{self, stage_of};
use super::tool::Tool;
use super::xml::{attribute, element};
use crate::check::{Finding, Report, Verdict};
use crate::document::Problem;
use crate::facts::Notice;
use crate::report::text::{InTheOpen, remedy};
use crate::ruleset::{Caution, Rules};

/// What comes after all suites.
pub(super) const END: &str = "</testsuites>\n";

/// What comes before them.
pub(super) fn start(tool: Tool<'_>) -> String {
    let name = attribute("name", tool.name);
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites{name}>\n")
}

/// A suite in the making.
#[derive(Default)]
struct Suite {
    tests: usize,
    failures: usize,
    errors: usize,
    skipped: usize,
    /// What stands before the cases.
    properties: String,
    cases: String,
}

/// What came of a test.
enum Came {
    Passed,
    /// Passed, with something to be read.
    Said(String),
    Skipped(&'static str),
    /// Of this type, with a line about it and the whole.
    Failed(String, String, String),
    /// The same of what could not be looked at.
    Error(String, String, String),
}

impl Suite {
    fn add(&mut self, class: &str, name: &str, came: Came) {
        let named = attribute("classname", class) + &attribute("name", name);
        let inside = match came {
            Came::Passed => String::new(),
            Came::Said(text) => element("system-out", "", &text),
            Came::Skipped(why) => {
                self.skipped += 1;
                format!("<skipped{}/>\n", attribute("message", why))
            }
            Came::Failed(of, line, text) => {
                self.failures += 1;
                fault("failure", &of, &line, &text)
            }
            Came::Error(of, line, text) => {
                self.errors += 1;
                fault("error", &of, &line, &text)
            }
        };
        self.tests += 1;
        // Writing to a string cannot fail.
        let _ = match inside.is_empty() {
            true => writeln!(self.cases, "<testcase{named}/>"),
            false => writeln!(self.cases, "<testcase{named}>\n{inside}</testcase>"),
        };
    }

    /// The suite with what it says of itself, and the notice.
    fn finish(self, name: &str, says: &str, notice: &[Notice]) -> String {
        let Self {
            tests,
            failures,
            errors,
            skipped,
            properties,
            cases,
        } = self;
        let counts = format!(
            " tests=\"{tests}\" failures=\"{failures}\" errors=\"{errors}\" skipped=\"{skipped}\""
        );
        let points = notice
            .iter()
            .map(|point| format!("{} ({})", point.says, point.source));
        let said: Vec<String> = std::iter::once(says.to_owned()).chain(points).collect();
        let out = element("system-out", "", said.join("\n").trim_start());
        let name = attribute("name", name);
        format!("<testsuite{name}{counts}>\n{properties}{cases}{out}</testsuite>\n")
    }
}

fn fault(name: &str, of: &str, line: &str, text: &str) -> String {
    let attributes = attribute("type", of) + &attribute("message", line);
    element(name, &attributes, text)
}

/// The suite of a report.
pub(super) fn of_report(report: &Report, rules: &Rules) -> String {
    let in_the_open = said::in_the_open(report);
    let mut suite = Suite {
        properties: properties(report, &in_the_open),
        ..Suite::default()
    };
    let not_applicable: BTreeSet<&str> = report.not_applicable.iter().map(|id| &**id).collect();
    let passed: BTreeSet<&str> = report.passed.iter().map(|id| &**id).collect();
    let mut findings: BTreeMap<&str, Vec<&Finding>> = BTreeMap::new();
    for finding in &report.findings {
        findings.entry(&finding.caution).or_default().push(finding);
    }
    for caution in rules.cautions() {
        let came = match findings.get(&*caution.id) {
            Some(own) => found(own, report),
            None if passed.contains(&*caution.id) => Came::Passed,
            None if not_applicable.contains(&*caution.id) => Came::Skipped("it applies to nothing"),
            // It is of a stage that was not asked for.
            None => continue,
        };
        suite.add(&class(caution, rules), &caution.id, came);
    }
    let outcome = report.gravest();
    if outcome.nothing_checked {
        let why = "no caution surely applies to anything, so that nothing was checked";
        let (of, why) = ("nothing-checked".to_owned(), why.to_owned());
        suite.add("verdict", "checked", Came::Error(of, why.clone(), why));
    }
    let verdict = format!("{}: {}", outcome.verdict.word(), report.title);
    let openly = in_the_open.into_iter().map(|one| one.says);
    let says: Vec<String> = std::iter::once(verdict).chain(openly).collect();
    suite.finish(&report.proposal, &says.join("\n"), &report.notice)
}

/// The rules of a report, and what weakens its check, for programs.
fn properties(report: &Report, in_the_open: &[InTheOpen]) -> String {
    let rulesets = report.rules.iter().map(|one| {
        let name = format!("ruleset {}", one.ruleset);
        property(&name, &said::version(one))
    });
    let digest = property("digest of the rules", &report.digest);
    let openly = in_the_open.iter().map(|one| {
        let name = format!("loosened {}", one.of);
        property(&name, &one.says)
    });
    let all: String = rulesets.chain([digest]).chain(openly).collect();
    format!("<properties>\n{all}</properties>\n")
}

fn property(name: &str, value: &str) -> String {
    let (name, value) = (attribute("name", name), attribute("value", value));
    format!("<property{name}{value}/>\n")
}

/// The stage, which is what people look for.
fn class(caution: &Caution, rules: &Rules) -> String {
    stage_of(caution, rules)
}

fn found(own: &[&Finding], report: &Report) -> Came {
    let text: Vec<String> = own.iter().map(|finding| in_full(finding, report)).collect();
    let text = text.join("\n");
    let refusing = own
        .iter()
        .filter(|finding| finding.verdict == Verdict::Refuse);
    let subjects: Vec<String> = refusing.map(|one| one.subject.to_string()).collect();
    match (subjects.is_empty(), own.first()) {
        (false, Some(first)) => {
            let line = format!("{}: {}", first.title, subjects.join(", "));
            Came::Failed(Verdict::Refuse.word().to_owned(), line, text)
        }
        _ => Came::Said(text),
    }
}

/// A finding with its remedy and its place, on a line.
fn in_full(finding: &Finding, report: &Report) -> String {
    let said = said::finding(finding, report);
    let remedy = remedy(finding).map(|remedy| format!(" Do: {remedy}"));
    let place = said::place(finding).map(|place| format!(" [{place}]"));
    let word = finding.verdict.word();
    let line = format!(
        "{word}: {said}{}{}",
        remedy.unwrap_or_default(),
        place.unwrap_or_default()
    );
    said::one_line(&line)
}

/// The suite of what cannot be used: an error for each problem.
pub(super) fn of_unusable(name: &str, problems: &[Problem], notice: &[Notice]) -> String {
    let mut suite = Suite::default();
    for problem in problems {
        let (of, line, text) = told(problem);
        suite.add("document", &title(problem), Came::Error(of, line, text));
    }
    suite.finish(name, "It cannot be used.", notice)
}

/// The suite of a ruleset: an error for each problem where it cannot be used, otherwise a failure for
/// what is to be corrected and a test for the cases of each caution.
pub(super) fn of_ruleset(found: OfRuleset<'_>) -> String {
    if !found.loads {
        return of_unusable(found.ruleset, found.problems, found.notice);
    }
    let mut suite = Suite::default();
    for problem in found.problems {
        let (of, line, text) = told(problem);
        suite.add("vetting", &title(problem), Came::Failed(of, line, text));
    }
    for of in found.cases {
        suite.add("cases", &of.caution, cases(of));
    }
    if suite.tests == 0 {
        let looks = found.worth_a_look.iter().map(|problem| told(problem).2);
        let looks: Vec<String> = looks.collect();
        let came = match looks.is_empty() {
            true => Came::Passed,
            false => Came::Said(looks.join("\n")),
        };
        suite.add("vetting", "nothing to correct", came);
    }
    suite.finish(found.ruleset, "", found.notice)
}

fn cases(of: &CasesOf) -> Came {
    let Some(first) = of.failed.first() else {
        return Came::Passed;
    };
    let (kind, line, _) = told(first);
    let texts: Vec<String> = of.failed.iter().map(|problem| told(problem).2).collect();
    Came::Failed(kind, line, texts.join("\n"))
}

/// The kind of a problem and where it is, which tells it from others.
fn title(problem: &Problem) -> String {
    match &problem.place {
        Some(place) => format!(
            "{} at {}:{}",
            problem.fault.code(),
            place.line,
            place.column
        ),
        None => problem.fault.code().to_owned(),
    }
}

/// The kind of a problem, what is wrong, and all that is said of it.
fn told(problem: &Problem) -> (String, String, String) {
    let place = problem.place.as_ref();
    let place = place.map(|place| format!("{place}: ")).unwrap_or_default();
    let text = format!("{place}{}", said::problem(problem));
    let kind = problem.fault.code().to_owned();
    (kind, problem.message.clone(), said::one_line(&text))
}
