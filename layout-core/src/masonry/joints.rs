//! Movement joints in the masonry: clipped to it, both faces added to its boundary.

use super::Intervals;
use super::boundary::{Boundary, BoundaryKind, BoundarySegment};
use crate::elevation::{Elevation, Point};
use crate::units::EPSILON;

/// A joint drawn to end this close to a side, mm, ends at it.
const JOINT_END: f64 = 1.0;

/// Points this close are one, mm.
const AT: f64 = 1e-3;

/// Adds both faces of every joint, as far as it lies inside the masonry; splits the sides it ends at.
pub(super) fn add_joints(segments: &mut Vec<BoundarySegment>, elevation: &Elevation) {
    if elevation.movement_joints.is_empty() {
        return;
    }
    let sides = Boundary::new(std::mem::take(segments));
    let Some((low, high)) = sides.bounds() else { return };
    let mut faces = Vec::new();
    let mut splits: Vec<Vec<Point>> = vec![Vec::new(); sides.segments.len()];
    // What is done at each x, from the left: a joint drawn twice is one joint.
    let mut done: Vec<(f64, f64, f64)> = Vec::new();
    for (number, joint) in elevation.movement_joints.iter().enumerate() {
        let mut inside = clipped(&inside_on_upright(&sides, joint.x, (low.1, high.1)), joint.from, joint.to);
        for (lo, hi) in &mut inside {
            *lo = onto_side(&sides, (joint.x, *lo));
            *hi = onto_side(&sides, (joint.x, *hi));
        }
        inside.retain(|(a, b)| b - a > EPSILON);
        let from = done.partition_point(|d| d.0 < joint.x - EPSILON);
        let earlier: Vec<(f64, f64)> =
            done[from..].iter().take_while(|d| d.0 <= joint.x + EPSILON).map(|d| (d.1, d.2)).collect();
        for (lo, hi) in Intervals(inside.into()).minus(&earlier).0 {
            if hi - lo <= EPSILON {
                continue;
            }
            done.insert(done.partition_point(|d| d.0 <= joint.x), (joint.x, lo, hi));
            for end in [lo, hi] {
                split_at(&sides, &mut splits, (joint.x, end));
            }
            let kind = BoundaryKind::Joint(number);
            faces.push(BoundarySegment { a: (joint.x, lo), b: (joint.x, hi), kind });
            faces.push(BoundarySegment { a: (joint.x, hi), b: (joint.x, lo), kind });
        }
    }
    for (side, mut points) in sides.segments.iter().zip(splits) {
        let from_start = |p: &Point| (p.0 - side.a.0).hypot(p.1 - side.a.1);
        points.sort_by(|p, q| from_start(p).total_cmp(&from_start(q)));
        let mut a = side.a;
        for b in points.into_iter().chain([side.b]) {
            segments.push(BoundarySegment { a, b, ..*side });
            a = b;
        }
    }
    segments.append(&mut faces);
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

/// The heights at which masonry lies on both sides of the upright line at x; `range` is all there is.
fn inside_on_upright(sides: &Boundary, x: f64, range: (f64, f64)) -> Intervals {
    let hair = 2.0 * EPSILON;
    let mut near: Vec<u32> = sides.near((x - hair, range.0), (x + hair, range.1)).collect();
    near.sort_unstable();
    near.dedup();
    let along = |x: f64| {
        let mut ys: Vec<f64> = near
            .iter()
            .map(|&i| &sides.segments[i as usize])
            .filter(|s| (s.a.0 > x) != (s.b.0 > x))
            .map(|s| s.a.1 + (x - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1))
            .collect();
        ys.sort_by(f64::total_cmp);
        Intervals::from_unsorted(ys.chunks_exact(2).map(|c| (c[0], c[1])))
    };
    along(x - hair).meet(&along(x + hair))
}

/// Numbers of the sides that run through a point, in order.
fn through(sides: &Boundary, p: Point) -> Vec<u32> {
    let near = sides.near((p.0 - AT, p.1 - AT), (p.0 + AT, p.1 + AT));
    let mut out: Vec<u32> = near.filter(|&i| sides.segments[i as usize].distance(p) < AT).collect();
    out.sort_unstable();
    out.dedup();
    out
}

/// The height of the side that a joint ends at, to the last digit; a joint that ends in the masonry keeps
/// its own.
fn onto_side(sides: &Boundary, p: Point) -> f64 {
    through(sides, p)
        .into_iter()
        .map(|i| &sides.segments[i as usize])
        .filter(|s| s.a.0 != s.b.0)
        .map(
            |s| {
                if s.a.1 == s.b.1 { s.a.1 } else { s.a.1 + (p.0 - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1) }
            },
        )
        .find(|y| (y - p.1).abs() < AT)
        .unwrap_or(p.1)
}

/// Notes where to split the first side that runs through a point and does not end, or part already, there.
fn split_at(sides: &Boundary, splits: &mut [Vec<Point>], p: Point) {
    let off = |q: Point| (q.0 - p.0).hypot(q.1 - p.1) > AT;
    let found = through(sides, p).into_iter().map(|i| i as usize).find(|&i| {
        let s = &sides.segments[i];
        off(s.a) && off(s.b) && splits[i].iter().all(|&q| off(q))
    });
    if let Some(i) = found {
        splits[i].push(p);
    }
}
