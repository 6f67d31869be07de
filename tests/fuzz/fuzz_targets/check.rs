//! Ties anywhere on walls made of bytes: checked the same every time.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| tiewright_tests::fuzz_bodies::check_ties(bytes));
