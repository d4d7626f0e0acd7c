//! Rulesets as they are loaded, layered and vetted: faults at, just inside and just outside what
//! the language allows, with their messages; the result of layers; and what vetting finds missing.
#![cfg(test)]

mod cases;
mod coverage;
mod definitions;
mod examples;
mod formerly;
mod formulas;
mod kept;
mod kinds;
mod layering;
mod remedies;
mod setting;
mod several;
mod vetted;
mod vetting;
mod vetting_adjusted;
mod without_shipped;
mod worth_a_look;
