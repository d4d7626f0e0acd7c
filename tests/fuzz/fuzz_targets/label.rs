//! Any bytes as input of the target `label`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::label::any(bytes));
