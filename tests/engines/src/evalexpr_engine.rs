//! `evalexpr`: an expression a rule, as a tree built once. It has no lists to go over, so that
//! folds are written out for four cells.

use evalexpr::{ContextWithMutableVariables, HashMapContext, Node, Value, build_operator_tree};

use crate::facts::{Fact, of_build, of_cell};
use crate::rules::{RULES, ask};
use crate::twenty::by_hand::{Build, Fails};

pub(crate) struct Prepared {
    rules: Vec<Node>,
    /// One for each cell, and the last for the whole.
    contexts: Vec<HashMapContext>,
}

impl Prepared {
    pub(crate) fn new() -> Self {
        let rules = RULES
            .iter()
            .map(|rule| build_operator_tree(rule.infix).expect("it is an expression"))
            .collect();
        Self {
            rules,
            contexts: Vec::new(),
        }
    }
}

fn context(facts: &[(&'static str, Fact)]) -> HashMapContext {
    let mut context = HashMapContext::new();
    for (name, fact) in facts {
        let value = match fact {
            Fact::Number(number) => Value::Float(*number),
            Fact::YesNo(yes) => Value::Boolean(*yes),
            Fact::Word(word) => Value::String((*word).to_owned()),
        };
        context
            .set_value((*name).to_owned(), value)
            .expect("the value is taken");
    }
    context
}

impl crate::Engine for Prepared {
    fn name(&self) -> &'static str {
        "evalexpr 11.3, trees"
    }

    fn take(&mut self, build: &Build) {
        let cells = build.cells.iter();
        let cells = cells.map(|cell| context(&of_cell(cell, build)));
        self.contexts = cells.chain([context(&of_build(build))]).collect();
    }

    fn answers(&mut self) -> Vec<Fails> {
        ask(self.contexts.len() - 1, |rule, place| {
            self.rules[rule]
                .eval_boolean_with_context(&self.contexts[place])
                .expect("it is yes or no")
        })
    }
}
