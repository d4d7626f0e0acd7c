//! Laws of the figures' model: knowing less never shows less.
//!
//! Each figure is a function from intervals to intervals. Where every input of one call encloses
//! that of another, so does the result; what is unknown altogether gives a result and no panic.
//! `LAWS_CASES=100000 cargo test -p rules-tests --test figures laws` makes a long run.

mod alike;
mod discharge;
mod enclosing;
mod known;
mod plain;
