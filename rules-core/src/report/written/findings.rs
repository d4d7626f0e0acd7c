//! Findings, those that are alike as one.

use std::collections::{BTreeMap, HashMap};

use serde::Serialize;

use super::each::Each;
use super::numbers::{WrittenMargin, WrittenNumber};
use super::sheet::{Used, Uses, used, uses};
use super::tables::Tables;
use super::told::{Piece, Told, pieces};
use crate::check::{
    ClauseReport, FilledText, Finding, ReportedNumber, ReportedValue, RungName, Status, Subject,
    Verdict,
};
use crate::document::Place;
use crate::formula::Truth;
use crate::report::alike::Group;
use crate::report::left_out::is_no;
use crate::ruleset::Basis;

/// One caution's outcome for subjects for which it came to the same, by the same parts of its
/// formulas.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Finding", deny_unknown_fields))]
pub(super) struct WrittenFinding<'w> {
    /// The caution, which stands under `cautions`.
    pub caution: &'w str,
    /// Whom it is about: one of `sets`.
    pub subjects: usize,
    /// The verdict.
    pub verdict: Verdict,
    /// The lowest verdict that what is known allows.
    pub best: Verdict,
    /// The highest verdict that what is known allows.
    pub worst: Verdict,
    /// How sure the finding is.
    pub status: Status,
    /// The rung that gave the verdict.
    pub rung: RungName,
    /// Why, with the numbers.
    reason: Told,
    /// What to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    remedy: Option<Told>,
    /// The comparisons that decided.
    pub clauses: Vec<WrittenClause<'w>>,
    /// The library's figures that took part in them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    pub figures: Vec<Uses<'w>>,
    /// The facts that took part in them.
    pub facts: Vec<Uses<'w>>,
    /// How many more facts took part than are listed.
    #[serde(skip_serializing_if = "Each::is_default")]
    #[cfg_attr(feature = "schema", schemars(default = "super::each::zero"))]
    pub more_facts: Each<usize>,
    /// The dotted names of those that are missing.
    pub missing: &'w [String],
}

/// A comparison, or another part of a condition, that was not surely met.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Clause", deny_unknown_fields))]
pub(super) struct WrittenClause<'w> {
    /// As written.
    text: &'w str,
    /// What it came to.
    truth: Truth,
    /// Whether it is in the condition, so that it leaves open whether the caution applies at all.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(feature = "schema", schemars(default))]
    of_condition: bool,
    /// The left side of a comparison of numbers.
    #[serde(skip_serializing_if = "Option::is_none")]
    left: Option<WrittenNumber<'w>>,
    /// The right side.
    #[serde(skip_serializing_if = "Option::is_none")]
    right: Option<WrittenNumber<'w>>,
    /// By how much it is met, at the worst. Negative where it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    margin: Option<WrittenMargin>,
    /// The limits that take part.
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    limits: &'w [String],
}

/// What holds for a caution, whatever its outcome.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Caution", deny_unknown_fields))]
pub(super) struct CautionEntry<'w> {
    /// What it is about.
    title: &'w str,
    /// The stage that it is of, one of those of the rules; left out, if it is of every stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    stage: Option<&'w str>,
    /// Whether it is of the base that no local practice may drop.
    fixed: bool,
    /// What it rests on.
    basis: &'w [Basis],
    /// Where its rungs that gave verdicts are in the ruleset.
    rungs: BTreeMap<&'static str, &'w Place>,
}

/// The cautions of findings, by id.
pub(super) fn cautions(findings: &[Finding]) -> BTreeMap<&str, CautionEntry<'_>> {
    let mut cautions: BTreeMap<&str, CautionEntry<'_>> = BTreeMap::new();
    for finding in findings {
        let caution = cautions
            .entry(&finding.caution)
            .or_insert_with(|| CautionEntry {
                title: &finding.title,
                stage: finding.stage.as_deref(),
                fixed: finding.fixed,
                basis: &finding.basis,
                rungs: BTreeMap::new(),
            });
        caution
            .rungs
            .entry(finding.rung.key())
            .or_insert(&finding.rule);
    }
    cautions
}

/// The findings of groups, each circuit in parts that are alike.
pub(super) fn findings<'w>(
    groups: &[Group<'w>],
    tables: &mut Tables<'w>,
) -> Vec<WrittenFinding<'w>> {
    let mut written = Vec::new();
    for group in groups {
        for part in alike(group, tables) {
            written.extend(WrittenFinding::of(&part, tables));
        }
    }
    written
}

/// The same without their words, each with the values that are put into its reason and remedy.
pub(super) fn findings_with_values<'w>(
    groups: &[Group<'w>],
    tables: &mut Tables<'w>,
) -> Vec<(WrittenFinding<'w>, Vec<Piece>)> {
    let mut written = Vec::new();
    for group in groups {
        for part in alike(group, tables) {
            let values = values(&part);
            written.extend(WrittenFinding::without_words(&part, tables).map(|one| (one, values)));
        }
    }
    written
}

/// The values in the reasons and remedies of findings.
fn values(part: &[&Finding]) -> Vec<Piece> {
    let filled = |finding: &&Finding| {
        let texts = std::iter::once(&finding.reason).chain(&finding.remedy);
        let pieces = texts.flat_map(|text| &text.0);
        let values = pieces.filter(|piece| !matches!(piece, ReportedValue::Said(_)));
        values.map(ReportedValue::text).collect()
    };
    let subjects: Vec<&Subject> = part.iter().map(|finding| &finding.subject).collect();
    pieces(part.iter().map(filled).collect(), &subjects)
}

/// What findings have alike besides their outcome, where only their values differ.
#[derive(PartialEq, Eq, Hash)]
struct Shape<'w> {
    clauses: Vec<(&'w str, Truth, bool, bool, bool)>,
    figures: Used<'w>,
    facts: Used<'w>,
    missing: &'w [String],
}

/// What clauses have alike: text, truth, whether they are of the condition, whether they have sides
/// and a margin.
fn of_clauses(finding: &Finding) -> impl Iterator<Item = (&str, Truth, bool, bool, bool)> {
    finding.clauses.iter().map(|clause| {
        (
            clause.text.as_str(),
            clause.truth,
            clause.of_condition,
            clause.left.is_some(),
            clause.margin.is_some(),
        )
    })
}

impl<'w> Shape<'w> {
    /// Whether two findings have one shape.
    fn is_of_both(one: &Finding, other: &Finding) -> bool {
        let (of_one, of_other) = (&one.subject, &other.subject);
        one.missing == other.missing
            && of_clauses(one).eq(of_clauses(other))
            && used(&one.figures, of_one).eq(used(&other.figures, of_other))
            && used(&one.facts, of_one).eq(used(&other.facts, of_other))
    }

    fn of(finding: &'w Finding) -> Self {
        Self {
            clauses: of_clauses(finding).collect(),
            figures: used(&finding.figures, &finding.subject).collect(),
            facts: used(&finding.facts, &finding.subject).collect(),
            missing: &finding.missing,
        }
    }
}

/// The parts of a group, each where its first finding is; in a part by the positions of the
/// subjects.
fn alike<'w>(group: &Group<'w>, tables: &Tables<'w>) -> Vec<Vec<&'w Finding>> {
    if group.more.is_empty() {
        return vec![vec![group.first]];
    }
    let is_like_first = |one: &&Finding| Shape::is_of_both(group.first, one);
    let mut parts = match group.more.iter().all(is_like_first) {
        true => vec![group.findings().collect()],
        false => by_shape(group),
    };
    for part in &mut parts {
        part.sort_by_key(|finding| tables.position(&finding.subject));
    }
    parts
}

fn by_shape<'w>(group: &Group<'w>) -> Vec<Vec<&'w Finding>> {
    let mut parts: Vec<Vec<&Finding>> = Vec::new();
    let mut places: HashMap<Shape<'_>, usize> = HashMap::new();
    for finding in group.findings() {
        let place = *places.entry(Shape::of(finding)).or_insert(parts.len());
        match parts.get_mut(place) {
            Some(part) => part.push(finding),
            None => parts.push(vec![finding]),
        }
    }
    parts
}

impl<'w> WrittenFinding<'w> {
    fn of(part: &[&'w Finding], tables: &mut Tables<'w>) -> Option<Self> {
        let subjects: Vec<&Subject> = part.iter().map(|finding| &finding.subject).collect();
        let told = |of: fn(&Finding) -> Option<&FilledText>| {
            let texts: Vec<&FilledText> = part.iter().filter_map(|finding| of(finding)).collect();
            (!texts.is_empty()).then(|| Told::of(&texts, &subjects))
        };
        Some(Self {
            reason: told(|finding| Some(&finding.reason))?,
            remedy: told(|finding| finding.remedy.as_ref()),
            ..Self::without_words(part, tables)?
        })
    }

    /// The same without reason and remedy.
    fn without_words(part: &[&'w Finding], tables: &mut Tables<'w>) -> Option<Self> {
        let first = *part.first()?;
        let subjects: Vec<&Subject> = part.iter().map(|finding| &finding.subject).collect();
        let figures: Vec<_> = part
            .iter()
            .map(|finding| (&finding.subject, finding.figures.as_slice()))
            .collect();
        let facts: Vec<_> = part
            .iter()
            .map(|finding| (&finding.subject, finding.facts.as_slice()))
            .collect();
        Some(Self {
            caution: &first.caution,
            verdict: first.verdict,
            best: first.best,
            worst: first.worst,
            status: first.status,
            rung: first.rung,
            reason: Told::Whole(String::new()),
            remedy: None,
            clauses: clauses(part),
            figures: uses(&figures, tables),
            facts: uses(&facts, tables),
            more_facts: Each::of(part.iter().map(|finding| finding.more_facts))?,
            missing: &first.missing,
            subjects: tables.set_of(subjects),
        })
    }
}

fn clauses<'w>(part: &[&'w Finding]) -> Vec<WrittenClause<'w>> {
    let Some(first) = part.first() else {
        return Vec::new();
    };
    let written = |(at, clause): (usize, &'w ClauseReport)| {
        let all: Vec<&ClauseReport> = part
            .iter()
            .filter_map(|finding| finding.clauses.get(at))
            .collect();
        let side = |side: fn(&ClauseReport) -> Option<&ReportedNumber>| {
            WrittenNumber::of(&all.iter().filter_map(|one| side(one)).collect::<Vec<_>>())
        };
        let margins: Vec<_> = all.iter().filter_map(|one| one.margin.as_ref()).collect();
        WrittenClause {
            text: &clause.text,
            truth: clause.truth,
            of_condition: clause.of_condition,
            left: side(|one| one.left.as_ref()),
            right: side(|one| one.right.as_ref()),
            margin: WrittenMargin::of(&margins),
            limits: &clause.limits,
        }
    };
    first.clauses.iter().enumerate().map(written).collect()
}
