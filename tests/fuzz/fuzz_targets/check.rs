//! Any bytes as input of the target `check`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::check::any(bytes));
