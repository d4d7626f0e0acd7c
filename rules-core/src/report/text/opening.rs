//! The first lines of a report: the verdict, whether it could change, and each finding in a line with the first thing to do.

use super::group::Group;
use super::page::{Page, Part};
use super::style::Role;
use crate::report::{Report, Status, Verdict};
use crate::ruleset::Acceptance;

/// The column at which the text beside the verdict starts.
const BESIDE: usize = 8;
/// The columns of the list of findings: verdict and text.
const LISTED_VERDICT: usize = 5;
const LISTED_TEXT: usize = 12;

pub(super) fn write(report: &Report, groups: &[Group<'_>], page: &mut Page<'_>) {
    page.entry(0, &[verdict(report.verdict, true)], BESIDE, &[Part::new(Role::Heading, report.title.as_ref())]);
    page.paragraph(BESIDE, &[Part::new(Role::Quiet, report.proposal.as_str())]);
    page.gap();
    page.paragraph(BESIDE, &[Part::text(summary(report))]);
    if report.acceptance == Acceptance::Simple {
        page.paragraph(
            BESIDE,
            &[Part::text("Simple acceptance was chosen: nominal values decided, and the uncertainty of readings was left out.")],
        );
    }
    if let count @ 1.. = report.loosened.len() {
        let what = if count == 1 { "One of the rules was" } else { "Some of the rules were" };
        page.paragraph(BESIDE, &[Part::text(format!("{what} loosened by local practice; see below."))]);
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
    Part::new(Role::Verdict(verdict), if loud { word.to_uppercase() } else { word.to_owned() })
}

fn summary(report: &Report) -> String {
    if report.nothing_checked {
        return "Nothing was checked: no caution of the rules in use applied to anything in this proposal. That is no pass.".to_owned();
    }
    let findings = match (report.counts.refuse, report.counts.warn) {
        (0, 0) => return passed(report.counts.applied),
        (0, warn) => format!("{} warn", counted(warn, "finding")),
        (refuse, 0) => format!("{} refuse", counted(refuse, "finding")),
        (refuse, warn) => format!("{} refuse, {warn} warn", counted(refuse, "finding")),
    };
    format!("{findings}. {}{}", outlook(report.verdict, report.best, report.worst), start(report))
}

fn passed(applied: usize) -> String {
    let cautions = if applied == 1 {
        "The one caution that applies does not speak".to_owned()
    } else {
        format!("None of the {applied} cautions that apply speaks")
    };
    format!("{cautions} against it. That is no approval: a pass does not overrule the notice at the end.")
}

/// `1 finding`, `2 findings`.
pub(super) fn counted(count: usize, what: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {what}{plural}")
}

/// Whether measuring could change the verdict.
fn outlook(verdict: Verdict, best: Verdict, worst: Verdict) -> String {
    match (others(verdict, best, worst), verdict) {
        (None, Verdict::Refuse) => "No measurement can lift the refusal: what is proposed has to change.".to_owned(),
        (None, _) => "No measurement can change that.".to_owned(),
        (Some(others), _) => format!("Once what is missing or in doubt is measured, it could be {others}."),
    }
}

/// What to measure first, where measuring could change the verdict.
fn start(report: &Report) -> String {
    let open = report.best != report.worst;
    let Some(first) = report.measure_next.first().filter(|_| open) else { return String::new() };
    let of = if first.subject.contains(' ') {
        format!(" of {}", super::group::subjects(std::iter::once(first.subject.as_str())))
    } else {
        String::new()
    };
    format!(" Start with {}{of}.", first.fact)
}

/// The other verdicts that what is known allows, the gravest first: `refuse or pass`.
pub(super) fn others(verdict: Verdict, best: Verdict, worst: Verdict) -> Option<String> {
    let all = [Verdict::Refuse, Verdict::Warn, Verdict::Pass];
    let words: Vec<&str> = all.into_iter().filter(|one| (best..=worst).contains(one) && *one != verdict).map(Verdict::word).collect();
    (!words.is_empty()).then(|| words.join(" or "))
}

/// How sure a group is, where it is not settled: `unmeasured: could be refuse or pass`.
pub(super) fn doubt(group: &Group<'_>) -> Option<String> {
    let first = group.first;
    let others = others(first.verdict, first.best, first.worst)?;
    (first.status != Status::Decided).then(|| format!("{}: could be {others}", first.status.words()))
}

fn listed(number: usize, group: &Group<'_>, verdict_of_all: Verdict, page: &mut Page<'_>) {
    let first = group.first;
    let number = format!("{number:>width$}  ", width = LISTED_VERDICT - 2);
    let label = [Part::new(Role::Label, number), verdict(first.verdict, false)];
    let doubt = doubt(group).map(|doubt| format!(" ({doubt})")).unwrap_or_default();
    let text = [Part::text(first.title.as_ref()), Part::text(format!(": {}{doubt}", group.subjects()))];
    page.entry(0, &label, LISTED_TEXT, &text);
    if let Some(first_thing) = first_thing(group).filter(|_| first.verdict == verdict_of_all) {
        page.paragraph(LISTED_TEXT + 2, &[Part::text(first_thing)]);
    }
}

/// The first thing to do about what holds the verdict up: to measure what is missing, or how the remedy starts.
fn first_thing(group: &Group<'_>) -> Option<String> {
    let missing = group.common(|finding| &finding.missing).filter(|missing| !missing.is_empty());
    if let Some(missing) = missing.filter(|_| group.first.status == Status::Unmeasured) {
        return Some(format!("First measure or state {}.", missing.join(", ")));
    }
    let remedy = group.common(|finding| &finding.remedy)?.as_deref()?;
    Some(super::finding::sentences(remedy).first().copied().unwrap_or(remedy).to_owned())
}
