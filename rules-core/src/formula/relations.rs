//! Relations between facts that hold for everything, however bad it is: compiled, and looked at for
//! one sheet. If facts surely break one, at least one of them was written wrong.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use super::evaluate::Evaluator;
use super::fact_at::FactAt;
use super::fault::FormulaFault;
use super::parse::parse;
use super::program::Program;
use super::resolve::{UnreadSorts, Vocabulary, resolve_condition};
use super::tree::Tree;
use super::truth::Truth;
use super::typed::Condition;
use super::uses::Uses;
use crate::document::{Fault, ProblemList, Problems, Span, Suggestions};
use crate::facts::{
    Catalogue, FactDef, FactId, FactKind, FactOrFigure, Given, RelationDef, Sheet, Value, called,
};
use crate::snapshot::{Late, stored};

/// The relations of a catalogue, compiled.
#[derive(Debug, Clone, Default)]
pub struct Relations {
    /// In the order of the catalogue.
    all: Vec<Relation>,
    /// Says how many folds they have. They name no limits, and no figures.
    program: Program,
}

/// A relation, compiled.
#[derive(Debug, Clone)]
struct Relation {
    holds: Late<Condition>,
    /// The facts that it names, of which one has to be given to break it. None, if it goes over many:
    /// how many there are may break it too.
    names: Vec<FactId>,
}

impl Relations {
    /// Compiles the relations of a catalogue.
    ///
    /// # Errors
    ///
    /// Every fault of their formulas. They name only facts: figures are worked out from facts that
    /// agree.
    pub fn compile(catalogue: &Catalogue) -> Result<Self, ProblemList> {
        let folds = Cell::new(0);
        let (mut all, mut problems) = (Vec::new(), Vec::new());
        for relation in catalogue.relations() {
            let before = folds.get();
            match compile(relation, catalogue, &folds) {
                Ok(condition) => all.push(Relation::of(condition, folds.get() > before, catalogue)),
                Err(faults) => problems.extend(placed(faults, relation)),
            }
        }
        let program = Program {
            folds: folds.get(),
            ..Program::default()
        };
        if problems.is_empty() {
            Ok(Self { all, program })
        } else {
            Err(problems.into())
        }
    }

    /// Adds an error for every relation that the facts of a sheet surely break, whatever acceptance
    /// is in force. `elsewhere` is the place to report for facts that have no place in the text.
    pub fn add_broken(
        &self,
        catalogue: &Catalogue,
        sheet: &Sheet,
        elsewhere: Span,
        problems: &mut Problems<'_>,
    ) {
        let evaluator = Evaluator::new(catalogue, &self.program, sheet, false);
        let relations = catalogue.relations().iter().zip(&self.all);
        for (relation, compiled) in relations.filter(|(_, one)| one.is_touched(catalogue, sheet)) {
            for bound in evaluator.each(relation.about) {
                if evaluator.condition(&compiled.holds, &bound) == Truth::No {
                    let facts = evaluator.condition_rests_on(&compiled.holds, &bound).facts;
                    let broken = Broken {
                        relation,
                        position: bound.position(relation.about),
                        facts: &facts,
                    };
                    broken.add(catalogue, sheet, elsewhere, problems);
                }
            }
        }
    }
}

impl Relation {
    fn of(condition: Condition, goes_over_many: bool, catalogue: &Catalogue) -> Self {
        let mut uses = Uses::default();
        if !goes_over_many {
            uses.add_condition(&condition, &Program::default(), catalogue);
        }
        Self {
            holds: condition.into(),
            names: uses.facts.union(&uses.asked).copied().collect(),
        }
    }

    /// Whether something is given that may break it.
    fn is_touched(&self, catalogue: &Catalogue, sheet: &Sheet) -> bool {
        let is_given = |fact: &FactId| {
            catalogue.fact(*fact).is_some_and(|def| {
                let (subject, slot) = (def.subject, catalogue.slot(*fact));
                (0..sheet.count(subject)).any(|at| sheet.given(subject, at, slot).is_some())
            })
        };
        self.names.is_empty() || self.names.iter().any(is_given)
    }
}

fn compile(
    relation: &RelationDef,
    catalogue: &Catalogue,
    folds: &Cell<usize>,
) -> Result<Condition, Vec<FormulaFault>> {
    let tree = parse(relation.formula()).map_err(|fault| vec![fault])?;
    let vocabulary = Vocabulary {
        catalogue,
        limits: &BTreeMap::new(),
        former_limits: &BTreeMap::new(),
        figures: &BTreeMap::new(),
        faulty: &BTreeSet::new(),
        unread: UnreadSorts::default(),
        folds,
        suggestions: &Suggestions::default(),
    };
    let condition = resolve_condition(&tree, Some(relation.about), &vocabulary)?;
    match figure_in(&tree, catalogue) {
        Some(figure) => Err(vec![FormulaFault::new(
            Fault::OutOfScope,
            tree.span,
            format!("`{figure}` is a figure; a relation is between facts"),
            "name only facts that a proposal states",
        )]),
        None => Ok(condition),
    }
}

fn figure_in(tree: &Tree, catalogue: &Catalogue) -> Option<String> {
    let names = tree.names().into_iter();
    let mut full = names.map(|(subject, word)| [subject, ".", word].concat());
    full.find(|name| matches!(catalogue.find(name), Some(FactOrFigure::Worked(_))))
}

fn placed(faults: Vec<FormulaFault>, relation: &RelationDef) -> ProblemList {
    let mut problems = Problems::new(&relation.source);
    for fault in faults {
        problems.add_within(
            fault.fault,
            &relation.holds,
            fault.span,
            fault.message,
            fault.help,
        );
    }
    problems.finish()
}

/// A relation that does not hold for one of its subject.
struct Broken<'b> {
    relation: &'b RelationDef,
    position: usize,
    facts: &'b [FactAt],
}

impl Broken<'_> {
    /// The error is at the value that comes last in the text, and names the places of all.
    fn add(
        &self,
        catalogue: &Catalogue,
        sheet: &Sheet,
        elsewhere: Span,
        problems: &mut Problems<'_>,
    ) {
        let mut given: Vec<(&FactDef, &Given)> = self
            .facts
            .iter()
            .filter_map(|fact| {
                let given = sheet.known(fact.subject, fact.position, fact.slot)?;
                Some((catalogue.fact(fact.id)?, given))
            })
            .collect();
        given.sort_by_key(|(_, given)| given.at);
        let values: Vec<String> = given
            .iter()
            .map(|(def, given)| value(def, given, catalogue, problems))
            .collect();
        let message = format!(
            "of {}, {}: {}",
            called(self.relation.about, self.position, catalogue, sheet),
            self.relation.says,
            values.join(", "),
        );
        let last = given.last().and_then(|(_, given)| given.span());
        let help = "check which one is wrong; correct it, or leave it out";
        problems.add(
            Fault::Contradiction,
            last.unwrap_or(elsewhere),
            message,
            help,
        );
    }
}

/// A value under its key, with its place.
fn value(def: &FactDef, given: &Given, catalogue: &Catalogue, problems: &Problems<'_>) -> String {
    let place = given.at.map_or_else(String::new, |at| {
        let place = problems.source().place(at);
        format!(" (line {}, column {})", place.line, place.column)
    });
    let gives = match (&def.key, &given.value, &def.kind) {
        (None, Value::Number(value), FactKind::Number(kind)) => {
            format!(", which gives {}", value.shown(*kind).as_range())
        }
        _ => String::new(),
    };
    format!(
        "`{}`{place} is `{}`{gives}",
        key(def, catalogue),
        given.written
    )
}

/// The key of a fact as a person finds it: in the section of its subject, unless that is one of
/// many.
fn key(def: &FactDef, catalogue: &Catalogue) -> String {
    let own = def.key.as_ref().or(def.from.as_ref()).unwrap_or(&def.name);
    let subject = catalogue.subject(def.subject);
    let section = subject.filter(|subject| subject.plural.is_none() && subject.has_section);
    section.map_or_else(
        || own.to_string(),
        |section| format!("{}.{own}", section.name),
    )
}

stored!(struct Relations { all, program });
stored!(struct Relation { holds, names });

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Source, Syntax};
    use crate::facts::Instance;
    use crate::quantity::{Interval, Measure};

    const TABLE: &str = "
format: 1
title: Facts of a plan
subjects:
  site: { meaning: The hall }
  cable: { plural: cables, meaning: One of its cables }
facts:
  cable.cold: { place: cold, kind: voltage, meaning: Drop when cold, domain: 1..10 V }
  cable.warm: { place: warm, kind: voltage, meaning: Drop when warm, domain: 1..10 V }
consistent:
  - id: warm-drops-more
    about: each cable
    holds: cable.cold <= cable.warm
    says: the drop when cold is above that when warm
    basis: [{ common_practice: copper conducts worse when warm }]
  - id: no-more-than-three
    about: site
    holds: sum of cable.cold <= 35 V
    says: all drop more than is there
    basis: [{ worked_out: from the supply }]
";

    /// How many relations cables break that drop so many volts when cold, and when warm.
    fn broken(cables: &[(Option<f64>, Option<f64>)]) -> usize {
        let table = TABLE.as_bytes().to_vec();
        let catalogue = Catalogue::read("table.yaml", table, Syntax::Yaml).unwrap();
        let relations = Relations::compile(&catalogue).unwrap();
        let mut sheet = Sheet::new(&catalogue);
        let cable = catalogue.subject_named("cable").unwrap();
        for (cold, warm) in cables {
            let mut instance = Instance::default();
            for (name, drop) in [("cable.cold", cold), ("cable.warm", warm)] {
                let (id, _) = catalogue.fact_named(name).unwrap();
                let Some(volts) = drop else { continue };
                let value = Value::Number(Measure::of(Interval::point(*volts)));
                let given = Given::new(value, format!("{volts} V"), None);
                instance.set(catalogue.slot(id), given);
            }
            sheet.roster_mut(cable).unwrap().instances.push(instance);
        }
        let source = Source::new("plan.yaml", String::new());
        let mut problems = Problems::new(&source);
        relations.add_broken(&catalogue, &sheet, Span::default(), &mut problems);
        problems.finish().len()
    }

    #[test]
    fn what_is_given_breaks_relations() {
        assert_eq!(broken(&[(Some(3.0), Some(2.0))]), 1);
        assert_eq!(broken(&[(Some(2.0), Some(3.0))]), 0);
        // Nothing else it may be is as low.
        assert_eq!(broken(&[(None, Some(0.5))]), 1);
        assert_eq!(broken(&[(None, None), (Some(3.0), Some(2.0))]), 1);
    }

    /// Of many there may be too many, though nothing is given of any.
    #[test]
    fn how_many_there_are_breaks_relations() {
        assert_eq!(broken(&[(None, None); 35]), 0);
        assert_eq!(broken(&[(None, None); 36]), 1);
    }
}
