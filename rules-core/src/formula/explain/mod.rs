//! Which parts of a condition decided, on which facts, against which limits.

mod taking_part;
mod unmet;
