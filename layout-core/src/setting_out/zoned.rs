//! Parts of an elevation with a closer spacing of their own.
//!
//! The closest spacing is set out first, over the whole wall; of those ties the ones stay that serve the parts
//! with that spacing: in them, or within half the spacing of them. They stand like pinned ties while the next wider
//! spacing is set out, and so on to the rules' own. A point of a part keeps the tie that served it, so what each
//! pass met stays met; ties beyond the limit of a part serve both sides of it.

use super::{Placed, automatic};
use crate::demand::{self, Part};
use crate::elevation::{Elevation, Point};
use crate::masonry::Masonry;
use crate::rules::{Density, RuleSet};
use std::collections::BTreeSet;

/// Sets out every spacing in turn, the closest first.
pub(super) fn run(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet, tile_from: f64) -> Vec<Placed> {
    let parts = demand::parts(elevation, rules);
    let closer = spacings(&parts, rules);
    if closer.is_empty() {
        return automatic(elevation, masonry, rules, tile_from);
    }
    let mut standing = elevation.clone();
    for (h, v) in closer {
        let mut here = rules.clone();
        (here.horizontal.value, here.vertical.value) = (h, v);
        // The number for the whole wall is made up in the last pass.
        here.density.value = Density::Equivalent(1e6 / (h * v));
        for placed in automatic(&standing, masonry, &here, tile_from) {
            if !placed.pinned && parts.iter().any(|p| serves(p, (h, v), placed)) {
                standing.pinned.push(placed.at);
            }
        }
    }
    let mut all = automatic(&standing, masonry, rules, tile_from);
    let fixed: BTreeSet<(u64, u64)> = elevation.fixed_ties().into_iter().map(bits).collect();
    for placed in &mut all {
        placed.pinned = placed.pinned && fixed.contains(&bits(placed.at));
    }
    all
}

/// A point as a key: the very same figures.
const fn bits((x, y): Point) -> (u64, u64) {
    (x.to_bits(), y.to_bits())
}

/// The spacings closer than the rules' own, closest first.
fn spacings(parts: &[Part], rules: &RuleSet) -> Vec<(f64, f64)> {
    let own = (rules.horizontal.value, rules.vertical.value);
    let mut all: Vec<(f64, f64)> =
        parts.iter().map(|p| (p.horizontal, p.vertical)).filter(|s| *s != own).collect();
    all.sort_by(|a, b| (a.0 * a.1).total_cmp(&(b.0 * b.1)).then(a.0.total_cmp(&b.0)));
    all.dedup();
    all
}

/// Whether a tie serves a part of this spacing.
fn serves(part: &Part, (h, v): (f64, f64), tie: Placed) -> bool {
    let near = |at: f64, (from, to): (f64, f64), reach: f64| at > from - reach && at < to + reach;
    (part.horizontal, part.vertical) == (h, v)
        && near(tie.at.0, part.x, h / 2.0)
        && near(tie.at.1, part.y, v / 2.0)
}
