//! The digest of a check's rules: of a list of what they are made of, which LANGUAGE.md section 7
//! gives for other implementations.

use super::model::Acceptance;
use super::stack::Stack;
use crate::document::{Node, digest};
use crate::snapshot::stored;

/// The digests of the rules of a stack, one under each acceptance.
#[derive(Debug, Clone)]
pub(super) struct Digests {
    guarded: String,
    simple: String,
}

impl Digests {
    /// The digests of a stack over a table of facts with this digest.
    pub(super) fn of(stack: &Stack, facts: &str) -> Self {
        let under = |acceptance: &str| digest(&list(stack, facts, acceptance));
        Self {
            guarded: under("guarded"),
            simple: under("simple"),
        }
    }

    pub(super) fn under(&self, acceptance: Acceptance) -> &str {
        match acceptance {
            Acceptance::Guarded => &self.guarded,
            Acceptance::Simple => &self.simple,
        }
    }
}

/// What the rules of a check are made of.
fn list(stack: &Stack, facts: &str, acceptance: &str) -> Node<'static> {
    let mut rulesets: Vec<(&str, Node<'static>)> = stack
        .layers
        .iter()
        .zip(&stack.extends)
        .map(|(layer, extends)| {
            let ruleset = Node::of_entries([
                ("digest", Node::of_text(&layer.digest)),
                ("extends", names(stack, extends)),
                ("ruleset", Node::of_text(&layer.name)),
                ("version", Node::of_text(&layer.version)),
            ]);
            (layer.name.as_str(), ruleset)
        })
        .collect();
    rulesets.sort_by_key(|(name, _)| *name);
    Node::of_entries([
        ("acceptance", Node::of_text(acceptance)),
        ("facts", Node::of_text(facts)),
        ("given", names(stack, &stack.asked)),
        (
            "rulesets",
            Node::of_items(rulesets.into_iter().map(|(_, ruleset)| ruleset)),
        ),
    ])
}

/// The names of layers, in order.
fn names(stack: &Stack, positions: &[usize]) -> Node<'static> {
    let layers = positions.iter().filter_map(|at| stack.layers.get(*at));
    let mut names: Vec<&str> = layers.map(|layer| layer.name.as_str()).collect();
    names.sort_unstable();
    Node::of_items(names.into_iter().map(Node::of_text))
}

stored!(struct Digests { guarded, simple });
