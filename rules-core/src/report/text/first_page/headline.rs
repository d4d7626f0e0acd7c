//! The head of the page: the verdict, how much there is against it, and a line for each stage.

use super::spoken::{SpokenCounts, Standing, cautions};
use crate::check::{Finding, RemarkKind, Report, StageOutcome, Verdict};
use crate::report::Question;
use crate::report::text::in_the_open::simple_acceptance;
use crate::report::text::opening::verdict;
use crate::report::text::page::{Page, Part};
use crate::report::text::stages;
use crate::report::text::style::Role;
use crate::report::text::summary::counted;
use crate::report::text::would_lift::waiting;

/// The column at which the text beside the verdict starts.
const BESIDE: usize = 8;
/// The column at which the list of stages starts.
const STAGES: usize = 2;
/// How many columns the word of a verdict takes in that list.
const VERDICT: usize = 8;

/// What a head tells of: the report, and how much there is against it, in doubt and open.
pub(super) struct Head<'r> {
    report: &'r Report,
    spoken: SpokenCounts,
    questions: usize,
    /// How many questions the verdict waits for.
    waiting: usize,
}

impl<'r> Head<'r> {
    pub(super) fn of(report: &'r Report, questions: &[Question<'_>]) -> Self {
        Self {
            report,
            spoken: SpokenCounts::of(report),
            questions: questions.len(),
            waiting: waiting(questions),
        }
    }

    pub(super) fn write(&self, page: &mut Page<'_>) {
        let report = self.report;
        let loud = verdict(report.gravest().verdict, true);
        let title = Part::new(Role::Heading, report.title.as_ref());
        match self.scope() {
            None => page.entry(0, &[loud], BESIDE, &[title]),
            Some(scope) => {
                page.paragraph(0, &[loud, Part::text(scope)]);
                page.paragraph(BESIDE, &[title]);
            }
        }
        let file = Part::new(Role::Quiet, format!(" ({})", report.proposal));
        page.paragraph(BESIDE, &[Part::text(self.counts()), file]);
        let simple = simple_acceptance(report.acceptance);
        for said in [simple, without_shipped(report)].into_iter().flatten() {
            page.paragraph(BESIDE, &[Part::text(said)]);
        }
        write_stages(report, page);
    }

    /// The verdict, what it is of, and the counts.
    pub(super) fn write_in_a_line(&self, page: &mut Page<'_>) {
        let loud = verdict(self.report.gravest().verdict, true);
        let scope = stages::scope(self.report).unwrap_or_default();
        let counts = format!("{scope}: {}", self.counts());
        page.paragraph(0, &[loud, Part::text(counts)]);
    }

    /// What the verdict is of where it is not of the whole, or what it waits for where nothing speaks
    /// against the use and answers are missing.
    pub(super) fn scope(&self) -> Option<String> {
        let of = stages::scope(self.report);
        let speaks = self.spoken.against + self.spoken.in_doubt > 0;
        let waiting = self.waiting;
        if speaks || waiting == 0 || self.report.gravest().verdict == Verdict::Pass {
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
    pub(super) fn counts(&self) -> String {
        if self.report.gravest().nothing_checked {
            return "nothing was checked, for no caution applied to anything; that is no pass"
                .into();
        }
        let SpokenCounts { against, in_doubt } = self.spoken;
        let open = format!("{} open", counted(self.questions, "question"));
        let parts = [
            (against, format!("{against} against it")),
            (in_doubt, format!("{in_doubt} in doubt")),
            (self.questions, open),
        ];
        let said: Vec<String> = parts
            .into_iter()
            .filter_map(|(count, said)| (count > 0).then_some(said))
            .collect();
        match (said.as_slice(), self.report.counts.applied) {
            ([], 1) => "the one caution that applies does not speak against it".into(),
            ([], applied) => format!("{applied} cautions apply, and none speaks against it"),
            _ => said.join(", "),
        }
    }
}

/// What is said where none of the shipped rulesets takes part.
pub(crate) fn without_shipped(report: &Report) -> Option<&str> {
    let mut remarks = report.remarks.iter();
    let told = remarks.find(|one| one.remark == RemarkKind::WithoutShipped);
    told.map(|remark| &*remark.says)
}

/// What a stage came to, in a line.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct StageLine<'r> {
    /// The stage.
    pub stage: &'r str,
    /// Its verdict. None where nothing was checked, which is no pass.
    pub came_to: Option<Verdict>,
    /// How many cautions of it are against the use, in doubt and open.
    pub counts: String,
}

/// The lines of the stages, in the order of the work.
pub(super) fn stage_lines<'r>(report: &'r Report) -> Vec<StageLine<'r>> {
    let line = |stage: &'r StageOutcome| StageLine {
        stage: &stage.stage,
        // No pass, and no warning either where the whole has a verdict.
        came_to: (!stage.nothing_checked).then_some(stage.verdict),
        counts: stage_counts(report, stage),
    };
    report.stages.iter().map(line).collect()
}

fn write_stages(report: &Report, page: &mut Page<'_>) {
    let lines = stage_lines(report);
    let Some(longest) = lines.iter().map(|line| line.stage.len()).max() else {
        return;
    };
    page.gap();
    for line in lines {
        let id = Part::new(Role::Label, format!("{:longest$}  ", line.stage));
        let came = line
            .came_to
            .map_or(Part::text("-"), |came| verdict(came, false));
        page.entry(
            STAGES,
            &[id, came],
            STAGES + longest + 2 + VERDICT,
            &[Part::text(line.counts)],
        );
    }
}

/// `2 against, 1 in doubt, 3 open` of the cautions of a stage and of those of every stage.
fn stage_counts(report: &Report, stage: &StageOutcome) -> String {
    if stage.nothing_checked {
        return "nothing applies".to_owned();
    }
    let own = |finding: &&Finding| {
        let of = finding.stage.as_deref();
        of.is_none_or(|of| of == &*stage.stage)
    };
    let of = |wanted| cautions(report.findings.iter().filter(own), wanted);
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
