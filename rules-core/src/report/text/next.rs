//! What to measure or state next.

use super::group::subjects;
use super::page::{Page, Part};
use super::style::Role;
use super::summary::counted;
use crate::check::{MeasureNext, Report, Verdict};

pub(super) fn write(report: &Report, page: &mut Page<'_>) {
    if report.measure_next.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(
        0,
        &[Part::new(Role::Heading, "What to measure or state next")],
    );
    if let Some(remark) = remark(report) {
        page.paragraph(4, &[Part::text(remark)]);
    }
    for (at, group) in report
        .measure_next
        .chunk_by(MeasureNext::is_alike)
        .enumerate()
    {
        if let Some(first) = group.first() {
            let subjects = subjects(group.iter().map(|next| &next.subject));
            page.entry(
                0,
                &[Part::new(Role::Label, format!("{:>2}.", at + 1))],
                4,
                &[Part::text(one(first, &subjects, group.len()))],
            );
        }
    }
}

/// What none of them can do.
fn remark(report: &Report) -> Option<&'static str> {
    let came = report.gravest();
    match came.verdict {
        _ if report.measure_next.iter().any(|next| next.could_improve) => None,
        Verdict::Refuse if came.best == Verdict::Refuse => {
            Some("None of these lifts the refusal; they settle what else is open.")
        }
        verdict if came.best < verdict => {
            Some("No single one of these improves the verdict; it takes several.")
        }
        _ => Some("None of these improves the verdict; they settle what else is open."),
    }
}

fn one(next: &MeasureNext, subjects: &str, count: usize) -> String {
    let of = if next.subject.is_only() {
        String::new()
    } else {
        format!(" of {subjects}")
    };
    let state = if next.missing {
        "missing"
    } else {
        "not known closely enough"
    };
    let findings = counted(next.findings, "finding");
    let each = if count > 1 { " each" } else { "" };
    let gravest = if next.leaves_open == Verdict::Refuse {
        "which could refuse"
    } else {
        "which could warn"
    };
    let alone = if next.could_improve {
        ". Alone it could improve the verdict"
    } else {
        ""
    };
    format!(
        "{}{of} ({}): {state}; leaves {findings} open{each}, {gravest}{alone}.",
        next.fact, next.meaning
    )
}
