//! The stages of rules, in order.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::layer::DeclaredStage;
use super::model::Refused;
use super::stack::Stack;
use crate::snapshot::stored;

/// A part of the work, which a person can have checked by itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stage {
    /// Its name in rulesets.
    pub id: Arc<str>,
    /// What it is, on one line.
    pub title: Arc<str>,
    /// What becomes of the one that a caution of it refuses, where the caution does not say.
    pub refused: Option<Refused>,
}

/// The number of a stage among those of its rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StageId(pub usize);

/// The stages of a stack. Those of a ruleset come after those of what it extends, and of rulesets
/// that stand side by side in the order of their names, so that no order of files shows.
pub(super) fn stages(stack: &Stack) -> Vec<Stage> {
    let mut order = Order {
        stack,
        met: BTreeSet::new(),
        stages: Vec::new(),
    };
    order.add_all(&stack.asked);
    order.stages
}

struct Order<'s> {
    stack: &'s Stack,
    met: BTreeSet<usize>,
    stages: Vec<Stage>,
}

impl Order<'_> {
    /// Adds the stages of layers. They rest on one another no more than there are layers, which are
    /// few.
    fn add_all(&mut self, positions: &[usize]) {
        let layers = &self.stack.layers;
        let named = |at: &usize| Some((layers.get(*at)?, *at));
        let mut named: Vec<_> = positions.iter().filter_map(named).collect();
        named.sort_by_key(|(layer, _)| &layer.name);
        for (layer, at) in named {
            if !self.met.insert(at) {
                continue;
            }
            self.add_all(self.stack.extends.get(at).map_or(&[], Vec::as_slice));
            for declared in &layer.stages {
                self.add(&declared.name, &declared.body);
            }
        }
    }

    fn add(&mut self, id: &str, declared: &DeclaredStage) {
        if !self.stages.iter().any(|stage| *stage.id == *id) {
            self.stages.push(Stage {
                id: id.into(),
                title: declared.title.as_str().into(),
                refused: declared.refused,
            });
        }
    }
}

stored!(struct Stage { id, title, refused });
stored!(struct StageId(at));
