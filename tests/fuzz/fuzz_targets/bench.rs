//! Any bytes as input of the target `bench`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::bench::any(bytes));
