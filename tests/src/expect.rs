//! Small walls, and what is expected of their plans.
//!
//! What is sound is measured anew from what was drawn (`sound.rs`); a breach counts as unavoidable only if no
//! place for a tie would mend it (`feasible.rs`).

use layout_core::check::{Finding, Rule, Severity};
use layout_core::elevation::{Elevation, Opening, Shape};
use layout_core::{Plan, plan};

use crate::feasible::could_be_served;
use crate::fuzz_bodies::as_file;
use crate::sound::faults;

/// A rectangle from the datum, mm.
#[must_use]
pub fn rectangle(w: f64, h: f64) -> Elevation {
    Elevation::new("Wall", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
}

/// A rectangular shape, mm.
#[must_use]
pub fn rect(x: f64, y: f64, w: f64, h: f64) -> Shape {
    Shape::Rect { x, y, w, h }
}

/// A wall with openings of these shapes.
#[must_use]
pub fn with(mut e: Elevation, shapes: impl IntoIterator<Item = Shape>) -> Elevation {
    for shape in shapes {
        let name = format!("W{}", e.openings.len() + 1);
        e.openings.push(Opening { name, shape });
    }
    e
}

/// A plan in which everything holds that must hold of any.
///
/// # Panics
///
/// Where it is not so.
#[track_caller]
pub fn sound(e: &Elevation) -> Plan {
    let plan = plan(e).unwrap_or_else(|faults| panic!("no usable wall: {faults:?}\n{}", as_file(e)));
    let wrong = faults(e, &plan);
    assert!(wrong.is_empty(), "{}\n{}", wrong.join("\n"), as_file(e));
    plan
}

fn breaches(plan: &Plan) -> Vec<&Finding> {
    plan.findings.iter().filter(|f| f.severity == Severity::Breach).collect()
}

/// A sound plan in which every rule is kept.
///
/// # Panics
///
/// Where it is not so.
#[track_caller]
pub fn kept(e: &Elevation) -> Plan {
    let plan = sound(e);
    assert!(breaches(&plan).is_empty(), "{:#?}\n{}", breaches(&plan), as_file(e));
    plan
}

/// A sound plan whose breaches of coverage and edge ties, if it has any, no place for a tie would mend.
///
/// # Panics
///
/// Where it is not so.
#[track_caller]
pub fn best(e: &Elevation) -> Plan {
    let plan = sound(e);
    for f in breaches(&plan).into_iter().filter(|f| matches!(f.rule, Rule::Coverage | Rule::EdgeTies)) {
        assert!(!could_be_served(e, f), "a place would do: {}\n{}", f.message, as_file(e));
    }
    plan
}

/// Asserts that one breach says all of this.
///
/// # Panics
///
/// Where it is not so.
#[track_caller]
pub fn says(plan: &Plan, rule: Rule, words: &[&str]) {
    let all = breaches(plan);
    let found = all.iter().any(|f| f.rule == rule && words.iter().all(|w| f.message.contains(w)));
    assert!(found, "no breach of {rule:?} says {words:?}: {all:#?}");
}
