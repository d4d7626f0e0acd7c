//! Evaluation of typed formulas on a sheet of facts.

mod folds;
mod memo;
mod worked;

use std::cell::{OnceCell, RefCell};
use std::ops::Neg;

use self::memo::Memo;
use super::explain::Kept;
use super::program::{FigureCode, Program};
use super::tree::Comparison;
use super::truth::Truth;
use super::typed::{Condition, FactRef, FigureId, LimitId, Number, Operand, Test};
use crate::facts::{Catalogue, MOST_SUBJECTS, OptionSet, Sheet, SubjectId, Value};
use crate::quantity::{Holds, Interval, Measure};

/// Which one of each subject a formula is being evaluated for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Bound([u32; MOST_SUBJECTS]);

/// What there is one of is the first of its subject.
static FIRST: [Bound; 1] = [Bound([0; MOST_SUBJECTS])];

impl Bound {
    /// The position of the one of a subject.
    #[must_use]
    pub fn position(self, subject: SubjectId) -> usize {
        self.0
            .get(subject.position())
            .map_or(usize::MAX, |position| *position as usize)
    }

    fn set(&mut self, subject: SubjectId, position: usize) {
        if let Some(place) = self.0.get_mut(subject.position()) {
            // There are never so many of a subject; where there were, the last would stand for
            // nobody.
            *place = u32::try_from(position).unwrap_or(u32::MAX);
        }
    }
}

/// A number with whether a missing fact takes part in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaluated {
    /// The value.
    pub value: Measure,
    /// Whether a missing fact takes part.
    pub missing: bool,
}

impl Evaluated {
    const fn known(value: Measure) -> Self {
        Self {
            value,
            missing: false,
        }
    }

    fn join(self, other: Self, with: impl Fn(Measure, Measure) -> Measure) -> Self {
        Self {
            value: with(self.value, other.value),
            missing: self.missing || other.missing,
        }
    }

    fn map(self, with: fn(Measure) -> Measure) -> Self {
        Self {
            value: with(self.value),
            ..self
        }
    }
}

/// Evaluates formulas of one program on one sheet. Figures and folds over all are worked once and
/// kept.
#[derive(Debug)]
pub struct Evaluator<'e> {
    catalogue: &'e Catalogue,
    program: &'e Program,
    sheet: &'e Sheet,
    simple: bool,
    memo: RefCell<Memo>,
    parts: RefCell<Kept>,
    open: worked::Open<'e>,
    each: [OnceCell<Box<[Bound]>>; MOST_SUBJECTS],
}

impl<'e> Evaluator<'e> {
    /// An evaluator; with `simple`, every number that is given is its nominal value. What the library
    /// works out is an interval all the same.
    #[must_use]
    pub fn new(
        catalogue: &'e Catalogue,
        program: &'e Program,
        sheet: &'e Sheet,
        simple: bool,
    ) -> Self {
        let memo = RefCell::new(Memo::new(program.figures.len(), program.folds));
        Self {
            catalogue,
            program,
            sheet,
            simple,
            memo,
            parts: RefCell::default(),
            open: worked::Open::new(),
            each: Default::default(),
        }
    }

    /// The catalogue of the sheet.
    #[must_use]
    pub fn catalogue(&self) -> &'e Catalogue {
        self.catalogue
    }

    /// The program.
    #[must_use]
    pub fn program(&self) -> &'e Program {
        self.program
    }

    /// The sheet.
    #[must_use]
    pub fn sheet(&self) -> &'e Sheet {
        self.sheet
    }

    /// What explanations have summed up so far.
    pub(super) fn kept_parts(&self) -> &RefCell<Kept> {
        &self.parts
    }

    /// Binds one of a subject, and what contains it, alone.
    #[must_use]
    pub fn one(&self, subject: SubjectId, position: usize) -> Bound {
        self.bind(&Bound::default(), subject, position)
    }

    /// Each one of a subject bound alone, in order. Made once: every caution about the subject goes
    /// over them.
    #[must_use]
    pub fn each(&self, subject: SubjectId) -> &[Bound] {
        if !self.catalogue.is_many(subject) && self.sheet.count(subject) == 1 {
            return &FIRST;
        }
        let all = || {
            (0..self.sheet.count(subject))
                .map(|position| self.one(subject, position))
                .collect()
        };
        self.each
            .get(subject.position())
            .map_or(&[], |each| each.get_or_init(all))
    }

    /// Binds one of a subject, and what contains it, beside what is bound.
    #[must_use]
    pub fn bind(&self, bound: &Bound, subject: SubjectId, position: usize) -> Bound {
        let mut bound = *bound;
        bound.set(subject, position);
        let container = self
            .sheet
            .instance(subject, position)
            .and_then(|one| one.container);
        if let Some((subject, position)) = self.catalogue.container(subject).zip(container) {
            bound.set(subject, position);
        }
        bound
    }

    /// What a number comes to.
    #[must_use]
    pub fn number(&self, number: &Number, bound: &Bound) -> Evaluated {
        match number {
            Number::Constant(value) => Evaluated::known(*value),
            Number::Limit(id) => self.limit(*id),
            Number::Fact(fact) => self.fact(*fact, bound),
            Number::Worked(id, subject) => self.worked(*id, *subject, bound),
            Number::Figure(id, subject) => self.figure_number(*id, *subject, bound),
            Number::Sum(terms) => self.chain(
                terms,
                bound,
                |so_far, less, next| if less { so_far - next } else { so_far + next },
                0.0,
            ),
            Number::Product(factors) => self.chain(
                factors,
                bound,
                |so_far, by, next| if by { so_far / next } else { so_far * next },
                1.0,
            ),
            Number::Negative(inner) => self.number(inner, bound).map(Measure::neg),
            Number::Abs(inner) => self.number(inner, bound).map(Measure::abs),
            Number::Least(numbers) => self.fold_list(numbers, bound, Measure::min),
            Number::Greatest(numbers) => self.fold_list(numbers, bound, Measure::max),
            Number::Fold(folding, over, body) => self.fold(*folding, *over, body, bound),
            Number::Distinct(over, fact) => self.distinct(*over, *fact, bound),
            Number::Count(over, body) => self.count(*over, body, bound),
        }
    }

    /// The interval that a number comes to, and whether a missing fact takes part. What a
    /// comparison needs of it, without copying the rest.
    fn range(&self, number: &Number, bound: &Bound) -> (Interval, bool) {
        if let Number::Fact(fact) = number
            && !self.simple
            && let Some(Value::Number(value)) = self.given(*fact, bound)
        {
            return (value.range(), false);
        }
        if let Number::Constant(value) = number {
            return (value.range(), false);
        }
        let worked = self.number(number, bound);
        (worked.value.range(), worked.missing)
    }

    fn limit(&self, id: LimitId) -> Evaluated {
        let value = self
            .program
            .limits
            .get(id.0)
            .map_or(Measure::of(Interval::WHOLE), |limit| limit.value);
        Evaluated::known(if self.simple {
            value.to_nominal()
        } else {
            value
        })
    }

    /// Terms or factors, the first as it is.
    fn chain(
        &self,
        parts: &[(bool, Number)],
        bound: &Bound,
        join: impl Fn(Measure, bool, Measure) -> Measure,
        neutral: f64,
    ) -> Evaluated {
        let Some(((_, first), others)) = parts.split_first() else {
            return Evaluated::known(Measure::exact(neutral));
        };
        others
            .iter()
            .fold(self.number(first, bound), |so_far, (inverse, part)| {
                so_far.join(self.number(part, bound), |so_far, next| {
                    join(so_far, *inverse, next)
                })
            })
    }

    fn fold_list(&self, numbers: &[Number], bound: &Bound, with: Joining) -> Evaluated {
        let evaluated = numbers.iter().map(|number| self.number(number, bound));
        evaluated
            .reduce(|a, b| a.join(b, with))
            .unwrap_or(Evaluated {
                value: Measure::of(Interval::WHOLE),
                missing: true,
            })
    }

    fn fact(&self, fact: FactRef, bound: &Bound) -> Evaluated {
        match self.given(fact, bound) {
            Some(Value::Number(value)) if self.simple => Evaluated::known(value.to_nominal()),
            Some(Value::Number(value)) => Evaluated::known(*value),
            _ => {
                let domain = self
                    .catalogue
                    .fact(fact.id)
                    .map_or(Interval::WHOLE, |def| def.domain);
                Evaluated {
                    value: Measure::of(domain),
                    missing: true,
                }
            }
        }
    }

    /// The value given of a fact. Where it is unsettled which members a subject has, nothing is
    /// known of it.
    fn given(&self, fact: FactRef, bound: &Bound) -> Option<&'e Value> {
        self.sheet
            .known(fact.subject, bound.position(fact.subject), fact.slot)
            .map(|given| &given.value)
    }

    fn figure_number(&self, id: FigureId, subject: SubjectId, bound: &Bound) -> Evaluated {
        let position = bound.position(subject);
        if let Some(kept) = self.memo.borrow().figure(id, position) {
            return kept;
        }
        let worked = match self.program.figures.get(id.0) {
            Some(FigureCode::Number(number, _)) if !self.sheet.is_unsettled(subject) => {
                self.number(number, bound)
            }
            _ => Evaluated {
                value: Measure::of(Interval::WHOLE),
                missing: true,
            },
        };
        self.memo.borrow_mut().keep_figure(id, position, worked);
        worked
    }

    fn figure_condition(&self, id: FigureId, subject: SubjectId, bound: &Bound) -> Truth {
        let position = bound.position(subject);
        if let Some(kept) = self.memo.borrow().figure_truth(id, position) {
            return kept;
        }
        let truth = match self.program.figures.get(id.0) {
            Some(FigureCode::Condition(condition)) if !self.sheet.is_unsettled(subject) => {
                self.condition(condition, bound)
            }
            _ => Truth::Unmeasured,
        };
        self.memo
            .borrow_mut()
            .keep_figure_truth(id, position, truth);
        truth
    }

    /// Whether a condition holds.
    #[must_use]
    pub fn condition(&self, condition: &Condition, bound: &Bound) -> Truth {
        match &condition.form {
            Test::Constant(yes) => Truth::decided(*yes),
            Test::Fact(fact) => match self.given(*fact, bound) {
                Some(Value::YesNo(yes)) => Truth::decided(*yes),
                _ => Truth::Unmeasured,
            },
            Test::Figure(id, subject) => self.figure_condition(*id, *subject, bound),
            Test::And(parts) => Truth::all(parts.iter().map(|part| self.condition(part, bound))),
            Test::Or(parts) => Truth::any(parts.iter().map(|part| self.condition(part, bound))),
            Test::Not(inner) => self.condition(inner, bound).negated(),
            Test::Compare {
                comparison,
                left,
                right,
                ..
            } => self.compare(*comparison, left, right, bound),
            Test::In(fact, set) => self.option_in(*fact, *set, bound),
            Test::SameOption(a, b) => self.same_option(*a, *b, bound),
            Test::SameText(a, b) => self.same_text(*a, *b, bound),
            Test::Known(fact) => {
                if self.given(*fact, bound).is_some() {
                    Truth::Yes
                } else {
                    Truth::Unmeasured
                }
            }
            Test::Every(over, body) => self.every(*over, body, bound),
            Test::Any(over, body) => self.any(*over, body, bound),
        }
    }

    fn compare(
        &self,
        comparison: Comparison,
        left: &Operand,
        right: &Operand,
        bound: &Bound,
    ) -> Truth {
        let ((a, a_missing), (b, b_missing)) = (
            self.range(&left.number, bound),
            self.range(&right.number, bound),
        );
        let (holds, negated) = match comparison {
            Comparison::Below => (a.below(b), false),
            Comparison::AtMost => (a.at_most(b), false),
            Comparison::Above => (b.below(a), false),
            Comparison::AtLeast => (b.at_most(a), false),
            Comparison::Equal => (a.equals(b), false),
            Comparison::NotEqual => (a.equals(b), true),
        };
        let truth = match holds {
            Holds::Yes => Truth::Yes,
            Holds::No => Truth::No,
            Holds::Undecided => undecided(a_missing || b_missing),
        };
        if negated { truth.negated() } else { truth }
    }

    /// The options a choice may be, and whether that is because it is missing.
    fn options(&self, fact: FactRef, bound: &Bound) -> (OptionSet, bool) {
        match self.given(fact, bound) {
            Some(Value::Choice(set)) => (*set, false),
            _ => (self.all_options(fact), true),
        }
    }

    fn all_options(&self, fact: FactRef) -> OptionSet {
        match self.catalogue.fact(fact.id).map(|def| &def.kind) {
            Some(crate::facts::FactKind::Choice(options)) => OptionSet::first(options.len()),
            _ => OptionSet::NONE,
        }
    }

    fn option_in(&self, fact: FactRef, set: OptionSet, bound: &Bound) -> Truth {
        let (possible, missing) = self.options(fact, bound);
        if possible.within(set) {
            Truth::Yes
        } else if !possible.meets(set) {
            Truth::No
        } else {
            undecided(missing)
        }
    }

    fn same_option(&self, a: FactRef, b: FactRef, bound: &Bound) -> Truth {
        let ((a, a_missing), (b, b_missing)) = (self.options(a, bound), self.options(b, bound));
        if !a.meets(b) {
            Truth::No
        } else if a == b && a.len() == 1 {
            Truth::Yes
        } else {
            undecided(a_missing || b_missing)
        }
    }

    fn same_text(&self, a: FactRef, b: FactRef, bound: &Bound) -> Truth {
        match (self.given(a, bound), self.given(b, bound)) {
            (Some(Value::Text(a)), Some(Value::Text(b))) => Truth::decided(a == b),
            _ => Truth::Unmeasured,
        }
    }
}

type Joining = fn(Measure, Measure) -> Measure;

const fn undecided(missing: bool) -> Truth {
    if missing {
        Truth::Unmeasured
    } else {
        Truth::Doubt
    }
}
