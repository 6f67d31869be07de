//! Helpers shared by the tests.

pub mod console;
pub mod feasible;
pub mod served;
pub mod walls;
pub mod window;
