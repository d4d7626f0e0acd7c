//! Whether conditions hold.

use super::evaluator::Evaluator;
use crate::facts::{FactKind, OptionSet, SubjectId, Value};
use crate::formula::bound::Bound;
use crate::formula::clause::{Compared, ComparedSide};
use crate::formula::program::FigureCode;
use crate::formula::tree::Comparison;
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, FactRef, FigureId, Number, Operand, Test};
use crate::quantity::{Holds, Interval};

/// The interval of a number, with whether a missing fact takes part.
pub(super) type Ranged = (Interval, bool);

/// Whether two sides compare so.
pub(super) fn compared(
    comparison: Comparison,
    (a, a_missing): Ranged,
    (b, b_missing): Ranged,
) -> Truth {
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

/// The same where it is plain by intervals that hold those of both sides.
pub(super) fn plainly(comparison: Comparison, a: Interval, b: Interval) -> Option<bool> {
    match comparison {
        Comparison::AtMost => a.plainly_at_most(b),
        Comparison::AtLeast => b.plainly_at_most(a),
        Comparison::Above => a.plainly_at_most(b).map(|is_at_most| !is_at_most),
        Comparison::Below => b.plainly_at_most(a).map(|is_at_most| !is_at_most),
        Comparison::Equal | Comparison::NotEqual => {
            let apart = a.is_far_below(b) || b.is_far_below(a);
            apart.then_some(comparison == Comparison::NotEqual)
        }
    }
}

impl Compared {
    /// What the comparison came to.
    pub(in crate::formula) fn truth(&self) -> Truth {
        let side = |side: ComparedSide| (side.value.value.range(), side.value.missing);
        compared(self.comparison, side(self.left), side(self.right))
    }
}

impl Evaluator<'_> {
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

    /// What wide intervals settle is not worked out more closely: that would say the same.
    fn compare(
        &self,
        comparison: Comparison,
        left: &Operand,
        right: &Operand,
        bound: &Bound,
    ) -> Truth {
        let (left, right) = (&left.number, &right.number);
        let (a, b) = (self.wide(left, bound), self.wide(right, bound));
        if let Some(plain) = plainly(comparison, a.range, b.range) {
            return Truth::decided(plain);
        }
        let nearly_all = a.is_nearly_all() && b.is_nearly_all();
        if nearly_all && a.range.plainly_overlaps(b.range) {
            return undecided(a.missing || b.missing);
        }
        compared(
            comparison,
            self.range(left, bound),
            self.range(right, bound),
        )
    }

    /// The interval of a number, and whether a missing fact takes part.
    pub(super) fn range(&self, number: &Number, bound: &Bound) -> Ranged {
        let worked = self.number(number, bound);
        (worked.value.range(), worked.missing)
    }

    fn figure_condition(&self, id: FigureId, subject: SubjectId, bound: &Bound) -> Truth {
        let position = bound.position(subject);
        if let Some(kept) = self.results.borrow().figure_truth(id, position) {
            return kept;
        }
        let truth = match self.program.figures.get(id.0) {
            Some(FigureCode::Condition(condition)) if !self.sheet.is_unsettled(subject) => {
                self.condition(condition, bound)
            }
            _ => Truth::Unmeasured,
        };
        let at = (position, self.sheet.count(subject));
        self.results.borrow_mut().keep_figure_truth(id, at, truth);
        truth
    }

    /// The options a choice may be, and whether that is because it is missing.
    fn options(&self, fact: FactRef, bound: &Bound) -> (OptionSet, bool) {
        match self.given(fact, bound) {
            Some(Value::Choice(set)) => (*set, false),
            _ => (self.all_options(fact), true),
        }
    }

    pub(super) fn all_options(&self, fact: FactRef) -> OptionSet {
        match self.catalogue.fact(fact.id).map(|def| &def.kind) {
            Some(FactKind::Choice(options)) => OptionSet::first(options.len()),
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

const fn undecided(missing: bool) -> Truth {
    if missing {
        Truth::Unmeasured
    } else {
        Truth::Doubt
    }
}
