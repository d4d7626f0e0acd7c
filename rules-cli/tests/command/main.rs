//! The command as a whole: what it prints, and how it exits. Reports of the demo are compared with
//! reviewed snapshots, the rest with `rulesets/LANGUAGE.md`.

#![cfg(test)]

mod bad_input;
mod bad_rulesets;
mod colours;
mod demo;
mod exit_codes;
mod label;
mod length;
mod lines;
mod lists;
mod running;
mod streams;
mod text;
