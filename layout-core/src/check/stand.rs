//! How each tie stands to the masonry, measured once for all rules.

use crate::elevation::Point;
use crate::many::each;
use crate::masonry::Masonry;
use crate::rules::RuleSet;

/// How a tie stands to the masonry.
#[derive(Clone, Copy)]
pub(super) struct Stand {
    /// Whether it holds anything: see [`Masonry::holds`].
    pub holds: bool,
    /// Whether it is in the masonry or on its boundary.
    pub inside: bool,
    /// The nearest piece of boundary closer than the edge distance, mm, with its number.
    pub nearest: Option<(f64, u32)>,
}

/// How each of the ties stands.
pub(super) fn of(masonry: &Masonry, rules: &RuleSet, ties: &[Point]) -> Vec<Stand> {
    let limit = rules.edge_distance.value.max(Masonry::ON_BOUNDARY);
    each(ties.len(), |i| {
        let nearest = masonry.boundary.nearest_within(ties[i], limit);
        let inside = masonry.contains(ties[i]);
        Stand { holds: inside && nearest.is_none_or(|n| n.0 >= Masonry::ON_BOUNDARY), inside, nearest }
    })
}
