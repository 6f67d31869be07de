//! Walls made of bytes: set out soundly, or refused.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| tiewright_tests::fuzz_bodies::set_out(bytes));
