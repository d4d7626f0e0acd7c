//! A merged view to rules: names become numbers, formulas are checked for kinds.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::figures::compile_figures;
use super::layer::{AboutText, CautionText, FormulaText, Layer, Named, UnreadNames};
use super::ledger::Ledger;
use super::merge::Stack;
use super::names::{Names, told};
use super::rules::{Caution, FigureInfo, LimitInfo, Rules, Rung};
use super::template::template;
use super::view::View;
use super::{digest, print};
use crate::bounds::{MOST_CAUTIONS, MOST_FACTS, MOST_FIGURES, MOST_LIMITS};
use crate::document::{Fault, Problem, Problems, Span};
use crate::facts::{Catalogue, FactDef, FactKind, Notice, SubjectId};
use crate::formula::{
    FigureCode, LimitCode, LimitId, Program, Relations, Vocabulary, resolve_condition,
};
use crate::quantity::{Interval, Kind};

/// What became of a view, to be made rules if there is no problem.
pub(crate) struct Draft {
    pub catalogue: Catalogue,
    pub names: Names,
    pub cautions: Vec<Caution>,
    pub relations: Relations,
    limits: (Vec<LimitCode>, Vec<LimitInfo>),
    figures: (Vec<FigureCode>, Vec<FigureInfo>),
}

/// Compiles a view; nothing, if there is more than the bounds allow.
pub(super) fn compile(
    stack: &Stack,
    view: &View,
    base: &Catalogue,
    ledger: &mut Ledger<'_>,
) -> Option<Draft> {
    defined_twice(stack, base, &mut ledger.layers);
    let over = too_many(stack);
    if !over.is_empty() {
        ledger.apart.extend(over);
        return None;
    }
    let (mut catalogue, mut names) = (base.clone(), Names::default());
    for (layer, problems) in stack.layers.iter().zip(&mut ledger.layers) {
        declare_facts(layer, base, &mut catalogue, &mut names, problems);
        names.note_unread(layer, base);
    }
    let limits = limits(stack, view, &mut names.limits);
    let figures = compile_figures(stack, &catalogue, &mut names, &mut ledger.layers);
    let cautions = cautions(
        stack,
        view,
        &names.vocabulary(&catalogue),
        &mut ledger.layers,
    );
    let relations = Relations::compile(base).unwrap_or_else(|problems| {
        ledger.apart.extend(problems);
        Relations::default()
    });
    Some(Draft {
        catalogue,
        names,
        cautions,
        relations,
        limits,
        figures,
    })
}

impl Draft {
    /// The rules, of a draft without problems.
    pub(super) fn rules(self, stack: &Stack, view: &View) -> Rules {
        let Self {
            catalogue,
            names,
            cautions,
            relations,
            limits: (limits, limit_info),
            figures: (figures, figure_info),
        } = self;
        let written = print::merged(stack, view);
        let digest = digest::digest(&written);
        Rules {
            program: Program {
                limits,
                figures,
                folds: names.folds.get(),
            },
            cautions,
            relations,
            limits: limit_info,
            figures: figure_info,
            layers: print::loaded(stack),
            loosened: print::loosenings(stack, view),
            acceptance: view.acceptance,
            notice: notice(stack, &catalogue),
            catalogue,
            written,
            digest,
        }
    }
}

/// What every report says: the notice of the catalogue, then what the rulesets add, by name.
fn notice(stack: &Stack, catalogue: &Catalogue) -> Vec<Notice> {
    let added = stack.layers.iter().flat_map(|layer| &layer.notice);
    let added: BTreeMap<&str, &Notice> = added
        .map(|point| (point.name.as_str(), &point.body))
        .collect();
    let added = added.into_values().cloned();
    catalogue.notice().iter().cloned().chain(added).collect()
}

/// Names that two rulesets define. A source or a point of the notice may be repeated if it says the
/// same.
fn defined_twice(stack: &Stack, base: &Catalogue, problems: &mut [Problems<'_>]) {
    let mut limits = Definitions::new("limit");
    let mut figures = Definitions::new("figure");
    let mut facts = Definitions::new("fact");
    let mut cautions = Definitions::new("caution");
    let mut sources = Statements::new("source");
    let mut notice = Statements::new("notice");
    for point in base.notice() {
        notice.seen.insert(&point.id, ("facts.yaml", point));
    }
    for (layer, problems) in stack.layers.iter().zip(problems) {
        limits.add(layer, &layer.limits, &layer.unread.limits, problems);
        figures.add(layer, &layer.figures, &layer.unread.figures, problems);
        facts.add(layer, &layer.facts, &layer.unread.facts, problems);
        cautions.add(layer, &layer.cautions, &layer.unread.cautions, problems);
        sources.add(layer, &layer.sources, problems);
        notice.add(layer, &layer.notice, problems);
    }
}

/// What several rulesets may say under one name, as long as they say the same.
struct Statements<'s, T> {
    what: &'static str,
    /// By name, in which file it stands first, and what it says.
    seen: BTreeMap<&'s str, (&'s str, &'s T)>,
}

impl<'s, T: PartialEq> Statements<'s, T> {
    const fn new(what: &'static str) -> Self {
        Self {
            what,
            seen: BTreeMap::new(),
        }
    }

    fn add(&mut self, layer: &'s Layer, read: &'s [Named<T>], problems: &mut Problems<'_>) {
        for named in read {
            let (first, said) = *self
                .seen
                .entry(&named.name)
                .or_insert((layer.source.name(), &named.body));
            if *said != named.body {
                twice(self.what, first, &named.name, named.span, problems);
            }
        }
    }
}

/// Bounds on all layers together, each told where the first stands that is too many.
fn too_many(stack: &Stack) -> Vec<Problem> {
    type Spans = fn(&Layer) -> Vec<Span>;
    let sorts: [(&str, Spans, usize); 4] = [
        (
            "facts are declared",
            |layer| spans(&layer.facts, &layer.unread.facts),
            MOST_FACTS,
        ),
        (
            "limits",
            |layer| spans(&layer.limits, &layer.unread.limits),
            MOST_LIMITS,
        ),
        (
            "figures",
            |layer| spans(&layer.figures, &layer.unread.figures),
            MOST_FIGURES,
        ),
        (
            "cautions",
            |layer| spans(&layer.cautions, &UnreadNames::default()),
            MOST_CAUTIONS,
        ),
    ];
    let over = |(what, of, most): (&str, Spans, usize)| {
        let of_layer = |layer| of(layer).into_iter().map(move |span| (layer, span));
        let all: Vec<(&Layer, Span)> = stack.layers.iter().flat_map(of_layer).collect();
        let (layer, span) = all.get(most)?;
        let message = format!("{} {what}; the most is {most}", all.len());
        Some(Problem::at(
            &layer.source,
            Fault::TooLarge,
            *span,
            message,
            "leave some rulesets out",
        ))
    };
    sorts.into_iter().filter_map(over).collect()
}

/// Where the definitions of a sort stand, in the order of the text.
fn spans<T>(read: &[Named<T>], unread: &UnreadNames) -> Vec<Span> {
    let mut spans: Vec<Span> = read.iter().map(|one| one.span).collect();
    spans.extend(unread.names.values());
    spans.sort_by_key(|span| span.start);
    spans
}

struct Definitions<'s> {
    what: &'static str,
    seen: BTreeMap<&'s str, &'s Layer>,
}

impl<'s> Definitions<'s> {
    fn new(what: &'static str) -> Self {
        Self {
            what,
            seen: BTreeMap::new(),
        }
    }

    fn add<T>(
        &mut self,
        layer: &'s Layer,
        read: &'s [Named<T>],
        unread: &'s UnreadNames,
        problems: &mut Problems<'_>,
    ) {
        let read = read.iter().map(|named| (named.name.as_str(), named.span));
        let unread = unread
            .names
            .iter()
            .map(|(name, span)| (name.as_str(), *span));
        // A caution without a name is told where it stands.
        for (name, span) in read.chain(unread).filter(|(name, _)| !name.is_empty()) {
            if let Some(first) = self.seen.insert(name, layer) {
                twice(self.what, first.source.name(), name, span, problems);
            }
        }
    }
}

fn twice(what: &str, first: &str, name: &str, span: Span, problems: &mut Problems<'_>) {
    let help = if what == "limit" || what == "caution" {
        "give it another name, or change the other one under `adjust`"
    } else {
        "give it another name"
    };
    problems.add(
        Fault::DefinedTwice,
        span,
        format!("the {what} `{name}` is already defined in `{first}`"),
        help,
    );
}

fn declare_facts(
    layer: &Layer,
    base: &Catalogue,
    catalogue: &mut Catalogue,
    names: &mut Names,
    problems: &mut Problems<'_>,
) {
    for (name, span) in &layer.unread.facts.names {
        declared(name, *span, base, problems);
    }
    for fact in &layer.facts {
        let Some((subject, name)) = declared(&fact.name, fact.span, base, problems) else {
            names.note_faulty(&fact.name, base);
            continue;
        };
        let domain = match (&fact.body.domain, &fact.body.kind) {
            (Some((_, measure)), _) => measure.range(),
            (None, FactKind::Number(Kind::Count)) => {
                Interval::new(0.0, 1e15).unwrap_or(Interval::WHOLE)
            }
            (None, _) => Interval::WHOLE,
        };
        catalogue.add(FactDef {
            subject,
            name,
            kind: fact.body.kind.clone(),
            domain,
            nature: fact.body.nature,
            meaning: fact.body.meaning.clone(),
            none_is_zero: false,
            key: None,
            from: None,
        });
    }
}

/// The subject and the name of a declared fact, if both can be.
fn declared(
    full: &str,
    span: Span,
    base: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<(SubjectId, String)> {
    let (subject_name, name) = full.split_once('.')?;
    let Some(subject) = base.subject_named(subject_name) else {
        unknown_subject(subject_name, span, base, problems);
        return None;
    };
    if base
        .subject(subject)
        .is_some_and(|subject| !subject.has_section)
    {
        let message = format!("a proposal has no place for facts about `{subject_name}`");
        let help =
            "declare it about a subject that has a section, not one of which all is worked out";
        problems.add(Fault::OutOfScope, span, message, help);
        return None;
    }
    if base.find(full).is_some() {
        let message = format!("there is a fact or figure `{full}` already");
        problems.add(Fault::DefinedTwice, span, message, "give it another name");
        return None;
    }
    Some((subject, name.to_owned()))
}

fn unknown_subject(name: &str, span: Span, catalogue: &Catalogue, problems: &mut Problems<'_>) {
    let names: Vec<&str> = catalogue
        .subjects()
        .iter()
        .map(|subject| &*subject.name)
        .collect();
    let help = match problems.near(name, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the subjects are {}", crate::document::quoted(&names)),
    };
    problems.add(
        Fault::UnknownName,
        span,
        format!("there is no subject `{name}`"),
        help,
    );
}

fn limits(
    stack: &Stack,
    view: &View,
    names: &mut BTreeMap<String, (LimitId, Kind)>,
) -> (Vec<LimitCode>, Vec<LimitInfo>) {
    let (mut codes, mut infos) = (Vec::new(), Vec::new());
    for (name, seen) in &view.limits {
        let Some(layer) = stack.layers.get(seen.layer) else {
            continue;
        };
        let Some(limit) = layer.limits.get(seen.index) else {
            continue;
        };
        let kind = limit.body.kind_to_show(&seen.written);
        names.insert(name.clone(), (LimitId(codes.len()), kind));
        codes.push(LimitCode {
            name: name.clone(),
            value: seen.value,
            kind,
            unit: limit.body.unit,
        });
        infos.push(LimitInfo {
            name: name.clone(),
            written: seen.written.clone(),
            stricter: limit.body.stricter,
            meaning: limit.body.meaning.clone(),
            fixed: limit.body.fixed,
            basis: limit
                .body
                .basis
                .iter()
                .map(|(basis, _)| basis.clone())
                .collect(),
            place: layer.source.place(limit.span.start),
        });
    }
    (codes, infos)
}

/// The subject of an `about`, which must say `each` exactly where there are many.
pub(super) fn subject_of(
    about: &AboutText,
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) -> Option<SubjectId> {
    let Some(subject) = catalogue.subject_named(&about.subject) else {
        unknown_subject(&about.subject, about.span, catalogue, problems);
        return None;
    };
    let name = &about.subject;
    let (message, help) = match (catalogue.is_many(subject), about.each) {
        (true, false) => (
            format!("there are many of `{name}`"),
            format!("write `each {name}`"),
        ),
        (false, true) => (format!("there is one `{name}`"), format!("write `{name}`")),
        _ => return Some(subject),
    };
    problems.add(Fault::OutOfScope, about.span, message, help);
    Some(subject)
}

fn cautions(
    stack: &Stack,
    view: &View,
    vocabulary: &Vocabulary<'_>,
    problems: &mut [Problems<'_>],
) -> Vec<Caution> {
    let mut compiled = Vec::new();
    for ((position, layer), problems) in stack.layers.iter().enumerate().zip(problems) {
        for named in &layer.cautions {
            // A dropped caution is compiled too, so that its faults do not hide behind its being
            // dropped.
            let caution = caution(named, layer, vocabulary, problems);
            let seen = view
                .cautions
                .get(&named.name)
                .filter(|seen| seen.layer == position && seen.dropped.is_empty());
            compiled.extend(caution.filter(|_| seen.is_some()));
        }
        check_sources(layer, stack, vocabulary, problems);
    }
    compiled.sort_by(|a, b| a.id.cmp(&b.id));
    compiled
}

fn caution(
    named: &Named<CautionText>,
    layer: &Layer,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) -> Option<Caution> {
    let text = &named.body;
    let about = text
        .about
        .as_ref()
        .and_then(|about| subject_of(about, vocabulary.catalogue, problems));
    let mut rung = |formula: &Option<FormulaText>| {
        formula
            .as_ref()
            .and_then(|formula| rung(formula, about, layer, vocabulary, problems))
    };
    let (applies_when, refuse_unless, warn_unless) = (
        rung(&text.applies_when),
        rung(&text.refuse_unless),
        rung(&text.warn_unless),
    );
    let reason = template(&text.reason.0, &text.reason.1, about, vocabulary, problems);
    let remedy = text
        .remedy
        .as_ref()
        .map(|(written, node)| template(written, node, about, vocabulary, problems));
    Some(Caution {
        id: named.name.as_str().into(),
        title: text.title.as_str().into(),
        about: about?,
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

fn rung(
    formula: &FormulaText,
    about: Option<SubjectId>,
    layer: &Layer,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) -> Option<Rung> {
    let condition = told(
        resolve_condition(&formula.tree, about, vocabulary),
        &formula.node,
        problems,
    )?;
    Some(Rung {
        condition,
        text: Arc::clone(&formula.text),
        place: layer.source.place(formula.node.span.start),
    })
}

/// Every source that a basis names must be defined by some ruleset.
fn check_sources(
    layer: &Layer,
    stack: &Stack,
    vocabulary: &Vocabulary<'_>,
    problems: &mut Problems<'_>,
) {
    let known: BTreeSet<&str> = stack
        .layers
        .iter()
        .flat_map(|layer| &layer.sources)
        .map(|source| source.name.as_str())
        .collect();
    let limits = layer.limits.iter().flat_map(|limit| &limit.body.basis);
    let cautions = layer
        .cautions
        .iter()
        .flat_map(|caution| &caution.body.basis);
    for (basis, span) in limits.chain(cautions) {
        let super::Basis::Source { source, .. } = basis else {
            continue;
        };
        let unread = stack
            .layers
            .iter()
            .any(|layer| layer.unread.sources.may_hold(source));
        if !known.contains(source.as_str()) && !unread {
            let near = vocabulary.suggestions.near(source, known.iter().copied());
            let help = near.map_or_else(
                || "define it under `sources`".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            problems.add(
                Fault::UnknownName,
                *span,
                format!("there is no source `{source}`"),
                help,
            );
        }
    }
}

/// A figure's definition for explanations.
pub(super) fn figure_info(
    name: String,
    figure: &Named<super::layer::FigureText>,
    layer: &Layer,
) -> FigureInfo {
    FigureInfo {
        name,
        is: figure
            .body
            .is
            .as_ref()
            .map(|is| Arc::clone(&is.text))
            .unwrap_or_default(),
        meaning: figure.body.meaning.clone(),
        place: layer.source.place(figure.span.start),
    }
}
