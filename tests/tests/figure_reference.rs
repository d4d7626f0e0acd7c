//! The model of a cell against tables of a general battery simulation library:
//! `tests/reference/discharge/`, where their making is told.
//!
//! Each row is predicted from one capacity test of the same set at 25 degC and its 10-second
//! resistance at half charge. What the row says has to lie inside the stated interval. How many do,
//! and how wide the intervals are, is printed.
#![cfg(test)]

#[path = "figure_reference/aged.rs"]
mod aged;
#[path = "figure_reference/discharge.rs"]
mod discharge;
#[path = "figure_reference/examples.rs"]
mod examples;
#[path = "figure_reference/others.rs"]
mod others;
#[path = "figure_reference/slow_test.rs"]
mod slow_test;
#[path = "figure_reference/table.rs"]
mod table;
