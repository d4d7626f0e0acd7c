//! The oracle: a second, plain evaluator of the ruleset language, written from
//! `rulesets/LANGUAGE.md` and compared with the engine.
//!
//! It has its own reading of quantities and formulas, its own intervals, its own layers and its own
//! judging; with the engine it shares the reader of YAML and the table of facts. It must come out
//! as the conformance suite says, and the engine as it does on generated rules and proposals: every
//! finding with its verdict, best, worst, status, deciding rung, deciding and missing facts, and
//! the report. Of library figures it knows `build.current` alone.
//!
//! `LAWS_CASES=100000 cargo test --release -p rules-tests --test oracle` makes a long run,
//! `LAWS_SEED=7` another one.
#![cfg(test)]

#[path = "../generate/mod.rs"]
mod generate;

// Numbers and truth.
mod end;
mod number;
mod truth;

// Reading.
mod facts;
mod grammar;
mod proposal;
mod quantity;
mod readings;
mod rules;

// Judging.
mod consistent;
mod evaluate;
mod explain;
mod judge;

// The engine beside it.
mod compare;
mod conformance;
mod disagreements;
mod generated;
mod tally;
