//! Any bytes as input of the target `ignorance`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| drop(rules_fuzz::ignorance::holds(bytes)));
