//! Figures follow the facts of a proposal: knowing less never gives a narrower figure, and one that
//! is not asked for is not worked.

mod counted;
mod declared;
mod domains;
mod drained;
mod joined;
mod labels;
mod less;
mod questions;
mod readings;
mod setting;
