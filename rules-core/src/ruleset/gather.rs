//! Gathering the rulesets that are asked for and all they extend, each once, bases first.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::layer::{Examples, Layer};
use super::ledger::Ledger;
use super::library::{Library, Text};
use super::read::read_text;
use super::reserved::{self, Reserved};
use super::stack::Stack;
use super::standing::Standing;
use crate::bounds::{MOST_LAYERS, MOST_MERGED, MOST_RULES_BYTES};
use crate::document::{Fault, Problem, ProblemList, Problems, SetAside, Span};

/// What rulesets are loaded for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// To check proposals by them.
    Judging,
    /// The same, on top of rules that were compiled when the program was built.
    Extending,
    /// To see what they lack. An edited copy of a shipped ruleset may keep its name meanwhile.
    Vetting,
}

impl Purpose {
    /// Whether examples are needed.
    const fn examples(self) -> Examples {
        match self {
            Self::Judging => Examples::LeftOut,
            Self::Extending => Examples::Compiled,
            Self::Vetting => Examples::Read,
        }
    }
}

/// What was found wrong with the files of a stack so far.
#[derive(Debug, Default)]
pub(crate) struct StackProblems {
    /// In each layer.
    pub layers: Vec<SetAside>,
    /// Without a place.
    pub apart: Vec<Problem>,
}

/// Gathers rulesets and what they extend, with what was found wrong with them.
///
/// # Errors
///
/// Every problem, if one of them makes a ruleset as a whole unreadable: then it is not known what
/// the others may name in it.
pub(super) fn gather(
    names: &[&str],
    library: &dyn Library,
    reserved: Reserved,
    purpose: Purpose,
) -> Result<(Stack, StackProblems), ProblemList> {
    let mut gathering = Gathering {
        library,
        purpose,
        stack: Stack {
            layers: Vec::new(),
            extends: Vec::new(),
            asked: Vec::new(),
            reserved,
        },
        found: BTreeMap::new(),
        findings: StackProblems::default(),
        lost: false,
        full: false,
        bytes: 0,
    };
    for name in names {
        if gathering.full {
            break;
        }
        match gathering.library.find(name, None) {
            Ok(text) => gathering.ask(text),
            Err(problem) => gathering.lose(vec![problem]),
        }
    }
    let Gathering {
        stack,
        mut findings,
        lost,
        ..
    } = gathering;
    findings.apart.extend(same_names(&stack.layers, purpose));
    findings.apart.extend(too_many_claims(&stack.layers));
    if lost {
        Err(findings.of(&stack).finish())
    } else {
        Ok((stack, findings))
    }
}

impl StackProblems {
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
    /// It has this position.
    Done(usize),
    /// It has problems of its own, which have been reported.
    Failed,
}

struct Gathering<'l> {
    library: &'l dyn Library,
    purpose: Purpose,
    stack: Stack,
    /// By their identity, whatever name they were found by.
    found: BTreeMap<String, Progress>,
    findings: StackProblems,
    /// Whether a ruleset could not be read as a whole.
    lost: bool,
    /// Whether there are too many rulesets already, so that no more are looked at.
    full: bool,
    /// Of all texts so far.
    bytes: usize,
}

impl Gathering<'_> {
    /// Does without a ruleset, for these reasons.
    fn lose(&mut self, problems: impl IntoIterator<Item = Problem>) {
        self.findings.apart.extend(problems);
        self.lost = true;
    }

    fn ask(&mut self, text: Text) {
        let identity = self.library.identity(&text);
        if let Some(problem) = self.past_bounds(&text, &identity) {
            self.lose(vec![problem]);
            return;
        }
        if let Some(position) = self
            .load(text, identity, 0)
            .ok()
            .flatten()
            .filter(|at| !self.stack.asked.contains(at))
        {
            self.stack.asked.push(position);
        }
    }

    /// The position of a ruleset, loading it if need be; an error if it is being loaded already.
    fn load(&mut self, text: Text, identity: String, depth: usize) -> Result<Option<usize>, ()> {
        match self.found.get(&identity) {
            Some(Progress::Open) => return Err(()),
            Some(Progress::Done(position)) => return Ok(Some(*position)),
            Some(Progress::Failed) => return Ok(None),
            None => {}
        }
        self.found.insert(identity.clone(), Progress::Open);
        let position = self.load_new(text, depth);
        let progress = position.map_or(Progress::Failed, Progress::Done);
        self.found.insert(identity, progress);
        Ok(position)
    }

    /// What is wrong if one more ruleset makes too many, or too many bytes. The caller knows where
    /// it is asked for.
    fn past_bounds(&mut self, text: &Text, identity: &str) -> Option<Problem> {
        if self.found.contains_key(identity) {
            return None;
        }
        let past = self.past(text)?;
        self.full = true;
        Some(past)
    }

    fn past(&self, text: &Text) -> Option<Problem> {
        // Rulesets that wait for what they extend count too, and so do those that cannot be used.
        if self.found.len() >= MOST_LAYERS {
            let message = format!(
                "with `{}` there are more than {MOST_LAYERS} rulesets",
                text.name
            );
            let help = "merge some of them";
            return Some(Problem::of_file(Fault::TooLarge, message, help));
        }
        let bytes = self.bytes + text.bytes.len();
        (bytes > MOST_RULES_BYTES).then(|| {
            let message = format!(
                "with `{}` the rulesets have more than {} MiB ({MOST_RULES_BYTES} bytes) together",
                text.name,
                MOST_RULES_BYTES >> 20
            );
            Problem::of_file(Fault::TooLarge, message, "leave some of them out")
        })
    }

    fn load_new(&mut self, text: Text, depth: usize) -> Option<usize> {
        self.bytes += text.bytes.len();
        let name = text.name.clone();
        let examples = self.purpose.examples();
        let (layer, found) = read_text(text, depth > 0, examples, self.stack.reserved)
            .map_err(|problems| self.lose(problems))
            .ok()?;
        let source = Arc::clone(&layer.source);
        let mut problems = Problems::resumed(&source, found);
        reserved::check(&layer, self.purpose == Purpose::Vetting, &mut problems);
        let bases = self.bases(&layer, &name, depth, &mut problems);
        self.stack.layers.push(layer);
        self.findings.layers.push(problems.set_aside());
        self.stack.extends.push(bases?);
        Some(self.stack.layers.len() - 1)
    }

    /// The positions of all that a layer extends. Each is loaded, even if one before it failed.
    fn bases(
        &mut self,
        layer: &Layer,
        from: &str,
        depth: usize,
        problems: &mut Problems<'_>,
    ) -> Option<Vec<usize>> {
        if let Some((_, span)) = layer.extends.get(MOST_LAYERS) {
            let message = format!("`{}` extends more than {MOST_LAYERS} rulesets", layer.name);
            self.lose(vec![Problem::at(
                &layer.source,
                Fault::TooLarge,
                *span,
                message,
                "merge some of them",
            )]);
            return None;
        }
        let (mut bases, mut seen) = (Vec::new(), BTreeSet::new());
        for (base, span) in &layer.extends {
            if self.full {
                return None;
            }
            let Some(text) = self.find(from, (base, *span), problems) else {
                bases.push(None);
                continue;
            };
            let identity = self.library.identity(&text);
            if !seen.insert(identity.clone()) {
                let message = format!("`{base}` is extended twice");
                problems.add(Fault::DefinedTwice, *span, message, "keep one of the two");
            }
            let base = (base.as_str(), *span);
            bases.push(self.base(layer, text, identity, base, depth, problems));
        }
        bases.into_iter().collect()
    }

    fn find(
        &mut self,
        from: &str,
        (name, span): (&str, Span),
        problems: &mut Problems<'_>,
    ) -> Option<Text> {
        match self.library.find(name, Some(from)) {
            Ok(text) => Some(text),
            Err(problem) => {
                let help = problem.help.unwrap_or_default();
                problems.add(problem.fault, span, problem.message, help);
                self.lost = true;
                None
            }
        }
    }

    fn base(
        &mut self,
        layer: &Layer,
        text: Text,
        identity: String,
        (name, span): (&str, Span),
        depth: usize,
        problems: &mut Problems<'_>,
    ) -> Option<usize> {
        if let Some(past) = self.past_bounds(&text, &identity) {
            let help = past.help.unwrap_or_default();
            self.lose(vec![Problem::at(
                &layer.source,
                past.fault,
                span,
                past.message,
                help,
            )]);
            return None;
        }
        self.load(text, identity, depth + 1).unwrap_or_else(|()| {
            let message = format!("`{name}` extends itself through `{}`", layer.name);
            problems.add(Fault::Cycle, span, message, "take it out of `extends`");
            self.lost = true;
            None
        })
    }
}

/// Two files whose names are the same, or look alike, cannot be told apart in reports. A missing or
/// reserved name is reported already.
fn same_names(layers: &[Layer], purpose: Purpose) -> Vec<Problem> {
    let mut seen: BTreeMap<String, &Layer> = BTreeMap::new();
    let mut problems = Vec::new();
    let told = |layer: &&Layer| match layer.standing {
        Standing::EditedCopy => purpose != Purpose::Vetting,
        Standing::LooksLike(_) => true,
        Standing::Shipped | Standing::Own => layer.name_span.is_none(),
    };
    for layer in layers.iter().filter(|layer| !told(layer)) {
        if let Some(first) = seen.insert(reserved::ruleset_likeness(&layer.name), layer) {
            problems.push(Problem::of_file(
                Fault::DefinedTwice,
                one_name(first, layer),
                "give one of them another name",
            ));
        }
    }
    problems
}

fn one_name(first: &Layer, second: &Layer) -> String {
    let (file, other) = (first.source.name(), second.source.name());
    if first.name == second.name {
        format!(
            "`{file}` and `{other}` both call themselves `{}`",
            first.name
        )
    } else {
        format!(
            "`{file}` and `{other}` have names that look alike: `{}` and `{}`",
            first.name, second.name
        )
    }
}

fn too_many_claims(layers: &[Layer]) -> Option<Problem> {
    let claimed: usize = layers.iter().map(|layer| layer.merged_from.len()).sum();
    let message =
        format!("merged files name {claimed} rulesets under `from`; the most is {MOST_MERGED}");
    let help = "merge fewer of them";
    (claimed > MOST_MERGED).then(|| Problem::of_file(Fault::TooLarge, message, help))
}
