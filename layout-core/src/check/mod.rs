//! The checker: measures a layout again from scratch, one rule a file.

mod finding;

pub use finding::{Finding, Rule, Severity};
