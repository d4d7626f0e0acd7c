//! `datalogic-rs` (JSONLogic): a rule a compiled tree, the facts parsed once and passed by
//! reference.

use datalogic_rs::{Engine, Logic, ParsedData, Session};

use serde_json::Value;

use crate::facts::{json, of_build, of_cell};
use crate::rules::{RULES, ask};
use crate::twenty::by_hand::{Build, Fails};

pub(crate) struct Prepared {
    rules: Vec<Logic>,
    /// One for each cell, and the last for the whole.
    facts: Vec<ParsedData>,
    session: Session<'static>,
}

impl Prepared {
    pub(crate) fn new() -> Self {
        // One engine for the life of the process, so that the session can borrow it.
        let engine: &'static Engine = Box::leak(Box::new(Engine::new()));
        let rules = RULES
            .iter()
            .map(|rule| engine.compile(rule.logic).expect("it is logic"))
            .collect();
        Self {
            rules,
            facts: Vec::new(),
            session: engine.session(),
        }
    }
}

impl crate::Engine for Prepared {
    fn name(&self) -> &'static str {
        "datalogic-rs 5.4, compiled"
    }

    fn take(&mut self, build: &Build) {
        let cells = build.cells.iter().map(|cell| json(&of_cell(cell, build)));
        let all = cells.chain([json(&of_build(build))]);
        let parsed = |facts: Value| ParsedData::from_json(&facts.to_string()).expect("it is JSON");
        self.facts = all.map(parsed).collect();
    }

    fn answers(&mut self) -> Vec<Fails> {
        let Self {
            rules,
            facts,
            session,
        } = self;
        let fails = ask(facts.len() - 1, |rule, place| {
            let answer = session
                .eval_borrowed(&rules[rule], &facts[place])
                .expect("it can be worked out");
            answer.as_bool().expect("it is yes or no")
        });
        session.reset();
        fails
    }
}
