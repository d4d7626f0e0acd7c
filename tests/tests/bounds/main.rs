//! Each bound at and one past it; what is accepted is checked in bounded stack, and nothing missing
//! goes unnamed however much there is. The bounds of formulas are tested beside their parser, those
//! of steps and findings in `rules-core/src/check/steps.rs`.
#![cfg(test)]

mod figures;
mod formulas;
mod layers;
mod problems;
mod setting;
mod stated;
mod texts;
