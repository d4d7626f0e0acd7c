//! The head of the page: the verdict, how much there is against it, and a line for each stage.

use super::spoken::{Spoken, Standing, standing};
use crate::check::{Report, StageOutcome, Verdict};
use crate::report::Question;
use crate::report::text::opening::verdict;
use crate::report::text::page::{Page, Part};
use crate::report::text::stages;
use crate::report::text::style::Role;
use crate::report::text::summary::counted;
use crate::ruleset::Acceptance;

/// The column at which the text beside the verdict starts.
const BESIDE: usize = 8;
/// The column at which the list of stages starts.
const STAGES: usize = 2;
/// How many columns the word of a verdict takes in that list.
const VERDICT: usize = 8;

pub(super) fn write(
    report: &Report,
    spoken: &Spoken<'_>,
    questions: &[Question<'_>],
    page: &mut Page<'_>,
) {
    let loud = verdict(report.gravest().verdict, true);
    let title = Part::new(Role::Heading, report.title.as_ref());
    match scope(report, spoken, questions) {
        None => page.entry(0, &[loud], BESIDE, &[title]),
        Some(scope) => {
            page.paragraph(0, &[loud, Part::text(scope)]);
            page.paragraph(BESIDE, &[title]);
        }
    }
    let counts = Part::text(counts(report, spoken, questions));
    let file = Part::new(Role::Quiet, format!(" ({})", report.proposal));
    page.paragraph(BESIDE, &[counts, file]);
    if report.acceptance == Acceptance::Simple {
        let said =
            "Simple acceptance: nominal values decided, without the uncertainty of readings.";
        page.paragraph(BESIDE, &[Part::text(said)]);
    }
    stage_lines(report, page);
}

/// The verdict, what it is of, and the counts.
pub(super) fn in_a_line(
    report: &Report,
    spoken: &Spoken<'_>,
    questions: &[Question<'_>],
    page: &mut Page<'_>,
) {
    let loud = verdict(report.gravest().verdict, true);
    let scope = stages::scope(report).unwrap_or_default();
    let counts = format!("{scope}: {}", counts(report, spoken, questions));
    page.paragraph(0, &[loud, Part::text(counts)]);
}

/// What the verdict is of where it is not of the whole, or what it waits for where nothing speaks
/// against the use and answers are missing.
fn scope(report: &Report, spoken: &Spoken<'_>, questions: &[Question<'_>]) -> Option<String> {
    let of = stages::scope(report);
    let waiting = questions.iter().filter(|one| one.holds_the_verdict).count();
    if !spoken.is_empty() || waiting == 0 || report.gravest().verdict == Verdict::Pass {
        return of;
    }
    let are = match waiting {
        1 => "question is",
        _ => "questions are",
    };
    let until = format!(" until {waiting} {are} answered; nothing is against it yet");
    Some(of.unwrap_or_default() + &until)
}

/// `5 against it, 2 in doubt, 3 questions open`.
pub(super) fn counts(report: &Report, spoken: &Spoken<'_>, questions: &[Question<'_>]) -> String {
    let came = report.gravest();
    if came.nothing_checked {
        return "nothing was checked, for no caution applied to anything; that is no pass".into();
    }
    let mut all = Vec::new();
    if spoken.against_count() > 0 {
        all.push(format!("{} against it", spoken.against_count()));
    }
    if spoken.doubt_count() > 0 {
        all.push(format!("{} in doubt", spoken.doubt_count()));
    }
    if !questions.is_empty() {
        all.push(format!("{} open", counted(questions.len(), "question")));
    }
    if all.is_empty() {
        let applied = report.counts.applied;
        if applied == 1 {
            return "the one caution that applies does not speak against it".into();
        }
        return format!("{applied} cautions apply, and none speaks against it");
    }
    all.join(", ")
}

fn stage_lines(report: &Report, page: &mut Page<'_>) {
    let ids = report.stages.iter().map(|stage| stage.stage.len());
    let Some(longest) = ids.max() else { return };
    page.gap();
    for stage in &report.stages {
        let id = Part::new(Role::Label, format!("{:longest$}  ", stage.stage));
        let came = came_to(stage);
        let label = [id, came];
        let counts = stage_counts(report, stage);
        page.entry(
            STAGES,
            &label,
            STAGES + longest + 2 + VERDICT,
            &[Part::text(counts)],
        );
    }
}

fn came_to(stage: &StageOutcome) -> Part<'static> {
    match (stage.nothing_checked, stage.best) {
        // No pass, and no warning either where the whole has a verdict.
        (true, _) => Part::text("-"),
        (false, _) => verdict(stage.verdict, false),
    }
}

/// `2 against, 1 in doubt, 3 open` of the cautions of a stage and of those of every stage.
fn stage_counts(report: &Report, stage: &StageOutcome) -> String {
    if stage.nothing_checked {
        return "nothing applies".to_owned();
    }
    let of = |wanted: Standing| {
        let of_stage = report.findings.iter().filter(|finding| {
            let own = finding
                .stage
                .as_deref()
                .is_none_or(|of| of == &*stage.stage);
            own && standing(finding) == wanted
        });
        of_stage
            .map(|one| &one.caution)
            .collect::<std::collections::BTreeSet<_>>()
            .len()
    };
    let named = [
        (of(Standing::Against), "against"),
        (of(Standing::InDoubt), "in doubt"),
        (of(Standing::Open), "open"),
    ];
    let said = named.iter().filter(|(count, _)| *count > 0);
    said.map(|(count, what)| format!("{count} {what}"))
        .collect::<Vec<_>>()
        .join(", ")
}
