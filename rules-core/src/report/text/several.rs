//! Several reports: a line for each as it comes, and what they came to in all.

use std::collections::BTreeSet;

use super::first_page;
use super::in_the_open::loosened_in_short;
use super::opening::verdict;
use super::page::{Page, Part};
use super::stages;
use super::style::{Role, Style};
use super::summary::counted;
use crate::check::{RemarkKind, Report, Verdict};
use crate::facts::Notice;
use crate::ruleset::{Acceptance, Loosening};

/// The column at which the text beside the verdict starts.
const BESIDE: usize = 8;

/// A report on one line, however long that is: the verdict, what it is of where that is not the
/// whole, the title, how much there is against it and what is open, and the file.
#[must_use]
pub fn list_line(report: &Report, style: &dyn Style) -> String {
    let scope = stages::scope(report).map(|scope| format!("{}: ", scope.trim_start()));
    let text = [
        Part::text(scope.unwrap_or_default()),
        Part::new(Role::Heading, report.title.as_ref()),
        Part::text(format!(": {}", first_page::in_counts(report))),
        Part::text(remarks(report)),
        Part::new(Role::Quiet, format!(" ({})", report.proposal)),
    ];
    line(&verdict(report.gravest().verdict, false), &text, style)
}

/// A line in the place of a report on a proposal that cannot be used.
#[must_use]
pub fn unusable_line(proposal: &str, problems: usize, style: &dyn Style) -> String {
    let said = format!("cannot be used: {}", counted(problems, "problem"));
    let file = Part::new(Role::Quiet, format!(" ({proposal})"));
    line(&Part::text("-"), &[Part::text(said), file], style)
}

fn line(label: &Part<'_>, text: &[Part<'_>], style: &dyn Style) -> String {
    let mut page = Page::new(usize::MAX, style);
    page.entry(0, std::slice::from_ref(label), BESIDE, text);
    page.finish()
}

/// What is reported without a verdict of this very proposal is counted: the page of the report has
/// it, what nearly every proposal is told, and what the end of the list says of the rules.
fn remarks(report: &Report) -> String {
    let own = report.remarks.iter();
    let of_others = [RemarkKind::NoneBrought, RemarkKind::WithoutShipped];
    let own = own.filter(|remark| !of_others.contains(&remark.remark));
    match own.count() + report.unused.len() {
        0 => String::new(),
        count => format!(", {}", counted(count, "remark")),
    }
}

/// What many reports came to.
#[derive(Debug, Clone, Default)]
pub struct Totals {
    refuse: usize,
    warn: usize,
    pass: usize,
    nothing_checked: usize,
    unusable: usize,
    /// Reports in which nominal values decided.
    simple: usize,
    /// What reports say in which none of the shipped rulesets takes part.
    without_shipped: BTreeSet<String>,
    asked: Option<String>,
    loosened: BTreeSet<Loosening>,
    notice: Vec<Notice>,
}

impl Totals {
    /// Those of one report.
    #[must_use]
    pub fn of(report: &Report) -> Self {
        let came = report.gravest();
        let is = |wanted: Verdict| usize::from(came.verdict == wanted);
        Self {
            refuse: is(Verdict::Refuse),
            warn: is(Verdict::Warn),
            pass: is(Verdict::Pass),
            nothing_checked: usize::from(came.nothing_checked),
            unusable: 0,
            simple: usize::from(report.acceptance == Acceptance::Simple),
            without_shipped: first_page::without_shipped(report)
                .map(str::to_owned)
                .into_iter()
                .collect(),
            asked: stages::asked(report),
            loosened: report.loosened.iter().cloned().collect(),
            notice: report.notice.clone(),
        }
    }

    /// Those of one proposal that cannot be used.
    #[must_use]
    pub fn of_unusable() -> Self {
        Self {
            unusable: 1,
            ..Self::default()
        }
    }

    /// Adds those of others.
    pub fn add(&mut self, other: Self) {
        self.refuse += other.refuse;
        self.warn += other.warn;
        self.pass += other.pass;
        self.nothing_checked += other.nothing_checked;
        self.unusable += other.unusable;
        self.simple += other.simple;
        self.without_shipped.extend(other.without_shipped);
        self.asked = self.asked.take().or(other.asked);
        self.loosened.extend(other.loosened);
        for point in other.notice {
            if !self.notice.contains(&point) {
                self.notice.push(point);
            }
        }
    }

    /// How many proposals there were.
    #[must_use]
    pub const fn proposals(&self) -> usize {
        self.refuse + self.warn + self.pass + self.unusable
    }

    /// The counts, what was loosened, and the standing notice in short.
    #[must_use]
    pub fn page(&self, width: usize, style: &dyn Style) -> String {
        let mut page = Page::new(width, style);
        page.paragraph(0, &[Part::new(Role::Heading, self.in_words())]);
        if self.simple > 0 {
            let said = format!(
                "Simple acceptance in {}: nominal values decided, without the uncertainty of readings.",
                counted(self.simple, "report")
            );
            page.item(0, 2, &[Part::text(said)]);
        }
        for said in &self.without_shipped {
            page.item(0, 2, &[Part::text(said.as_str())]);
        }
        for one in &self.loosened {
            let said = format!("{}.", loosened_in_short(one));
            page.item(0, 2, &[Part::text(said)]);
        }
        if !self.notice.is_empty() {
            first_page::notice_in_short(&self.notice, &mut page);
        }
        page.finish()
    }

    /// `3 proposals, for sorting only: 1 refuse, 0 warn, 1 pass; 1 cannot be used`.
    fn in_words(&self) -> String {
        let asked = self.asked.as_ref();
        let asked = asked.map(|asked| format!(", for {asked} only"));
        let mut words = format!(
            "{}{}: {} refuse, {} warn, {} pass",
            counted(self.proposals(), "proposal"),
            asked.unwrap_or_default(),
            self.refuse,
            self.warn,
            self.pass
        );
        if self.unusable > 0 {
            words += &format!("; {} cannot be used", self.unusable);
        }
        if self.nothing_checked > 0 {
            words += &format!("; in {} nothing was checked", self.nothing_checked);
        }
        words
    }
}
