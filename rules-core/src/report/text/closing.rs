//! The last lines of a report: what is reported without a verdict, which readings could not be
//! used, what was loosened, what was counted, by which rules, and the standing notice.

use std::borrow::Cow;

use super::group::subjects;
use super::in_the_open::loosened_entry;
use super::page::{Page, Part};
use super::stages;
use super::style::Role;
use super::summary::counted;
use crate::check::{Report, UnusedReadings};
use crate::facts::Notice;
use crate::ruleset::{Acceptance, LoadedRuleset};

const INDENT: usize = 4;
const HANG: usize = 16;
/// So many of the rulesets that a merged file names are shown; the others are counted.
const MOST_CLAIMS: usize = 8;
/// So many letters of the digest tell rulesets apart by eye; the whole is in the JSON.
const SHORT_DIGEST: usize = "sha256:".len() + 12;

/// How the check was made.
pub(super) fn how_checked(report: &Report, page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "How it was checked")]);
    for (label, said) in how_it_was_checked(report) {
        entry(&format!("{label}:"), said, page);
    }
}

/// How the check was made: what is told of, and what is said.
#[must_use]
pub fn how_it_was_checked(report: &Report) -> [(&'static str, String); 3] {
    [
        ("Cautions", cautions(report)),
        ("Acceptance", acceptance(report.acceptance)),
        ("Rules", rules_in_use(report)),
    ]
}

fn entry(label: &str, text: String, page: &mut Page<'_>) {
    page.entry(
        INDENT,
        &[Part::new(Role::Label, label)],
        HANG,
        &[Part::text(text)],
    );
}

/// Readings that no figure can use, if there are any.
pub(super) fn unused(unused: &[UnusedReadings], page: &mut Page<'_>) {
    if unused.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(
        0,
        &[Part::new(Role::Heading, "Readings that could not be used")],
    );
    for one in unused {
        let whose = subjects(one.subjects.iter());
        let text = format!("{} of {whose}: {}.", one.facts.join(", "), one.why);
        page.item(INDENT, INDENT + 2, &[Part::text(text)]);
    }
}

/// What is reported without a verdict, if anything is.
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
        page.item(INDENT, INDENT + 2, &[Part::text(loosened_entry(one))]);
    }
}

fn cautions(report: &Report) -> String {
    let counts = report.counts;
    let asked = stages::asked(report)
        .map(|asked| format!(" for {asked}"))
        .unwrap_or_default();
    let applied = format!(
        "{} in the rules{asked}, {} applied, {} did not",
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
            "simple: nominal values decided; what the library works out counted with its uncertainty."
                .to_owned()
        }
    }
}

/// The rulesets with their versions, and the digest of all of them.
pub(crate) fn rules_in_use(report: &Report) -> String {
    let names: Vec<String> = report.rules.iter().map(ruleset).collect();
    let digest = report.digest.get(..SHORT_DIGEST).unwrap_or(&report.digest);
    format!("{}; digest {digest} (shortened).", names.join(", "))
}

/// `rescued-cables 1.0.0` if it is the shipped one; any other ruleset with its file: `club-practice
/// 1.0.0 (club-practice.yaml)`. What a merged file says of itself is reported as that.
fn ruleset(loaded: &LoadedRuleset) -> String {
    let name = format!("{} {}", loaded.ruleset, loaded.version);
    let Some(file) = loaded.file.as_deref().map(file_name) else {
        return name;
    };
    let claims: Vec<String> = loaded
        .claims
        .iter()
        .take(MOST_CLAIMS)
        .map(|claim| format!("{} {}", claim.ruleset, claim.version))
        .collect();
    match (claims.join(", "), loaded.claims.len() - claims.len()) {
        (claims, _) if claims.is_empty() => format!("{name} ({file})"),
        (claims, 0) => format!("{name} ({file}; merged, as it says, from {claims})"),
        (claims, more) => {
            format!("{name} ({file}; merged, as it says, from {claims} and {more} more)")
        }
    }
}

/// A file's name in a line of several. One that could be taken for more than a name is in quotes.
fn file_name(file: &str) -> Cow<'_, str> {
    let plain = |letter: char| letter.is_alphanumeric() || "._-+/\\:~".contains(letter);
    if file.chars().all(plain) {
        Cow::Borrowed(file)
    } else {
        Cow::Owned(format!("{file:?}"))
    }
}

/// It is in every report and comes last, whatever the verdict.
pub fn notice(notice: &[Notice], page: &mut Page<'_>) {
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, "Whatever the verdict")]);
    for one in notice {
        page.item(
            INDENT,
            INDENT + 2,
            &[
                Part::text(one.says.as_str()),
                Part::new(Role::Quiet, format!(" ({})", one.source)),
            ],
        );
    }
}
