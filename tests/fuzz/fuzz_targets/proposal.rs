//! Any bytes as input of the target `proposal`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::proposal::any(bytes));
