//! Helpers shared by the tests.

pub mod console;
pub mod expect;
pub mod feasible;
pub mod from_bytes;
pub mod fuzz_bodies;
pub mod served;
pub mod sound;
pub mod walls;
pub mod window;
