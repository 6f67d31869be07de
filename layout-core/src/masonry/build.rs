//! From the drawing to the masonry: openings cut out, joints clipped, the boundary put together.

use geo::{BooleanOps, Coord, LineString, MultiPolygon, Polygon, Winding, unary_union};

use super::boundary::{Boundary, BoundaryKind, BoundarySegment};
use super::joints::add_joints;
use super::openings::{alone, are_apart};
use super::{Bays, Masonry};
use crate::elevation::{Elevation, Point, Shape, shape_ring};

/// Results of the boolean operations are rounded to this, mm, so that heights that were drawn alike
/// stay alike.
const SNAP: f64 = 1e-4;

impl Masonry {
    /// The masonry of a usable elevation (see [`crate::elevation::validate`]).
    ///
    /// Parts of openings and joints that lie off the wall are left out.
    #[must_use]
    pub fn new(elevation: &Elevation) -> Self {
        let alone = alone(elevation).unwrap_or_default();
        let is_alone = |i: usize| alone.get(i).is_some_and(|&a| a);
        let mut rings = rings(&cut(elevation, is_alone));
        let mut segments = sides(&rings, elevation);
        // Holes that nothing else touches: all of each is opening.
        for (_, opening) in elevation.openings.iter().enumerate().filter(|(i, _)| is_alone(*i)) {
            let mut hole = polygon(&shape_ring(&opening.shape)).exterior().clone();
            hole.make_cw_winding();
            let ring = clean(&hole);
            if ring.len() >= 3 {
                segments.extend((0..ring.len()).map(|i| BoundarySegment {
                    a: ring[i],
                    b: ring[(i + 1) % ring.len()],
                    kind: BoundaryKind::Opening,
                }));
                rings.push(ring);
            }
        }
        let area: f64 = rings.iter().map(|r| signed_area(r)).sum();
        add_joints(&mut segments, elevation);
        let boundary = Boundary::new(segments);
        Self {
            gross_area: signed_area(&elevation.outline).abs(),
            net_area: area,
            rings,
            bays: Bays::new(&boundary),
            boundary,
        }
    }
}

/// The outline less the openings that do not stand alone.
fn cut(elevation: &Elevation, is_alone: impl Fn(usize) -> bool) -> MultiPolygon<f64> {
    let shapes: Vec<&Shape> =
        elevation.openings.iter().enumerate().filter(|(i, _)| !is_alone(*i)).map(|(_, o)| &o.shape).collect();
    let holes: Vec<Polygon<f64>> = shapes.iter().map(|s| polygon(&shape_ring(s))).collect();
    let outer = MultiPolygon::new(vec![polygon(&elevation.outline)]);
    if holes.is_empty() {
        outer
    } else if are_apart(&shapes) {
        outer.difference(&MultiPolygon::new(holes))
    } else {
        outer.difference(&unary_union(&holes))
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
