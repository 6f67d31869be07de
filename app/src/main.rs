//! Tiewright.
fn main() {}
