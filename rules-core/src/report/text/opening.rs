//! The first lines of a report: the verdict, what each stage comes to, whether it could change, and
//! each finding in a line with the first thing to do.

use super::group::Group;
use super::page::{Page, Part};
use super::sentences::sentences;
use super::stages;
use super::style::Role;
use super::summary::{others, summary};
use crate::check::{Finding, Report, StageOutcome, Status, Verdict};
use crate::ruleset::Acceptance;

/// The column at which the text beside the verdict starts.
const BESIDE: usize = 8;
/// The columns of the list of findings: verdict and text.
const LISTED_VERDICT: usize = 5;
const LISTED_TEXT: usize = 12;

pub(super) fn write(report: &Report, groups: &[Group<'_>], page: &mut Page<'_>) {
    headline(report, page);
    page.paragraph(BESIDE, &[Part::new(Role::Quiet, report.proposal.as_str())]);
    stage_lines(report, page);
    page.gap();
    page.paragraph(BESIDE, &[Part::text(summary(report))]);
    not_asked(report, page);
    if report.acceptance == Acceptance::Simple {
        page.paragraph(
            BESIDE,
            &[Part::text("Simple acceptance was chosen: nominal values decided, without the uncertainty of readings. Only what the library works out counted with its own.")],
        );
    }
    if let count @ 1.. = report.loosened.len() {
        let what = if count == 1 {
            "One of the rules was"
        } else {
            "Some of the rules were"
        };
        page.paragraph(
            BESIDE,
            &[Part::text(format!(
                "{what} loosened by local practice; see below."
            ))],
        );
    }
    if !groups.is_empty() {
        page.gap();
    }
    for (at, group) in groups.iter().enumerate() {
        listed(at + 1, group, report.gravest().verdict, page);
    }
}

/// The verdict with the title; with what it is of on a line of its own, if that is not the whole.
fn headline(report: &Report, page: &mut Page<'_>) {
    let verdict = verdict(report.gravest().verdict, true);
    let title = Part::new(Role::Heading, report.title.as_ref());
    match stages::scope(report) {
        None => page.entry(0, &[verdict], BESIDE, &[title]),
        Some(scope) => {
            page.paragraph(0, &[verdict, Part::text(scope)]);
            page.paragraph(BESIDE, &[title]);
        }
    }
}

/// A line for each stage, if there are any.
fn stage_lines(report: &Report, page: &mut Page<'_>) {
    let ids = report.stages.iter().map(|stage| stage.stage.len());
    let Some(longest) = ids.max() else { return };
    page.gap();
    for stage in &report.stages {
        let id = Part::new(Role::Label, &*stage.stage);
        page.entry(BESIDE, &[id], BESIDE + longest + 2, &came_to(stage));
    }
}

fn came_to(stage: &StageOutcome) -> Vec<Part<'static>> {
    // No pass, and no warning either where the whole has a verdict.
    match (stage.nothing_checked, stage.best) {
        (true, Verdict::Pass) => return vec![Part::text("nothing surely applies")],
        (true, _) => return vec![Part::text("nothing applies")],
        (false, _) => {}
    }
    let others = others(stage.verdict, stage.best, stage.worst);
    let others = others.map(|others| Part::text(format!(" (could be {others})")));
    std::iter::once(verdict(stage.verdict, false))
        .chain(others)
        .collect()
}

/// What is said of the stages that were not asked for, if there are such.
fn not_asked(report: &Report, page: &mut Page<'_>) {
    if let Some(asked) = stages::asked(report) {
        let said = format!("Only {asked} was asked for; nothing is said of any other stage.");
        page.paragraph(BESIDE, &[Part::text(said)]);
    }
}

/// The word of a verdict.
pub(super) fn verdict(verdict: Verdict, loud: bool) -> Part<'static> {
    let word = verdict.word();
    Part::new(
        Role::Verdict(verdict),
        if loud {
            word.to_uppercase()
        } else {
            word.to_owned()
        },
    )
}

/// How sure a finding is, where it is not settled: `unmeasured: could be refuse or pass`.
pub(crate) fn doubt(finding: &Finding) -> Option<String> {
    let others = others(finding.verdict, finding.best, finding.worst)?;
    let status = finding.status;
    (status != Status::Decided).then(|| format!("{}: could be {others}", status.words()))
}

fn listed(number: usize, group: &Group<'_>, verdict_of_all: Verdict, page: &mut Page<'_>) {
    let first = group.first;
    let number = format!("{number:>width$}  ", width = LISTED_VERDICT - 2);
    let label = [
        Part::new(Role::Label, number),
        verdict(first.verdict, false),
    ];
    let doubt = doubt(first)
        .map(|doubt| format!(" ({doubt})"))
        .unwrap_or_default();
    let text = [
        Part::text(first.title.as_ref()),
        Part::text(format!(": {}{doubt}", group.subjects())),
    ];
    page.entry(0, &label, LISTED_TEXT, &text);
    if let Some(first_thing) = first_thing(group).filter(|_| first.verdict == verdict_of_all) {
        page.paragraph(LISTED_TEXT + 2, &[Part::text(first_thing)]);
    }
}

/// The first thing to do about the findings that give the verdict: measure what is missing, or
/// follow the start of the remedy.
fn first_thing(group: &Group<'_>) -> Option<String> {
    let missing = group
        .common(|finding| &finding.missing)
        .filter(|missing| !missing.is_empty());
    if let Some(missing) = missing.filter(|_| group.first.status == Status::Unmeasured) {
        return Some(format!("First measure or state {}.", missing.join(", ")));
    }
    let remedy = group.common(|finding| finding.remedy.as_ref().map(ToString::to_string))??;
    Some(
        sentences(&remedy)
            .first()
            .map_or_else(|| remedy.clone(), |sentence| (*sentence).to_owned()),
    )
}
