//! `regorus` (Rego): one policy that gives the set of all that is not kept, by its interpreter and
//! by its register machine.

use std::sync::Arc;

use regorus::languages::rego::compiler::Compiler;
use regorus::rvm::RegoVM;
use regorus::{CompiledPolicy, Engine, Value};

use crate::facts::{json, of_build, of_cell};
use crate::rules::RULES;
use crate::twenty::by_hand::{Build, Fails};

const POLICY: &str = include_str!("twenty.rego");
const ENTRY: &str = "data.twenty.fails";

fn policy() -> CompiledPolicy {
    let mut engine = Engine::new();
    engine
        .add_policy("twenty.rego".to_owned(), POLICY.to_owned())
        .expect("it is a policy");
    engine
        .compile_with_entrypoint(&ENTRY.into())
        .expect("it compiles")
}

fn input(build: &Build) -> Value {
    let mut input = json(&of_build(build));
    input["cells"] = build
        .cells
        .iter()
        .map(|cell| json(&of_cell(cell, build)))
        .collect();
    Value::from_json_str(&input.to_string()).expect("it is JSON")
}

/// A set of pairs of rule and cell.
fn fails(found: &Value) -> Vec<Fails> {
    let one = |pair: &Value| {
        let number = |at: usize| pair.as_array().ok()?.get(at)?.as_i64().ok();
        let (rule, subject) = (
            usize::try_from(number(0)?).ok()?,
            usize::try_from(number(1)?).ok()?,
        );
        Some(Fails {
            rule,
            subject,
            verdict: RULES[rule].verdict,
        })
    };
    found
        .as_set()
        .expect("it is a set")
        .iter()
        .map(|pair| one(pair).expect("of pairs"))
        .collect()
}

/// By the interpreter of the policy.
pub(crate) struct Interpreted {
    policy: CompiledPolicy,
    input: Value,
}

impl Interpreted {
    pub(crate) fn new() -> Self {
        Self {
            policy: policy(),
            input: Value::Undefined,
        }
    }
}

impl crate::Engine for Interpreted {
    fn name(&self) -> &'static str {
        "regorus 0.14, interpreter"
    }

    fn take(&mut self, build: &Build) {
        self.input = input(build);
    }

    fn answers(&mut self) -> Vec<Fails> {
        fails(
            &self
                .policy
                .eval_with_input(self.input.clone())
                .expect("it can be worked out"),
        )
    }
}

/// By the register machine.
pub(crate) struct Compiled {
    machine: RegoVM,
    input: Value,
}

impl Compiled {
    pub(crate) fn new() -> Self {
        let program = Compiler::compile_from_policy(&policy(), &[ENTRY]).expect("it compiles");
        let mut machine = RegoVM::new();
        machine.load_program(Arc::clone(&program));
        Self {
            machine,
            input: Value::Undefined,
        }
    }
}

impl crate::Engine for Compiled {
    fn name(&self) -> &'static str {
        "regorus 0.14, register machine"
    }

    fn take(&mut self, build: &Build) {
        self.input = input(build);
    }

    fn answers(&mut self) -> Vec<Fails> {
        self.machine.set_input(self.input.clone());
        fails(
            &self
                .machine
                .execute_entry_point_by_index(0)
                .expect("it can be worked out"),
        )
    }
}
