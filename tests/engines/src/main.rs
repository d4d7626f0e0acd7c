//! Twenty simple rules over a build of four cells in general-purpose engines, timed against the
//! rules checker in one run.
//!
//! Each engine is prepared once: rules compiled where it can compile. Then all of them answer the
//! same question by turns: which rules are not kept by which cell. They do so twice: of a build that
//! they have in the form they take without converting, and end to end, from the bytes of its JSON.
//! There typed structs read the JSON, quantities become plain numbers, and these what the engine takes.
//! Engines work on plain numbers; the checker works on intervals with units, and keeps the place of
//! each value.
#![forbid(unsafe_code)]

#[path = "../../../rulesets/benches/twenty/from_json.rs"]
mod from_json;
#[path = "../../../rulesets/benches/timing/mod.rs"]
mod timing;
#[path = "../../../rulesets/benches/twenty/mod.rs"]
mod twenty;

mod cel_engine;
mod evalexpr_engine;
mod facts;
mod json_logic;
mod rego;
mod rules;

use std::cell::RefCell;
use std::time::Duration;

use rules_core::check::{Options, check};
use rules_core::facts::Proposed as _;
use rules_core::ruleset::{Rules, Texts};

use timing::{Task, Timed, in_turns, shown};
use twenty::by_hand::{Build, Fails};

/// An engine with rules prepared.
trait Engine {
    /// Name and version.
    fn name(&self) -> &'static str;
    /// Takes a build in place of the one before.
    fn take(&mut self, build: &Build);
    /// The rules that are not kept.
    fn answers(&mut self) -> Vec<Fails>;
}

fn main() {
    let twenty = Texts::of([("twenty", twenty::RULES)]);
    let rules = Rules::load(&["twenty"], &twenty, &rulesets::catalogue()).expect("the rules load");
    for example in twenty::BUILDS {
        compare(&rules, example);
        compare_end_to_end(&rules, example);
    }
}

/// Engines that have a build, each of which says of it what the checker says.
fn prepared(rules: &Rules, example: twenty::Example) -> Vec<RefCell<Box<dyn Engine>>> {
    let ours = from_json::answers(example, rules);
    let mut engines = engines();
    for engine in &mut engines {
        engine.take(&(example.build)());
        let name = engine.name();
        assert_eq!(engine.answers(), ours, "{name} must say the same");
    }
    engines.into_iter().map(RefCell::new).collect()
}

fn compare(rules: &Rules, example: twenty::Example) {
    let (proposal, build) = (example.proposal(), (example.build)());
    let sheet = proposal
        .facts(rules.catalogue())
        .expect("its facts are known");
    let engines = prepared(rules, example);
    let mut tasks = vec![
        Task::new("rules-core, answers alone", || {
            twenty::answers(rules, &sheet)
        }),
        Task::new("rules-core, report as data", || {
            check(rules, &proposal, Options::default()).map(|report| report.findings.len())
        }),
    ];
    for engine in &engines {
        tasks.push(Task::new(engine.borrow().name(), || {
            engine.borrow_mut().answers()
        }));
    }
    tasks.push(Task::new("by hand in Rust", || {
        twenty::by_hand::check(std::hint::black_box(&build))
    }));
    println!("\nBuild {example}, as each takes it:\n");
    print(&in_turns(tasks, Duration::from_secs(10)));
}

fn compare_end_to_end(rules: &Rules, example: twenty::Example) {
    let engines = prepared(rules, example);
    let mut tasks = vec![Task::new("rules-core", || {
        from_json::answers(example, rules)
    })];
    for engine in &engines {
        tasks.push(Task::new(engine.borrow().name(), || {
            let mut engine = engine.borrow_mut();
            engine.take(&from_json::build(example.json.as_bytes()));
            engine.answers()
        }));
    }
    tasks.push(Task::new("by hand in Rust", || {
        from_json::answers_by_hand(example)
    }));
    println!("\nBuild {example}, from the bytes of its JSON:\n");
    print(&in_turns(tasks, Duration::from_secs(10)));
}

/// Times, and how many times that of the first they are.
fn print(times: &[Timed]) {
    println!("| engine | 20 rules, 4 cells | to the checker |\n| --- | ---: | ---: |");
    for one in times {
        let against = one.seconds / times[0].seconds;
        println!("| {} | {} | {against:.2} |", one.name, shown(one.seconds));
    }
}

fn engines() -> Vec<Box<dyn Engine>> {
    vec![
        Box::new(evalexpr_engine::Prepared::new()),
        Box::new(cel_engine::Prepared::new()),
        Box::new(json_logic::Prepared::new()),
        Box::new(rego::Interpreted::new()),
        Box::new(rego::Compiled::new()),
    ]
}
