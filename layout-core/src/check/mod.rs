//! The checker: measures a layout again from scratch, one rule a file.
//!
//! It knows nothing of how the layout was made. Each rule is a function from the elevation, its masonry
//! and the ties to findings; the geometry is exact, not sampled. Distances pass within
//! [`crate::units::DISTANCE_TOLERANCE`], heights within [`crate::units::COURSING_TOLERANCE`].

mod areas;
mod coursing;
mod coverage;
mod density;
mod edge_distance;
mod edge_ties;
mod existing_ties;
mod finding;
mod gaps;
mod keep_out;
mod notes;
mod place;
mod reason;
mod served;
mod spacing_between;
mod stand;
#[cfg(test)]
mod testing;
mod tie_index;

pub use areas::{Areas, Trapezoid, areas};
pub use finding::{Finding, Rule, Severity};
pub use notes::notes;

use crate::demand::{self, Part};
use crate::elevation::{Elevation, Point};
use crate::masonry::{EdgeKind, Masonry};
use crate::rules::RuleSet;
use keep_out::KeepOutRings;
use stand::Stand;
use tie_index::TieIndex;

/// What every rule looks at.
struct Subject<'a> {
    elevation: &'a Elevation,
    masonry: &'a Masonry,
    rules: &'a RuleSet,
    /// The new ties, pinned ones among them, mm.
    ties: &'a [Point],
    /// Parts of the elevation with a spacing of their own; one where the rules' spacing holds all over.
    parts: Vec<Part>,
    /// How each tie stands to the masonry.
    stands: Vec<Stand>,
    index: TieIndex<'a>,
    /// The old ties, mm.
    old_ties: &'a [Point],
    old_index: TieIndex<'a>,
    keep_outs: KeepOutRings<'a>,
}

/// The ties that count for an edge.
pub(crate) struct Counted {
    /// What the edge is.
    pub kind: EdgeKind,
    /// Number of the tie, and its distance from the edge, mm.
    pub ties: Vec<(u32, f64)>,
}

/// Everything wrong with the new ties of an elevation, rule by rule.
#[must_use]
pub fn check(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet, ties: &[Point]) -> Vec<Finding> {
    examine(elevation, masonry, rules, ties, |_| ()).0
}

/// As [`check`], with what comes of the ties that count for each edge.
pub(crate) fn examine<T: Send>(
    elevation: &Elevation,
    masonry: &Masonry,
    rules: &RuleSet,
    ties: &[Point],
    of_counted: impl FnOnce(&[Counted]) -> T + Send,
) -> (Vec<Finding>, T) {
    let old_ties: Vec<Point> = elevation.existing_ties.iter().map(|t| t.at).collect();
    let subject = subject(elevation, masonry, rules, ties, &old_ties);
    let served = || {
        let mut out = Vec::new();
        coverage::check(&subject, &mut out);
        density::check(&subject, &mut out);
        out
    };
    let edges = || {
        let mut out = Vec::new();
        let counted = edge_ties::check(&subject, &mut out);
        (out, of_counted(&counted))
    };
    let clear = || {
        let mut out = Vec::new();
        edge_distance::check(&subject, &mut out);
        keep_out::check(&subject, &mut out);
        spacing_between::check(&subject, &mut out);
        existing_ties::check(&subject, &mut out);
        coursing::check(&subject, &mut out);
        out
    };
    let (mut out, ((of_edges, counted), of_ties)) = rayon::join(served, || rayon::join(edges, clear));
    out.extend(of_edges);
    out.extend(of_ties);
    (out, counted)
}

/// What the rules look at, for these ties.
fn subject<'a>(
    elevation: &'a Elevation,
    masonry: &'a Masonry,
    rules: &'a RuleSet,
    ties: &'a [Point],
    old_ties: &'a [Point],
) -> Subject<'a> {
    Subject {
        elevation,
        masonry,
        rules,
        ties,
        stands: stand::of(masonry, rules, ties),
        index: TieIndex::new(ties),
        old_index: TieIndex::new(old_ties),
        old_ties,
        keep_outs: KeepOutRings::new(&elevation.keep_outs),
        parts: demand::parts(elevation, rules),
    }
}
