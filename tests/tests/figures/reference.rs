//! The model of a cell against tables of a general battery simulation library:
//! `tests/reference/discharge/`; the README there says how they were made.
//!
//! Each row is predicted from one capacity test of the same set at 25 degC and its 10-second
//! resistance at half charge. The value of the row has to be inside the stated interval. How many
//! do, and how wide the intervals are, is printed.

mod aged;
mod discharge;
mod drawn;
mod energy;
mod examples;
mod fits;
mod logged;
mod measured;
mod others;
mod rests;
mod slow_test;
mod table;
