//! Any bytes as input of the target `formula`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::formula::any(bytes));
