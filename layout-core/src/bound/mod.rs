//! How few ties any layout can have: a lower bound, with its argument.
//!
//! A layout without breach serves some point of every square of 4 mm in the masonry (rule 1 ignores only
//! pieces into which no such square fits), and some point of every stretch of an edge longer than the
//! tolerance (rule 3). The tie that does so stands on a course, no further off than half the spacing; so it
//! stands within a known rectangle. Duties whose rectangles have no such place in common need a tie each.
//! So the number of duties in any set of them, no two of which have a place in common, is a lower bound,
//! and so is the number of ties that rule 2 asks for.
//!
//! The set is chosen greedily: first edges, each from its lower end in steps a hair over the spacing
//! ([`edges`]); then squares, from below, each level from the left ([`squares`]). A larger set might exist; a smaller
//! layout cannot. Pinned ties and where ties may not stand are left out of account, which only makes the
//! bound lower.

mod duty;
mod edges;
mod squares;
mod taken;

use crate::elevation::Elevation;
use crate::masonry::{Masonry, fewest_ties};
use crate::rules::RuleSet;

/// A hair more than a distance, so that what touches counts as in common, mm.
const HAIR: f64 = 0.01;

/// The fewest ties any layout of an elevation without breach can have; at least that many, not more.
#[must_use]
pub fn lower_bound(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> usize {
    let wall = squares::Wall::new(elevation, masonry, rules);
    let of_edges = edges::duties(elevation, masonry, rules);
    let chosen = if of_edges.is_empty() {
        wall.squares_beside(&[])
    } else {
        let beside = || of_edges.len() + wall.squares_beside(&of_edges);
        let (alone, beside) = rayon::join(|| wall.squares_beside(&[]), beside);
        alone.max(beside)
    };
    chosen.max(fewest_ties(masonry, elevation, rules))
}
