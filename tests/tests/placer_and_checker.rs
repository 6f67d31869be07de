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
    let mut ratios = Vec::new();
    for family in FAMILIES {
        for seed in 0..OF_EACH {
            let elevation = wall(family, seed);
            let plan =
                plan(&elevation).unwrap_or_else(|faults| panic!("{family:?} {seed} is no wall: {faults:?}"));
            let breaches: Vec<_> = plan.findings.iter().filter(|f| f.severity == Severity::Breach).collect();
            if breaches.is_empty() {
                feasible += 1;
                if plan.lower_bound > plan.ties.len() {
                    let (bound, ties) = (plan.lower_bound, plan.ties.len());
                    failures.push(format!("{family:?} {seed}: {ties} ties, fewer than the bound of {bound}"));
                }
                if elevation.automatic {
                    ratios.push(plan.ties.len() as f64 / plan.lower_bound as f64);
                }
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
    // How near the layouts come to what is provably the fewest: half of them within a tenth.
    ratios.sort_by(f64::total_cmp);
    let median = ratios[ratios.len() / 2];
    println!("ties to the bound: median {median:.3}, 90th percentile {:.3}", ratios[ratios.len() * 9 / 10]);
    assert!(median <= 1.1, "median {median}");
}
