//! What is true in a world: plain arithmetic on known values, apart from the engine.

use rules_core::check::Verdict;

use super::formula::{Comparison, Condition, Folding, Number};
use super::ruleset::{Body, Caution, Ruleset};
use super::vocabulary::{FACTS, FactAt, Many, Subject};
use super::world::{One, Value, World};

/// A place in a world from which a formula is seen.
#[derive(Clone, Copy)]
pub(crate) struct Seat<'w> {
    world: &'w World,
    ruleset: &'w Ruleset,
    about: Subject,
    cell: Option<usize>,
    group: Option<usize>,
    pack: Option<usize>,
}

/// What a caution truly comes to for one of its subjects.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Judged {
    pub(crate) applies: bool,
    pub(crate) verdict: Verdict,
}

impl<'w> Seat<'w> {
    pub(crate) fn new(
        world: &'w World,
        ruleset: &'w Ruleset,
        about: Subject,
        position: usize,
    ) -> Self {
        let seat = Self {
            world,
            ruleset,
            about,
            cell: None,
            group: None,
            pack: None,
        };
        about.many().map_or(seat, |many| seat.at(many, position))
    }

    fn at(self, many: Many, position: usize) -> Self {
        match many {
            Many::Cells => Self {
                cell: Some(position),
                group: Some(self.world.group_of[position]),
                ..self
            },
            Many::Groups => Self {
                group: Some(position),
                ..self
            },
            Many::Packs => Self {
                pack: Some(position),
                ..self
            },
        }
    }

    /// What a fold goes over: within a group only its own cells.
    pub(crate) fn over(self, many: Many) -> impl Iterator<Item = Self> {
        let own = if self.about == Subject::Group {
            self.group
        } else {
            None
        };
        let count = match many {
            Many::Cells => self.world.cells.len(),
            Many::Groups => self.world.groups.len(),
            Many::Packs => self.world.packs.len(),
        };
        let within = move |at: &usize| {
            many != Many::Cells || own.is_none_or(|group| self.world.group_of[*at] == group)
        };
        (0..count).filter(within).map(move |at| self.at(many, at))
    }

    fn one(self, subject: Subject) -> &'w One {
        match subject {
            Subject::Cell => &self.world.cells[self.cell.unwrap()],
            Subject::Group => &self.world.groups[self.group.unwrap()],
            Subject::Pack => &self.world.packs[self.pack.unwrap()],
            _ => &self.world.singles[&subject],
        }
    }

    fn value(self, fact: FactAt) -> &'w Value {
        &self.one(FACTS[fact].subject).facts[&fact]
    }

    /// The number; NaN where it has no bound.
    pub(crate) fn number(self, number: &Number) -> f64 {
        match number {
            Number::Constant(amount) => amount.value,
            Number::Limit(at) => self.world.limits[*at],
            Number::Fact(fact) => match self.value(*fact) {
                Value::Number(number) => *number,
                _ => f64::NAN,
            },
            Number::Current => bounded(self.world.current),
            Number::Figure(at, about) => match &self.ruleset.figures[*at].body {
                Body::Number(_, number) => Self {
                    about: *about,
                    ..self
                }
                .number(number),
                Body::Condition(_) => f64::NAN,
            },
            Number::Sum(terms) => terms
                .iter()
                .map(|(minus, term)| {
                    if *minus {
                        -self.number(term)
                    } else {
                        self.number(term)
                    }
                })
                .sum(),
            Number::Product(factors) => factors.iter().fold(1.0, |so_far, (divides, factor)| {
                let factor = self.number(factor);
                bounded(if *divides {
                    so_far / factor
                } else {
                    so_far * factor
                })
            }),
            Number::Negative(inner) => -self.number(inner),
            Number::Abs(inner) => self.number(inner).abs(),
            Number::Least(parts) => joined(parts.iter().map(|part| self.number(part)), f64::min),
            Number::Greatest(parts) => joined(parts.iter().map(|part| self.number(part)), f64::max),
            Number::Fold(folding, many, body) => folded(
                *folding,
                &self
                    .over(*many)
                    .map(|seat| seat.number(body))
                    .collect::<Vec<_>>(),
            ),
            Number::Distinct(many, fact) => {
                let mut values: Vec<&Value> =
                    self.over(*many).map(|seat| seat.value(*fact)).collect();
                values.sort_by(|a, b| a.partial_cmp(b).unwrap());
                values.dedup();
                values.len() as f64
            }
            Number::Count(many, body) => {
                let truths: Option<Vec<bool>> =
                    self.over(*many).map(|seat| seat.condition(body)).collect();
                truths.map_or(f64::NAN, |truths| {
                    truths.iter().filter(|truth| **truth).count() as f64
                })
            }
        }
    }

    /// Whether it holds; none where rounding would decide.
    fn condition(self, condition: &Condition) -> Option<bool> {
        match condition {
            Condition::YesNo(yes) => Some(*yes),
            Condition::Fact(fact) => Some(*self.value(*fact) == Value::YesNo(true)),
            Condition::FactIs(fact, different, yes) => {
                Some((*self.value(*fact) == Value::YesNo(*yes)) != *different)
            }
            Condition::Figure(at, about) => match &self.ruleset.figures[*at].body {
                Body::Condition(condition) => Self {
                    about: *about,
                    ..self
                }
                .condition(condition),
                Body::Number(..) => None,
            },
            Condition::Option(fact, different, option) => {
                Some((*self.value(*fact) == Value::Choice(*option)) != *different)
            }
            Condition::In(fact, some) => Some(
                some.iter()
                    .any(|option| *self.value(*fact) == Value::Choice(*option)),
            ),
            Condition::Same(a, different, b) => {
                Some((self.value(*a) == self.value(*b)) != *different)
            }
            // In a world where everything is known, so is this.
            Condition::Known(_) => Some(true),
            Condition::Not(inner) => self.condition(inner).map(|truth| !truth),
            Condition::And(parts) => all(parts.iter().map(|part| self.condition(part))),
            Condition::Or(parts) => any(parts.iter().map(|part| self.condition(part))),
            Condition::Compare(_, comparison, a, b) => {
                compared(*comparison, self.number(a), self.number(b))
            }
            Condition::Every(many, body) => all(self.over(*many).map(|seat| seat.condition(body))),
            Condition::Any(many, body) => any(self.over(*many).map(|seat| seat.condition(body))),
        }
    }

    /// What a caution comes to; none where rounding would decide.
    pub(crate) fn judged(self, caution: &Caution) -> Option<Judged> {
        let holds = |formula: &Option<Condition>| {
            formula
                .as_ref()
                .map_or(Some(true), |condition| self.condition(condition))
        };
        if !holds(&caution.applies_when)? {
            return Some(Judged {
                applies: false,
                verdict: Verdict::Pass,
            });
        }
        let verdict = match (holds(&caution.refuse_unless)?, holds(&caution.warn_unless)?) {
            (false, _) => Verdict::Refuse,
            (true, false) => Verdict::Warn,
            (true, true) => Verdict::Pass,
        };
        Some(Judged {
            applies: true,
            verdict,
        })
    }
}

/// Numbers that a division by almost nothing made are left out.
fn bounded(value: f64) -> f64 {
    if value.abs() < 1e12 { value } else { f64::NAN }
}

/// As NaN goes through sums, so it does here.
fn joined(values: impl Iterator<Item = f64>, with: fn(f64, f64) -> f64) -> f64 {
    values
        .reduce(|a, b| {
            if a.is_nan() || b.is_nan() {
                f64::NAN
            } else {
                with(a, b)
            }
        })
        .unwrap_or(f64::NAN)
}

fn folded(folding: Folding, values: &[f64]) -> f64 {
    let least = || joined(values.iter().copied(), f64::min);
    let greatest = || joined(values.iter().copied(), f64::max);
    let total: f64 = values.iter().sum();
    match folding {
        Folding::Min => least(),
        Folding::Max => greatest(),
        Folding::Sum => total,
        Folding::Mean => total / values.len() as f64,
        Folding::Spread => greatest() - least(),
    }
}

fn all(truths: impl Iterator<Item = Option<bool>>) -> Option<bool> {
    let mut surely = Some(true);
    for truth in truths {
        match truth {
            Some(false) => return Some(false),
            Some(true) => {}
            None => surely = None,
        }
    }
    surely
}

fn any(truths: impl Iterator<Item = Option<bool>>) -> Option<bool> {
    all(truths.map(|truth| truth.map(|truth| !truth))).map(|truth| !truth)
}

/// Numbers within one part in 10^9 are equal; a belt around that is left to rounding.
fn compared(comparison: Comparison, a: f64, b: f64) -> Option<bool> {
    let (apart, size) = ((a - b).abs(), a.abs().max(b.abs()));
    let equal = if apart <= 1e-13 || apart <= 1e-10 * size {
        true
    } else if apart >= 1e-9 && apart >= 1e-8 * size {
        false
    } else {
        return None;
    };
    Some(match comparison {
        Comparison::AtLeast => equal || a > b,
        Comparison::Above => !equal && a > b,
        Comparison::AtMost => equal || a < b,
        Comparison::Below => !equal && a < b,
        Comparison::Equal => equal,
        Comparison::NotEqual => !equal,
    })
}
