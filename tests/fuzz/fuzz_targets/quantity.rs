//! Any bytes as input of the target `quantity`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::quantity::any(bytes));
