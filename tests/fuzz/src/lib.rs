//! What must hold for any bytes, a function a target. The fuzz targets run them on bytes they grow;
//! `tests/tests/corpus.rs` on the files of `corpus/`.
//!
//! Each target says in its module how it takes its bytes. What does not hold is a panic.

pub mod bench;
pub mod check;
pub mod document;
pub mod formula;
pub mod ignorance;
pub mod label;
mod loaded;
pub mod proposal;
pub mod quantity;
pub mod ruleset;

/// A target: its name, and what must hold.
pub type Target = (&'static str, fn(&[u8]));

/// Every target.
pub const TARGETS: [Target; 9] = [
    ("quantity", quantity::any),
    ("formula", formula::any),
    ("ruleset", ruleset::any),
    ("proposal", proposal::any),
    ("label", label::any),
    ("check", check::any),
    ("document", document::any),
    ("bench", bench::any),
    ("ignorance", |bytes| drop(ignorance::holds(bytes))),
];
