//! `cel` (Common Expression Language): an expression a rule, parsed once. Largest and smallest are
//! functions added to it.

use cel::{Context, Program, Value, functions};

use crate::facts::{Fact, of_build, of_cell};
use crate::rules::{RULES, ask};
use crate::twenty::by_hand::{Build, Fails};

pub(crate) struct Prepared {
    rules: Vec<Program>,
    /// One for each cell, and the last for the whole.
    contexts: Vec<Context<'static, 'static>>,
}

impl Prepared {
    pub(crate) fn new() -> Self {
        let rules = RULES
            .iter()
            .map(|rule| Program::compile(rule.infix).expect("it is an expression"))
            .collect();
        Self {
            rules,
            contexts: Vec::new(),
        }
    }
}

fn context(facts: &[(&'static str, Fact)]) -> Context<'static, 'static> {
    let mut context = Context::default();
    context
        .add_function("max", functions::max)
        .expect("the name is free");
    context
        .add_function("min", functions::min)
        .expect("the name is free");
    for (name, fact) in facts {
        let value = match fact {
            Fact::Number(number) => Value::Float(*number),
            Fact::YesNo(yes) => Value::Bool(*yes),
            Fact::Word(word) => Value::from(*word),
        };
        context.add_variable_from_value(*name, value);
    }
    context
}

impl crate::Engine for Prepared {
    fn name(&self) -> &'static str {
        "cel 0.15, programs"
    }

    fn take(&mut self, build: &Build) {
        let cells = build.cells.iter();
        let cells = cells.map(|cell| context(&of_cell(cell, build)));
        self.contexts = cells.chain([context(&of_build(build))]).collect();
    }

    fn answers(&mut self) -> Vec<Fails> {
        ask(self.contexts.len() - 1, |rule, place| {
            match self.rules[rule].execute(&self.contexts[place]) {
                Ok(Value::Bool(holds)) => holds,
                other => panic!("`{}` is {other:?}", RULES[rule].infix),
            }
        })
    }
}
