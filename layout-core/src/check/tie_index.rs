//! Finding the ties near a place.

use crate::elevation::Point;
use crate::fields::Fields;

/// Side of a field, mm: about the reach of the rules.
const FIELD: f64 = 500.0;

/// An index of points by place.
pub(super) struct TieIndex<'a> {
    points: &'a [Point],
    fields: Fields,
}

impl<'a> TieIndex<'a> {
    pub(super) fn new(points: &'a [Point]) -> Self {
        let fields = Fields::new(points.len(), FIELD, |i| (points[i], points[i]), |_, _, _| true);
        Self { points, fields }
    }

    /// Numbers of the ties in a box, its sides included; none twice.
    pub(super) fn within(&self, lo: Point, hi: Point) -> impl Iterator<Item = usize> + '_ {
        self.fields.near(lo, hi).map(|i| i as usize).filter(move |&i| {
            let p = self.points[i];
            lo.0 <= p.0 && p.0 <= hi.0 && lo.1 <= p.1 && p.1 <= hi.1
        })
    }
}
