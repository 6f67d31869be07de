//! From the drawing to the masonry: openings cut out, joints clipped, the boundary put together.

use geo::{BooleanOps, Coord, LineString, MultiPolygon, Polygon, Winding, unary_union};

use super::boundary::{Boundary, BoundaryKind, BoundarySegment};
use super::strips::Strips;
use super::{Intervals, Masonry};
use crate::elevation::{Elevation, Point, shape_ring};
use crate::units::EPSILON;

/// Results of the boolean operations are rounded to this, mm, so that heights that were drawn alike
/// stay alike.
const SNAP: f64 = 1e-4;

/// A joint drawn to end this close to a side, mm, ends at it.
const JOINT_END: f64 = 1.0;

impl Masonry {
    /// The masonry of a usable elevation (see [`crate::elevation::validate`]).
    ///
    /// Parts of openings and joints that lie off the wall are left out.
    #[must_use]
    pub fn new(elevation: &Elevation) -> Self {
        let outline = polygon(&elevation.outline);
        let holes: Vec<Polygon<f64>> =
            elevation.openings.iter().map(|o| polygon(&shape_ring(&o.shape))).collect();
        let outer = MultiPolygon::new(vec![outline]);
        let cut = if holes.is_empty() { outer } else { outer.difference(&unary_union(&holes)) };
        let rings = rings(&cut);
        let area: f64 = rings.iter().map(|r| signed_area(r)).sum();
        let mut segments = sides(&rings, elevation);
        add_joints(&mut segments, elevation);
        let strips = Strips::new(&segments, &[]);
        Self {
            gross_area: signed_area(&elevation.outline).abs(),
            net_area: area,
            rings,
            boundary: Boundary::new(segments),
            strips,
        }
    }
}

fn polygon(ring: &[Point]) -> Polygon<f64> {
    let mut line = LineString::from(ring.to_vec());
    line.close();
    let mut p = Polygon::new(line, vec![]);
    p.exterior_mut(Winding::make_ccw_winding);
    p
}

fn rings(cut: &MultiPolygon<f64>) -> Vec<Vec<Point>> {
    let mut out = Vec::new();
    for p in cut {
        let mut outer = p.exterior().clone();
        outer.make_ccw_winding();
        out.push(clean(&outer));
        for hole in p.interiors() {
            let mut hole = hole.clone();
            hole.make_cw_winding();
            out.push(clean(&hole));
        }
    }
    out.retain(|r| r.len() >= 3);
    out
}

fn clean(line: &LineString<f64>) -> Vec<Point> {
    let snap = |v: f64| {
        let r = (v / SNAP).round() * SNAP;
        // Whole and half millimetres come back exactly.
        let h = (r * 2.0).round() / 2.0;
        if (r - h).abs() < SNAP { h } else { r }
    };
    let mut ring: Vec<Point> = Vec::with_capacity(line.0.len());
    for &Coord { x, y } in &line.0 {
        let p = (snap(x), snap(y));
        if ring.last() != Some(&p) {
            ring.push(p);
        }
    }
    while ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    ring
}

fn signed_area(ring: &[Point]) -> f64 {
    let Some(&o) = ring.first() else { return 0.0 };
    let n = ring.len();
    (0..n)
        .map(|i| (ring[i], ring[(i + 1) % n]))
        .map(|(a, b)| (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0))
        .sum::<f64>()
        / 2.0
}

/// The sides of all rings, each told whether it lies on a side of the outline.
fn sides(rings: &[Vec<Point>], elevation: &Elevation) -> Vec<BoundarySegment> {
    let n = elevation.outline.len();
    let outline: Vec<BoundarySegment> = (0..n)
        .map(|i| BoundarySegment {
            a: elevation.outline[i],
            b: elevation.outline[(i + 1) % n],
            kind: BoundaryKind::Side(i),
        })
        .collect();
    let index = Boundary::new(outline);
    let mut out = Vec::new();
    for ring in rings {
        for (i, &a) in ring.iter().enumerate() {
            let whole = BoundarySegment { a, b: ring[(i + 1) % ring.len()], kind: BoundaryKind::Opening };
            for piece in split_at_corners(whole, &index) {
                let middle = (f64::midpoint(piece.a.0, piece.b.0), f64::midpoint(piece.a.1, piece.b.1));
                let kind = index
                    .nearest_within(middle, 0.01)
                    .map(|(_, i)| index.segments[i as usize])
                    .filter(|s| s.distance(piece.a) < 0.01 && s.distance(piece.b) < 0.01)
                    .map_or(BoundaryKind::Opening, |s| s.kind);
                out.push(BoundarySegment { kind, ..piece });
            }
        }
    }
    out
}

/// A side cut at the corners of the outline that lie on it: two sides in one line are still two.
fn split_at_corners(whole: BoundarySegment, outline: &Boundary) -> Vec<BoundarySegment> {
    let (lo, hi) = (
        (whole.a.0.min(whole.b.0) - 0.01, whole.a.1.min(whole.b.1) - 0.01),
        (whole.a.0.max(whole.b.0) + 0.01, whole.a.1.max(whole.b.1) + 0.01),
    );
    let from_start = |p: Point| (p.0 - whole.a.0).hypot(p.1 - whole.a.1);
    let mut corners: Vec<Point> = outline
        .near(lo, hi)
        .map(|i| outline.segments[i as usize].a)
        .filter(|&p| whole.distance(p) < 1e-3 && from_start(p) > 0.01)
        .filter(|p| (p.0 - whole.b.0).hypot(p.1 - whole.b.1) > 0.01)
        .collect();
    corners.sort_by(|p, q| from_start(*p).total_cmp(&from_start(*q)));
    corners.dedup_by(|p, q| (from_start(*p) - from_start(*q)).abs() < 0.01);
    let mut out = Vec::with_capacity(corners.len() + 1);
    let mut a = whole.a;
    for b in corners.into_iter().chain([whole.b]) {
        out.push(BoundarySegment { a, b, ..whole });
        a = b;
    }
    out
}

/// Adds both faces of every joint, as far as it lies inside the masonry; splits the sides it ends at.
fn add_joints(segments: &mut Vec<BoundarySegment>, elevation: &Elevation) {
    let mut done: Vec<(f64, f64, f64)> = Vec::new();
    for (number, joint) in elevation.movement_joints.iter().enumerate() {
        let mut inside = clipped(&inside_on_upright(segments, joint.x), joint.from, joint.to);
        for (lo, hi) in &mut inside {
            *lo = onto_side(segments, (joint.x, *lo));
            *hi = onto_side(segments, (joint.x, *hi));
        }
        inside.retain(|(a, b)| b - a > EPSILON);
        // A joint drawn twice is one joint.
        let earlier: Vec<(f64, f64)> =
            done.iter().filter(|d| (d.0 - joint.x).abs() <= EPSILON).map(|d| (d.1, d.2)).collect();
        for (lo, hi) in Intervals(inside).minus(&earlier).0 {
            if hi - lo <= EPSILON {
                continue;
            }
            done.push((joint.x, lo, hi));
            for end in [lo, hi] {
                split_at(segments, (joint.x, end));
            }
            let kind = BoundaryKind::Joint(number);
            segments.push(BoundarySegment { a: (joint.x, lo), b: (joint.x, hi), kind });
            segments.push(BoundarySegment { a: (joint.x, hi), b: (joint.x, lo), kind });
        }
    }
}

/// The parts of a joint in the masonry; an end drawn within [`JOINT_END`] of a side runs on to it.
fn clipped(inside: &Intervals, from: f64, to: f64) -> Vec<(f64, f64)> {
    let onto = |v: f64, side: f64| if (v - side).abs() <= JOINT_END { side } else { v };
    inside
        .0
        .iter()
        .filter(|(lo, hi)| *lo < to && from < *hi)
        .map(|&(lo, hi)| (onto(from.max(lo), lo), onto(to.min(hi), hi)))
        .collect()
}

/// The heights at which masonry lies on both sides of the upright line at x.
fn inside_on_upright(segments: &[BoundarySegment], x: f64) -> Intervals {
    let along = |x: f64| {
        let mut ys: Vec<f64> = segments
            .iter()
            .filter(|s| !matches!(s.kind, BoundaryKind::Joint(_)) && (s.a.0 > x) != (s.b.0 > x))
            .map(|s| s.a.1 + (x - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1))
            .collect();
        ys.sort_by(f64::total_cmp);
        Intervals::from_unsorted(ys.chunks_exact(2).map(|c| (c[0], c[1])).collect())
    };
    let hair = 2.0 * EPSILON;
    along(x - hair).meet(&along(x + hair))
}

/// The height of the side that a joint ends at, to the last digit; a joint that ends in the masonry keeps
/// its own.
fn onto_side(segments: &[BoundarySegment], p: Point) -> f64 {
    segments
        .iter()
        .filter(|s| !matches!(s.kind, BoundaryKind::Joint(_)) && s.a.0 != s.b.0 && s.distance(p) < 1e-3)
        .map(
            |s| {
                if s.a.1 == s.b.1 { s.a.1 } else { s.a.1 + (p.0 - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1) }
            },
        )
        .find(|y| (y - p.1).abs() < 1e-3)
        .unwrap_or(p.1)
}

fn split_at(segments: &mut Vec<BoundarySegment>, p: Point) {
    let found = segments.iter().position(|s| {
        !matches!(s.kind, BoundaryKind::Joint(_))
            && s.distance(p) < 1e-3
            && (s.a.0 - p.0).hypot(s.a.1 - p.1) > 1e-3
            && (s.b.0 - p.0).hypot(s.b.1 - p.1) > 1e-3
    });
    if let Some(i) = found {
        let s = segments[i];
        segments[i].b = p;
        segments.insert(i + 1, BoundarySegment { a: p, ..s });
    }
}
