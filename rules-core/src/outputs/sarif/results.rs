//! Findings and problems as results, and problems of what cannot be used as notifications.

use std::collections::{BTreeMap, BTreeSet};

use super::super::of_ruleset::OfRuleset;
use super::super::said;
use super::address::address;
use super::besides::Besides;
use super::ends::Ends;
use super::message::message;
use super::model::{
    ArtifactLocation, DescriptorReference, Level, Location, Notification, PhysicalLocation, Region,
    ResultProperties, SarifResult, UsedRuleset,
};
use super::rules::{of_caution, of_fault};
use crate::check::{FactReport, Finding, Report};
use crate::document::{Fault, Place, Problem, Severity, Source};
use crate::report::text::remedy;
use crate::ruleset::{LoadedRuleset, Rules};

/// The base of addresses of shipped rulesets, which are no files.
pub(super) const SHIPPED: &str = "SHIPPED_RULESETS";

/// The findings of a report, each on a line.
pub(in crate::outputs) fn of_report(
    report: &Report,
    rules: &Rules,
    source: Option<&Source>,
    besides: &mut Besides,
) -> String {
    let found: BTreeSet<&str> = report.findings.iter().map(|one| &*one.caution).collect();
    for caution in rules.cautions() {
        if found.contains(&*caution.id) {
            let rule = of_caution(caution, rules);
            besides.rules.insert(caution.id.to_string(), rule);
        }
    }
    let used = report.rules.iter().map(UsedRuleset::of);
    besides.rulesets.extend(used);
    for one in said::in_the_open(report) {
        let proposals = besides.in_the_open.entry(one).or_default();
        proposals.insert(report.proposal.clone());
    }
    let placing = Placing::of(&report.rules);
    let ends = Ends::of(source);
    let results = report.findings.iter();
    let results: Vec<SarifResult<'_>> = results
        .map(|finding| of_finding(finding, report, (placing, &ends), besides))
        .collect();
    lines(&results)
}

/// Nothing among the results, and a notification for each problem.
pub(in crate::outputs) fn of_unusable(
    name: &str,
    problems: &[Problem],
    besides: &mut Besides,
) -> String {
    besides.unusable = true;
    let notifications = problems.iter().map(|problem| notification(problem, name));
    besides.notifications.extend(notifications);
    String::new()
}

/// What is to be corrected in a ruleset, and what is worth a look, each on a line.
pub(in crate::outputs) fn of_ruleset(found: OfRuleset<'_>, besides: &mut Besides) -> String {
    besides.unusable |= !found.loads;
    let placing = Placing::of(found.layers);
    let to_correct = found.to_correct().map(|problem| (problem, level(problem)));
    let looks = found.worth_a_look.iter();
    let looks = looks.map(|problem| (problem, Level::Note));
    let results: Vec<SarifResult<'_>> = to_correct
        .chain(looks)
        .map(|(problem, level)| {
            let rule = problem.fault.code().to_owned();
            let rule = besides.rules.entry(rule);
            rule.or_insert_with(|| of_fault(problem.fault, level));
            of_problem(problem, (found.ruleset, level), placing, besides)
        })
        .collect();
    lines(&results)
}

const fn level(problem: &Problem) -> Level {
    match problem.severity {
        Severity::Error => Level::Error,
        Severity::Advice => Level::Warning,
    }
}

fn lines(results: &[SarifResult<'_>]) -> String {
    // A record of texts and numbers can always be written.
    let results = results.iter().map(serde_json::to_string);
    let lines: Vec<String> = results.filter_map(Result::ok).collect();
    lines.join(",\n")
}

fn of_finding<'a>(
    finding: &'a Finding,
    report: &'a Report,
    (placing, ends): (Placing<'_>, &Ends),
    besides: &mut Besides,
) -> SarifResult<'a> {
    let given = finding.facts.iter();
    let mut given = given.filter_map(|fact| Some((fact, fact.place.as_ref()?)));
    let first = given.next();
    let first = first.map(|(_, place)| placing.stretch(place, ends.end(place), besides));
    let first = first.unwrap_or_else(|| whole(&report.proposal));
    let mut related: Vec<Location> = given
        .map(|(fact, place)| {
            let stretch = placing.stretch(place, ends.end(place), besides);
            told(stretch, &shown(fact))
        })
        .collect();
    let rule = format!("{} of {}", finding.rung.key(), finding.caution);
    related.push(told(placing.at(&finding.rule, besides), &rule));
    for (number, location) in related.iter_mut().enumerate() {
        location.id = Some(number + 1);
    }
    SarifResult {
        rule_id: &finding.caution,
        level: Level::of(finding.verdict),
        message: message(&said::finding(finding, report)),
        locations: vec![first],
        related_locations: related,
        partial_fingerprints: BTreeMap::from([(
            "cautionAndSubject/v1",
            format!("{}/{}", finding.caution, finding.subject.in_words()),
        )]),
        properties: Some(ResultProperties {
            verdict: finding.verdict.word(),
            best: finding.best.word(),
            worst: finding.worst.word(),
            status: finding.status,
            subject: finding.subject.to_string(),
            stage: finding.stage.as_deref(),
            remedy: remedy(finding),
            missing: said::missing(finding, report).collect(),
            proposal: &report.proposal,
        }),
    }
}

/// `cable.rated_current of cable K4: 10 A`
fn shown(fact: &FactReport) -> String {
    let of = match fact.subject.is_only() {
        true => String::new(),
        false => format!(" of {}", fact.subject),
    };
    match &fact.value {
        Some(value) => format!("{}{of}: {value}", fact.name),
        None => format!("{}{of}", fact.name),
    }
}

fn of_problem<'a>(
    problem: &'a Problem,
    (ruleset, level): (&str, Level),
    placing: Placing<'_>,
    besides: &mut Besides,
) -> SarifResult<'a> {
    SarifResult {
        rule_id: problem.fault.code(),
        level,
        message: message(&said::problem(problem)),
        locations: placing.locations(problem, ruleset, besides),
        related_locations: Vec::new(),
        partial_fingerprints: BTreeMap::from([(
            "faultAndLine/v1",
            format!("{}/{}", problem.fault.code(), problem.line.trim()),
        )]),
        properties: None,
    }
}

fn notification(problem: &Problem, name: &str) -> Notification {
    let placing = Placing::of(&[]);
    Notification {
        level: level(problem),
        message: message(&said::problem(problem)),
        descriptor: Some(DescriptorReference {
            id: problem.fault.code().to_owned(),
        }),
        locations: placing.locations(problem, name, &mut Besides::default()),
    }
}

/// How places are told, by which rulesets are shipped.
#[derive(Clone, Copy)]
struct Placing<'a> {
    layers: &'a [LoadedRuleset],
}

impl<'a> Placing<'a> {
    const fn of(layers: &'a [LoadedRuleset]) -> Self {
        Self { layers }
    }

    fn at(self, place: &Place, besides: &mut Besides) -> Location {
        let is_it = |one: &LoadedRuleset| one.file.is_none() && *one.ruleset == *place.file;
        let shipped = self.layers.iter().any(is_it);
        besides.names_shipped |= shipped;
        let region = Region {
            start_line: place.line,
            start_column: place.column,
            end_line: None,
            end_column: None,
        };
        location(&place.file, shipped.then_some(SHIPPED), Some(region))
    }

    /// From a place to an end, if it is known.
    fn stretch(self, place: &Place, end: Option<&Place>, besides: &mut Besides) -> Location {
        let mut location = self.at(place, besides);
        if let (Some(region), Some(end)) = (&mut location.physical_location.region, end) {
            region.end_line = (end.line != place.line).then_some(end.line);
            region.end_column = Some(end.column);
        }
        location
    }

    /// Where a problem of what is named so is; nowhere, where nothing is called so.
    fn locations(self, problem: &Problem, name: &str, besides: &mut Besides) -> Vec<Location> {
        match &problem.place {
            Some(place) => vec![self.of_problem(problem, place, besides)],
            None if problem.fault == Fault::UnknownRuleset => Vec::new(),
            None => vec![whole(name)],
        }
    }

    /// The stretch of the line that is meant.
    fn of_problem(self, problem: &Problem, place: &Place, besides: &mut Besides) -> Location {
        let mut location = self.at(place, besides);
        if let Some(region) = &mut location.physical_location.region {
            region.end_column = Some(place.column + problem.width);
        }
        location
    }
}

pub(super) fn whole(file: &str) -> Location {
    location(file, None, None)
}

fn told(location: Location, text: &str) -> Location {
    Location {
        message: Some(message(text)),
        ..location
    }
}

fn location(file: &str, base: Option<&'static str>, region: Option<Region>) -> Location {
    Location {
        id: None,
        message: None,
        physical_location: PhysicalLocation {
            artifact_location: ArtifactLocation {
                uri: address(file),
                uri_base_id: base,
            },
            region,
        },
    }
}
