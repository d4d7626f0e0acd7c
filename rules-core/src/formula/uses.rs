//! What a formula refers to, whatever its value: for vetting.

use std::collections::BTreeSet;

use super::program::{FigureCode, Program};
use super::typed::{Condition, FigureId, LimitId, Number, Test};
use crate::facts::{Catalogue, FactId, WorkedId};

/// Facts, limits and figures that formulas refer to, through figures to what they rest on.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Uses {
    /// Facts whose values take part.
    pub facts: BTreeSet<FactId>,
    /// Facts of which it is only asked whether they are known.
    pub asked: BTreeSet<FactId>,
    /// Limits.
    pub limits: BTreeSet<LimitId>,
    /// Figures.
    pub figures: BTreeSet<FigureId>,
}

impl Uses {
    /// What each part of a condition refers to that has to hold by itself: `a and b` has two.
    pub fn of_demands(
        condition: &Condition,
        program: &Program,
        catalogue: &Catalogue,
    ) -> Vec<Self> {
        let parts = demands(condition, program).into_iter();
        parts
            .map(|part| {
                let mut uses = Self::default();
                uses.add_condition(part, program, catalogue);
                uses
            })
            .collect()
    }

    /// Adds what a condition refers to.
    pub fn add_condition(
        &mut self,
        condition: &Condition,
        program: &Program,
        catalogue: &Catalogue,
    ) {
        match &condition.form {
            Test::Constant(_) => {}
            Test::Fact(fact) | Test::In(fact, _) => drop(self.facts.insert(fact.id)),
            Test::Known(fact) => drop(self.asked.insert(fact.id)),
            Test::SameOption(a, b) | Test::SameText(a, b) => self.facts.extend([a.id, b.id]),
            Test::Figure(id, _) => self.add_figure(*id, program, catalogue),
            Test::And(parts) | Test::Or(parts) => parts
                .iter()
                .for_each(|part| self.add_condition(part, program, catalogue)),
            Test::Not(inner) | Test::Every(_, inner) | Test::Any(_, inner) => {
                self.add_condition(inner, program, catalogue)
            }
            Test::Compare { left, right, .. } => {
                self.add_number(&left.number, program, catalogue);
                self.add_number(&right.number, program, catalogue);
            }
        }
    }

    /// Adds what a number refers to.
    pub fn add_number(&mut self, number: &Number, program: &Program, catalogue: &Catalogue) {
        match number {
            Number::Constant(_) => {}
            Number::Limit(id) => drop(self.limits.insert(*id)),
            Number::Fact(fact) | Number::Distinct(_, fact) => drop(self.facts.insert(fact.id)),
            Number::Worked(id, _) => self.add_worked(*id, catalogue),
            Number::Figure(id, _) => self.add_figure(*id, program, catalogue),
            Number::Sum(list) | Number::Product(list) => list
                .iter()
                .for_each(|(_, part)| self.add_number(part, program, catalogue)),
            Number::Least(list) | Number::Greatest(list) => list
                .iter()
                .for_each(|part| self.add_number(part, program, catalogue)),
            Number::Negative(inner) | Number::Abs(inner) | Number::Fold(_, _, inner) => {
                self.add_number(inner, program, catalogue)
            }
            Number::Count(_, inner) => self.add_condition(inner, program, catalogue),
        }
    }

    /// Adds a figure and what it rests on.
    pub fn add_figure(&mut self, id: FigureId, program: &Program, catalogue: &Catalogue) {
        if !self.figures.insert(id) {
            return;
        }
        match program.figures.get(id.0) {
            Some(FigureCode::Number(number, _)) => self.add_number(number, program, catalogue),
            Some(FigureCode::Condition(condition)) => {
                self.add_condition(condition, program, catalogue)
            }
            None => {}
        }
    }

    fn add_worked(&mut self, id: WorkedId, catalogue: &Catalogue) {
        let needs = catalogue
            .worked_def(id)
            .map(|def| def.needs)
            .unwrap_or_default();
        self.facts.extend(catalogue.needed(needs));
    }
}

/// The parts of a condition that have to hold each by itself, through figures.
fn demands<'c>(condition: &'c Condition, program: &'c Program) -> Vec<&'c Condition> {
    match &condition.form {
        Test::And(parts) => parts
            .iter()
            .flat_map(|part| demands(part, program))
            .collect(),
        Test::Figure(id, _) => match program.figures.get(id.0) {
            Some(FigureCode::Condition(inner)) => demands(inner, program),
            _ => vec![condition],
        },
        _ => vec![condition],
    }
}
