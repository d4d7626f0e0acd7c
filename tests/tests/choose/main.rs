//! The choice of cells for a light: against brute force, by hand, and where there is nothing to choose.
#![cfg(test)]

mod brute_force;
mod setting;
mod timing;
mod trends;
