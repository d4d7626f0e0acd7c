//! The command as a whole: what it prints, and how it exits. Reports of the demo are compared with
//! reviewed snapshots, the rest with `rulesets/LANGUAGE.md`.

#![cfg(test)]

mod bad_input;
mod bad_rulesets;
mod bench;
mod changed;
mod colours;
mod demo;
mod exit_status;
#[cfg(target_os = "linux")]
mod files;
mod for_tools;
mod help;
mod hooks;
mod identity;
mod installing;
mod interview;
mod label;
mod length;
mod lines;
mod lists;
mod loosened;
#[cfg(target_os = "linux")]
mod memory;
#[cfg(feature = "page")]
mod page;
mod problems_as_json;
mod range;
mod rulesets_for_tools;
mod running;
mod several;
mod sort;
mod stages;
mod start;
mod streams;
mod terminals;
mod text;
