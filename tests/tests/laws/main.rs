//! The laws of the checker, as properties of generated rulesets and proposals.
//!
//! A law is a promise for every ruleset and every proposal: ignorance never pays, an answer that is
//! sure is true of every value the facts allow, nothing passes by accident, no order matters, and
//! so on. Each test here states one of them and tries it on cases made from lists of chance words,
//! which shrink to a small counterexample where one fails.
//!
//! `LAWS_CASES=100000 cargo test -p rules-tests --test laws` makes a long run, `LAWS_SEED=7`
//! another one. Each law prints how many cases it ran.
#![cfg(test)]

#[path = "../generate/mod.rs"]
mod generate;

mod acceptance;
mod figures;
mod fuzzed;
mod ignorance;
mod in_memory;
mod layers;
mod less;
mod nothing;
mod order;
mod ranges;
mod reading;
mod sameness;
mod shipped;
mod soundness;
mod stages;
mod tightening;
mod totality;
mod unlisted;
mod violations;
