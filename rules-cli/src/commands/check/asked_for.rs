//! What a check is asked for, and which page of its report.

use rules_core::check::{Options, Report, check};
use rules_core::document::ProblemList;
use rules_core::report::text::{Style, USUAL_LINES, Ways, first_page, question_page, text};
use rulesets::jobs::{Trial, tried};

use crate::args::{CheckArgs, Format};
use crate::plans::Asked;

/// What a check is asked for.
pub(super) fn options<'a>(args: &CheckArgs, stages: &'a [&'a str]) -> Options<'a> {
    Options {
        acceptance: args.acceptance(),
        stages,
        // No other page shows what would narrow a figure, and to find it takes long.
        narrowing: args.full || args.form.own() == Format::Json,
    }
}

/// The report of a proposal, with what would change it and which answers would lift it.
pub(super) fn report_with_changes(
    asked: &Asked<'_>,
    options: Options<'_>,
) -> Result<Report, ProblemList> {
    let report = check(asked.rules, asked.proposal, options)?;
    tried(report, || Trial::of(asked.plan, asked.rules, options))
}

/// Whether each of several has a line, and no page.
pub(super) const fn is_list(args: &CheckArgs) -> bool {
    matches!(args.form.own(), Format::Text) && !args.full && !args.questions
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
