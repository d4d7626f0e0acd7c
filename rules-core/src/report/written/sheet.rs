//! The facts and the library figures that a report speaks of, each written once, and how entries
//! name them.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;

use super::each::Each;
use super::narrowed::{WrittenNarrowing, told};
use super::numbers::WrittenNumber;
use super::tables::Tables;
use super::texts::Text;
use crate::check::{FactReport, FactState, FigureUse, Subject, each_once};
use crate::report::left_out::is_no;

/// A fact of one or more subjects.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Fact", deny_unknown_fields))]
pub(super) struct FactEntry<'w> {
    /// Its dotted name.
    name: &'w str,
    /// Whose it is: one of `sets`.
    subjects: usize,
    /// How it is known.
    state: FactState,
    /// Its value with uncertainty; none where it is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<Each<Text<'w>>>,
    /// Whether it is only as good as the meter that the rules assume: the proposal states none.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(feature = "schema", schemars(default))]
    meter_assumed: bool,
    /// The file that gives it, where that is not the proposal: it took it from there.
    #[serde(skip_serializing_if = "Option::is_none")]
    file: Option<Each<&'w str>>,
    /// The line that gives it, of the proposal or of that file.
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<Each<usize>>,
    /// The column there.
    #[serde(skip_serializing_if = "Option::is_none")]
    column: Option<Each<usize>>,
}

/// A figure of the library, of one or more subjects.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Figure", deny_unknown_fields))]
pub(super) struct FigureEntry<'w> {
    /// Its dotted name.
    name: &'w str,
    /// Whose it is: one of `sets`.
    subjects: usize,
    /// What it came to, the error of the model included.
    value: WrittenNumber<'w>,
    /// Where the model does not reach, so that the value is open towards the cautious side: why.
    #[serde(skip_serializing_if = "Option::is_none")]
    open: Option<&'w str>,
    /// What would narrow it most, where a finding is in doubt.
    #[serde(skip_serializing_if = "Option::is_none")]
    narrowed_by: Option<WrittenNarrowing<'w>>,
}

/// Facts or figures that take part in an entry: which, and whose.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(deny_unknown_fields))]
pub(super) struct Uses<'w> {
    /// Their dotted names.
    names: Vec<&'w str>,
    /// Whether those of the entry's own subject take part.
    #[serde(skip_serializing_if = "is_no")]
    #[cfg_attr(feature = "schema", schemars(default))]
    own: bool,
    /// Whose as well: one of `sets`.
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<Each<usize>>,
}

/// A fact or figure by name and subject.
pub(super) trait Named {
    fn name(&self) -> &str;
    fn subject(&self) -> &Subject;
}

impl Named for FactReport {
    fn name(&self) -> &str {
        &self.name
    }

    fn subject(&self) -> &Subject {
        &self.subject
    }
}

impl Named for FigureUse {
    fn name(&self) -> &str {
        &self.name
    }

    fn subject(&self) -> &Subject {
        &self.subject
    }
}

impl<T: Named> Named for Arc<T> {
    fn name(&self) -> &str {
        (**self).name()
    }

    fn subject(&self) -> &Subject {
        (**self).subject()
    }
}

/// What findings have alike if they use the same of the same: names, whether that of their own
/// subject is among them, and whether others' are.
pub(super) type Used<'w> = Vec<(&'w str, bool, bool)>;

/// What of a list, in which names are together, one subject uses.
pub(super) fn used<'w, T: Named>(
    list: &'w [T],
    own: &Subject,
) -> impl Iterator<Item = (&'w str, bool, bool)> {
    by_name(list).filter_map(move |of_name| {
        let is_own = |one: &T| one.subject() == own;
        Some((
            of_name.first()?.name(),
            of_name.iter().any(is_own),
            !of_name.iter().all(is_own),
        ))
    })
}

fn by_name<T: Named>(list: &[T]) -> impl Iterator<Item = &[T]> {
    list.chunk_by(|one, other| one.name() == other.name())
}

/// What the subjects of an entry use, whose lists have it alike.
pub(super) fn uses<'w, T: Named + 'w>(
    lists: impl Iterator<Item = (&'w Subject, &'w [T])> + Clone,
    tables: &mut Tables<'w>,
) -> Vec<Uses<'w>> {
    let Some((own, list)) = lists.clone().next() else {
        return Vec::new();
    };
    let mut all: Vec<Uses<'w>> = Vec::new();
    for (at, (name, is_own, others)) in used(list, own).enumerate() {
        let of_each = || lists.clone().map(|(own, list)| (own, nth(list, at)));
        let of = others
            .then(|| {
                Each::of(of_each().map(|(own, of_name)| {
                    let others = of_name.iter().map(Named::subject);
                    tables.set_of(others.filter(|subject| *subject != own))
                }))
            })
            .flatten();
        match all.last_mut() {
            Some(last) if (last.own, &last.of) == (is_own, &of) => last.names.push(name),
            _ => all.push(Uses {
                names: vec![name],
                own: is_own,
                of,
            }),
        }
    }
    all
}

/// The things of a list that have the name at a place among its names.
fn nth<T: Named>(list: &[T], at: usize) -> &[T] {
    by_name(list).nth(at).unwrap_or_default()
}

/// What facts of a name have alike: name, state, and whether there is a value, a place and an
/// assumed meter.
type FactKey<'w> = (&'w str, &'static str, bool, bool, bool);

/// One of several things with what it has alike with others, and the position of its subject.
type Placed<'w, K, T> = (K, usize, &'w T);

/// Things in the order of what they have alike and of their subjects, of each subject the last.
fn in_order<'w, K: Ord + Copy, T>(mut all: Vec<Placed<'w, K, T>>) -> Vec<Placed<'w, K, T>> {
    all.sort_by(|one, other| one.0.cmp(&other.0).then(one.1.cmp(&other.1)));
    all.dedup_by(|next, kept| {
        let is_same = (next.0, next.1) == (kept.0, kept.1);
        if is_same {
            *kept = *next;
        }
        is_same
    });
    all
}

/// All facts, each once: those of a name that are known alike together.
pub(super) fn facts<'w>(
    all: impl Iterator<Item = &'w Arc<FactReport>>,
    proposal: &str,
    tables: &mut Tables<'w>,
) -> Vec<FactEntry<'w>> {
    let placed = |fact: &'w Arc<FactReport>| {
        let key: FactKey<'w> = (
            &fact.name,
            fact.state.word(),
            fact.value.is_some(),
            fact.place.is_some(),
            fact.meter_assumed,
        );
        (key, tables.position(&fact.subject), &**fact)
    };
    let all = in_order(each_once(all).map(placed).collect());
    let alike = all.chunk_by(|one, next| one.0 == next.0);
    alike
        .filter_map(|of| FactEntry::of(of, proposal, tables))
        .collect()
}

impl<'w> FactEntry<'w> {
    /// Of facts that are known alike.
    fn of(
        of: &[Placed<'w, FactKey<'w>, FactReport>],
        proposal: &str,
        tables: &mut Tables<'w>,
    ) -> Option<Self> {
        let (.., first) = *of.first()?;
        let places = || of.iter().filter_map(|(.., fact)| fact.place.as_ref());
        let values = of.iter().filter_map(|(.., fact)| fact.value.as_ref());
        let file = Each::of(places().map(|place| &*place.file));
        Some(Self {
            name: &first.name,
            state: first.state,
            meter_assumed: first.meter_assumed,
            file: file.filter(|file| *file != Each::Same(proposal)),
            value: Each::of(values.map(|value| tables.texts.of_value(value))),
            line: Each::of(places().map(|place| place.line)),
            column: Each::of(places().map(|place| place.column)),
            subjects: tables.set(of.iter().map(|(_, position, _)| *position)),
        })
    }
}

/// All figures, each once: those of a name that are open alike together.
pub(super) fn figures<'w>(
    all: impl Iterator<Item = &'w Arc<FigureUse>>,
    tables: &mut Tables<'w>,
) -> Vec<FigureEntry<'w>> {
    let mut alike: BTreeMap<_, BTreeMap<usize, &FigureUse>> = BTreeMap::new();
    for figure in each_once(all) {
        let position = tables.position(&figure.subject);
        let narrowed = figure.narrowed_by.as_ref().map(told);
        let key = (figure.name.as_str(), figure.open.as_deref(), narrowed);
        alike.entry(key).or_default().insert(position, figure);
    }
    let written = |((name, open, _), of): ((&'w str, _, _), BTreeMap<usize, &'w FigureUse>)| {
        let first = of.values().next()?;
        let narrowed_by = first
            .narrowed_by
            .as_ref()
            .and_then(|narrowed| WrittenNarrowing::of(narrowed, &mut tables.texts));
        let values = of.values().map(|figure| &figure.value);
        Some(FigureEntry {
            name,
            value: WrittenNumber::of(values, &mut tables.texts)?,
            open,
            narrowed_by,
            subjects: tables.set(of.into_keys()),
        })
    };
    alike.into_iter().filter_map(written).collect()
}

/// Everyone whose facts or figures are in these lists.
pub(super) fn owners<'w, T: Named + 'w>(
    lists: impl Iterator<Item = &'w [T]>,
) -> impl Iterator<Item = &'w Subject> {
    lists.flatten().map(Named::subject)
}
