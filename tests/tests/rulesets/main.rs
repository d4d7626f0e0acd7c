//! Rulesets as they are loaded, layered and vetted: faults at, just inside and just outside what the
//! language allows and what is said of them, what layers come to, and what vetting finds wanting.
#![cfg(test)]

mod cases;
mod definitions;
mod examples;
mod formerly;
mod formulas;
mod kinds;
mod layering;
mod setting;
mod several;
mod vetted;
mod vetting;
