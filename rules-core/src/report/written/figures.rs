//! The figures of a proposal as they are written.

use std::collections::HashMap;

use serde::{Serialize, Serializer};

use super::each::Each;
use super::narrowed::{WrittenNarrowing, told};
use super::numbers::WrittenNumber;
use super::sheet::{FactEntry, Used, Uses, facts, owners, used, uses};
use super::tables::{Tables, WrittenSubject};
use super::unused::{WrittenUnused, unused};
use crate::check::{FigureReport, FigureSheet};
use crate::facts::Notice;
use crate::formula::Truth;
use crate::ruleset::LoadedRuleset;

/// The figures of a proposal. What is alike is reported once, as in a report.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "FigureSheet", deny_unknown_fields)
)]
struct WrittenFigureSheet<'w> {
    /// The version of the format: 1.
    #[cfg_attr(
        feature = "schema",
        schemars(schema_with = "crate::schema::format_one")
    )]
    format: u32,
    /// The proposal's title.
    title: &'w str,
    /// The proposal's file or stream.
    proposal: &'w str,
    /// The rulesets whose figures are here besides those of the library.
    rules: &'w [LoadedRuleset],
    /// The digest of the rules: of a list of their rulesets, the facts and the acceptance.
    digest: &'w str,
    /// The figures.
    figures: Vec<WrittenFigureReport<'w>>,
    /// All that the sheet speaks of, in the order of their names.
    subjects: Vec<WrittenSubject<'w>>,
    /// Lists of positions in `subjects`.
    sets: Vec<Vec<usize>>,
    /// The facts that figures were worked from.
    facts: Vec<FactEntry<'w>>,
    /// Readings that were given and that no figure could use.
    unused: Vec<WrittenUnused<'w>>,
    /// What regulators and makers say of any such use. No figure overrules it.
    notice: &'w [Notice],
}

/// A figure of subjects for which it was worked from the like: what it came to, and from what.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(
    feature = "schema",
    schemars(rename = "FigureReport", deny_unknown_fields)
)]
struct WrittenFigureReport<'w> {
    /// Its dotted name.
    name: &'w str,
    /// Whose it is: one of `sets`.
    subjects: usize,
    /// What it means.
    meaning: &'w str,
    /// The formula, where a ruleset defines it; else the library works it out.
    #[serde(skip_serializing_if = "Option::is_none")]
    is: Option<&'w str>,
    /// What it came to; none for a condition.
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<WrittenNumber<'w>>,
    /// Whether it holds, for a condition.
    #[serde(skip_serializing_if = "Option::is_none")]
    truth: Option<Truth>,
    /// Where the model does not reach, so that the value is open towards the cautious side: why.
    #[serde(skip_serializing_if = "Option::is_none")]
    open: Option<&'static str>,
    /// What would narrow it, what narrows it most first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "schema", schemars(default))]
    narrowed_by: Vec<WrittenNarrowing<'w>>,
    /// The facts it was worked from.
    facts: Vec<Uses<'w>>,
    /// How many more there are.
    #[serde(skip_serializing_if = "Each::is_default")]
    #[cfg_attr(feature = "schema", schemars(default = "super::each::zero"))]
    more_facts: Each<usize>,
}

impl Serialize for FigureSheet {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        WrittenFigureSheet::of(self).serialize(serializer)
    }
}

impl<'w> WrittenFigureSheet<'w> {
    fn of(sheet: &'w FigureSheet) -> Self {
        let of_facts = owners(sheet.figures.iter().map(|figure| figure.facts.as_slice()));
        let of_figures = sheet.figures.iter().map(|figure| &figure.subject);
        let of_unused = sheet.unused.iter().flat_map(|unused| &unused.subjects);
        let mut tables = Tables::of(of_facts.chain(of_figures).chain(of_unused));
        let figures = alike(&sheet.figures, &tables)
            .into_iter()
            .filter_map(|part| WrittenFigureReport::of(&part, &mut tables))
            .collect();
        let facts = facts(
            sheet.figures.iter().flat_map(|figure| &figure.facts),
            &sheet.proposal,
            &mut tables,
        );
        let unused = unused(&sheet.unused, &mut tables);
        let (subjects, sets) = tables.finish();
        Self {
            format: sheet.format,
            title: &sheet.title,
            proposal: &sheet.proposal,
            rules: &sheet.rules,
            digest: &sheet.digest,
            figures,
            subjects,
            sets,
            facts,
            unused,
            notice: &sheet.notice,
        }
    }
}

/// What figures have alike where only their values differ: name, truth, openness, what would narrow
/// them and facts.
type Shape<'w> = (
    &'w str,
    Option<Truth>,
    Option<&'w str>,
    Vec<Vec<String>>,
    Used<'w>,
);

/// Figures that are alike together, each where the first of them is; among them by the positions of
/// the subjects.
fn alike<'w>(all: &'w [FigureReport], tables: &Tables<'w>) -> Vec<Vec<&'w FigureReport>> {
    let mut parts: Vec<Vec<&FigureReport>> = Vec::new();
    let mut places: HashMap<Shape<'_>, usize> = HashMap::new();
    for figure in all {
        let facts: Used<'_> = used(&figure.facts, &figure.subject).collect();
        let narrowed = figure.narrowed_by.iter().map(told).collect();
        let shape = (
            figure.name.as_str(),
            figure.truth,
            figure.open,
            narrowed,
            facts,
        );
        let place = *places.entry(shape).or_insert(parts.len());
        match parts.get_mut(place) {
            Some(part) => part.push(figure),
            None => parts.push(vec![figure]),
        }
    }
    for part in &mut parts {
        part.sort_by_key(|figure| tables.position(&figure.subject));
    }
    parts
}

impl<'w> WrittenFigureReport<'w> {
    fn of(part: &[&'w FigureReport], tables: &mut Tables<'w>) -> Option<Self> {
        let first = *part.first()?;
        let values = part.iter().filter_map(|figure| figure.value.as_ref());
        let facts = part
            .iter()
            .map(|figure| (&figure.subject, figure.facts.as_slice()));
        Some(Self {
            name: &first.name,
            meaning: &first.meaning,
            is: first.is.as_deref(),
            value: WrittenNumber::of(values, &mut tables.texts),
            truth: first.truth,
            open: first.open,
            narrowed_by: first
                .narrowed_by
                .iter()
                .filter_map(|narrowed| WrittenNarrowing::of(narrowed, &mut tables.texts))
                .collect(),
            facts: uses(facts, tables),
            more_facts: Each::of(part.iter().map(|figure| figure.more_facts))?,
            subjects: tables.set_of(part.iter().map(|figure| &figure.subject)),
        })
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for FigureSheet {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        WrittenFigureSheet::schema_name()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        WrittenFigureSheet::json_schema(generator)
    }
}
