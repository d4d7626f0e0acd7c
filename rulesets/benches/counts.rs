//! One task so many times, for a counter of instructions: `counts TASK ROUNDS`. Without a task it
//! prints their names. `tests/counts.py` runs it and makes the table.
#![allow(
    clippy::expect_used,
    clippy::unreachable,
    clippy::indexing_slicing,
    reason = "a bench stops where its setting is wrong"
)]
#![allow(clippy::print_stdout, reason = "the names are what it is asked for")]
#![allow(dead_code, reason = "the setting is shared by several benches")]

#[path = "twenty/from_json.rs"]
mod from_json;
mod setting;
mod twenty;

use std::hint::black_box;

use rules_core::check::{Checked, Options, brief, check, checked};
use rules_core::facts::Proposed;
use rules_core::report::Lean;
use rules_core::ruleset::{Rules, Texts};
use rules_core::vetting::{Vetting, vet};
use rulesets::shipped::Shipped;

/// Something to be counted.
type Task = Box<dyn FnMut()>;

/// Sets a task up.
type SetUp = fn() -> Task;

/// The tasks by name; each is set up only if it is asked for.
const TASKS: [(&str, SetUp); 26] = [
    ("one-cell-read", || read(ONE)),
    ("one-cell-report-as-data", || as_data(ONE)),
    ("one-cell-brief", || in_brief(ONE)),
    ("one-cell-full", || full(ONE)),
    ("one-cell-lean", || lean(ONE)),
    ("one-cell-typed-parse", || typed(ONE)),
    ("one-cell-typed-parse-and-write-as-full", || {
        written(ONE, in_full)
    }),
    ("one-cell-typed-parse-and-write-as-lean", || {
        written(ONE, in_lean)
    }),
    ("four-cells-read", || read(FOUR)),
    ("four-cells-report-as-data", || as_data(FOUR)),
    ("four-cells-brief", || in_brief(FOUR)),
    ("four-cells-full", || full(FOUR)),
    ("four-cells-lean", || lean(FOUR)),
    ("four-cells-typed-parse", || typed(FOUR)),
    ("four-cells-typed-parse-and-write-as-full", || {
        written(FOUR, in_full)
    }),
    ("four-cells-typed-parse-and-write-as-lean", || {
        written(FOUR, in_lean)
    }),
    ("twenty-sound-answers", || answers(0)),
    ("twenty-sound-by-hand", || by_hand(0)),
    ("twenty-sound-json-to-answers", || json_to_answers(0)),
    ("twenty-sound-json-by-hand", || json_by_hand(0)),
    ("twenty-faulty-answers", || answers(1)),
    ("twenty-faulty-by-hand", || by_hand(1)),
    ("twenty-faulty-json-to-answers", || json_to_answers(1)),
    ("load", || task(setting::shipped)),
    ("load-what-extends", load_what_extends),
    ("load-and-vet", load_and_vet),
];

fn main() {
    // `cargo bench` adds a flag of its own.
    let words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let [name, rounds] = words.as_slice() else {
        TASKS.iter().for_each(|(name, _)| println!("{name}"));
        return;
    };
    let rounds: usize = rounds.parse().expect("a number of rounds");
    let (_, set_up) = TASKS
        .iter()
        .find(|(task, _)| task == name)
        .expect("a task that there is");
    let mut run = set_up();
    (0..rounds).for_each(|_| run());
}

fn task<T>(mut run: impl FnMut() -> T + 'static) -> Task {
    Box::new(move || drop(black_box(run())))
}

/// A proposal as JSON.
type Json = fn() -> Vec<u8>;

const ONE: Json = || setting::demo_bytes("marshal-torch.json");
const FOUR: Json = || twenty::BUILDS[0].json.into();

fn found<'r>(rules: &'r Rules, bytes: &[u8]) -> Checked<'r> {
    let proposal = setting::read("proposal.json", bytes.to_vec());
    checked(rules, &proposal, Options::default()).expect("its facts are known")
}

fn in_full(rules: &Rules, bytes: &[u8]) -> Vec<u8> {
    serde_json::to_vec(&found(rules, bytes).report()).expect("a report is JSON")
}

fn in_lean(rules: &Rules, bytes: &[u8]) -> Vec<u8> {
    serde_json::to_vec(&Lean(&found(rules, bytes))).expect("a record is JSON")
}

fn read(json: Json) -> Task {
    let bytes = json();
    task(move || setting::read("proposal.json", bytes.clone()))
}

fn as_data(json: Json) -> Task {
    let (rules, proposal) = (setting::shipped(), setting::read("proposal.json", json()));
    task(move || check(&rules, &proposal, Options::default()))
}

fn in_brief(json: Json) -> Task {
    let (rules, proposal) = (setting::shipped(), setting::read("proposal.json", json()));
    task(move || brief(&rules, &proposal, Options::default()))
}

fn full(json: Json) -> Task {
    let (rules, bytes) = (setting::shipped(), json());
    task(move || in_full(&rules, &bytes))
}

fn lean(json: Json) -> Task {
    let (rules, bytes) = (setting::shipped(), json());
    task(move || in_lean(&rules, &bytes))
}

fn parsed(bytes: &[u8]) -> setting::typed::Proposal {
    serde_json::from_slice(bytes).expect("it fits")
}

fn typed(json: Json) -> Task {
    let bytes = json();
    task(move || parsed(&bytes))
}

/// A typed parse, and then as many bytes of the same JSON written as a check writes.
fn written(json: Json, through: fn(&Rules, &[u8]) -> Vec<u8>) -> Task {
    let bytes = json();
    let output = through(&setting::shipped(), &bytes);
    let value: serde_json::Value = serde_json::from_slice(&output).expect("it is JSON");
    task(move || (parsed(&bytes), serde_json::to_vec(&value)))
}

fn answers(which: usize) -> Task {
    let rules = setting::rules_of(twenty::RULES);
    let proposal = twenty::BUILDS[which].proposal();
    let sheet = proposal
        .facts(rules.catalogue())
        .expect("its facts are known")
        .into_owned();
    task(move || twenty::answers(&rules, &sheet))
}

fn by_hand(which: usize) -> Task {
    let build = (twenty::BUILDS[which].build)();
    task(move || twenty::by_hand::check(black_box(&build)))
}

fn json_to_answers(which: usize) -> Task {
    let rules = setting::rules_of(twenty::RULES);
    task(move || from_json::answers(twenty::BUILDS[which], &rules))
}

fn json_by_hand(which: usize) -> Task {
    task(move || from_json::answers_by_hand(twenty::BUILDS[which]))
}

/// A file of 3.4 KB that extends the shipped rules.
fn load_what_extends() -> Task {
    let text = include_str!("../local-practice-example.yaml");
    let library = Texts::of([("ours.yaml", text)]).or(Shipped);
    task(move || Rules::load(&["ours.yaml"], &library, &rulesets::catalogue()).expect("they load"))
}

fn load_and_vet() -> Task {
    task(|| {
        let vetting = Vetting::load(&["rescued-cells"], &Shipped, &rulesets::catalogue())
            .expect("the shipped rules load");
        vet(&vetting).len()
    })
}
