//! Where on each course any tie may stand: in the masonry, clear of its boundary, of keep-outs and of old ties.
//!
//! Generous by every tolerance, so that no tie of a layout without breach stands elsewhere. Where ties may
//! stand at any height, or right at the boundary, nothing is left out.

use super::HAIR;
use super::duty::{Places, SLACK, courses};
use crate::elevation::{Elevation, Fix, shape_bounds};
use crate::many::each;
use crate::masonry::{Intervals, Masonry, Spans};
use crate::rules::RuleSet;
use crate::units::{DISTANCE_TOLERANCE, EPSILON};

/// What is short of its distance by no more than this passes; a tie may be off its course besides, mm.
const GENEROUS: f64 = DISTANCE_TOLERANCE + SLACK + HAIR;

/// The courses of a wall, with where ties may stand on each.
pub(super) struct Rows {
    lowest: i64,
    /// For each course from the lowest; `None` where all the line will do.
    runs: Option<Vec<Intervals>>,
}

impl Rows {
    /// Any place on any course.
    pub(super) const ANY: Self = Self { lowest: 0, runs: None };

    pub(super) fn new(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Self {
        let off = rules.edge_distance.value - GENEROUS;
        let (Some((low, high)), true) =
            (masonry.height_range(), elevation.coursing.fix != Fix::Anywhere && off > 0.0)
        else {
            return Self::ANY;
        };
        let (lowest, highest) = courses(elevation.coursing, low, high);
        let taken = taken(elevation, rules, (lowest, highest));
        let runs = each((highest - lowest + 1).max(0) as usize, |i| {
            let y = elevation.coursing.height(lowest + i as i64);
            let wall = masonry.bays.cross_section(y, f64::NEG_INFINITY, f64::INFINITY);
            let (Some(first), Some(last)) = (wall.0.first(), wall.0.last()) else { return wall };
            let near = masonry.boundary.near((first.0 - off, y - off), (last.1 + off, y + off));
            let mut holes = Vec::with_capacity(64);
            holes.extend(near.filter_map(|i| masonry.boundary.segments[i as usize].reach_at(off, y)));
            holes.extend(&taken[i]);
            wall.without(&mut holes)
        });
        Self { lowest, runs: Some(runs) }
    }

    /// The places on a course between two x, added to `out`: those like the ones on the course below are
    /// put together with them. `below` is where in `out` the places that reach the course below begin.
    fn add(&self, course: i64, left: f64, right: f64, out: &mut Vec<Places>) {
        let mut push = |left: f64, right: f64| {
            let same = |p: &&mut Places| p.high == course - 1 && p.left == left && p.right == right;
            if let Some(p) = out.iter_mut().rev().find(same) {
                p.high = course;
            } else {
                out.push(Places { left, right, low: course, high: course });
            }
        };
        let Some(runs) = &self.runs else {
            push(left, right);
            return;
        };
        let Some(row) = usize::try_from(course - self.lowest).ok().and_then(|i| runs.get(i)) else { return };
        let from = row.0.partition_point(|r| r.1 < left);
        for r in row.0[from..].iter().take_while(|r| r.0 <= right) {
            push(r.0.max(left), r.1.min(right));
        }
    }

    /// The places between two x on some courses.
    pub(super) fn places(&self, (left, right): (f64, f64), (low, high): (i64, i64), out: &mut Vec<Places>) {
        out.clear();
        if self.runs.is_none() {
            if low <= high {
                out.push(Places { left, right, low, high });
            }
            return;
        }
        for course in low..=high {
            self.add(course, left, right, out);
        }
    }

    /// The places on some courses, each between what `between` gives for it. Where any height will do, all
    /// courses are one.
    pub(super) fn places_between(
        &self,
        (low, high): (i64, i64),
        between: impl Fn(i64, i64) -> Spans,
        out: &mut Vec<Places>,
    ) {
        out.clear();
        if self.runs.is_none() {
            if low <= high {
                out.extend(between(low, high).iter().map(|&(left, right)| Places { left, right, low, high }));
            }
            return;
        }
        for course in low..=high {
            for (left, right) in between(course, course) {
                self.add(course, left, right, out);
            }
        }
    }
}

/// What keep-outs and old ties take of each course from a lowest to a highest.
fn taken(elevation: &Elevation, rules: &RuleSet, (lowest, highest): (i64, i64)) -> Vec<Vec<(f64, f64)>> {
    let mut taken = vec![Vec::new(); (highest - lowest + 1).max(0) as usize];
    let c = elevation.coursing;
    let mut each_course = |low: f64, high: f64, at: &dyn Fn(f64) -> Option<(f64, f64)>| {
        let (from, to) = courses(c, low, high);
        for k in from.max(lowest)..=to.min(highest) {
            taken[(k - lowest) as usize].extend(at(c.height(k)));
        }
    };
    for k in &elevation.keep_outs {
        let (left, low, right, high) = shape_bounds(&k.shape);
        // Only what is plain to see: the inside of a rectangle with its clearance straight about it.
        let (off, plain) = (k.clearance - GENEROUS, matches!(k.shape, crate::elevation::Shape::Rect { .. }));
        if !plain || right - left + 2.0 * off <= 0.0 {
            continue;
        }
        each_course(low - off.min(0.0), high + off.min(0.0), &|y| {
            (low - off.min(0.0) + EPSILON < y && y < high + off.min(0.0) - EPSILON)
                .then_some((left - off, right + off))
        });
        if off > 0.0 {
            for (from, to) in [(low - off, low), (high, high + off)] {
                each_course(from, to, &|y| (from < y && y < to).then_some((left, right)));
            }
        }
    }
    let r = rules.existing_clearance.value - GENEROUS;
    for t in elevation.existing_ties.iter().filter(|_| r > 0.0) {
        each_course(t.at.1 - r, t.at.1 + r, &|y| {
            let half = (r * r - (y - t.at.1) * (y - t.at.1)).max(0.0).sqrt();
            (half > 0.0).then_some((t.at.0 - half, t.at.0 + half))
        });
    }
    taken
}
