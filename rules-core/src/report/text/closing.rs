//! The last lines of a report: what is told without a verdict, what was loosened, what was counted, by which rules, and the
//! standing notice.

use super::page::{Page, Part};
use super::style::Role;
use super::summary::counted;
use crate::report::{Notice, Report};
use crate::ruleset::Acceptance;

const INDENT: usize = 4;
const HANG: usize = 16;
/// So many letters of the digest tell rulesets apart by eye; the whole is in the JSON.
const SHORT_DIGEST: usize = "sha256:".len() + 12;

/// How the check was made.
pub(super) fn how_checked(report: &Report, page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "How it was checked")]);
    entry("Cautions:", cautions(report), page);
    entry("Acceptance:", acceptance(report.acceptance), page);
    entry("Rules:", rules(report), page);
}

fn entry(label: &str, text: String, page: &mut Page<'_>) {
    page.entry(
        INDENT,
        &[Part::new(Role::Label, label)],
        HANG,
        &[Part::text(text)],
    );
}

/// What is told without a verdict, if anything is.
pub(super) fn remarks(report: &Report, page: &mut Page<'_>) {
    if report.remarks.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Without a verdict")]);
    for remark in &report.remarks {
        page.item(INDENT, INDENT + 2, &[Part::text(remark.says.as_str())]);
    }
}

/// What local practice loosened, if it did.
pub(super) fn loosened(report: &Report, page: &mut Page<'_>) {
    if report.loosened.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Loosened by local practice")]);
    for one in &report.loosened {
        let text = format!(
            "{}: {} (was: {}), by {}. Reason given: {}",
            one.what, one.to, one.from, one.by, one.because
        );
        page.item(INDENT, INDENT + 2, &[Part::text(text)]);
    }
}

fn cautions(report: &Report) -> String {
    let counts = report.counts;
    let applied = format!(
        "{} in the rules, {} applied, {} did not",
        counts.cautions, counts.applied, counts.not_applicable
    );
    let checks = counted(counts.checks, "check");
    format!(
        "{applied}; {} left open; {checks} made, of which {} refuse and {} warn.",
        counts.undecided, counts.refuse, counts.warn
    )
}

fn acceptance(acceptance: Acceptance) -> String {
    match acceptance {
        Acceptance::Guarded => {
            "guarded: what must hold has to hold for everything a reading leaves possible."
                .to_owned()
        }
        Acceptance::Simple => {
            "simple: nominal values decided; the uncertainty of readings was left out.".to_owned()
        }
    }
}

fn rules(report: &Report) -> String {
    let names: Vec<String> = report
        .rules
        .iter()
        .map(|layer| format!("{} {}", layer.ruleset, layer.version))
        .collect();
    let digest = report.digest.get(..SHORT_DIGEST).unwrap_or(&report.digest);
    format!("{}; digest {digest} (shortened).", names.join(", "))
}

/// It stands on every report and comes last, whatever the verdict.
pub(super) fn notice(notice: &[Notice], page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Whatever the verdict")]);
    for one in notice {
        page.item(
            INDENT,
            INDENT + 2,
            &[
                Part::text(one.says),
                Part::new(Role::Quiet, format!(" ({})", one.source)),
            ],
        );
    }
}
