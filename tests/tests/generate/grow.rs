//! Growing formulas that fit: every operator, fold, unit and kind, with the names that can be seen
//! from where they are.

mod condition;
mod fold;
mod number;

use rules_core::quantity::Kind;

use super::choices::Choices;
use super::ruleset::{Body, Figure, Limit};
use super::vocabulary::{FACTS, FactAt, Many, Subject, Values};

/// What a formula may be made of.
pub(crate) struct Ground<'g> {
    pub(crate) limits: &'g [Limit],
    pub(crate) figures: &'g [Figure],
    /// Facts that formulas keep away from.
    pub(crate) shunned: &'g [FactAt],
    /// Limits are only in comparisons where a stricter limit is harder to keep.
    pub(crate) directed: bool,
}

/// Grows one formula.
pub(crate) struct Grower<'g, 'c, 'w> {
    ground: &'g Ground<'g>,
    choices: &'c mut Choices<'w>,
    about: Subject,
    inside: Option<Many>,
    /// Inside something that is counted, where a limit has no direction.
    counting: bool,
    /// How much more may grow.
    left: usize,
}

impl<'g, 'c, 'w> Grower<'g, 'c, 'w> {
    pub(crate) fn new(
        ground: &'g Ground<'g>,
        choices: &'c mut Choices<'w>,
        about: Subject,
    ) -> Self {
        let left = [4, 9, 24][choices.weighted(&[3, 3, 2])];
        Self {
            ground,
            choices,
            about,
            inside: None,
            counting: false,
            left,
        }
    }

    /// What a formula, or the inside of a fold, is about sees itself, what contains it, and what there
    /// is one of.
    fn sees(&self, subject: Subject) -> bool {
        let from = self.inside.map_or(self.about, Many::subject);
        match subject {
            Subject::Group => matches!(from, Subject::Cell | Subject::Group),
            Subject::Cell | Subject::Pack => from == subject,
            _ => true,
        }
    }

    /// What a fold goes over.
    fn many(&mut self) -> Many {
        [Many::Cells, Many::Groups, Many::Packs][self.choices.weighted(&[6, 2, 1])]
    }

    /// A fact that can be seen and fits, of the cells and groups more often than of the single
    /// subjects.
    fn fact(&mut self, fits: impl Fn(&Values) -> bool, wanted: Option<Subject>) -> Option<FactAt> {
        let seen = |at: &FactAt| {
            let fact = &FACTS[*at];
            fits(&fact.values)
                && self.sees(fact.subject)
                && wanted.is_none_or(|subject| subject == fact.subject)
                && !self.ground.shunned.contains(at)
        };
        let found: Vec<FactAt> = (0..FACTS.len()).filter(seen).collect();
        let close: Vec<FactAt> = found
            .iter()
            .copied()
            .filter(|at| FACTS[*at].subject.many().is_some())
            .collect();
        let from = if close.is_empty() || self.choices.one_in(3) {
            &found
        } else {
            &close
        };
        (!from.is_empty()).then(|| *self.choices.pick(from))
    }

    fn figure(
        &mut self,
        fits: impl Fn(&Body) -> bool,
        wanted: Option<Subject>,
    ) -> Option<(usize, Subject)> {
        let figures = self.ground.figures.iter().enumerate();
        let seen = figures.filter(|(_, figure)| {
            fits(&figure.body)
                && self.sees(figure.about)
                && wanted.is_none_or(|subject| subject == figure.about)
        });
        let found: Vec<(usize, Subject)> = seen.map(|(at, figure)| (at, figure.about)).collect();
        (!found.is_empty()).then(|| *self.choices.pick(&found))
    }

    fn spend(&mut self) -> bool {
        self.left = self.left.saturating_sub(1);
        self.left > 0
    }

    fn several<T>(&mut self, mut grow: impl FnMut(&mut Self) -> T) -> Vec<T> {
        (0..2 + self.choices.below(2)).map(|_| grow(self)).collect()
    }

    fn limit(&mut self, kind: Kind) -> Option<usize> {
        let found: Vec<usize> = (0..self.ground.limits.len())
            .filter(|at| self.ground.limits[*at].kind == kind)
            .collect();
        (!found.is_empty()).then(|| *self.choices.pick(&found))
    }
}
