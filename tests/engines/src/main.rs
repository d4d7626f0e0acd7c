//! Twenty simple rules over a build of four cells in general-purpose engines, timed against the
//! rules checker in one run.
//!
//! Each engine is prepared once: rules compiled where it can compile, the build in the form it
//! takes without converting. Then all of them answer the same question by turns: which rules are
//! not kept by which cell. Engines work on plain numbers; the checker works on intervals with
//! units.
#![forbid(unsafe_code)]

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

use timing::{Task, in_turns, shown};
use twenty::by_hand::Fails;

/// An engine with rules and build prepared.
trait Engine {
    /// Name and version.
    fn name(&self) -> &'static str;
    /// The rules that are not kept.
    fn answers(&mut self) -> Vec<Fails>;
}

fn main() {
    let twenty = Texts::of([("twenty", twenty::RULES)]);
    let rules = Rules::load(&["twenty"], &twenty, &rulesets::catalogue()).expect("the rules load");
    for example in twenty::BUILDS {
        println!(
            "\nBuild {example}:\n\n| engine | 20 rules, 4 cells | to the checker's report | to its answers alone |\n| --- | ---: | ---: | ---: |"
        );
        compare(&rules, example);
    }
}

fn compare(rules: &Rules, example: twenty::Example) {
    let (proposal, build) = (example.proposal(), (example.build)());
    let sheet = proposal
        .facts(rules.catalogue())
        .expect("its facts are known");
    let ours = twenty::answers(rules, &sheet);
    let engines: Vec<RefCell<Box<dyn Engine>>> =
        engines(&build).into_iter().map(RefCell::new).collect();
    for engine in &engines {
        let mut engine = engine.borrow_mut();
        assert_eq!(
            engine.answers(),
            ours,
            "{} must say the same",
            engine.name()
        );
    }
    let mut tasks = vec![
        Task::new("rules-core, report as data", || {
            check(rules, &proposal, Options::default()).map(|report| report.findings.len())
        }),
        Task::new("rules-core, answers alone", || {
            twenty::answers(rules, &sheet)
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
    let times = in_turns(tasks, Duration::from_secs(10));
    for one in &times {
        let against = |base: usize| one.seconds / times[base].seconds;
        println!(
            "| {} | {} | {:.2} | {:.2} |",
            one.name,
            shown(one.seconds),
            against(0),
            against(1)
        );
    }
}

fn engines(build: &twenty::by_hand::Build) -> Vec<Box<dyn Engine>> {
    vec![
        Box::new(evalexpr_engine::Prepared::of(build)),
        Box::new(cel_engine::Prepared::of(build)),
        Box::new(json_logic::Prepared::of(build)),
        Box::new(rego::Interpreted::of(build)),
        Box::new(rego::Compiled::of(build)),
    ]
}
