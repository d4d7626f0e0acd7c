//! Names that two rulesets define, and more definitions than the bounds allow.

use std::collections::{BTreeMap, BTreeSet};

use crate::bounds::{
    MOST_CAUTIONS, MOST_FACTS, MOST_FIGURES, MOST_LIMITS, MOST_METERS, MOST_STAGES,
};
use crate::document::{Fault, Problem, Problems, Span};
use crate::facts::Catalogue;
use crate::ruleset::layer::{Layer, Named, UnreadNames};
use crate::ruleset::stack::Stack;

/// Names that two rulesets define. A source, a point of the notice or a stage may be repeated if it
/// says the same.
pub(super) fn defined_twice(stack: &Stack, base: &Catalogue, problems: &mut [Problems<'_>]) {
    let mut limits = Definitions::new("limit");
    let mut figures = Definitions::new("figure");
    let mut facts = Definitions::new("fact");
    let mut cautions = Definitions::new("caution");
    let mut sources = Statements::new("source");
    let mut notice = Statements::new("notice");
    let mut stages = Statements::new("stage");
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
        stages.add(layer, &layer.stages, problems);
    }
}

/// What several rulesets may say under one name, as long as they say the same.
struct Statements<'s, T> {
    what: &'static str,
    /// By name: the file that has it first, and what it says.
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
        // A caution without a name is reported where it is.
        for (name, span) in read.chain(unread).filter(|(name, _)| !name.is_empty()) {
            if let Some(first) = self.seen.insert(name, layer) {
                twice(self.what, first.source.name(), name, span, problems);
            }
        }
    }
}

fn twice(what: &str, first: &str, name: &str, span: Span, problems: &mut Problems<'_>) {
    let help = match what {
        "limit" | "caution" => "give it another name, or change the other one under `adjust`",
        "stage" => "give it the same title, or another name",
        _ => "give it another name",
    };
    problems.add(
        Fault::DefinedTwice,
        span,
        format!("the {what} `{name}` is already defined in `{first}`"),
        help,
    );
}

/// Bounds on all layers together, each reported at the first definition that is too many.
pub(super) fn too_many(stack: &Stack) -> Vec<Problem> {
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
        let layers = stack.layers.iter().enumerate();
        let spans =
            layers.flat_map(|(at, layer)| of(layer).into_iter().map(move |span| (at, span)));
        let mut all: Vec<(usize, Span)> = spans.collect();
        if all.len() <= most {
            return None;
        }
        all.sort_by_key(|(at, span)| (*at, span.start));
        let (at, span) = all.get(most)?;
        let layer = stack.layers.get(*at)?;
        let message = format!("{} {what}; the most is {most}", all.len());
        Some(Problem::at(
            &layer.source,
            Fault::TooLarge,
            *span,
            message,
            "leave some rulesets out",
        ))
    };
    let over = sorts.into_iter().filter_map(over);
    let apart = too_many_stages(stack).into_iter();
    over.chain(apart).chain(too_many_meters(stack)).collect()
}

/// One that is declared again is no further stage.
fn too_many_stages(stack: &Stack) -> Option<Problem> {
    let mut met = BTreeSet::new();
    let all = stack
        .layers
        .iter()
        .flat_map(|layer| layer.stages.iter().map(move |stage| (layer, stage)));
    let mut further = all.filter(|(_, stage)| met.insert(stage.name.as_str()));
    let (layer, past) = further.nth(MOST_STAGES)?;
    let message = format!(
        "{} stages; the most is {MOST_STAGES}",
        MOST_STAGES + 1 + further.count()
    );
    let help = "leave some rulesets out";
    Some(Problem::at(
        &layer.source,
        Fault::TooLarge,
        past.span,
        message,
        help,
    ))
}

/// Meters are counted by kind, and each of a list.
fn too_many_meters(stack: &Stack) -> Option<Problem> {
    let mut of_kind: BTreeMap<&str, usize> = BTreeMap::new();
    for layer in &stack.layers {
        for named in &layer.meters {
            let count = of_kind.entry(&named.name).or_default();
            *count += named.body.meters.len();
            if *count > MOST_METERS {
                let (source, name) = (&layer.source, &named.name);
                let message =
                    format!("{count} meters are assumed for `{name}`; the most is {MOST_METERS}");
                let help = "leave out those that are better than others";
                return Some(Problem::at(
                    source,
                    Fault::TooLarge,
                    named.span,
                    message,
                    help,
                ));
            }
        }
    }
    None
}

/// The places of the definitions of a sort.
fn spans<T>(read: &[Named<T>], unread: &UnreadNames) -> Vec<Span> {
    let read = read.iter().map(|one| one.span);
    read.chain(unread.names.values().copied()).collect()
}
