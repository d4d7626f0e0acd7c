//! What rules were made of, and what is made of that only when it is asked for.

use std::sync::OnceLock;

use super::gather::{Purpose, gather};
use super::layer::Examples;
use super::library::{Library, Text, unknown_ruleset};
use super::merged::merged;
use super::read::with_examples;
use super::reserved::Reserved;
use super::stack::Stack;
use super::stages::Stage;
use super::view::{View, view};
use super::written::WrittenRuleset;
use crate::document::Problem;

/// The layers of rules and what these see together.
#[derive(Debug)]
pub(crate) struct MadeOf {
    origin: Origin,
    /// The same where each text was read whole, if it was not at first.
    whole: OnceLock<Parts>,
    written: OnceLock<WrittenRuleset>,
}

/// Layers, and what these see together.
#[derive(Debug)]
pub(crate) struct Parts {
    pub stack: Stack,
    pub view: View,
}

/// Where rules came from.
#[derive(Debug)]
enum Origin {
    /// Their texts were read. Of those that were compiled when the program was built it is only known
    /// what others need.
    Read(Box<Parts>),
    /// All of them were compiled: one of the shipped rulesets, with what it extends.
    Kept(&'static str, Reserved),
}

impl MadeOf {
    fn of(origin: Origin) -> Self {
        Self {
            origin,
            whole: OnceLock::new(),
            written: OnceLock::new(),
        }
    }

    pub(super) fn read(stack: Stack, view: View) -> Self {
        Self::of(Origin::Read(Box::new(Parts { stack, view })))
    }

    /// What a shipped ruleset is made of, which is read from its text when it is asked for.
    pub(super) fn kept(ruleset: &'static str, shipped: Reserved) -> Self {
        Self::of(Origin::Kept(ruleset, shipped))
    }

    /// The layers, and what these see together.
    pub(crate) fn parts(&self) -> &Parts {
        match &self.origin {
            Origin::Read(parts) if parts.stack.is_whole() => parts,
            Origin::Read(parts) => self.whole.get_or_init(|| parts.whole()),
            Origin::Kept(ruleset, shipped) => self
                .whole
                .get_or_init(|| read(ruleset, *shipped).unwrap_or_default()),
        }
    }

    /// The merged ruleset with these stages, which are those of the stack.
    pub(super) fn written(&self, stages: &[Stage]) -> &WrittenRuleset {
        let Parts { stack, view } = self.parts();
        self.written.get_or_init(|| merged(stack, view, stages))
    }

    /// Whether a ruleset declares a fact of this full name. Of those that do none is kept compiled.
    pub(super) fn declares(&self, fact: &str) -> bool {
        let Origin::Read(parts) = &self.origin else {
            return false;
        };
        let mut declared = parts.stack.layers.iter().flat_map(|layer| &layer.facts);
        declared.any(|one| one.name == fact)
    }
}

impl Parts {
    fn whole(&self) -> Self {
        let Self { stack, view } = self;
        let layers = stack.layers.iter();
        let layers = layers.map(|layer| match layer.examples {
            Examples::Compiled => with_examples(layer, stack.reserved).into_owned(),
            _ => layer.clone(),
        });
        Self {
            stack: Stack {
                layers: layers.collect(),
                ..stack.clone()
            },
            view: view.clone(),
        }
    }
}

/// Reads a shipped ruleset. It was compiled of the same text without a problem, so that there is
/// none.
fn read(ruleset: &str, shipped: Reserved) -> Option<Parts> {
    let read = gather(
        &[ruleset],
        &ShippedTexts(shipped),
        shipped,
        Purpose::Judging,
    );
    let (stack, findings) = read.ok()?;
    let view = view(&stack, &mut findings.of(&stack));
    Some(Parts { stack, view })
}

impl Default for Parts {
    fn default() -> Self {
        Self {
            stack: Stack {
                layers: Vec::new(),
                extends: Vec::new(),
                asked: Vec::new(),
                reserved: Reserved(&[]),
            },
            view: View::default(),
        }
    }
}

/// The texts of shipped rulesets, by name.
struct ShippedTexts(Reserved);

impl Library for ShippedTexts {
    fn find(&self, name: &str, _: Option<&str>) -> Result<Text, Problem> {
        let text = self.0.text_of(name);
        text.ok_or_else(|| unknown_ruleset(name, &[]))
    }
}
