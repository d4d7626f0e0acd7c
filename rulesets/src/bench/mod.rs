//! Benches: what a workshop says once, and the proposals that take from it.
//!
//! ```text
//! bench.yaml   \
//! cells.csv     - file - a bench \
//! readings.csv /                  taken - a plain tree, with places - proposal
//! plan.yaml --- plan ------------/
//! ```
//!
//! Curves that cells or readings name are found by `curves`, which puts in their place the facts
//! that they show.
//!
//! `files` finds the texts, `file` reads the bench, `cells` and `readings` its cells and what was
//! read of them over time; `counted` chooses the readings that count, `in_force` those of a day. `taken` makes of a
//! proposal and its bench the tree of a plain proposal, which is read as any other.

mod at_hand;
mod cells;
mod columns;
mod counted;
mod curves;
mod date;
mod dated;
mod file;
mod files;
mod in_force;
mod kinds;
mod named;
mod nodes;
mod notes;
mod offered;
mod order;
mod plain;
mod plan;
mod readings;
mod scatter;
mod sections;
mod shelf;
mod taken;
mod testers;
#[cfg(test)]
mod tests;
mod uses;
mod watch;

pub use date::Date;
pub use file::Bench;
pub use in_force::ReadingAtHand;
pub use plain::{on_one_line, value};
pub use plan::{Plan, rules_in_force};
pub use shelf::Benches;
