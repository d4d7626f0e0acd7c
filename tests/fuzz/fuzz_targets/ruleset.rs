//! Any bytes as input of the target `ruleset`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::ruleset::any(bytes));
