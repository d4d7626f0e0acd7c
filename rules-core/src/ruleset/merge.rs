//! Loading the rulesets that are asked for and all they extend, each once, bases first.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::layer::Layer;
use super::ledger::Ledger;
use super::library::{Library, Text};
use super::read::read_layer;
use crate::bounds::{MOST_LAYERS, MOST_RULES_BYTES};
use crate::document::{Fault, Found, Problem, Problems, Span, Syntax, read, source};

/// The layers of a check: bases before what extends them, and which ones were asked for.
#[derive(Debug)]
pub(super) struct Stack {
    pub layers: Vec<Layer>,
    /// For each layer, the positions of those it extends.
    pub extends: Vec<Vec<usize>>,
    /// The positions of those asked for.
    pub asked: Vec<usize>,
}

/// What was found wrong with the files of a stack so far.
#[derive(Debug, Default)]
pub(super) struct Findings {
    /// In each layer.
    pub layers: Vec<Found>,
    /// Without a place.
    pub apart: Vec<Problem>,
}

/// Loads rulesets and what they extend, with what was found wrong with them.
///
/// # Errors
///
/// Every problem, if one of them makes a ruleset as a whole unreadable: what the others may name in
/// it is not known then.
pub(super) fn load(
    names: &[&str],
    library: &dyn Library,
) -> Result<(Stack, Findings), Vec<Problem>> {
    let mut loading = Loading {
        library,
        stack: Stack {
            layers: Vec::new(),
            extends: Vec::new(),
            asked: Vec::new(),
        },
        found: BTreeMap::new(),
        findings: Findings::default(),
        lost: false,
        full: false,
        bytes: 0,
    };
    for name in names {
        if loading.full {
            break;
        }
        match loading.library.find(name, None) {
            Ok(text) => loading.ask(text),
            Err(problem) => loading.lose(vec![problem]),
        }
    }
    let Loading {
        stack,
        mut findings,
        lost,
        ..
    } = loading;
    findings.apart.extend(same_names(&stack.layers));
    if lost {
        Err(findings.of(&stack).finish())
    } else {
        Ok((stack, findings))
    }
}

impl Findings {
    /// The same, to be added to.
    pub(super) fn of(self, stack: &Stack) -> Ledger<'_> {
        Ledger::new(&stack.layers, self.layers, self.apart)
    }
}

/// What is known of a ruleset while loading goes on.
#[derive(Clone, Copy)]
enum Progress {
    /// It is being loaded: meeting it again means that it extends itself.
    Open,
    /// It stands at this position.
    Done(usize),
    /// It has problems of its own, which have been reported.
    Failed,
}

struct Loading<'l> {
    library: &'l dyn Library,
    stack: Stack,
    found: BTreeMap<String, Progress>,
    findings: Findings,
    /// Whether a ruleset could not be read as a whole.
    lost: bool,
    /// Whether there are too many rulesets already, so that no more are looked at.
    full: bool,
    /// Of all texts so far.
    bytes: usize,
}

impl Loading<'_> {
    /// Does without a ruleset, for these reasons.
    fn lose(&mut self, problems: Vec<Problem>) {
        self.findings.apart.extend(problems);
        self.lost = true;
    }

    /// Looks at no more rulesets: there are more than the bounds allow.
    fn stop(&mut self, message: String, help: &str) {
        self.full = true;
        self.lose(vec![Problem::of_file(Fault::TooLarge, message, help)]);
    }

    fn ask(&mut self, text: Text) {
        if let Some(position) = self
            .load(text)
            .ok()
            .flatten()
            .filter(|at| !self.stack.asked.contains(at))
        {
            self.stack.asked.push(position);
        }
    }

    /// The position of a ruleset, loading it if need be; an error if it is being loaded already.
    fn load(&mut self, text: Text) -> Result<Option<usize>, ()> {
        match self.found.get(&text.name) {
            Some(Progress::Open) => return Err(()),
            Some(Progress::Done(position)) => return Ok(Some(*position)),
            Some(Progress::Failed) => return Ok(None),
            None => {}
        }
        let name = text.name.clone();
        self.found.insert(name.clone(), Progress::Open);
        let position = self.load_new(text);
        let progress = position.map_or(Progress::Failed, Progress::Done);
        self.found.insert(name, progress);
        Ok(position)
    }

    fn load_new(&mut self, text: Text) -> Option<usize> {
        // Those that wait for what they extend count too, and those that cannot be used.
        if self.found.len() > MOST_LAYERS {
            let message = format!("more than {MOST_LAYERS} rulesets are layered");
            self.stop(message, "merge some of them");
            return None;
        }
        self.bytes += text.bytes.len();
        if self.bytes > MOST_RULES_BYTES {
            let message = format!(
                "the rulesets have more than {} MiB ({MOST_RULES_BYTES} bytes) together",
                MOST_RULES_BYTES >> 20
            );
            self.stop(message, "leave some of them out");
            return None;
        }
        let name = text.name.clone();
        let (layer, found) = read_text(text)
            .map_err(|problems| self.lose(problems))
            .ok()?;
        let source = Arc::clone(&layer.source);
        let mut problems = Problems::resumed(&source, found);
        repeated(&layer, &mut problems);
        let bases = self.bases(&layer, &name, &mut problems);
        self.stack.layers.push(layer);
        self.findings.layers.push(problems.set_aside());
        self.stack.extends.push(bases?);
        Some(self.stack.layers.len() - 1)
    }

    /// The positions of all that a layer extends. Each is loaded, whatever came of those before it.
    fn bases(
        &mut self,
        layer: &Layer,
        from: &str,
        problems: &mut Problems<'_>,
    ) -> Option<Vec<usize>> {
        if layer.extends.len() > MOST_LAYERS {
            let message = format!("`{}` extends more than {MOST_LAYERS} rulesets", layer.name);
            self.lose(vec![Problem::of_file(
                Fault::TooLarge,
                message,
                "merge some of them",
            )]);
            return None;
        }
        let bases: Vec<Option<usize>> = layer
            .extends
            .iter()
            .map(|(base, span)| self.base(layer, from, (base, *span), problems))
            .collect();
        bases.into_iter().collect()
    }

    fn base(
        &mut self,
        layer: &Layer,
        from: &str,
        (name, span): (&str, Span),
        problems: &mut Problems<'_>,
    ) -> Option<usize> {
        if self.full {
            return None;
        }
        let text = match self.library.find(name, Some(from)) {
            Ok(text) => text,
            Err(problem) => {
                problems.add(
                    problem.fault,
                    span,
                    problem.message,
                    problem.help.unwrap_or_default(),
                );
                self.lost = true;
                return None;
            }
        };
        self.load(text).unwrap_or_else(|()| {
            let message = format!("`{name}` extends itself by way of `{}`", layer.name);
            problems.add(Fault::Cycle, span, message, "take it out of `extends`");
            self.lost = true;
            None
        })
    }
}

fn read_text(text: Text) -> Result<(Layer, Found), Vec<Problem>> {
    let syntax = Syntax::of_name(&text.name);
    let source = Arc::new(source(&text.name, text.bytes)?);
    let tree = read(&source, syntax)?;
    read_layer(Arc::clone(&source), &tree)
}

/// Entries of `extends` that stand there before.
fn repeated(layer: &Layer, problems: &mut Problems<'_>) {
    let mut seen = BTreeSet::new();
    for (name, span) in layer
        .extends
        .iter()
        .filter(|(name, _)| !seen.insert(name.as_str()))
    {
        problems.add(
            Fault::DefinedTwice,
            *span,
            format!("`{name}` is extended twice"),
            "keep one of the two",
        );
    }
}

/// Two files that call themselves by one name cannot be told apart in reports.
fn same_names(layers: &[Layer]) -> Vec<Problem> {
    let mut seen: BTreeMap<&str, &Layer> = BTreeMap::new();
    let mut problems = Vec::new();
    for layer in layers {
        if let Some(first) = seen.insert(&layer.name, layer) {
            let message = format!(
                "`{}` and `{}` both call themselves `{}`",
                first.source.name(),
                layer.source.name(),
                layer.name
            );
            problems.push(Problem::of_file(
                Fault::DefinedTwice,
                message,
                "give one of them another name",
            ));
        }
    }
    problems
}
