//! The choice of cells for a light: against brute force, by hand, where there is nothing to choose, and
//! what it foresees of sets that are not whole.
#![cfg(test)]

mod brute_force;
mod by_hand;
mod declared;
mod setting;
mod timing;
