//! A judgement that is not a pass, as data: which clause decided, on which facts, against which
//! limits, by how much.

use std::borrow::Cow;
use std::cell::RefCell;
use std::sync::Arc;

use super::excerpt::Excerpt;
use super::filling::{TextFiller, value};
use super::finding::{ClauseReport, FactReport, FactState, FigureUse, Finding};
use super::grounds::Grounds;
use super::judge::Judgement;
use super::left_open::AllLeftOpen;
use super::made::{Made, MadeOfFacts};
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

/// Makes the parts of a report of one check.
pub(crate) struct Reporter<'f, 'e> {
    rules: &'f Rules,
    evaluator: &'f Evaluator<'e>,
    texts: TextFiller<'f, 'e>,
    /// Names made so far, by kind and position: most are used many times.
    subjects: RefCell<[Vec<Option<Subject>>; MOST_SUBJECTS]>,
    /// Facts and figures made so far: most take part in many findings.
    facts: MadeOfFacts<Arc<FactReport>>,
    figures: Made<(WorkedId, usize, bool), Option<Arc<FigureUse>>>,
    /// The facts made so far that are missing, or that are to be measured next.
    asked: RefCell<Vec<FactId>>,
    /// Memory in which the grounds of one finding after the other are brought together.
    grounds: RefCell<Grounds>,
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
            facts: MadeOfFacts::default(),
            figures: Made::default(),
            asked: RefCell::default(),
            grounds: RefCell::default(),
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

    /// The finding of a judgement of one of its subject, and to `open` what leaves it so; none for a pass.
    pub(crate) fn found(
        &self,
        caution: &Caution,
        (judged, position): (Judgement, usize),
        open: &mut AllLeftOpen,
    ) -> Option<Finding> {
        let name = judged.rung?;
        let bound = &self.evaluator.one(caution.about, position);
        let (rung, other) = match name {
            RungName::RefuseUnless => (caution.refuse_unless.as_ref()?, &caution.warn_unless),
            RungName::WarnUnless => (caution.warn_unless.as_ref()?, &caution.refuse_unless),
        };
        let mut grounds = self.grounds.borrow_mut();
        self.gather_deciding(caution, rung, judged, bound, &mut grounds);
        if let Some(other) = other.as_ref().filter(|_| judged.status != Status::Decided) {
            self.evaluator
                .undecided(&other.condition, bound, &mut |clause| {
                    self.leave_open(judged, &clause, &mut grounds);
                });
        }
        open.add((judged.best, judged.worst), &mut grounds.open);
        Some(self.finding(caution, judged, (name, rung), bound, &mut grounds))
    }

    /// Takes the facts and figures of the finding from its grounds, which are empty then.
    fn finding(
        &self,
        caution: &Caution,
        judged: Judgement,
        (name, rung): (RungName, &CautionCondition),
        bound: &Bound,
        grounds: &mut Grounds,
    ) -> Finding {
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
            more_facts: std::mem::take(&mut grounds.more_facts),
            clauses: grounds.clauses.drain(..).collect(),
            figures: self.figures(&mut grounds.figures, judged.status != Status::Decided),
            facts: self.facts(&mut grounds.facts),
            missing: self.names(&mut grounds.missing),
            basis: Arc::clone(&caution.basis),
            rule: rung.place.clone(),
        }
    }

    /// Gathers the clauses that keep the deciding rung from being surely met and, where the condition
    /// is undecided, those that leave it so.
    fn gather_deciding(
        &self,
        caution: &Caution,
        rung: &CautionCondition,
        judged: Judgement,
        bound: &Bound,
        grounds: &mut Grounds,
    ) {
        self.evaluator.unmet(&rung.condition, bound, &mut |clause| {
            grounds.add(&clause, self.clause(rung, &clause, false));
            self.leave_open(judged, &clause, grounds);
        });
        let condition = caution.applies_when.as_ref();
        if let Some(when) = condition.filter(|_| judged.applies.is_undecided()) {
            self.evaluator
                .undecided(&when.condition, bound, &mut |clause| {
                    grounds.add(&clause, self.clause(when, &clause, true));
                    self.leave_open(judged, &clause, grounds);
                });
        }
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

    fn clause(
        &self,
        rung: &CautionCondition,
        clause: &Clause<'_>,
        of_condition: bool,
    ) -> ClauseReport {
        let limits = clause.limits.iter().filter_map(|id| self.rules.limit(*id));
        let compared = clause.compared;
        ClauseReport {
            text: Excerpt::trimmed(&rung.text, clause.span),
            truth: clause.truth.plain(),
            of_condition,
            left: compared.map(|both| self.side(both.left, both.sort)),
            right: compared.map(|both| self.side(both.right, both.sort)),
            margin: compared.and_then(|both| margin(both, clause.negated)),
            limits: limits.map(|limit| limit.name.clone()).collect(),
        }
    }

    fn side(&self, side: ComparedSide, sort: Sort) -> ReportedNumber {
        let limit = side.limit.and_then(|id| self.rules.limit(id));
        ReportedNumber::new(side.value, sort, limit.map(|limit| limit.name.clone()))
    }

    /// Library figures, by name and subject, so that no order of the members shows.
    fn figures(&self, which: &mut Vec<(WorkedId, usize)>, in_doubt: bool) -> Vec<Arc<FigureUse>> {
        which.sort_unstable();
        which.dedup();
        let used = which.drain(..).filter_map(|(id, position)| {
            let made = || self.made_figure(id, position, in_doubt).map(Arc::new);
            self.figures.get_or((id, position, in_doubt), made)
        });
        let mut all: Vec<_> = used.collect();
        all.sort_by(|a, b| (&a.name, &a.subject).cmp(&(&b.name, &b.subject)));
        all
    }

    /// Facts, by name and subject.
    fn facts(&self, which: &mut Vec<FactAt>) -> Vec<Arc<FactReport>> {
        self.evaluator.put_by_name(which);
        which.drain(..).map(|fact| self.fact(fact)).collect()
    }

    /// The names of facts, in order.
    fn names(&self, facts: &mut Vec<FactId>) -> Vec<Cow<'static, str>> {
        let catalogue = self.rules.catalogue();
        facts.sort_unstable_by_key(|id| (catalogue.rank(*id), *id));
        facts.dedup();
        let names = facts.drain(..).map(|id| catalogue.fact_name_to_keep(id));
        names.collect()
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
        let count = self.evaluator.sheet().count(at.subject);
        self.facts
            .get_or(at, count, || Arc::new(self.made_fact(at)))
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
        if state == FactState::Missing {
            self.asked.borrow_mut().push(at.id);
        }
        let value = given.zip(def).map(|(given, def)| value(given, &def.kind));
        FactReport {
            name: catalogue.fact_name_to_keep(at.id),
            subject: self.subject(at.subject, at.position),
            state,
            value,
            meter_assumed: given.is_some_and(|given| given.meter_assumed),
            place: given.and_then(|given| self.evaluator.sheet().place(given)),
        }
    }

    /// Gathers what leaves a judgement open, of a part that is not surely met: the missing facts of an
    /// undecided clause, or the wide ones where nothing is missing.
    fn leave_open(&self, judged: Judgement, clause: &Clause<'_>, grounds: &mut Grounds) {
        if judged.status == Status::Decided || !clause.truth.is_undecided() {
            return;
        }
        let wanted = |at: &FactAt| {
            (at.missing && clause.truth.needs_missing())
                || (clause.truth != Truth::Unmeasured && self.is_wide(*at))
        };
        let facts = clause.facts.iter().copied();
        grounds.open.extend(facts.filter(wanted));
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

    /// The facts that are missing in what was made, or that are to be measured next.
    pub(super) fn asked(&self) -> Vec<FactId> {
        self.asked.take()
    }

    /// A fact to measure, of which it is not said yet what it would do.
    pub(super) fn to_measure(&self, at: FactAt) -> MeasureNext {
        let catalogue = self.rules.catalogue();
        self.asked.borrow_mut().push(at.id);
        MeasureNext {
            fact: catalogue.fact_name_to_keep(at.id),
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
