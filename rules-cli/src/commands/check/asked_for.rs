//! What a check is asked for, and which page of its report.

use rules_core::check::{Options, Report, Verdict, check};
use rules_core::document::ProblemList;
use rules_core::report::text::{Style, USUAL_LINES, Ways, first_page, question_page, text};
use rulesets::jobs::{Trial, would_change, would_lift};

use crate::args::{CheckArgs, PageFormat};
use crate::plans::Asked;

/// What a check is asked for.
pub(super) fn options<'a>(args: &CheckArgs, stages: &'a [&'a str]) -> Options<'a> {
    Options {
        acceptance: args.acceptance(),
        stages,
        // No other page shows what would narrow a figure, and to find it takes long.
        narrowing: args.full || args.form.format == PageFormat::Json,
    }
}

/// The report of a proposal, with what would change it and which answers would lift it.
pub(super) fn report_with_changes(
    asked: &Asked<'_>,
    options: Options<'_>,
) -> Result<Report, ProblemList> {
    let mut report = check(asked.rules, asked.proposal, options)?;
    // The plan is read again for it.
    let (now, waits) = (
        report.gravest(),
        report.gravest().best < report.gravest().verdict,
    );
    if now.verdict < Verdict::Refuse && !waits {
        return Ok(report);
    }
    let trial = Trial::of(asked.plan, asked.rules, options)?;
    report.would_change = would_change(&trial, &report);
    report.would_lift = would_lift(&trial, &report);
    Ok(report)
}

/// Whether each of several has a line, and no page.
pub(super) const fn is_list(args: &CheckArgs) -> bool {
    matches!(args.form.format, PageFormat::Text) && !args.full && !args.questions
}

/// The page of a report that is asked for.
pub(super) fn page(report: &Report, args: &CheckArgs, width: usize, style: &dyn Style) -> String {
    match (args.full, args.questions) {
        (true, _) => text(report, width, style),
        (false, true) => question_page(report, width, style),
        (false, false) => first_page(report, (width, USUAL_LINES), WAYS, style),
    }
}

/// How to get at what a first page leaves out.
pub(in crate::commands) const WAYS: Ways<'_> = Ways {
    questions: "--questions",
    all: "All reasons, values and sources: --full. One caution: cellrules explain NAME",
};
