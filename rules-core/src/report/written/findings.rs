//! Findings, those that are alike as one.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};

use serde::Serialize;

use super::each::Each;
use super::numbers::{WrittenMargin, WrittenNumber};
use super::sheet::{Used, Uses, used, uses};
use super::tables::Tables;
use super::texts::{Text, Texts};
use super::told::{self, Piece, Told};
use crate::check::{ClauseReport, Finding, RungName, Status, Verdict};
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
    reason: Told<'w>,
    /// What to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    remedy: Option<Told<'w>>,
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
    pub missing: &'w [Cow<'static, str>],
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
    margin: Option<WrittenMargin<'w>>,
    /// The limits that take part.
    #[serde(skip_serializing_if = "<[Cow<'_, str>]>::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    limits: &'w [Cow<'static, str>],
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

/// The findings of groups, those of each in parts that are alike.
pub(super) fn findings<'w>(
    groups: &[Group<'w>],
    tables: &mut Tables<'w>,
) -> Vec<WrittenFinding<'w>> {
    let mut written = Vec::with_capacity(groups.len());
    for group in groups {
        for_each_part(group, tables, |part, tables| {
            written.extend(WrittenFinding::of(part, tables));
        });
    }
    written
}

/// The same without their words, each with the values that are put into its reason and remedy.
pub(super) fn findings_with_values<'w>(
    groups: &[Group<'w>],
    tables: &mut Tables<'w>,
) -> Vec<(WrittenFinding<'w>, Vec<Piece<'w>>)> {
    let mut written = Vec::with_capacity(groups.len());
    for group in groups {
        for_each_part(group, tables, |part, tables| {
            let values = values(part, &mut tables.texts);
            written.extend(WrittenFinding::without_words(part, tables).map(|one| (one, values)));
        });
    }
    written
}

/// The values in the reasons and then in the remedies of findings.
fn values<'w>(part: &[&'w Finding], texts: &mut Texts) -> Vec<Piece<'w>> {
    let subjects = part.iter().map(|finding| &finding.subject);
    let reasons = part.iter().map(|finding| &finding.reason);
    let remedies = part.iter().filter_map(|finding| finding.remedy.as_ref());
    let mut values: Vec<_> = told::values(reasons, subjects.clone(), texts).collect();
    values.extend(told::values(remedies, subjects, texts));
    values
}

/// What findings have alike besides their outcome, where only their values differ.
#[derive(PartialEq, Eq, Hash)]
struct Shape<'w> {
    clauses: Vec<(&'w str, Truth, bool, bool, bool)>,
    figures: Used<'w>,
    facts: Used<'w>,
    missing: &'w [Cow<'static, str>],
}

/// What clauses have alike: text, truth, whether they are of the condition, whether they have sides
/// and a margin.
fn of_clauses(finding: &Finding) -> impl Iterator<Item = (&str, Truth, bool, bool, bool)> {
    finding.clauses.iter().map(|clause| {
        (
            &*clause.text,
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

/// Tells the parts of a group, each where its first finding is; in a part by the positions of the
/// subjects.
fn for_each_part<'w>(
    group: &Group<'w>,
    tables: &mut Tables<'w>,
    mut tell: impl FnMut(&[&'w Finding], &mut Tables<'w>),
) {
    if group.more.is_empty() {
        return tell(&[group.first], tables);
    }
    let is_like_first = |one: &&Finding| Shape::is_of_both(group.first, one);
    let parts = match group.more.iter().all(is_like_first) {
        true => vec![group.findings().collect()],
        false => by_shape(group),
    };
    for mut part in parts {
        part.sort_by_key(|finding| tables.position(&finding.subject));
        tell(&part, tables);
    }
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
        let subjects = part.iter().map(|finding| &finding.subject);
        let reasons = part.iter().map(|finding| &finding.reason);
        let remedies = part.iter().filter_map(|finding| finding.remedy.as_ref());
        let reason = Told::of(reasons, subjects.clone(), &mut tables.texts)?;
        let remedy = Told::of(remedies, subjects, &mut tables.texts);
        Some(Self {
            reason,
            remedy,
            ..Self::without_words(part, tables)?
        })
    }

    /// The same without reason and remedy.
    fn without_words(part: &[&'w Finding], tables: &mut Tables<'w>) -> Option<Self> {
        let first = *part.first()?;
        let figures = part.iter().map(|one| (&one.subject, &*one.figures));
        let facts = part.iter().map(|one| (&one.subject, &*one.facts));
        Some(Self {
            caution: &first.caution,
            verdict: first.verdict,
            best: first.best,
            worst: first.worst,
            status: first.status,
            rung: first.rung,
            reason: Told::Whole(Text::Told("")),
            remedy: None,
            clauses: clauses(part, &mut tables.texts),
            figures: uses(figures, tables),
            facts: uses(facts, tables),
            more_facts: Each::of(part.iter().map(|finding| finding.more_facts))?,
            missing: &first.missing,
            subjects: tables.set_of(part.iter().map(|finding| &finding.subject)),
        })
    }
}

fn clauses<'w>(part: &[&'w Finding], texts: &mut Texts) -> Vec<WrittenClause<'w>> {
    let Some(first) = part.first() else {
        return Vec::new();
    };
    let written = |(at, clause): (usize, &'w ClauseReport)| {
        let all = part.iter().filter_map(|finding| finding.clauses.get(at));
        let left = all.clone().filter_map(|one| one.left.as_ref());
        let right = all.clone().filter_map(|one| one.right.as_ref());
        let margins = all.filter_map(|one| one.margin.as_ref());
        WrittenClause {
            text: &clause.text,
            truth: clause.truth,
            of_condition: clause.of_condition,
            left: WrittenNumber::of(left, texts),
            right: WrittenNumber::of(right, texts),
            margin: WrittenMargin::of(margins, texts),
            limits: &clause.limits,
        }
    };
    first.clauses.iter().enumerate().map(written).collect()
}
