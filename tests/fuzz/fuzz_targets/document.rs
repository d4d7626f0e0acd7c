//! Any bytes as input of the target `document`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| rules_fuzz::document::any(bytes));
