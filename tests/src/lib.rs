//! Helpers shared by the tests.

pub mod window;
