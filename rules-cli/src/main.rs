//! `cellrules`: the command.
#![forbid(unsafe_code)]

fn main() {}
