//! What the laws and the oracle try their cases on: generated rulesets and proposals, and the truth
//! about them.
#![allow(dead_code, reason = "each suite uses a part of it")]

// Making cases.
pub(crate) mod amount;
pub(crate) mod choices;
pub(crate) mod document;
pub(crate) mod formula;
pub(crate) mod grow;
pub(crate) mod layering;
pub(crate) mod marks;
pub(crate) mod meter;
pub(crate) mod proposal;
pub(crate) mod quantity;
pub(crate) mod ruleset;
pub(crate) mod scene;
pub(crate) mod setting;
pub(crate) mod sound;
pub(crate) mod tune;
pub(crate) mod vocabulary;

// What is true of a case where everything is known, worked out apart from the engine.
pub(crate) mod truth;
pub(crate) mod world;
