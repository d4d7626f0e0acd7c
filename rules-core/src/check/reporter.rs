//! A judgement that is not a pass, as data: which clause decided, on which facts, against which
//! limits, by how much.

use std::cell::RefCell;
use std::sync::Arc;

use super::filling::{TextFiller, value};
use super::finding::{ClauseReport, FactReport, FactState, FigureUse, Finding};
use super::judge::Judgement;
use super::left_open::LeftOpen;
use super::made::Made;
use super::margin::margin;
use super::narrowed::{NarrowedBy, narrowed_by};
use super::report::MeasureNext;
use super::subject::Subject;
use super::values::ReportedNumber;
use super::verdict::{RungName, Status, Verdict};
use crate::facts::{FactId, MOST_SUBJECTS, SubjectId, Value, WorkedId};
use crate::formula::{Bound, Clause, ComparedSide, Evaluated, Evaluator, FactAt, Sort, Truth};
use crate::quantity::Nature;
use crate::ruleset::{Caution, CautionCondition, Rules};

/// A part that is not surely met, and the condition that it is of.
type Unmet<'c> = (&'c CautionCondition, Clause);

/// Makes the parts of a report of one check.
pub(crate) struct Reporter<'f, 'e> {
    rules: &'f Rules,
    evaluator: &'f Evaluator<'e>,
    texts: TextFiller<'f, 'e>,
    /// Names made so far, by kind and position: most are used many times.
    subjects: RefCell<[Vec<Option<Subject>>; MOST_SUBJECTS]>,
    /// Facts and figures made so far: most take part in many findings.
    facts: Made<FactAt, Arc<FactReport>>,
    figures: Made<(WorkedId, usize, bool), Option<Arc<FigureUse>>>,
    /// Whether it says what would narrow figures.
    narrowing: bool,
}

impl<'f, 'e> Reporter<'f, 'e> {
    pub(crate) fn new(rules: &'f Rules, evaluator: &'f Evaluator<'e>) -> Self {
        Self {
            rules,
            evaluator,
            texts: TextFiller::new(rules, evaluator),
            subjects: RefCell::default(),
            facts: Made::default(),
            figures: Made::default(),
            narrowing: false,
        }
    }

    /// The same, which says what would narrow figures or not.
    pub(crate) fn narrowing(self, narrowing: bool) -> Self {
        Self { narrowing, ..self }
    }

    /// What would narrow a library figure of one of its subject, if it is to be said.
    pub(super) fn narrowed_by(&self, id: WorkedId, position: usize) -> Vec<NarrowedBy> {
        if !self.narrowing {
            return Vec::new();
        }
        let named = |subject, position| self.subject(subject, position);
        narrowed_by((self.rules, self.evaluator), named, id, position)
    }

    /// The finding of a judgement, and what leaves it open; none for a pass.
    pub(crate) fn found(
        &self,
        caution: &Caution,
        judged: Judgement,
        bound: &Bound,
    ) -> Option<(Finding, LeftOpen)> {
        let name = judged.rung?;
        let (rung, other) = match name {
            RungName::RefuseUnless => (caution.refuse_unless.as_ref()?, &caution.warn_unless),
            RungName::WarnUnless => (caution.warn_unless.as_ref()?, &caution.refuse_unless),
        };
        let deciding = self.deciding(caution, rung, judged, bound);
        let other = other.as_ref().filter(|_| judged.status != Status::Decided);
        let beside = other
            .map(|other| self.evaluator.undecided(&other.condition, bound))
            .unwrap_or_default();
        let open = self.open(
            judged,
            deciding.iter().map(|(_, clause)| clause).chain(&beside),
        );
        let finding = self.finding(caution, judged, (name, rung), bound, &deciding);
        Some((finding, open))
    }

    fn finding(
        &self,
        caution: &Caution,
        judged: Judgement,
        (name, rung): (RungName, &CautionCondition),
        bound: &Bound,
        clauses: &[Unmet<'_>],
    ) -> Finding {
        let clauses_alone = || clauses.iter().map(|(_, clause)| clause);
        let mut facts = Vec::with_capacity(clauses_alone().map(|clause| clause.facts.len()).sum());
        clauses_alone().for_each(|clause| facts.extend_from_slice(&clause.facts));
        let facts = self.evaluator.by_name(facts.into_iter());
        let figures = clauses_alone().flat_map(|clause| clause.figures.iter().copied());
        let missing = clauses_alone().flat_map(|clause| clause.missing.iter().copied());
        Finding {
            caution: caution.id.clone(),
            title: Arc::clone(&caution.title),
            stage: self
                .rules
                .stage_of(caution)
                .map(|stage| Arc::clone(&stage.id)),
            subject: self.subject(caution.about, bound.position(caution.about)),
            verdict: judged.verdict,
            best: judged.best,
            worst: judged.worst,
            status: judged.status,
            rung: name,
            fixed: caution.fixed,
            reason: self.texts.filled(&caution.reason, bound),
            remedy: caution
                .remedy
                .as_ref()
                .map(|remedy| self.texts.filled(remedy, bound)),
            more_facts: clauses.iter().map(|(_, clause)| clause.more_facts).sum(),
            clauses: clauses
                .iter()
                .map(|(within, clause)| self.clause(within, clause, !std::ptr::eq(*within, rung)))
                .collect(),
            figures: self.figures(figures.collect(), judged.status != Status::Decided),
            facts: facts.iter().map(|fact| self.fact(*fact)).collect(),
            missing: self.names(missing.collect()),
            basis: Arc::clone(&caution.basis),
            rule: rung.place.clone(),
        }
    }

    /// The clauses that keep the deciding rung from being surely met and, where the condition is
    /// undecided, those that leave it so.
    fn deciding<'c>(
        &self,
        caution: &'c Caution,
        rung: &'c CautionCondition,
        judged: Judgement,
        bound: &Bound,
    ) -> Vec<Unmet<'c>> {
        let condition = caution
            .applies_when
            .as_ref()
            .filter(|_| judged.applies.is_undecided());
        let unmet = self.evaluator.unmet(&rung.condition, bound).into_iter();
        let mut deciding: Vec<Unmet<'c>> = unmet.map(|clause| (rung, clause)).collect();
        if let Some(when) = condition {
            let unsure = self.evaluator.undecided(&when.condition, bound);
            deciding.extend(unsure.into_iter().map(|clause| (when, clause)));
        }
        deciding
    }

    /// `cable K4`, or the name of a single subject.
    pub(super) fn subject(&self, subject: SubjectId, position: usize) -> Subject {
        let mut made = self.subjects.borrow_mut();
        let Some(of_kind) = made.get_mut(subject.position()) else {
            return self.named(subject, position);
        };
        if of_kind.is_empty() {
            of_kind.resize(self.evaluator.sheet().count(subject), None);
        }
        match of_kind.get_mut(position) {
            Some(one) => one
                .get_or_insert_with(|| self.named(subject, position))
                .clone(),
            None => self.named(subject, position),
        }
    }

    fn named(&self, subject: SubjectId, position: usize) -> Subject {
        let kind = self.rules.catalogue().subject_name(subject);
        let sheet = self.evaluator.sheet();
        match sheet.instance(subject, position) {
            Some(one) if self.rules.catalogue().is_many(subject) => {
                if !one.is_listed() {
                    Subject::not_listed(kind, &one.name, one.stands_for())
                } else if sheet.is_nobody(subject, position) {
                    Subject::nameless(kind, &one.name)
                } else {
                    Subject::named(kind, &one.name)
                }
            }
            _ => Subject::only(kind),
        }
    }

    fn clause(&self, rung: &CautionCondition, clause: &Clause, of_condition: bool) -> ClauseReport {
        let text = rung
            .text
            .get(clause.span.clone())
            .unwrap_or(&rung.text)
            .trim()
            .to_owned();
        let limits = clause
            .limits
            .iter()
            .filter_map(|id| self.rules.limit(*id))
            .map(|limit| limit.name.to_string())
            .collect();
        let mut report = ClauseReport {
            text,
            truth: clause.truth.plain(),
            of_condition,
            left: None,
            right: None,
            margin: None,
            limits,
        };
        if let Some((comparison, left, right, sort)) = &clause.compared {
            report.left = Some(self.side(left, *sort));
            report.right = Some(self.side(right, *sort));
            report.margin = margin(*comparison, clause.negated, left, right, *sort);
        }
        report
    }

    fn side(&self, side: &ComparedSide, sort: Sort) -> ReportedNumber {
        let limit = side
            .limit
            .and_then(|id| self.rules.limit(id))
            .map(|limit| limit.name.to_string());
        ReportedNumber::new(side.value, sort, limit)
    }

    /// Library figures, by name and subject, so that no order of the members shows.
    fn figures(&self, mut which: Vec<(WorkedId, usize)>, in_doubt: bool) -> Vec<Arc<FigureUse>> {
        which.sort_unstable();
        which.dedup();
        let used = which.into_iter().filter_map(|(id, position)| {
            let made = || self.made_figure(id, position, in_doubt).map(Arc::new);
            self.figures.get_or((id, position, in_doubt), made)
        });
        let mut all: Vec<_> = used.collect();
        all.sort_by(|a, b| (&a.name, &a.subject).cmp(&(&b.name, &b.subject)));
        all
    }

    /// The names of facts, in order.
    fn names(&self, mut facts: Vec<FactId>) -> Vec<String> {
        let catalogue = self.rules.catalogue();
        facts.sort_unstable_by_key(|id| (catalogue.rank(*id), *id));
        facts.dedup();
        let names = facts.into_iter().map(|id| catalogue.fact_name(id));
        names.map(str::to_owned).collect()
    }

    /// A library figure of one of its subject.
    fn made_figure(&self, id: WorkedId, position: usize, in_doubt: bool) -> Option<FigureUse> {
        let catalogue = self.rules.catalogue();
        let def = catalogue.worked_def(id)?;
        let worked = self.evaluator.work(id, position);
        let number = Evaluated {
            value: worked.value,
            missing: !worked.missing.is_empty(),
        };
        Some(FigureUse {
            name: catalogue.full_name(def.subject, def.name),
            subject: self.subject(def.subject, position),
            value: ReportedNumber::of_figure(number, Sort::of(def.kind)),
            open: worked.open.map(Into::into),
            narrowed_by: if in_doubt {
                self.narrowed_by(id, position).into_iter().next()
            } else {
                None
            },
        })
    }

    /// A fact of one of its subject.
    pub(super) fn fact(&self, at: FactAt) -> Arc<FactReport> {
        self.facts.get_or(at, || Arc::new(self.made_fact(at)))
    }

    fn made_fact(&self, at: FactAt) -> FactReport {
        let catalogue = self.rules.catalogue();
        let given = self
            .evaluator
            .sheet()
            .given(at.subject, at.position, at.slot)
            .filter(|_| !at.missing);
        let def = catalogue.fact(at.id);
        let state = match (given, def.map(|def| def.nature)) {
            (None, _) => FactState::Missing,
            (_, Some(Nature::Measured)) => FactState::Measured,
            (_, Some(Nature::Printed)) => FactState::Printed,
            _ => FactState::Stated,
        };
        let value = given.zip(def).map(|(given, def)| value(given, &def.kind));
        FactReport {
            name: catalogue.fact_name(at.id).to_owned(),
            subject: self.subject(at.subject, at.position),
            state,
            value,
            meter_assumed: given.is_some_and(|given| given.meter_assumed),
            place: given.and_then(|given| self.evaluator.sheet().place(given)),
        }
    }

    /// What leaves a judgement open, of the parts that are not surely met.
    fn open<'c>(&self, judged: Judgement, unmet: impl Iterator<Item = &'c Clause>) -> LeftOpen {
        let undecided =
            unmet.filter(|clause| judged.status != Status::Decided && clause.truth.is_undecided());
        let mut facts: Vec<FactAt> = undecided
            .flat_map(|clause| self.open_facts(clause))
            .collect();
        facts.sort();
        facts.dedup();
        LeftOpen {
            worst: judged.worst,
            best: judged.best,
            facts,
        }
    }

    /// The missing facts of an undecided clause, or the wide ones where nothing is missing.
    fn open_facts(&self, clause: &Clause) -> impl Iterator<Item = FactAt> {
        let wanted = |at: &FactAt| {
            (at.missing && clause.truth.needs_missing())
                || (clause.truth != Truth::Unmeasured && self.is_wide(*at))
        };
        clause.facts.iter().copied().filter(wanted)
    }

    fn is_wide(&self, at: FactAt) -> bool {
        let given = self
            .evaluator
            .sheet()
            .given(at.subject, at.position, at.slot);
        matches!(given.map(|given| &given.value), Some(Value::Number(measure)) if !measure.range().is_point())
    }

    /// Where the names of a fact and of the one it is of stand among others of their kind.
    pub(super) fn ranks(&self, at: FactAt) -> (usize, usize) {
        self.evaluator.ranks(at)
    }

    /// Whether a fact is of one, and not of several that are reported as one.
    pub(super) fn is_of_one(&self, at: FactAt) -> bool {
        let sheet = self.evaluator.sheet();
        sheet.stands_for(at.subject, at.position, None) == 1
    }

    /// A fact to measure, of which it is not said yet what it would do.
    pub(super) fn to_measure(&self, at: FactAt) -> MeasureNext {
        let catalogue = self.rules.catalogue();
        MeasureNext {
            fact: catalogue.fact_name(at.id).to_owned(),
            subject: self.subject(at.subject, at.position),
            meaning: catalogue
                .fact(at.id)
                .map(|def| def.meaning.to_string())
                .unwrap_or_default(),
            missing: at.missing,
            leaves_open: Verdict::Pass,
            findings: 0,
            could_improve: false,
        }
    }
}
