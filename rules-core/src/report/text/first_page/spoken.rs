//! What speaks against a use, and what may: each caution once, with its number beside the limit and
//! the cure's first sentence.

use std::collections::BTreeSet;

use super::measured::measured;
use crate::check::{Finding, Report, Status, Verdict};
use crate::report::text::group::Group;
use crate::report::text::opening::verdict;
use crate::report::text::page::{Page, Part};
use crate::report::text::sentences::sentences;
use crate::report::text::style::Role;
use crate::report::text::summary::others;

/// The columns of the verdict and of the text.
const INDENT: usize = 2;
const TEXT: usize = 10;

/// How a finding stands to the use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report::text) enum Standing {
    /// It speaks, whatever else becomes known.
    Against,
    /// A reading is too wide to say.
    InDoubt,
    /// An answer is missing: a question, and no accusation.
    Open,
}

pub(in crate::report::text) fn standing(finding: &Finding) -> Standing {
    match (finding.best, finding.status) {
        (Verdict::Pass, Status::Unmeasured) => Standing::Open,
        (Verdict::Pass, Status::InDoubt) => Standing::InDoubt,
        _ => Standing::Against,
    }
}

/// How fully it is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Manner {
    /// So many that speak have their cure below them, the gravest first.
    pub cures: usize,
    /// Whether what is in doubt has below it what would settle it.
    pub settled_by: bool,
    /// So many that speak have a line of their own. The others share lines.
    pub against: usize,
    /// So many that are in doubt have a line of their own. The others share lines.
    pub in_doubt: usize,
}

/// The findings that speak, and those that may.
pub(super) struct Spoken<'r> {
    report: &'r Report,
    against: Vec<&'r Group<'r>>,
    in_doubt: Vec<&'r Group<'r>>,
}

impl<'r> Spoken<'r> {
    pub(super) fn of(report: &'r Report, groups: &'r [Group<'r>]) -> Self {
        let of = |wanted: Standing| {
            let all = groups.iter();
            all.filter(|group| standing(group.first) == wanted)
                .collect()
        };
        Self {
            report,
            against: of(Standing::Against),
            in_doubt: of(Standing::InDoubt),
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.against.is_empty() && self.in_doubt.is_empty()
    }

    /// The most entries of a part.
    pub(super) fn longest(&self) -> usize {
        self.against.len().max(self.in_doubt.len())
    }

    /// How many cautions speak.
    pub(super) fn against_count(&self) -> usize {
        cautions(&self.against)
    }

    /// How many cautions may speak for a reading that is too wide.
    pub(super) fn doubt_count(&self) -> usize {
        cautions(&self.in_doubt)
    }

    /// What speaks, in a few words each, the gravest first.
    pub(super) fn named(&self) -> Vec<String> {
        let named = |group: &&Group<'_>| {
            let first = group.first;
            format!("{} {}{}", first.verdict.word(), first.title, of(group))
        };
        self.against.iter().map(named).collect()
    }

    pub(super) fn write(&self, manner: Manner, page: &mut Page<'_>) {
        let cured = |at, group: &Group<'_>| cure(group).filter(|_| at < manner.cures);
        part("Against it", &self.against, manner.against, page, cured);
        let settled =
            |_, group: &Group<'_>| settled_by(group, self.report).filter(|_| manner.settled_by);
        part("In doubt", &self.in_doubt, manner.in_doubt, page, settled);
    }
}

fn part(
    heading: &str,
    groups: &[&Group<'_>],
    own_lines: usize,
    page: &mut Page<'_>,
    below: impl Fn(usize, &Group<'_>) -> Option<String>,
) {
    if groups.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, heading)]);
    let (own, shared) = groups.split_at(own_lines.min(groups.len()));
    for (at, group) in own.iter().enumerate() {
        entry(group, page);
        if let Some(below) = below(at, group) {
            page.paragraph(TEXT, &[Part::text(below)]);
        }
    }
    joined(shared, page);
}

fn entry(group: &Group<'_>, page: &mut Page<'_>) {
    let number = measured(group).map_or_else(String::new, |number| format!(": {number}"));
    let text = [
        Part::text(group.first.title.as_ref()),
        Part::text(format!("{}{number}", of(group))),
    ];
    page.entry(INDENT, &[verdict(group.first.verdict, false)], TEXT, &text);
}

/// Whom it is of, where there can be several.
fn of(group: &Group<'_>) -> String {
    match group.first.subject.is_only() {
        true => String::new(),
        false => format!(", {}", group.subjects()),
    }
}

fn cautions(groups: &[&Group<'_>]) -> usize {
    let names: BTreeSet<_> = groups.iter().map(|group| &group.first.caution).collect();
    names.len()
}

/// Titles with subjects on shared lines, those of each verdict together.
fn joined(groups: &[&Group<'_>], page: &mut Page<'_>) {
    for wanted in [Verdict::Refuse, Verdict::Warn] {
        let titles: Vec<String> = groups
            .iter()
            .filter(|group| group.first.verdict == wanted)
            .map(|group| format!("{}{}", group.first.title, of(group)))
            .collect();
        if !titles.is_empty() {
            let text = Part::text(titles.join("; "));
            page.entry(INDENT, &[verdict(wanted, false)], TEXT, &[text]);
        }
    }
}

/// The first sentence of the remedy.
fn cure(group: &Group<'_>) -> Option<String> {
    let remedy = group.common(|finding| finding.remedy.as_ref().map(ToString::to_string))??;
    Some((*sentences(&remedy).first()?).to_owned())
}

/// What else it could be, and the readings that leave it so.
fn settled_by(group: &Group<'_>, report: &Report) -> Option<String> {
    let first = group.first;
    let others = others(first.verdict, first.best, first.worst)?;
    let wide = report.measure_next.iter().filter(|next| !next.missing);
    let of_it = wide.filter(|next| first.facts.iter().any(|fact| fact.name == next.fact));
    let places: BTreeSet<String> = of_it.filter_map(|next| report.place_of(next)).collect();
    let closer = match places.is_empty() {
        true => String::new(),
        false => format!(
            "; read more closely: {}",
            places.into_iter().collect::<Vec<_>>().join(", ")
        ),
    };
    Some(format!("or {others}{closer}"))
}
