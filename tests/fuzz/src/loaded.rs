//! What the targets share: rules out of one text, two proposals to try them on, and what every
//! report keeps to.

use std::sync::LazyLock;

use rules_core::check::{Options, Report, Verdict, check};
use rules_core::document::{Problem, Syntax};
use rules_core::facts::{Catalogue, Proposed, Sheet};
use rules_core::report::text::{
    Plain, USUAL_LINES, USUAL_WIDTH, Ways, first_page, question_page, text,
};
use rules_core::ruleset::{Acceptance, Rules, Texts};
use rulesets::facts::{CELL, PACK};
use rulesets::proposal::Proposal;
use rulesets::shipped::Shipped;

/// The catalogue, built once.
pub(super) static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(rulesets::catalogue);

/// One ruleset under the given name, and the shipped ones that it may extend.
pub(super) fn only(name: &str, bytes: &[u8]) -> Texts<Shipped> {
    Texts::of([(name, bytes)]).or(Shipped)
}

/// Rules out of bytes; what is refused says why, and where in these bytes.
pub(super) fn rules(name: &str, bytes: &[u8]) -> Option<Rules> {
    match Rules::load(&[name], &only(name, bytes), &CATALOGUE) {
        Ok(rules) => Some(rules),
        Err(problems) => {
            say_why(&problems);
            None
        }
    }
}

/// Two groups of two cells, fully measured, and the same with most left out.
pub(super) static MEASURED: LazyLock<Proposal> =
    LazyLock::new(|| example(include_bytes!("measured.yaml")));
/// The same build of which little is known.
pub(super) static HARDLY_KNOWN: LazyLock<Proposal> =
    LazyLock::new(|| example(include_bytes!("hardly-known.yaml")));

fn example(bytes: &[u8]) -> Proposal {
    Proposal::read("example.yaml", bytes.to_vec(), Syntax::Yaml)
        .unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// A refusal says what is wrong; a place is a place.
pub(super) fn say_why(problems: &[Problem]) {
    assert!(!problems.is_empty(), "refused without a reason");
    for problem in problems {
        assert!(!problem.message.is_empty());
        assert!(
            problem
                .place
                .as_ref()
                .is_none_or(|place| place.line >= 1 && place.column >= 1),
            "{problem:?} has no place"
        );
    }
}

/// More cells than this are not checked: it is the same work again, and time is better spent on
/// other bytes. The largest builds have a test of their own.
const MOST_CHECKED: usize = 64;

/// Whether a proposal has few enough cells.
pub(super) fn is_small(proposal: &Proposal) -> bool {
    let counts = |sheet: &Sheet| {
        [CELL, PACK]
            .into_iter()
            .all(|subject| sheet.count(subject) <= MOST_CHECKED)
    };
    proposal
        .facts(&CATALOGUE)
        .map_or(true, |sheet| counts(&sheet))
}

/// A proposal checked; what comes of it keeps to what reports promise. Facts that the rules do not
/// declare are a refusal with reasons.
pub(super) fn checked(rules: &Rules, proposal: &Proposal) -> Option<Report> {
    let guarded = report(rules, proposal, Acceptance::Guarded)?;
    let simple = report(rules, proposal, Acceptance::Simple)?;
    assert!(
        guarded.gravest().worst >= simple.gravest().worst,
        "guarded acceptance must not allow what simple acceptance rules out"
    );
    Some(guarded)
}

fn report(rules: &Rules, proposal: &Proposal, acceptance: Acceptance) -> Option<Report> {
    match check(
        rules,
        proposal,
        Options {
            acceptance: Some(acceptance),
            ..Options::default()
        },
    ) {
        Ok(report) => {
            keeps_its_promises(&report);
            Some(report)
        }
        Err(problems) => {
            say_why(&problems);
            None
        }
    }
}

fn keeps_its_promises(report: &Report) {
    assert!(
        report.gravest().best <= report.gravest().verdict
            && report.gravest().verdict <= report.gravest().worst,
        "the verdict lies between the best and the worst"
    );
    let highest = report.findings.iter().map(|finding| finding.verdict).max();
    assert_eq!(
        report.gravest().verdict,
        highest.unwrap_or(if report.gravest().nothing_checked {
            Verdict::Warn
        } else {
            Verdict::Pass
        })
    );
    for finding in &report.findings {
        assert!(
            finding.verdict != Verdict::Pass
                && finding.best <= finding.verdict
                && finding.verdict <= finding.worst
        );
    }
    assert!(!report.notice.is_empty());
    assert!(serde_json::to_vec(report).is_ok(), "a report is JSON");
    let pages = [
        text(report, USUAL_WIDTH, &Plain),
        first_page(report, (USUAL_WIDTH, USUAL_LINES), Ways::NONE, &Plain),
        question_page(report, USUAL_WIDTH, &Plain),
    ];
    assert!(pages.iter().all(|page| !page.is_empty()));
}
