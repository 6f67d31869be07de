//! Where on a height a tie may stand: on masonry, clear of its boundary, of keep-outs and locked areas, and
//! of old ties.

use crate::elevation::{Elevation, Point, shape_ring};
use crate::masonry::{BoundaryKind, BoundarySegment, Intervals, Masonry};
use crate::rules::RuleSet;
use crate::units::DISTANCE_TOLERANCE;

/// Distances are kept to within this, mm: a pier of exactly twice the edge distance still takes a tie.
const HAIR: f64 = 1e-4;

/// A tie on the very boundary holds nothing: where no edge distance is asked for, this much is kept, mm.
const OFF_BOUNDARY: f64 = 0.5;

/// What ties keep clear of.
pub(super) struct Standing<'a> {
    masonry: &'a Masonry,
    edge_distance: f64,
    keep_outs: Vec<KeepOutRing>,
    old_ties: Vec<Point>,
    existing_clearance: f64,
}

struct KeepOutRing {
    sides: Vec<BoundarySegment>,
    clearance: f64,
    low: f64,
    high: f64,
}

impl<'a> Standing<'a> {
    pub(super) fn new(elevation: &Elevation, masonry: &'a Masonry, rules: &RuleSet) -> Self {
        let keep_outs = elevation
            .keep_outs
            .iter()
            .map(|k| (&k.shape, k.clearance))
            // No tie is added in a locked area, nor on its line, where it would count as in it.
            .chain(elevation.locked.iter().map(|l| (&l.shape, DISTANCE_TOLERANCE)))
            .map(|(shape, clearance)| {
                let ring = shape_ring(shape);
                let n = ring.len();
                let sides: Vec<BoundarySegment> = (0..n)
                    .map(|i| BoundarySegment {
                        a: ring[i],
                        b: ring[(i + 1) % n],
                        kind: BoundaryKind::Opening,
                    })
                    .collect();
                let low = ring.iter().map(|p| p.1).fold(f64::MAX, f64::min) - clearance;
                let high = ring.iter().map(|p| p.1).fold(f64::MIN, f64::max) + clearance;
                KeepOutRing { sides, clearance, low, high }
            })
            .collect();
        let mut old_ties: Vec<Point> = elevation.existing_ties.iter().map(|t| t.at).collect();
        old_ties.sort_by(|p, q| p.1.total_cmp(&q.1));
        Self {
            masonry,
            edge_distance: (rules.edge_distance.value - HAIR).max(OFF_BOUNDARY),
            keep_outs,
            old_ties,
            existing_clearance: rules.existing_clearance.value,
        }
    }

    /// Where a tie may stand at a height, whatever other new ties there are.
    pub(super) fn at(&self, y: f64) -> Intervals {
        self.at_beside(y, &mut Vec::new())
    }

    /// As [`Self::at`], with a list to use.
    pub(super) fn at_beside(&self, y: f64, taken: &mut Vec<(f64, f64)>) -> Intervals {
        let wall = self.masonry.bays.cross_section(y, f64::NEG_INFINITY, f64::INFINITY);
        let (Some(first), Some(last)) = (wall.0.first(), wall.0.last()) else { return wall };
        let (left, right) = (first.0, last.1);
        taken.clear();
        let (d, boundary) = (self.edge_distance, &self.masonry.boundary);
        for row in boundary.near_by_row((left - d, y - d), (right + d, y + d)) {
            for &i in row {
                if let Some(hole) = reach_at_height(&boundary.segments[i as usize], d, y)
                    && taken.last() != Some(&hole)
                {
                    taken.push(hole);
                }
            }
        }
        for k in self.keep_outs.iter().filter(|k| k.low < y && y < k.high) {
            taken.extend(inside_at_height(&k.sides, y));
            taken.extend(k.sides.iter().filter_map(|s| reach_at_height(s, k.clearance, y)));
        }
        let r = self.existing_clearance;
        let from = self.old_ties.partition_point(|p| p.1 <= y - r);
        for p in self.old_ties[from..].iter().take_while(|p| p.1 < y + r) {
            let half = (r * r - (p.1 - y) * (p.1 - y)).max(0.0).sqrt();
            taken.push((p.0 - half, p.0 + half));
        }
        wall.without(taken)
    }
}

/// The open interval of x at height `y` that is closer to a piece than `d`, mm.
pub(super) fn reach_at_height(s: &BoundarySegment, d: f64, y: f64) -> Option<(f64, f64)> {
    let (low, high) = s.bounds();
    let beyond = (low.1 - y).max(y - high.1).max(0.0);
    if d <= 0.0 || beyond >= d {
        return None;
    }
    if low.0 == high.0 || low.1 == high.1 {
        // A level or an upright piece: the same all along it, less beyond its ends.
        let half = if beyond > 0.0 { (d * d - beyond * beyond).sqrt() } else { d };
        return Some((low.0 - half, high.0 + half));
    }
    let mut lo = f64::INFINITY;
    let mut hi = f64::NEG_INFINITY;
    let mut take = |x: f64| {
        lo = lo.min(x);
        hi = hi.max(x);
    };
    for c in [s.a, s.b] {
        let dy = y - c.1;
        if dy.abs() < d {
            let half = (d * d - dy * dy).sqrt();
            take(c.0 - half);
            take(c.0 + half);
        }
    }
    let length = s.length();
    if length > 0.0 {
        // The two long sides of the band of half-width d about the piece.
        let (nx, ny) = (-(s.b.1 - s.a.1) / length * d, (s.b.0 - s.a.0) / length * d);
        for (ox, oy) in [(nx, ny), (-nx, -ny)] {
            let (a, b) = ((s.a.0 + ox, s.a.1 + oy), (s.b.0 + ox, s.b.1 + oy));
            if (a.1 <= y && y <= b.1) || (b.1 <= y && y <= a.1) {
                let t = if (b.1 - a.1).abs() > 0.0 { (y - a.1) / (b.1 - a.1) } else { continue };
                take(a.0 + (b.0 - a.0) * t);
            }
        }
    }
    (lo < hi).then_some((lo, hi))
}

/// The inside of a closed ring at a height, by the even-odd rule.
fn inside_at_height(sides: &[BoundarySegment], y: f64) -> Vec<(f64, f64)> {
    let mut xs: Vec<f64> = sides.iter().filter(|s| (s.a.1 > y) != (s.b.1 > y)).map(|s| s.x_at(y)).collect();
    xs.sort_by(f64::total_cmp);
    xs.chunks_exact(2).map(|c| (c[0], c[1])).collect()
}
