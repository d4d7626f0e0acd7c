//! Reports as they are written: what is alike once, so that they stay short, and nothing lost.

#![cfg(test)]

mod generate;
#[path = "records/mod.rs"]
mod records;
