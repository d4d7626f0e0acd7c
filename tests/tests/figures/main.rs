//! What is worked out of facts: it follows the facts of a proposal, keeps the laws of its model, and
//! holds against tables from outside.
#![cfg(test)]

mod facts;
mod laws;
mod reference;
