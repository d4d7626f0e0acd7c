//! By how much a condition is met.

use super::evaluator::Evaluator;
use crate::formula::bound::Bound;
use crate::formula::program::FigureCode;
use crate::formula::quotient::spread_over_greatest;
use crate::formula::tree::{Comparison, Folding};
use crate::formula::truth::Truth;
use crate::formula::typed::{Condition, FigureId, LimitId, Number, Operand, Sort, Test};
use crate::quantity::{Holds, Interval, Kind};

/// By how much a condition that surely holds is met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leeway {
    /// How far what is compared is from the right side at the worst, as a share of the right side.
    /// Infinite where no amount decides.
    pub share: f64,
    /// The right side, where it is a limit and nothing else.
    pub limit: Option<LimitId>,
}

impl Leeway {
    /// That of what holds by no amount: a choice, a count, a comparison with nothing.
    pub const FREE: Self = Self {
        share: f64::INFINITY,
        limit: None,
    };

    /// The narrower of two, of like ones the first.
    #[must_use]
    pub fn narrower(self, other: Self) -> Self {
        if other.share < self.share {
            other
        } else {
            self
        }
    }

    fn wider(self, other: Self) -> Self {
        if other.share > self.share {
            other
        } else {
            self
        }
    }
}

/// Which of the values that a comparison could have is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amid {
    /// Those of the sheet, which has all there are.
    All,
    /// Those of a sheet that others may still join: no other can make the leeway wider.
    Some,
}

impl Evaluator<'_> {
    /// By how much a condition is met at the worst; none if it does not surely hold.
    ///
    /// Of parts that must all hold it is the narrowest. Of parts of which one is enough it is the
    /// widest of those that hold.
    #[must_use]
    pub fn leeway(&self, condition: &Condition, amid: Amid, bound: &Bound) -> Option<Leeway> {
        self.leeway_of(condition, true, amid, bound)
    }

    /// By how much a condition is surely met, or surely not met.
    fn leeway_of(
        &self,
        condition: &Condition,
        wanted: bool,
        amid: Amid,
        bound: &Bound,
    ) -> Option<Leeway> {
        let part = |part: &Condition| self.leeway_of(part, wanted, amid, bound);
        match &condition.form {
            Test::Not(inner) => self.leeway_of(inner, !wanted, amid, bound),
            Test::And(parts) if wanted => all(parts.iter().map(part)),
            Test::Or(parts) if !wanted => all(parts.iter().map(part)),
            Test::And(parts) | Test::Or(parts) => any(parts.iter().map(part)),
            Test::Every(over, body) | Test::Any(over, body) => {
                let each = self.positions(*over, bound)?.map(|at| {
                    let bound = self.bind(bound, over.subject, at);
                    self.leeway_of(body, wanted, amid, &bound)
                });
                if wanted == matches!(condition.form, Test::Every(..)) {
                    all(each)
                } else {
                    any(each)
                }
            }
            Test::Figure(id, subject) if !self.sheet.is_unsettled(*subject) => {
                self.leeway_of(self.figure_condition_code(*id)?, wanted, amid, bound)
            }
            Test::Compare {
                comparison,
                left,
                right,
                sort,
            } => {
                let sides = [left, right].map(|side| self.range_amid(side, amid, bound));
                leeway_between(*comparison, wanted, sides, *sort).map(|share| Leeway {
                    share,
                    limit: limit(right).filter(|_| share.is_finite()),
                })
            }
            _ => {
                (self.condition(condition, bound) == Truth::decided(wanted)).then_some(Leeway::FREE)
            }
        }
    }

    fn figure_condition_code(&self, id: FigureId) -> Option<&Condition> {
        match self.program.figures.get(id.0)? {
            FigureCode::Condition(condition) => Some(condition),
            FigureCode::Number(..) => None,
        }
    }

    /// The interval of a side, and whether a missing fact takes part. Where others may join, the
    /// upper end is one that none of them can lower.
    fn range_amid(&self, side: &Operand, amid: Amid, bound: &Bound) -> (Interval, bool) {
        let (range, missing) = self.range(&side.number, bound);
        let quotient = (amid == Amid::Some)
            .then(|| spread_over_greatest(&side.number, self.program))
            .flatten();
        let Some((over, body)) = quotient else {
            return (range, missing);
        };
        let spread = self.fold_anew(Folding::Spread, over, body, bound).value;
        let least = self.fold_anew(Folding::Min, over, body, bound).value;
        let (spread, least) = (spread.range().hi(), least.range().hi());
        // One that joins and is the greatest, at g, is at least g - least from the least. So the
        // quotient stays over (g - least) / g as well as over spread / g, and the greater of these is
        // least where g is least + spread.
        let high = spread / (least + spread);
        let high = if high.is_finite() {
            high.min(range.hi())
        } else {
            range.hi()
        };
        let lowered = Interval::new(range.lo().min(high), high);
        (lowered.unwrap_or(range), missing)
    }
}

fn limit(side: &Operand) -> Option<LimitId> {
    match side.number {
        Number::Limit(id) => Some(id),
        _ => None,
    }
}

fn all(parts: impl Iterator<Item = Option<Leeway>>) -> Option<Leeway> {
    let mut parts = parts;
    parts.try_fold(Leeway::FREE, |so_far, part| Some(so_far.narrower(part?)))
}

fn any(parts: impl Iterator<Item = Option<Leeway>>) -> Option<Leeway> {
    parts.flatten().reduce(Leeway::wider)
}

/// By how much a comparison is surely met, or surely not met, as a share of its right side. Infinite
/// of counts, of temperatures on a scale, of what has no order, and of a right side that is nothing or
/// everything.
fn leeway_between(
    comparison: Comparison,
    wanted: bool,
    [(a, a_missing), (b, b_missing)]: [(Interval, bool); 2],
    sort: Sort,
) -> Option<f64> {
    let truth = super::condition::compared(comparison, (a, a_missing), (b, b_missing));
    if truth != Truth::decided(wanted) {
        return None;
    }
    let wants_high = match comparison {
        Comparison::AtLeast | Comparison::Above => wanted,
        Comparison::AtMost | Comparison::Below => !wanted,
        Comparison::Equal | Comparison::NotEqual => return Some(f64::INFINITY),
    };
    let (amount, against) = if wants_high {
        (a.lo() - b.hi(), b.hi())
    } else {
        (b.lo() - a.hi(), b.lo())
    };
    let is_nothing = Interval::point(against).equals(Interval::point(0.0)) == Holds::Yes;
    let is_bare = sort.kind == Some(Kind::Count) || sort.dimension.is_absolute() || is_nothing;
    let share = amount / against.abs();
    // What is equal within rounding is no less than met.
    Some(if is_bare || !share.is_finite() {
        f64::INFINITY
    } else {
        share.max(0.0)
    })
}
