//! A merged view to rules: names become numbers, formulas are checked for kinds.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::figures::compile_figures;
use super::layer::{AboutText, CautionText, FormulaText, Layer, Named};
use super::merge::Stack;
use super::rules::{Caution, FigureInfo, LimitInfo, Rules, Rung};
use super::template::template;
use super::view::View;
use super::{digest, print};
use crate::bounds::{MOST_CAUTIONS, MOST_FACTS, MOST_FIGURES, MOST_LIMITS};
use crate::document::{Fault, Problem, Problems, Span, near_miss};
use crate::facts::{Catalogue, FactDef, FactKind, SubjectId};
use crate::formula::{FigureSort, LimitCode, LimitId, Program, Vocabulary, resolve_condition};
use crate::quantity::{Interval, Kind, Nature};

/// Compiles a view.
pub(super) fn compile(stack: &Stack, view: &View, base: &Catalogue) -> Result<Rules, Vec<Problem>> {
    let mut problems = defined_twice(stack);
    if problems.iter().any(|problem| problem.fault == Fault::TooLarge) {
        return Err(problems);
    }
    let mut catalogue = base.clone();
    stack.layers.iter().for_each(|layer| declare_facts(layer, base, &mut catalogue, &mut problems));
    let (limits, limit_info, limit_names) = limits(stack, view);
    let folds = Cell::new(0);
    let mut figures = BTreeMap::new();
    let (figure_codes, figure_info) = compile_figures(stack, &catalogue, &limit_names, &folds, &mut figures, &mut problems);
    let vocabulary = Vocabulary { catalogue: &catalogue, limits: &limit_names, figures: &figures, folds: &folds };
    let cautions = cautions(stack, view, &vocabulary, &mut problems);
    if !problems.is_empty() {
        problems.sort_by(|a, b| a.place.cmp(&b.place));
        return Err(problems);
    }
    let written = print::merged(stack, view);
    let program = Program { limits, figures: figure_codes, folds: folds.get() };
    let (layers, loosened) = (print::layer_names(stack), print::loosenings(stack, view));
    let digest = digest::digest(&written);
    Ok(Rules {
        catalogue,
        program,
        cautions,
        limits: limit_info,
        figures: figure_info,
        layers,
        loosened,
        acceptance: view.acceptance,
        written,
        digest,
    })
}

/// Names that two rulesets define. A source may be repeated if it says the same.
fn defined_twice(stack: &Stack) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut limits = Definitions::new("limit");
    let mut figures = Definitions::new("figure");
    let mut facts = Definitions::new("fact");
    let mut cautions = Definitions::new("caution");
    let mut sources: BTreeMap<&str, (&Layer, &super::model::WrittenSource)> = BTreeMap::new();
    for layer in &stack.layers {
        layer.limits.iter().for_each(|limit| limits.add(layer, limit, &mut problems));
        layer.figures.iter().for_each(|figure| figures.add(layer, figure, &mut problems));
        layer.facts.iter().for_each(|fact| facts.add(layer, fact, &mut problems));
        layer.cautions.iter().for_each(|caution| cautions.add(layer, caution, &mut problems));
        for source in &layer.sources {
            match sources.insert(&source.name, (layer, &source.body)) {
                Some((first, body)) if *body != source.body => problems.push(twice("source", first, layer, &source.name, source.span)),
                _ => {}
            }
        }
    }
    problems.extend(too_many(stack));
    problems
}

/// Bounds on all layers together.
fn too_many(stack: &Stack) -> Vec<Problem> {
    let total = |of: fn(&Layer) -> usize| stack.layers.iter().map(of).sum::<usize>();
    let counts = [
        ("facts are declared", total(|layer| layer.facts.len()), MOST_FACTS),
        ("limits", total(|layer| layer.limits.len()), MOST_LIMITS),
        ("figures", total(|layer| layer.figures.len()), MOST_FIGURES),
        ("cautions", total(|layer| layer.cautions.len()), MOST_CAUTIONS),
    ];
    let over = counts.into_iter().filter(|(_, found, most)| found > most);
    over.map(|(what, found, most)| {
        Problem::of_file(Fault::TooLarge, format!("{found} {what}; the most is {most}"), "leave some rulesets out")
    })
    .collect()
}

struct Definitions<'s> {
    what: &'static str,
    seen: BTreeMap<&'s str, &'s Layer>,
}

impl<'s> Definitions<'s> {
    fn new(what: &'static str) -> Self {
        Self { what, seen: BTreeMap::new() }
    }

    fn add<T>(&mut self, layer: &'s Layer, named: &'s Named<T>, problems: &mut Vec<Problem>) {
        if let Some(first) = self.seen.insert(&named.name, layer) {
            problems.push(twice(self.what, first, layer, &named.name, named.span));
        }
    }
}

fn twice(what: &str, first: &Layer, layer: &Layer, name: &str, span: Span) -> Problem {
    let help = if what == "limit" || what == "caution" {
        "give it another name, or change the other one under `adjust`"
    } else {
        "give it another name"
    };
    layer.problem(Fault::DefinedTwice, span, format!("the {what} `{name}` is already defined in `{}`", first.source.name()), help)
}

fn declare_facts(layer: &Layer, base: &Catalogue, catalogue: &mut Catalogue, problems: &mut Vec<Problem>) {
    for fact in &layer.facts {
        let (subject_name, name) = fact.name.split_once('.').unwrap_or_default();
        let Some(subject) = catalogue.subject_named(subject_name) else {
            problems.push(unknown_subject(layer, subject_name, fact.span, catalogue));
            continue;
        };
        if catalogue.subject(subject).is_some_and(|subject| !subject.has_section) {
            let message = format!("a proposal has no place for facts about `{subject_name}`");
            problems.push(layer.problem(
                Fault::OutOfScope,
                fact.span,
                message,
                "declare it about a subject that has a section, such as `cell` or `light`",
            ));
            continue;
        }
        if base.find(&fact.name).is_some() {
            let message = format!("there is a fact or figure `{}` already", fact.name);
            problems.push(layer.problem(Fault::DefinedTwice, fact.span, message, "give it another name"));
            continue;
        }
        let domain = match (&fact.body.domain, &fact.body.kind) {
            (Some((_, measure)), _) => measure.range(),
            (None, FactKind::Number(Kind::Count)) => Interval::new(0.0, 1e15).unwrap_or(Interval::WHOLE),
            (None, _) => Interval::WHOLE,
        };
        let nature = if fact.body.measured { Nature::Measured } else { Nature::Stated };
        catalogue.add(FactDef {
            subject,
            name: name.to_owned(),
            kind: fact.body.kind.clone(),
            domain,
            nature,
            meaning: fact.body.meaning.clone(),
            none_is_zero: false,
            key: None,
        });
    }
}

fn unknown_subject(layer: &Layer, name: &str, span: Span, catalogue: &Catalogue) -> Problem {
    let names: Vec<&str> = catalogue.subjects().iter().map(|subject| subject.name).collect();
    let help = match near_miss(name, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the subjects are {}", crate::document::quoted(&names)),
    };
    layer.problem(Fault::UnknownName, span, format!("there is no subject `{name}`"), help)
}

type LimitNames = BTreeMap<String, (LimitId, Kind)>;

fn limits(stack: &Stack, view: &View) -> (Vec<LimitCode>, Vec<LimitInfo>, LimitNames) {
    let (mut codes, mut infos, mut names) = (Vec::new(), Vec::new(), LimitNames::new());
    for (name, seen) in &view.limits {
        let Some(layer) = stack.layers.get(seen.layer) else { continue };
        let Some(limit) = layer.limits.get(seen.index) else { continue };
        names.insert(name.clone(), (LimitId(codes.len()), limit.body.kind));
        codes.push(LimitCode { name: name.clone(), value: seen.value, kind: limit.body.kind, unit: limit.body.unit });
        infos.push(LimitInfo {
            name: name.clone(),
            written: seen.written.clone(),
            stricter: limit.body.stricter,
            meaning: limit.body.meaning.clone(),
            fixed: limit.body.fixed,
            basis: limit.body.basis.iter().map(|(basis, _)| basis.clone()).collect(),
            place: layer.source.place(limit.span.start),
        });
    }
    (codes, infos, names)
}

/// The subject of an `about`, which must say `each` exactly where there are many.
pub(super) fn subject_of(about: &AboutText, layer: &Layer, catalogue: &Catalogue) -> Result<SubjectId, Problem> {
    let Some(subject) = catalogue.subject_named(&about.subject) else {
        return Err(unknown_subject(layer, &about.subject, about.span, catalogue));
    };
    match (catalogue.is_many(subject), about.each) {
        (true, false) => Err(layer.problem(
            Fault::OutOfScope,
            about.span,
            format!("there are many of `{}`", about.subject),
            format!("write `each {}`", about.subject),
        )),
        (false, true) => Err(layer.problem(
            Fault::OutOfScope,
            about.span,
            format!("there is one `{}`", about.subject),
            format!("write `{}`", about.subject),
        )),
        _ => Ok(subject),
    }
}

fn cautions(stack: &Stack, view: &View, vocabulary: &Vocabulary<'_>, problems: &mut Vec<Problem>) -> Vec<Caution> {
    let mut compiled = Vec::new();
    for (position, layer) in stack.layers.iter().enumerate() {
        for named in &layer.cautions {
            // A dropped caution is compiled too, so that its faults do not hide behind its being dropped.
            let caution = caution(named, layer, vocabulary, problems);
            let seen = view.cautions.get(&named.name).filter(|seen| seen.layer == position && seen.dropped.is_empty());
            compiled.extend(caution.filter(|_| seen.is_some()));
        }
        check_sources(layer, stack, problems);
    }
    compiled.sort_by(|a, b| a.id.cmp(&b.id));
    compiled
}

fn caution(named: &Named<CautionText>, layer: &Layer, vocabulary: &Vocabulary<'_>, problems: &mut Vec<Problem>) -> Option<Caution> {
    let text = &named.body;
    let about = subject_of(&text.about, layer, vocabulary.catalogue).map_err(|problem| problems.push(problem)).ok()?;
    let mut found = Problems::new(&layer.source);
    let mut rung = |formula: &Option<FormulaText>| formula.as_ref().and_then(|formula| rung(formula, about, layer, vocabulary, &mut found));
    let (applies_when, refuse_unless, warn_unless) = (rung(&text.applies_when), rung(&text.refuse_unless), rung(&text.warn_unless));
    let reason = template(&text.reason.0, &text.reason.1, about, vocabulary, &mut found);
    let remedy = text.remedy.as_ref().map(|(written, node)| template(written, node, about, vocabulary, &mut found));
    problems.extend(found.finish());
    Some(Caution {
        id: named.name.as_str().into(),
        title: text.title.as_str().into(),
        about,
        applies_when,
        refuse_unless,
        warn_unless,
        if_unmeasured: text.if_unmeasured,
        fixed: text.fixed,
        reason,
        remedy,
        basis: text.basis.iter().map(|(basis, _)| basis.clone()).collect(),
        place: layer.source.place(named.span.start),
    })
}

fn rung(formula: &FormulaText, about: SubjectId, layer: &Layer, vocabulary: &Vocabulary<'_>, problems: &mut Problems<'_>) -> Option<Rung> {
    match resolve_condition(&formula.tree, about, vocabulary) {
        Ok(condition) => Some(Rung { condition, text: Arc::clone(&formula.text), place: layer.source.place(formula.node.span.start) }),
        Err(fault) => {
            problems.add_within(fault.fault, &formula.node, fault.span, fault.message, fault.help);
            None
        }
    }
}

/// Every source that a basis names must be defined by some ruleset.
fn check_sources(layer: &Layer, stack: &Stack, problems: &mut Vec<Problem>) {
    let known: BTreeSet<&str> = stack.layers.iter().flat_map(|layer| &layer.sources).map(|source| source.name.as_str()).collect();
    let limits = layer.limits.iter().flat_map(|limit| &limit.body.basis);
    let cautions = layer.cautions.iter().flat_map(|caution| &caution.body.basis);
    for (basis, span) in limits.chain(cautions) {
        let super::Basis::Source { source, .. } = basis else { continue };
        if !known.contains(source.as_str()) {
            let help = near_miss(source, known.iter().copied())
                .map_or_else(|| "define it under `sources`".to_owned(), |near| format!("did you mean `{near}`?"));
            problems.push(layer.problem(Fault::UnknownName, *span, format!("there is no source `{source}`"), help));
        }
    }
}

/// A figure's definition for explanations.
pub(super) fn figure_info(name: String, figure: &Named<super::layer::FigureText>, layer: &Layer) -> FigureInfo {
    FigureInfo {
        name,
        is: Arc::clone(&figure.body.is.text),
        meaning: figure.body.meaning.clone(),
        place: layer.source.place(figure.span.start),
    }
}

/// Figures by dotted name, as formulas refer to them.
pub(super) type FigureNames = BTreeMap<String, (crate::formula::FigureId, SubjectId, FigureSort)>;
