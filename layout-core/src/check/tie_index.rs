//! Ties in square fields, for finding those near a place.

use crate::elevation::Point;

/// Side of a field, mm: about the reach of the rules.
const FIELD: f64 = 500.0;

/// An index of ties by place.
pub(super) struct TieIndex {
    /// Field, then number of the tie; sorted.
    entries: Vec<((i64, i64), u32)>,
    points: Vec<Point>,
}

fn field(v: f64) -> i64 {
    (v / FIELD).floor() as i64
}

impl TieIndex {
    pub(super) fn new(ties: &[Point]) -> Self {
        let mut entries: Vec<((i64, i64), u32)> =
            ties.iter().enumerate().map(|(i, p)| ((field(p.1), field(p.0)), i as u32)).collect();
        entries.sort_unstable();
        Self { entries, points: ties.to_vec() }
    }

    /// Numbers of the ties in a box, its sides included.
    pub(super) fn within(&self, lo: Point, hi: Point) -> impl Iterator<Item = usize> + '_ {
        (field(lo.1)..=field(hi.1))
            .flat_map(move |j| {
                let from = self.entries.partition_point(|e| e.0 < (j, field(lo.0)));
                self.entries[from..].iter().take_while(move |e| e.0 <= (j, field(hi.0)))
            })
            .map(|e| e.1 as usize)
            .filter(move |&i| {
                let p = self.points[i];
                lo.0 <= p.0 && p.0 <= hi.0 && lo.1 <= p.1 && p.1 <= hi.1
            })
    }
}
