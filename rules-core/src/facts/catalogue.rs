//! What a trade brings to the engine, by number and by name.

use std::borrow::Cow;
use std::sync::Arc;

use super::dotted::{DottedNames, FactOrFigure};
use super::fact::{FactDef, FactId, FactKind};
use super::figures::{Figures, NoFigures};
use super::former::{FormerNames, Successor};
use super::known::Facts;
use super::meters::metered;
use super::notice::Notice;
use super::places::FactPlaces;
use super::ranked::FactNames;
use super::relation::RelationDef;
use super::section::{Key, Section, SummaryId};
use super::sheet::Sheet;
use super::subject::{MOST_SUBJECTS, SubjectDef, SubjectId};
use super::summary::SummaryDef;
use super::worked::{Needs, WorkedDef, WorkedId};
use crate::document::Prepared;
use crate::quantity::Kind;
use crate::snapshot::Snapshot;

/// A version of a ruleset that is shipped for a trade, with what identifies it. No other ruleset
/// may have its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShippedVersion {
    /// The ruleset's name.
    pub ruleset: &'static str,
    /// Its version.
    pub version: &'static str,
    /// The digest of its document: `sha256:` and 64 hexadecimal digits.
    pub digest: &'static str,
    /// Its text, if it is the version that comes with the library, with what was read of it when
    /// that was built.
    pub text: Option<Prepared>,
    /// The rules of this ruleset alone, with what it extends, compiled when the library was built.
    pub rules: Option<Snapshot>,
}

/// What a trade brings to the engine: all subjects, facts and library figures, by number and by
/// name, and the names of rulesets that it keeps for itself. A copy shares what is large until either
/// of the two changes.
#[derive(Debug, Clone)]
pub struct Catalogue {
    pub(super) subjects: Arc<[SubjectDef]>,
    pub(super) facts: Arc<Vec<FactDef>>,
    pub(super) full_names: FactNames,
    pub(super) places: FactPlaces,
    pub(super) sections: Arc<Vec<Section>>,
    /// The facts that are read with a meter, by its kind.
    pub(super) metered: Vec<(Kind, FactId)>,
    /// By subject, the first fact that is an id and has its name.
    pub(super) belonging: Vec<Option<FactId>>,
    /// By subject, the fact by which those of it are told apart.
    pub(super) ids: Vec<Option<FactId>>,
    worked: Arc<[WorkedDef]>,
    figures: Arc<dyn Figures>,
    pub(super) names: DottedNames,
    pub(super) relations: Arc<[RelationDef]>,
    pub(super) summaries: Arc<Vec<SummaryDef>>,
    shipped: &'static [ShippedVersion],
    pub(super) notice: Arc<[Notice]>,
    former: Arc<FormerNames>,
    pub(super) digest: String,
}

impl Catalogue {
    /// A catalogue of the subjects, without facts. More than [`MOST_SUBJECTS`] are left out.
    #[must_use]
    pub fn of_subjects(subjects: &[SubjectDef]) -> Self {
        let most = subjects.len().min(MOST_SUBJECTS);
        Self {
            subjects: subjects.iter().take(MOST_SUBJECTS).cloned().collect(),
            facts: Arc::default(),
            full_names: FactNames::default(),
            places: FactPlaces::default(),
            sections: vec![Section::EMPTY; most].into(),
            metered: Vec::new(),
            belonging: vec![None; most],
            ids: vec![None; most],
            worked: Arc::default(),
            figures: Arc::new(NoFigures),
            names: DottedNames::default(),
            relations: Arc::default(),
            summaries: Arc::default(),
            shipped: &[],
            notice: Arc::default(),
            former: Arc::default(),
            digest: String::new(),
        }
    }

    /// Adds a fact. A name already taken keeps its first meaning; callers report that as a fault of
    /// their own.
    pub fn add(&mut self, fact: FactDef) -> FactId {
        let id = FactId(u32::try_from(self.facts.len()).unwrap_or(u32::MAX));
        let mut slot = 0;
        if let Some(section) = Arc::make_mut(&mut self.sections).get_mut(fact.subject.position()) {
            slot = section.facts;
            section.add(&fact, id);
        }
        let name = self.full_name(fact.subject, &fact.name);
        self.full_names.push(name.clone());
        self.names.add(name.clone(), FactOrFigure::Fact(id));
        let is_new = self.names.find(&name) == Some(FactOrFigure::Fact(id));
        if is_new && fact.name == "id" && fact.kind == FactKind::Id {
            self.note_id(fact.subject, id);
        }
        self.places.add(fact.subject, slot);
        self.note_belonging(&fact, id);
        self.metered.extend(metered(&fact).map(|kind| (kind, id)));
        Arc::make_mut(&mut self.facts).push(fact);
        id
    }

    fn note_id(&mut self, subject: SubjectId, id: FactId) {
        if let Some(noted) = self.ids.get_mut(subject.position()) {
            *noted = Some(id);
        }
    }

    fn note_belonging(&mut self, fact: &FactDef, id: FactId) {
        let to = self.subject_named(&fact.name).map(SubjectId::position);
        let naming = to.and_then(|to| self.belonging.get_mut(to));
        if let Some(naming) = naming.filter(|_| fact.kind == FactKind::Id) {
            naming.get_or_insert(id);
        }
    }

    /// Sets what every report says, whatever the rules.
    pub fn set_notice(&mut self, notice: Vec<Notice>) {
        self.notice = notice.into();
    }

    /// Sets the digest of the table that the catalogue was read from.
    pub(super) fn set_digest(&mut self, digest: String) {
        self.digest = digest;
    }

    /// The digest of the table that the catalogue was read from; empty if it was made in code.
    #[must_use]
    pub fn digest(&self) -> &str {
        &self.digest
    }

    /// What every report says, whatever the rules.
    #[must_use]
    pub fn notice(&self) -> &[Notice] {
        &self.notice
    }

    /// Sets the names that facts and figures had before.
    pub fn set_former_names(&mut self, former: FormerNames) {
        self.former = Arc::new(former);
    }

    /// What takes the place of a full name, if it is one that was used before.
    #[must_use]
    pub fn successor(&self, full: &str) -> Option<&Successor> {
        self.former.get(full)
    }

    /// Sets the relations between facts that always hold.
    pub fn set_relations(&mut self, relations: Vec<RelationDef>) {
        self.relations = relations.into();
    }

    /// The relations between facts that always hold.
    #[must_use]
    pub fn relations(&self) -> &[RelationDef] {
        &self.relations
    }

    /// Adds a summary. A key already taken keeps its first meaning.
    pub(super) fn add_summary(&mut self, summary: SummaryDef) {
        let id = SummaryId(self.summaries.len());
        if let Some(section) = Arc::make_mut(&mut self.sections).get_mut(summary.subject.position())
        {
            section.add_summary(&summary.key, id);
        }
        Arc::make_mut(&mut self.summaries).push(summary);
    }

    /// The words that say several facts at once.
    #[must_use]
    pub fn summaries(&self) -> &[SummaryDef] {
        &self.summaries
    }

    /// A summary.
    #[must_use]
    pub fn summary(&self, id: SummaryId) -> Option<&SummaryDef> {
        self.summaries.get(id.0)
    }

    /// Keeps the names of shipped rulesets from others.
    pub fn reserve(&mut self, shipped: &'static [ShippedVersion]) {
        self.shipped = shipped;
    }

    /// Every version of a ruleset that was ever shipped for the trade.
    #[must_use]
    pub const fn shipped(&self) -> &'static [ShippedVersion] {
        self.shipped
    }

    /// Sets the figures that the library works out, and how: the first of `defs` is the one that
    /// `figures` knows as number 0.
    pub fn set_figures(&mut self, defs: Vec<WorkedDef>, figures: Arc<dyn Figures>) {
        for (position, def) in defs.iter().enumerate() {
            let name = self.full_name(def.subject, def.name);
            let figure = FactOrFigure::Worked(WorkedId::new(position));
            self.names.add(name, figure);
        }
        self.worked = defs.into();
        self.figures = figures;
    }

    /// How the library works out its figures.
    #[must_use]
    pub fn figures(&self) -> &dyn Figures {
        &*self.figures
    }

    /// The facts of a sheet, as figures see them.
    #[must_use]
    pub const fn facts_of<'s>(&'s self, sheet: &'s Sheet) -> Facts<'s> {
        Facts::new(&self.places, sheet)
    }

    /// The facts that library figures look at, by their numbers.
    pub fn needed(&self, needs: Needs) -> impl Iterator<Item = FactId> + '_ {
        needs
            .positions()
            .filter_map(|position| self.figures.needs().get(position).copied())
    }

    /// What a dotted name stands for.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<FactOrFigure> {
        self.names.find(name)
    }

    /// All dotted names, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.names.all().into_keys()
    }

    /// The fact of a dotted name.
    #[must_use]
    pub fn fact_named(&self, name: &str) -> Option<(FactId, &FactDef)> {
        match self.find(name) {
            Some(FactOrFigure::Fact(id)) => self.fact(id).map(|fact| (id, fact)),
            _ => None,
        }
    }

    /// What a key of a subject's section holds.
    #[must_use]
    pub fn key(&self, subject: SubjectId, key: &str) -> Option<&Key> {
        self.sections.get(subject.position())?.keys.get(key)
    }

    /// A fact's definition.
    #[must_use]
    pub fn fact(&self, id: FactId) -> Option<&FactDef> {
        self.facts.get(id.0 as usize)
    }

    /// A fact's dotted name; empty for an unknown number.
    #[must_use]
    pub fn fact_name(&self, id: FactId) -> &str {
        self.full_names.name(id)
    }

    /// The same to keep: no copy of one that the program holds.
    pub(crate) fn fact_name_to_keep(&self, id: FactId) -> Cow<'static, str> {
        self.full_names.to_keep(id)
    }

    /// How many dotted names of facts come before that of this one.
    pub(crate) fn rank(&self, id: FactId) -> usize {
        self.full_names.rank(id)
    }

    /// How many facts there are of a subject: their slots are below this.
    #[must_use]
    pub fn slots(&self, subject: SubjectId) -> usize {
        self.sections
            .get(subject.position())
            .map_or(0, |section| section.facts)
    }

    /// The slot of a fact among those of its subject.
    #[must_use]
    pub fn slot(&self, id: FactId) -> usize {
        self.places.of(id).map_or(usize::MAX, |(_, slot)| slot)
    }

    /// The facts that are read with a meter of this kind, in the order they were added.
    pub fn read_with(&self, kind: Kind) -> impl Iterator<Item = (FactId, &FactDef)> {
        let of_kind = move |(of, id): &(Kind, FactId)| (*of == kind).then_some(*id);
        let ids = self.metered.iter().filter_map(of_kind);
        ids.filter_map(|id| Some((id, self.fact(id)?)))
    }

    /// All facts with their numbers, in the order they were added.
    pub fn facts(&self) -> impl ExactSizeIterator<Item = (FactId, &FactDef)> {
        self.facts
            .iter()
            .enumerate()
            .map(|(at, fact)| (FactId(u32::try_from(at).unwrap_or(u32::MAX)), fact))
    }

    /// The definitions of the library's figures.
    #[must_use]
    pub fn worked(&self) -> &[WorkedDef] {
        &self.worked
    }

    /// A figure of the library.
    #[must_use]
    pub fn worked_def(&self, id: WorkedId) -> Option<&WorkedDef> {
        self.worked.get(id.position())
    }

    /// All subjects.
    #[must_use]
    pub fn subjects(&self) -> &[SubjectDef] {
        &self.subjects
    }

    /// The numbers of all subjects.
    pub fn subject_ids(&self) -> impl Iterator<Item = SubjectId> + use<> {
        let many = u8::try_from(self.subjects.len()).unwrap_or(u8::MAX);
        (0..many).map(SubjectId::new)
    }

    /// A subject's definition.
    #[must_use]
    pub fn subject(&self, id: SubjectId) -> Option<&SubjectDef> {
        self.subjects.get(id.position())
    }

    /// A subject's name; empty for an unknown number.
    #[must_use]
    pub fn subject_name(&self, id: SubjectId) -> &str {
        self.subject(id).map_or("", |subject| &subject.name)
    }

    /// The subject of a name.
    #[must_use]
    pub fn subject_named(&self, name: &str) -> Option<SubjectId> {
        let position = self
            .subjects
            .iter()
            .position(|subject| subject.name == name)?;
        u8::try_from(position).ok().map(SubjectId::new)
    }

    /// The subject of the name of many.
    #[must_use]
    pub fn subject_of_plural(&self, plural: &str) -> Option<SubjectId> {
        let position = self
            .subjects
            .iter()
            .position(|subject| subject.plural.as_deref() == Some(plural))?;
        u8::try_from(position).ok().map(SubjectId::new)
    }

    /// Whether there are many of a subject.
    #[must_use]
    pub fn is_many(&self, id: SubjectId) -> bool {
        self.subject(id)
            .is_some_and(|subject| subject.plural.is_some())
    }

    /// What contains each of a subject.
    #[must_use]
    pub fn container(&self, id: SubjectId) -> Option<SubjectId> {
        self.subject(id).and_then(|subject| subject.container)
    }

    /// The fact by which others say which one of a subject they belong to, or come out of: it has
    /// that subject's name.
    #[must_use]
    pub fn belonging(&self, to: SubjectId) -> Option<(FactId, &FactDef)> {
        let id = self.belonging.get(to.position()).copied().flatten()?;
        self.fact(id).map(|def| (id, def))
    }

    /// The subject that each of another says it came out of; one that contains it is none.
    #[must_use]
    pub fn origin(&self, subject: SubjectId) -> Option<SubjectId> {
        self.subject_ids()
            .filter(|other| self.container(subject) != Some(*other))
            .find(|other| {
                self.belonging(*other)
                    .is_some_and(|(_, def)| def.subject == subject)
            })
    }

    /// The fact by which those of a subject are told apart.
    #[must_use]
    pub fn id_of(&self, subject: SubjectId) -> Option<FactId> {
        self.ids.get(subject.position()).copied().flatten()
    }

    /// `subject.name`.
    #[must_use]
    pub fn full_name(&self, subject: SubjectId, name: &str) -> String {
        [self.subject_name(subject), ".", name].concat()
    }
}
