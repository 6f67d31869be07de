//! Rule 5: ties keep clear of keep-outs.

use super::place::{mm, tie};
use super::{Finding, Rule, Severity, Subject};
use crate::elevation::{KeepOut, Point, shape_ring};
use crate::fields::Fields;
use crate::masonry::{BoundaryKind, BoundarySegment};
use crate::source::{Source, Sureness};
use crate::units::{DISTANCE_TOLERANCE, EPSILON};

/// The keep-outs as rings, found by place.
pub(super) struct KeepOutRings<'a> {
    keep_outs: &'a [KeepOut],
    rings: Vec<Ring>,
    fields: Fields,
}

struct Ring {
    points: Vec<Point>,
    /// Bounds with the clearance about it.
    lo: Point,
    hi: Point,
}

impl<'a> KeepOutRings<'a> {
    pub(super) fn new(keep_outs: &'a [KeepOut]) -> Self {
        let ring = |k: &KeepOut| {
            let points = shape_ring(&k.shape);
            let (mut lo, mut hi) = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
            for p in &points {
                lo = (lo.0.min(p.0 - k.clearance), lo.1.min(p.1 - k.clearance));
                hi = (hi.0.max(p.0 + k.clearance), hi.1.max(p.1 + k.clearance));
            }
            Ring { points, lo, hi }
        };
        let rings: Vec<Ring> = keep_outs.iter().map(ring).collect();
        let fields = Fields::new(rings.len(), 500.0, |i| (rings[i].lo, rings[i].hi), |_, _, _| true);
        Self { keep_outs, rings, fields }
    }

    /// The keep-out that a place is too close to, by how much, mm, and in words.
    pub(super) fn too_near(&self, p: Point) -> Option<(f64, String)> {
        let lacks =
            |i: u32| self.keep_outs[i as usize].clearance - clear_of(&self.rings[i as usize].points, p);
        self.fields
            .near(p, p)
            .map(|i| (lacks(i), i))
            .filter(|(lacks, _)| *lacks > DISTANCE_TOLERANCE + EPSILON)
            .max_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
            .map(|(lacks, i)| (lacks, words(&self.keep_outs[i as usize])))
    }
}

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    for (k, ring) in s.keep_outs.keep_outs.iter().zip(&s.keep_outs.rings) {
        let mut close: Vec<usize> = s.index.within(ring.lo, ring.hi).collect();
        close.sort_unstable();
        for i in close {
            let p = s.ties[i];
            let d = clear_of(&ring.points, p);
            if d >= k.clearance - DISTANCE_TOLERANCE - EPSILON {
                continue;
            }
            let name = words(k);
            let where_to =
                if d < 0.0 { format!("stands in {name}") } else { format!("is {} mm from {name}", mm(d)) };
            out.push(Finding {
                rule: Rule::KeepOut,
                severity: Severity::Breach,
                message: format!(
                    "{} {where_to}; it has to be clear of it by {} mm: move it {} mm further out",
                    tie(p),
                    mm(k.clearance),
                    mm(k.clearance - d)
                ),
                at: p,
                measured: Some(d),
                required: Some(k.clearance),
                source: Source::new("the keep-out as drawn", Sureness::Stated),
            });
        }
    }
}

fn words(k: &KeepOut) -> String {
    if k.name.is_empty() { "the keep-out".to_owned() } else { format!("the keep-out '{}'", k.name) }
}

/// Distance of a point outside a ring; below 0 inside it, mm.
pub(super) fn clear_of(ring: &[Point], p: Point) -> f64 {
    let n = ring.len();
    let mut inside = false;
    let mut nearest = f64::INFINITY;
    for i in 0..n {
        let side = BoundarySegment { a: ring[i], b: ring[(i + 1) % n], kind: BoundaryKind::Opening };
        nearest = nearest.min(side.distance(p));
        if (side.a.1 > p.1) != (side.b.1 > p.1) && p.0 < side.x_at(p.1) {
            inside = !inside;
        }
    }
    if inside { -nearest } else { nearest }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, passes, wall};
    use super::*;
    use crate::elevation::Shape;

    fn with_meter() -> crate::elevation::Elevation {
        let mut e = wall();
        let shape = Shape::Rect { x: 600.0, y: 300.0, w: 450.0, h: 300.0 };
        e.keep_outs.push(KeepOut { name: "Meter".into(), shape, clearance: 100.0 });
        e
    }

    #[test]
    fn clear_of_it_passes() {
        passes(Rule::KeepOut, &with_meter(), &[(500.0, 450.0), (1151.0, 450.0), (825.0, 225.0 - 25.0)]);
    }

    #[test]
    fn near_it_and_in_it_are_found() {
        assert_eq!(broken(Rule::KeepOut, &with_meter(), &[(540.0, 450.0)]).measured, Some(60.0));
        assert_eq!(broken(Rule::KeepOut, &with_meter(), &[(700.0, 450.0)]).measured, Some(-100.0));
    }

    #[test]
    fn a_clearance_of_nothing_forbids_the_inside_alone() {
        let mut e = with_meter();
        e.keep_outs[0].clearance = 0.0;
        passes(Rule::KeepOut, &e, &[(600.0, 450.0), (595.0, 450.0)]);
        broken(Rule::KeepOut, &e, &[(700.0, 450.0)]);
    }
}
