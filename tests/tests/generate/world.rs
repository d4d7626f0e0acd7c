//! A world: one way in which everything that a proposal says can be true, with every fact known.

pub(crate) mod together;

use std::collections::BTreeMap;

use rules_core::quantity::Kind;

use super::amount::usual;
use super::choices::Choices;
use super::formula::options;
use super::marks;
use super::proposal::{Draft, Given};
use super::quantity::Interval;
use super::ruleset::Ruleset;
use super::setting::unnamed;
use super::vocabulary::{FACTS, FactAt, Subject, Values, fact_named};

/// The value of a fact.
#[derive(Debug, Clone, PartialEq, PartialOrd)]
pub(crate) enum Value {
    Number(f64),
    Choice(usize),
    YesNo(bool),
    Text(String),
}

/// One of a subject.
#[derive(Debug, Clone, Default)]
pub(crate) struct One {
    /// What a report calls it.
    pub(crate) subject: String,
    /// How many the report calls so.
    pub(crate) several: usize,
    pub(crate) facts: BTreeMap<FactAt, Value>,
}

/// Everything known.
#[derive(Debug, Clone)]
pub(crate) struct World {
    pub(crate) singles: BTreeMap<Subject, One>,
    pub(crate) groups: Vec<One>,
    pub(crate) cells: Vec<One>,
    pub(crate) packs: Vec<One>,
    /// The group of each cell.
    pub(crate) group_of: Vec<usize>,
    pub(crate) limits: Vec<f64>,
    /// The highest current from the battery; none where it has no bound.
    pub(crate) current: f64,
}

/// Where in an interval a world takes its values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Lean {
    Low,
    High,
    Nominal,
    Anywhere,
}

/// Makes worlds of a proposal.
pub(crate) struct Sampler<'s, 'c, 'w> {
    draft: &'s Draft,
    choices: &'c mut Choices<'w>,
    lean: Lean,
    /// The gain error of each meter in this world.
    gains: BTreeMap<Kind, f64>,
}

/// A world in which a proposal and the limits of a ruleset are true.
pub(crate) fn world(
    draft: &Draft,
    ruleset: &Ruleset,
    choices: &mut Choices<'_>,
    lean: Lean,
) -> World {
    let mut sampler = Sampler {
        draft,
        choices,
        lean,
        gains: BTreeMap::new(),
    };
    sampler.gains();
    let mut singles: BTreeMap<Subject, One> = Subject::SINGLE
        .iter()
        .map(|subject| (*subject, sampler.single(*subject)))
        .collect();
    sampler.build(&mut singles);
    let cells: Vec<One> = (0..draft.cells.len()).map(|at| sampler.cell(at)).collect();
    let packs = sampler.packs(&cells);
    let group_of = sampler.grouping();
    let groups = sampler.groups(&group_of);
    let limits = ruleset
        .limits
        .iter()
        .map(|limit| sampler.between(limit.low, limit.high, f64::midpoint(limit.low, limit.high)))
        .collect();
    let current = sampler.current(&singles);
    World {
        singles,
        groups,
        cells,
        packs,
        group_of,
        limits,
        current,
    }
}

impl Sampler<'_, '_, '_> {
    fn between(&mut self, low: f64, high: f64, nominal: f64) -> f64 {
        let part = match self.lean {
            Lean::Low => 0.0,
            Lean::High => 1.0,
            Lean::Nominal => return nominal,
            Lean::Anywhere => self.choices.part(),
        };
        (low * (1.0 - part) + high * part).clamp(low, high)
    }

    /// One gain error for each meter, such that every reading can have it.
    fn gains(&mut self) {
        let mut readings: Vec<(Kind, Interval)> = Vec::new();
        for facts in self
            .draft
            .cells
            .iter()
            .map(|cell| &cell.facts)
            .chain(self.draft.packs.iter().map(|pack| &pack.facts))
            .chain([&self.draft.singles])
        {
            for (at, given) in facts {
                if let Given::Number(quantity) = given {
                    readings.push((
                        FACTS[*at].kind().unwrap(),
                        self.draft.interval(*at, quantity),
                    ));
                }
            }
        }
        for (kind, reading) in &readings {
            let Some((_, _, gain)) = reading.core else {
                continue;
            };
            if !self.gains.contains_key(kind) {
                let error = self.between(-gain, gain, 0.0);
                let fits = readings
                    .iter()
                    .filter(|(of, _)| of == kind)
                    .all(|(_, reading)| core_at(reading, error).is_some());
                self.gains.insert(*kind, if fits { error } else { 0.0 });
            }
        }
    }

    fn number(&mut self, at: FactAt, said: &Interval) -> f64 {
        let gain = FACTS[at]
            .kind()
            .and_then(|kind| self.gains.get(&kind))
            .copied();
        let core = gain
            .filter(|_| said.core.is_some())
            .and_then(|error| Some((error, core_at(said, error)?)));
        match core {
            Some((error, (low, high))) if self.lean != Lean::Nominal => {
                self.between(low, high, said.nominal) * (1.0 + error)
            }
            _ => self.between(said.low, said.high, said.nominal),
        }
    }

    fn given(&mut self, at: FactAt, given: &Given) -> Value {
        match given {
            Given::Number(quantity) => {
                Value::Number(self.number(at, &self.draft.interval(at, quantity)))
            }
            Given::Choice(option) => Value::Choice(*option),
            Given::YesNo(yes) => Value::YesNo(*yes),
            Given::Text(text) => Value::Text(text.clone()),
        }
    }

    fn missing(&mut self, at: FactAt) -> Value {
        let fact = &FACTS[at];
        match &fact.values {
            Values::Number(kind) => Value::Number(self.anything(*kind, fact.low, fact.high)),
            Values::Choice(_) => Value::Choice(self.choices.below(options(at).len())),
            Values::YesNo => Value::YesNo(self.choices.one_in(2)),
            Values::Text => Value::Text(
                (*self
                    .choices
                    .pick(&["P-1", "P-2", "A", "K1", "other", "another"]))
                .to_owned(),
            ),
        }
    }

    /// A value of a domain: usual, or far out.
    fn anything(&mut self, kind: Kind, low: f64, high: f64) -> f64 {
        let usual = usual(kind);
        let far = self.choices.one_in(3);
        let (from, to) = if far {
            (low.max(-1e7), high.min(1e7))
        } else {
            (usual.low.max(low), usual.high.min(high))
        };
        let value = self.between(from, to, f64::midpoint(from, to));
        if kind == Kind::Count {
            value.round().clamp(from, to)
        } else {
            value
        }
    }

    fn all(
        &mut self,
        subject: Subject,
        given: &BTreeMap<FactAt, Given>,
    ) -> BTreeMap<FactAt, Value> {
        let of = (0..FACTS.len()).filter(|at| FACTS[*at].subject == subject);
        let value = |at: FactAt| match given.get(&at) {
            Some(given) => (at, self.given(at, given)),
            None => (at, self.missing(at)),
        };
        of.map(value).collect()
    }

    fn single(&mut self, subject: Subject) -> One {
        One {
            subject: subject.name().to_owned(),
            several: 1,
            facts: self.all(subject, &self.draft.singles),
        }
    }

    fn build(&mut self, singles: &mut BTreeMap<Subject, One>) {
        let build = singles.get_mut(&Subject::Build).unwrap();
        let numbers = [
            ("build.series", self.draft.series),
            ("build.parallel", self.draft.parallel),
            ("build.cells", self.draft.called()),
            ("build.listed", self.draft.listed()),
        ];
        build
            .facts
            .extend(numbers.map(|(name, number)| (fact_named(name), Value::Number(number as f64))));
    }

    fn cell(&mut self, at: usize) -> One {
        let cell = &self.draft.cells[at];
        if !cell.listed {
            let several = self.draft.cells.iter().filter(|cell| !cell.listed).count();
            return One {
                subject: unnamed("cell"),
                several,
                facts: self.all(Subject::Cell, &BTreeMap::new()),
            };
        }
        let mut facts = self.all(Subject::Cell, &cell.facts);
        facts.insert(fact_named("cell.id"), Value::Text(cell.id.clone()));
        if let Some(class) = marks::class(&cell.facts) {
            facts.insert(fact_named("cell.class"), Value::Choice(class));
        }
        for (at, (low, high)) in marks::sides(&cell.facts) {
            let value = self.between(low, high, f64::midpoint(low, high));
            facts.insert(at, Value::Number(value));
        }
        One {
            subject: format!("cell {}", cell.id),
            several: 1,
            facts,
        }
    }
}

/// The part of a reading's core that its interval allows at a gain error; none if there is none.
fn core_at(reading: &Interval, error: f64) -> Option<(f64, f64)> {
    let Some((low, high, _)) = reading.core else {
        return Some((0.0, 0.0));
    };
    let (low, high) = (
        low.max(reading.low / (1.0 + error)),
        high.min(reading.high / (1.0 + error)),
    );
    (low <= high).then_some((low, high))
}
