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
use crate::document::{Fault, ProblemList, Problems, Span, Suggestions};
use crate::facts::{
    Catalogue, FactDef, FactKind, FactOrFigure, Given, RelationDef, Sheet, Value, called,
};
use crate::snapshot::stored;

/// The relations of a catalogue, compiled.
#[derive(Debug, Clone, Default)]
pub struct Relations {
    /// In the order of the catalogue.
    conditions: Vec<Condition>,
    /// Says how many folds they have. They name no limits, and no figures.
    program: Program,
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
        let (mut conditions, mut problems) = (Vec::new(), Vec::new());
        for relation in catalogue.relations() {
            match compile(relation, catalogue, &folds) {
                Ok(condition) => conditions.push(condition),
                Err(faults) => problems.extend(placed(faults, relation)),
            }
        }
        let program = Program {
            folds: folds.get(),
            ..Program::default()
        };
        if problems.is_empty() {
            Ok(Self {
                conditions,
                program,
            })
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
        for (relation, condition) in catalogue.relations().iter().zip(&self.conditions) {
            for bound in evaluator.each(relation.about) {
                if evaluator.condition(condition, bound) == Truth::No {
                    let facts = evaluator.condition_rests_on(condition, bound).facts;
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
    section.map_or_else(|| own.clone(), |section| format!("{}.{own}", section.name))
}

stored!(struct Relations { conditions, program });
