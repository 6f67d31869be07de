//! What the placer makes, the checker passes: random elevations of every family on which a compliant
//! layout exists, from fixed seeds.

use layout_core::check::Severity;
use layout_core::plan;
use tiewright_tests::feasible::could_be_served;
use tiewright_tests::walls::{FAMILIES, wall};

/// Elevations of each family.
const OF_EACH: u64 = 220;

#[test]
fn a_layout_without_breach_is_found_on_every_wall_that_has_one() {
    let mut failures = Vec::new();
    let (mut feasible, mut impossible) = (0, 0);
    for family in FAMILIES {
        for seed in 0..OF_EACH {
            let elevation = wall(family, seed);
            let plan =
                plan(&elevation).unwrap_or_else(|faults| panic!("{family:?} {seed} is no wall: {faults:?}"));
            let breaches: Vec<_> = plan.findings.iter().filter(|f| f.severity == Severity::Breach).collect();
            if breaches.is_empty() {
                feasible += 1;
            } else if breaches.iter().any(|f| !could_be_served(&elevation, f)) {
                // Somewhere on this wall no place for a tie would do.
                impossible += 1;
                if std::env::var_os("SHOW_IMPOSSIBLE").is_some() {
                    println!("{family:?} {seed}: {}", breaches[0].message);
                }
            } else {
                failures.push(format!("{family:?} {seed}: {}: {}", breaches.len(), breaches[0].message));
            }
        }
    }
    assert!(failures.is_empty(), "{} walls:\n{}", failures.len(), failures.join("\n"));
    assert!(feasible >= 2000, "only {feasible} walls were set out, {impossible} cannot be");
}
