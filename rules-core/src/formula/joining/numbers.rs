//! What happens to numbers when more join.

use super::trend::{Ends, Trend, Trends};
use crate::facts::{AsMoreJoin, Catalogue, FactId, SubjectId, WorkedId};
use crate::formula::program::{FigureCode, Program};
use crate::formula::quotient::spread_over_greatest;
use crate::formula::tree::Folding;
use crate::formula::typed::{FactRef, FigureId, Number, Over};

/// What joins, and what changes with it besides: more of a subject join those of a sheet that has at
/// least one, each with its facts and with its container.
#[derive(Debug)]
pub struct Joining<'j> {
    pub(super) catalogue: &'j Catalogue,
    pub(super) program: &'j Program,
    /// What joins.
    pub(super) member: SubjectId,
    /// Whether what joins is in a container of its own: then what is in one container stays.
    apart: bool,
    /// The facts of single subjects that change when more join.
    changing: &'j [FactId],
    numbers: Vec<Ends>,
    conditions: Vec<Trends>,
}

impl<'j> Joining<'j> {
    /// More of this subject; with `apart`, each in a container of its own. The facts are those that
    /// then change besides.
    #[must_use]
    pub fn of(
        catalogue: &'j Catalogue,
        program: &'j Program,
        member: SubjectId,
        apart: bool,
        changing: &'j [FactId],
    ) -> Self {
        let mut joining = Self {
            catalogue,
            program,
            member,
            apart,
            changing,
            numbers: Vec::new(),
            conditions: Vec::new(),
        };
        // Each figure stands after those that it rests on.
        for code in &program.figures {
            let (number, condition) = match code {
                FigureCode::Number(number, _) => (joining.number(number), Trends::UNKNOWN),
                FigureCode::Condition(condition) => (Ends::UNKNOWN, joining.condition(condition)),
            };
            joining.numbers.push(number);
            joining.conditions.push(condition);
        }
        joining
    }

    pub(super) fn figure_condition(&self, id: FigureId) -> Trends {
        let kept = self.conditions.get(id.0).copied();
        kept.unwrap_or(Trends::UNKNOWN)
    }

    pub(super) fn is_changing(&self, fact: FactRef) -> bool {
        self.changing.contains(&fact.id)
    }

    /// What a fold goes over, when more join.
    pub(super) fn grows(&self, over: Over) -> Growth {
        let container = self.catalogue.container(self.member);
        let is_one_of_these = over.subject == self.member || container == Some(over.subject);
        match over.within {
            Some(_) if self.apart => Growth::Stays,
            _ if is_one_of_these => Growth::Grows,
            None if self.catalogue.origin(self.member) == Some(over.subject) => Growth::FromNone,
            _ => Growth::Unknown,
        }
    }

    pub(super) fn number(&self, number: &Number) -> Ends {
        let of = |number: &Number| self.number(number);
        match number {
            Number::Constant(_) | Number::Limit(_) => Ends::SAME,
            Number::Fact(fact) if self.is_changing(*fact) => Ends::UNKNOWN,
            Number::Fact(_) => Ends::SAME,
            Number::Worked(id, _) => self.worked(*id),
            Number::Figure(id, _) => {
                let kept = self.numbers.get(id.0).copied();
                kept.unwrap_or(Ends::UNKNOWN)
            }
            Number::Sum(terms) => joined(terms.iter().map(|(less, term)| {
                let ends = of(term);
                if *less { ends.turned() } else { ends }
            })),
            Number::Product(factors) => self.product(number, factors),
            Number::Negative(inner) => of(inner).turned(),
            Number::Abs(inner) if self.never_negative(inner) => of(inner),
            Number::Abs(inner) => only_same(of(inner)),
            Number::Least(all) | Number::Greatest(all) => joined(all.iter().map(of)),
            Number::Fold(folding, over, body) => self.fold(*folding, *over, body),
            Number::Distinct(over, fact) => match self.grows(*over) {
                _ if self.is_changing(*fact) => Ends::UNKNOWN,
                Growth::Stays => Ends::SAME,
                Growth::Grows => Ends::both(Trend::Rises),
                Growth::FromNone | Growth::Unknown => Ends::UNKNOWN,
            },
            Number::Count(over, body) => match (self.grows(*over), self.condition(body)) {
                (Growth::Stays, Trends::SAME) => Ends::SAME,
                (Growth::Grows, Trends::SAME) => Ends::both(Trend::Rises),
                _ => Ends::UNKNOWN,
            },
        }
    }

    fn worked(&self, id: WorkedId) -> Ends {
        let def = self.catalogue.worked_def(id);
        match def.map_or(AsMoreJoin::Unknown, |def| def.as_more_join) {
            AsMoreJoin::Apart => Ends::SAME,
            AsMoreJoin::WithContainer if self.apart => Ends::SAME,
            AsMoreJoin::Rises => Ends {
                low: Trend::Unknown,
                high: Trend::Rises,
            },
            AsMoreJoin::Widens => Ends {
                low: Trend::Falls,
                high: Trend::Rises,
            },
            AsMoreJoin::WithContainer | AsMoreJoin::Unknown => Ends::UNKNOWN,
        }
    }

    fn product(&self, number: &Number, factors: &[(bool, Number)]) -> Ends {
        let ends = joined(factors.iter().map(|(divides, factor)| {
            let ends = self.number(factor);
            if *divides { ends.turned() } else { ends }
        }));
        if ends == Ends::SAME {
            return ends;
        }
        // The spread as a share of the greatest is one less the least as a share of the greatest. Its
        // upper end is taken as one that no other can lower: `Amid::Some`.
        if let Some((over, body)) = spread_over_greatest(number, self.program)
            && self.never_negative(body)
            && self.number(body) == Ends::SAME
            && self.grows(over) == Growth::Grows
        {
            return Ends {
                low: Trend::Unknown,
                high: Trend::Rises,
            };
        }
        let all_positive = factors.iter().all(|(_, one)| self.never_negative(one));
        if all_positive { ends } else { Ends::UNKNOWN }
    }

    fn fold(&self, folding: Folding, over: Over, body: &Number) -> Ends {
        let ends = self.number(body);
        match (self.grows(over), folding) {
            (Growth::FromNone | Growth::Unknown, _) => Ends::UNKNOWN,
            (Growth::Stays, Folding::Spread | Folding::Distinct) => only_same(ends),
            (Growth::Stays, _) => ends,
            (Growth::Grows, Folding::Max) => ends.and(Ends::both(Trend::Rises)),
            (Growth::Grows, Folding::Min) => ends.and(Ends::both(Trend::Falls)),
            (Growth::Grows, Folding::Sum) if self.never_negative(body) => {
                ends.and(Ends::both(Trend::Rises))
            }
            // What is surely between two may be less sure when a reading joins that shares nothing.
            (Growth::Grows, Folding::Spread) if ends == Ends::SAME => Ends {
                low: Trend::Unknown,
                high: Trend::Rises,
            },
            (Growth::Grows, _) => Ends::UNKNOWN,
        }
    }
}

/// What happens to those that a fold goes over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Growth {
    /// They stay.
    Stays,
    /// There are more.
    Grows,
    /// There are more, and there may be none of them at first: what joins brings what it came out of.
    FromNone,
    /// It is not known.
    Unknown,
}

fn joined(all: impl Iterator<Item = Ends>) -> Ends {
    all.fold(Ends::SAME, Ends::and)
}

fn only_same(ends: Ends) -> Ends {
    if ends == Ends::SAME {
        ends
    } else {
        Ends::UNKNOWN
    }
}
