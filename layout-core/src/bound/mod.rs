//! How few ties any layout can have: a lower bound, with its argument.
//!
//! A layout without breach serves some point of every square of 4 mm in the masonry (rule 1 ignores only
//! pieces into which no such square fits), and some point of every stretch of an edge longer than the
//! tolerance (rule 3). The tie that does so stands on a course, no further off than half the spacing; for an
//! edge, no further from it than counts and on its own side; and in any case clear of boundaries, keep-outs
//! and old ties (rules 4, 5, 7, 8: [`rows`]). So each of these duties has known places for its tie, all
//! tolerances allowed for. Duties that have no such place in common need a tie each. So the number of duties
//! in any set of them, no two of which have a place in common, is a lower bound, and so is the number of ties
//! that rule 2 asks for.
//!
//! The set is chosen greedily: first edges, each from its lower end ([`edges`]); then squares, from below,
//! each level from the left ([`squares`]). It is chosen more than once, with places told exactly or roughly,
//! and of squares alone; the largest counts. A larger set might exist; a smaller layout
//! cannot. Pinned ties, the distance between ties and what a tie cannot see are left out of account, which only
//! makes the bound lower.

mod duty;
mod edges;
mod rows;
mod squares;
mod taken;

use crate::elevation::Elevation;
use crate::masonry::{Masonry, fewest_ties};
use crate::rules::RuleSet;
use duty::Places;
use rows::Rows;
use squares::Wall;
use taken::Taken;

/// A hair more than a distance, so that what touches counts as in common, mm.
const HAIR: f64 = 0.01;

/// With more pieces of boundary than this a wall is so large that it is looked at roughly alone.
const LARGE: usize = 20_000;

/// The fewest ties any layout of an elevation without breach can have; at least that many, not more.
#[must_use]
pub fn lower_bound(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> usize {
    let wall = Wall::new(elevation, masonry, rules);
    let none = || Taken::new(elevation, masonry, rules);
    let large = masonry.boundary.segments.len() > LARGE;
    let rows = if large { Rows::ANY } else { Rows::new(elevation, masonry, rules) };
    let mut edges = edges::choose(elevation, masonry, rules, &rows);
    // Neither is always the better: what is told roughly keeps squares further apart, and in line.
    let roughly = || {
        let mut taken = none();
        taken.push(&edges.rough);
        let squares = wall.squares_beside(&mut taken, &Rows::ANY);
        edges.count + squares + beside(&edges.level, &mut taken)
    };
    let alone = || if edges.count == 0 { 0 } else { wall.squares_beside(&mut none(), &Rows::ANY) };
    let chosen = if large {
        roughly()
    } else {
        let (rough, alone) = rayon::join(roughly, alone);
        let squares = wall.squares_beside(&mut edges.taken, &rows);
        let exact = edges.count + squares + beside(&edges.level, &mut edges.taken);
        rough.max(alone).max(exact)
    };
    chosen.max(fewest_ties(masonry, elevation, rules))
}

/// How many of some duties have no place that is taken, nor any in common with each other; takes theirs.
fn beside(duties: &[Vec<Places>], taken: &mut Taken) -> usize {
    let mut count = 0;
    for places in duties.iter().filter(|p| !p.is_empty()) {
        if taken.taken_up_to(places).is_none() {
            taken.push(places);
            count += 1;
        }
    }
    count
}
