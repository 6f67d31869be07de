//! The checker: measures a layout again from scratch, one rule a file.
//!
//! It knows nothing of how the layout was made. Each rule is a function from the elevation, its masonry
//! and the ties to findings; the geometry is exact, not sampled. Distances pass within
//! [`crate::units::DISTANCE_TOLERANCE`], heights within [`crate::units::COURSING_TOLERANCE`].

mod coursing;
mod coverage;
mod density;
mod edge_distance;
mod edge_ties;
mod existing_ties;
mod finding;
mod keep_out;
mod notes;
mod place;
mod reason;
mod spacing_between;
#[cfg(test)]
mod testing;
mod tie_index;

pub use finding::{Finding, Rule, Severity};
pub use notes::notes;

use crate::demand::{self, Part};
use crate::elevation::{Elevation, Point};
use crate::masonry::Masonry;
use crate::rules::RuleSet;
use tie_index::TieIndex;

/// What every rule looks at.
struct Subject<'a> {
    elevation: &'a Elevation,
    masonry: &'a Masonry,
    rules: &'a RuleSet,
    /// The new ties, pinned ones among them, mm.
    ties: &'a [Point],
    index: TieIndex,
    /// Parts of the elevation with a spacing of their own; one where the rules' spacing holds all over.
    parts: Vec<Part>,
}

/// Everything wrong with the new ties of an elevation, rule by rule.
#[must_use]
pub fn check(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet, ties: &[Point]) -> Vec<Finding> {
    let parts = demand::parts(elevation, rules);
    let subject = Subject { elevation, masonry, rules, ties, index: TieIndex::new(ties), parts };
    let mut out = Vec::new();
    coverage::check(&subject, &mut out);
    density::check(&subject, &mut out);
    edge_ties::check(&subject, &mut out);
    edge_distance::check(&subject, &mut out);
    keep_out::check(&subject, &mut out);
    spacing_between::check(&subject, &mut out);
    existing_ties::check(&subject, &mut out);
    coursing::check(&subject, &mut out);
    out
}
