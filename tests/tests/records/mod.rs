//! How long written reports are, and what a reader finds in them.

mod length;
mod reading;
