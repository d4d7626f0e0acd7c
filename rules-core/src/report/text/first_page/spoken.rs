//! What speaks against a use, and what may: each caution once, with its number beside the limit and
//! the cure's first sentence.

use std::collections::{BTreeMap, BTreeSet};

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

/// So many readings are named that would settle something; the rest is counted.
const MOST_PLACES: usize = 8;

/// How a finding stands to the use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It speaks, whatever else becomes known.
    Against,
    /// A reading is too wide to say.
    InDoubt,
    /// An answer is missing: a question, and no accusation.
    Open,
}

/// How a finding stands to the use.
#[must_use]
pub fn standing(finding: &Finding) -> Standing {
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

/// How many cautions speak against a use, and how many may for a reading that is too wide.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct SpokenCounts {
    pub against: usize,
    pub in_doubt: usize,
}

impl SpokenCounts {
    pub(super) fn of(report: &Report) -> Self {
        Self {
            against: cautions(&report.findings, Standing::Against),
            in_doubt: cautions(&report.findings, Standing::InDoubt),
        }
    }
}

/// How many cautions have a finding that stands so to the use.
pub(super) fn cautions<'r>(
    findings: impl IntoIterator<Item = &'r Finding>,
    wanted: Standing,
) -> usize {
    let all = findings.into_iter();
    let names = all.filter(|finding| standing(finding) == wanted);
    names
        .map(|finding| &finding.caution)
        .collect::<BTreeSet<_>>()
        .len()
}

/// The findings that speak, and those that may, in words.
pub(super) struct Spoken {
    pub against: Vec<SpokenEntry>,
    pub in_doubt: Vec<SpokenEntry>,
}

/// What speaks alike of several, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct SpokenEntry {
    /// Its verdict.
    pub verdict: Verdict,
    /// The caution, and whom it is of.
    pub title: String,
    /// The number beside its limit, or the word that decided.
    pub measured: Option<String>,
    /// The cure's first sentence, what would settle it, or both.
    pub below: Option<String>,
}

impl Spoken {
    pub(super) fn of(report: &Report, groups: &[Group<'_>]) -> Self {
        let of = |wanted: Standing, below: &dyn Fn(&Group<'_>) -> Option<String>| {
            let groups = groups.iter();
            let groups = groups.filter(|group| standing(group.first) == wanted);
            let entry = |group: &Group<'_>| SpokenEntry {
                verdict: group.first.verdict,
                title: format!("{}{}", group.first.title, of(group)),
                measured: measured(group),
                below: below(group),
            };
            groups.map(entry).collect()
        };
        let wide = wide_readings(report);
        Self {
            against: of(Standing::Against, &|group| cured_by(group, &wide)),
            in_doubt: of(Standing::InDoubt, &|group| settled_by(group, &wide)),
        }
    }

    /// The most entries of a part.
    pub(super) fn longest(&self) -> usize {
        self.against.len().max(self.in_doubt.len())
    }

    /// How many entries refuse. They stand before the others.
    pub(super) fn refusals(&self) -> usize {
        let refuses = |entry: &&SpokenEntry| entry.verdict == Verdict::Refuse;
        self.against.iter().take_while(refuses).count()
    }

    /// What speaks, in a few words each, the gravest first.
    pub(super) fn named(&self) -> Vec<String> {
        let named = |entry: &SpokenEntry| format!("{} {}", entry.verdict.word(), entry.title);
        self.against.iter().map(named).collect()
    }

    pub(super) fn write(&self, manner: Manner, page: &mut Page<'_>) {
        let cured = |at| at < manner.cures;
        part("Against it", &self.against, manner.against, cured, page);
        let settled = |_| manner.settled_by;
        part("In doubt", &self.in_doubt, manner.in_doubt, settled, page);
    }
}

fn part(
    heading: &str,
    entries: &[SpokenEntry],
    own_lines: usize,
    has_below: impl Fn(usize) -> bool,
    page: &mut Page<'_>,
) {
    if entries.is_empty() {
        return;
    }
    page.gap();
    page.paragraph(0, &[Part::new(Role::Heading, heading)]);
    let (own, shared) = entries.split_at(own_lines.min(entries.len()));
    for (at, entry) in own.iter().enumerate() {
        entry.write(page);
        if let Some(below) = entry.below.as_deref().filter(|_| has_below(at)) {
            page.paragraph(TEXT, &[Part::text(below)]);
        }
    }
    joined(shared, page);
}

impl SpokenEntry {
    fn write(&self, page: &mut Page<'_>) {
        let measured = self.measured.as_ref();
        let measured = measured.map_or_else(String::new, |number| format!(": {number}"));
        let text = [Part::text(self.title.as_str()), Part::text(measured)];
        page.entry(INDENT, &[verdict(self.verdict, false)], TEXT, &text);
    }
}

/// Whom it is of, where there can be several.
fn of(group: &Group<'_>) -> String {
    match group.first.subject.is_only() {
        true => String::new(),
        false => format!(", {}", group.subjects()),
    }
}

/// Titles with subjects on shared lines, those of each verdict together.
fn joined(entries: &[SpokenEntry], page: &mut Page<'_>) {
    for wanted in [Verdict::Refuse, Verdict::Warn] {
        let of_verdict = entries.iter().filter(|entry| entry.verdict == wanted);
        let titles: Vec<&str> = of_verdict.map(|entry| entry.title.as_str()).collect();
        if !titles.is_empty() {
            let text = Part::text(titles.join("; "));
            page.entry(INDENT, &[verdict(wanted, false)], TEXT, &[text]);
        }
    }
}

/// The first sentence of the remedy; before it, of one that may be milder, the readings that leave it
/// so.
fn cured_by(group: &Group<'_>, wide: &BTreeMap<&str, BTreeSet<String>>) -> Option<String> {
    let in_doubt = group.first.status == Status::InDoubt;
    let settled = in_doubt.then(|| settled_by(group, wide)).flatten();
    match (settled, cure(group)) {
        (Some(settled), Some(cure)) => Some(format!("{settled}. {cure}")),
        (settled, cure) => settled.or(cure),
    }
}

/// The first sentence of the remedy.
fn cure(group: &Group<'_>) -> Option<String> {
    let remedy = group.common(|finding| finding.remedy.as_ref().map(ToString::to_string))??;
    Some((*sentences(&remedy).first()?).to_owned())
}

/// The readings that are too wide for something, by fact: where each is written.
fn wide_readings(report: &Report) -> BTreeMap<&str, BTreeSet<String>> {
    let mut wide: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for next in report.measure_next.iter().filter(|next| !next.missing) {
        let place = report.place_of(next);
        wide.entry(&next.fact).or_default().extend(place);
    }
    wide
}

/// What else it could be, and the readings that leave it so.
fn settled_by(group: &Group<'_>, wide: &BTreeMap<&str, BTreeSet<String>>) -> Option<String> {
    let first = group.first;
    let others = others(first.verdict, first.best, first.worst)?;
    let facts: BTreeSet<&str> = first.facts.iter().map(|fact| &*fact.name).collect();
    let places = facts.iter().filter_map(|fact| wide.get(fact)).flatten();
    let places: BTreeSet<&str> = places.map(String::as_str).collect();
    let more = match places.len().saturating_sub(MOST_PLACES) {
        0 => String::new(),
        count => format!(" and {count} more"),
    };
    let named: Vec<&str> = places.into_iter().take(MOST_PLACES).collect();
    let closer = match named.is_empty() {
        true => String::new(),
        false => format!("; read more closely: {}{more}", named.join(", ")),
    };
    Some(format!("or {others}{closer}"))
}
