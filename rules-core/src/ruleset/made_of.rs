//! What rules were made of, and what is made of that only when it is asked for.

use std::sync::OnceLock;

use super::merged::merged;
use super::stack::Stack;
use super::stages::Stage;
use super::view::View;
use super::written::WrittenRuleset;

/// The layers of rules and what these see together.
#[derive(Debug)]
pub(crate) struct MadeOf {
    pub stack: Stack,
    pub view: View,
    written: OnceLock<WrittenRuleset>,
}

impl MadeOf {
    pub(super) const fn new(stack: Stack, view: View) -> Self {
        Self {
            stack,
            view,
            written: OnceLock::new(),
        }
    }

    /// The merged ruleset with these stages, which are those of the stack.
    pub(super) fn written(&self, stages: &[Stage]) -> &WrittenRuleset {
        self.written
            .get_or_init(|| merged(&self.stack, &self.view, stages))
    }

    /// Whether a ruleset declares a fact of this full name.
    pub(super) fn declares(&self, fact: &str) -> bool {
        let mut declared = self.stack.layers.iter().flat_map(|layer| &layer.facts);
        declared.any(|one| one.name == fact)
    }
}
