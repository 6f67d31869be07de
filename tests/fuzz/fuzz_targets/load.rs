//! Project files: read, or refused with a place.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| tiewright_tests::fuzz_bodies::load(bytes));
