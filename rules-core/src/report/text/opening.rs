//! The first lines of a report: the verdict, whether it could change, and each finding in a line
//! with the first thing to do.

use super::group::Group;
use super::page::{Page, Part};
use super::sentences::sentences;
use super::style::Role;
use super::summary::{others, summary};
use crate::check::{Report, Status, Verdict};
use crate::ruleset::Acceptance;

/// The column at which the text beside the verdict starts.
const BESIDE: usize = 8;
/// The columns of the list of findings: verdict and text.
const LISTED_VERDICT: usize = 5;
const LISTED_TEXT: usize = 12;

pub(super) fn write(report: &Report, groups: &[Group<'_>], page: &mut Page<'_>) {
    page.entry(
        0,
        &[verdict(report.verdict, true)],
        BESIDE,
        &[Part::new(Role::Heading, report.title.as_ref())],
    );
    page.paragraph(BESIDE, &[Part::new(Role::Quiet, report.proposal.as_str())]);
    page.gap();
    page.paragraph(BESIDE, &[Part::text(summary(report))]);
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
        listed(at + 1, group, report.verdict, page);
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

/// How sure a group is, where it is not settled: `unmeasured: could be refuse or pass`.
pub(super) fn doubt(group: &Group<'_>) -> Option<String> {
    let first = group.first;
    let others = others(first.verdict, first.best, first.worst)?;
    (first.status != Status::Decided)
        .then(|| format!("{}: could be {others}", first.status.words()))
}

fn listed(number: usize, group: &Group<'_>, verdict_of_all: Verdict, page: &mut Page<'_>) {
    let first = group.first;
    let number = format!("{number:>width$}  ", width = LISTED_VERDICT - 2);
    let label = [
        Part::new(Role::Label, number),
        verdict(first.verdict, false),
    ];
    let doubt = doubt(group)
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
