//! Checks a proposed use of rescued lithium-ion cells against rulesets of trade cautions.
#![forbid(unsafe_code)]

pub mod quantity;
