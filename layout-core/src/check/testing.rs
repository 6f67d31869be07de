//! Cases for the rules' own tests.

use super::{Finding, Rule, check};
use crate::elevation::{Elevation, Point, validate};
use crate::masonry::Masonry;
use crate::rules::resolve;

/// A plain wall of 1800 x 900 with bonded corners.
pub(super) fn wall() -> Elevation {
    Elevation::new("Wall", vec![(0.0, 0.0), (1800.0, 0.0), (1800.0, 900.0), (0.0, 900.0)])
}

/// The findings of one rule.
pub(super) fn found(rule: Rule, elevation: &Elevation, ties: &[Point]) -> Vec<Finding> {
    assert!(validate(elevation).is_empty(), "the case itself is faulty: {:?}", validate(elevation));
    let rules = resolve(&elevation.rules).expect("a known rule set");
    let masonry = Masonry::new(elevation);
    check(elevation, &masonry, &rules, ties).into_iter().filter(|f| f.rule == rule).collect()
}

/// Asserts that a rule finds nothing.
#[track_caller]
pub(super) fn passes(rule: Rule, elevation: &Elevation, ties: &[Point]) {
    let found = found(rule, elevation, ties);
    assert!(found.is_empty(), "nothing should be found: {found:#?}");
}

/// Asserts that a rule finds exactly one thing, and returns it.
#[track_caller]
pub(super) fn broken(rule: Rule, elevation: &Elevation, ties: &[Point]) -> Finding {
    let mut found = found(rule, elevation, ties);
    assert_eq!(found.len(), 1, "one thing should be found: {found:#?}");
    found.remove(0)
}
