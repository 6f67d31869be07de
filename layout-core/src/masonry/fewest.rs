//! The fewest ties that the rules ask for by number.

use super::{Masonry, edges};
use crate::elevation::Elevation;
use crate::rules::RuleSet;
use crate::units::m2;

/// Fewest ties on an elevation, where the set has a minimum of its own, else 0: so many for the area, and
/// where edge ties come on top, as many more as [`edge_ties_on_top`] counts.
#[must_use]
pub fn fewest_ties(masonry: &Masonry, elevation: &Elevation, rules: &RuleSet) -> usize {
    rules.fewest_for(m2(masonry.net_area)) + edge_ties_on_top(masonry, elevation, rules)
}

/// Ties that edges add to the minimum for the area: edge by edge, length by spacing, rounded up. 0 where the
/// set counts edge ties towards the area.
#[must_use]
pub fn edge_ties_on_top(masonry: &Masonry, elevation: &Elevation, rules: &RuleSet) -> usize {
    let Some(rule) = rules.edges.as_ref().filter(|_| rules.density.value.edges_on_top()) else { return 0 };
    // A hair over a whole number is that number: 3000 mm at a third of a metre are 9, not 10.
    let whole = |v: f64| (v - 1e-6).ceil().max(0.0) as usize;
    edges(masonry, elevation, rule).iter().map(|e| whole(e.length() / e.spacing)).sum()
}
