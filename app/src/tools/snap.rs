//! Snapping: edges first, then middles and equal gaps, then bed joints, then steps.

use layout_core::elevation::{Elevation, Point, shape_bounds};
use layout_core::units::tidy_mm;

use super::gaps::{self, Bounds};
use crate::document::Item;

/// Step of free places, mm.
pub const STEP: f64 = 25.0;

/// Why a place snapped where it did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pull {
    /// An edge, a corner or an end.
    Edge,
    /// A middle.
    Middle,
    /// Equal gaps on both sides, or the gap before it again.
    Gap,
}

/// A line that something snapped to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// Whether the line is upright.
    pub upright: bool,
    /// Where it is, mm.
    pub at: f64,
    /// Why.
    pub pull: Pull,
}

/// Lines that things snap to: `x` upright, `y` level, mm.
#[derive(Clone, Debug, Default)]
pub struct Lines {
    /// Upright lines.
    pub x: Vec<f64>,
    /// Level lines.
    pub y: Vec<f64>,
    /// Upright and level lines through middles.
    middles: (Vec<f64>, Vec<f64>),
    /// Bounds of what stands on the wall.
    things: Vec<Bounds>,
    /// Bounds of the wall.
    wall: Bounds,
    gauge: f64,
    first_bed: f64,
    /// Step along the wall, and where it begins, mm.
    along: (f64, f64),
    reach: f64,
    free: bool,
}

impl Lines {
    /// The lines of an elevation without those of `but`. `reach` is how far off a line pulls, mm;
    /// `free` turns snapping off but for whole millimetres.
    #[must_use]
    pub fn of(elevation: &Elevation, but: &[Item], reach: f64, free: bool) -> Self {
        let c = elevation.coursing;
        let gauge = if c.gauge.is_finite() && c.gauge >= 20.0 { c.gauge } else { 0.0 };
        let along = (STEP, 0.0);
        let mut lines = Self { gauge, first_bed: c.first_bed, along, reach, free, ..Self::default() };
        if free {
            return lines;
        }
        // The datum and its left end: where a first wall begins.
        lines.x.push(0.0);
        lines.y.push(0.0);
        let ring = &elevation.outline;
        for (_, p) in ring.iter().enumerate().filter(|(i, _)| !but.contains(&Item::Corner(*i))) {
            lines.x.push(p.0);
            lines.y.push(p.1);
        }
        lines.wall =
            ring.iter().fold(NOTHING, |b, p| (b.0.min(p.0), b.1.min(p.1), b.2.max(p.0), b.3.max(p.1)));
        if lines.wall.0.is_finite() {
            lines.middles.0.push((lines.wall.0 + lines.wall.2) / 2.0);
        }
        let openings = elevation.openings.iter().enumerate().map(|(i, o)| (Item::Opening(i), &o.shape));
        let keep_outs = elevation.keep_outs.iter().enumerate().map(|(i, k)| (Item::KeepOut(i), &k.shape));
        for (_, shape) in openings.chain(keep_outs).filter(|(item, _)| !but.contains(item)) {
            lines.bounds(shape_bounds(shape));
        }
        for (i, j) in elevation.movement_joints.iter().enumerate() {
            if !but.contains(&Item::Joint(i)) {
                lines.x.push(j.x);
                lines.y.extend([j.from, j.to]);
            }
        }
        lines
    }

    /// Steps along the wall by half bricks from its left end, instead of by 25 mm.
    #[must_use]
    pub fn by_half_bricks(mut self, elevation: &Elevation) -> Self {
        let half = elevation.coursing.brick / 2.0;
        if half.is_finite() && half >= 10.0 {
            let from = if self.wall.0.is_finite() { self.wall.0 } else { 0.0 };
            self.along = (half, from);
        }
        self
    }

    fn bounds(&mut self, (l, b, r, t): Bounds) {
        self.x.extend([l, r]);
        self.y.extend([b, t]);
        self.middles.0.push((l + r) / 2.0);
        self.middles.1.push((b + t) / 2.0);
        self.things.push((l, b, r, t));
    }

    fn nearest(&self, lines: &[f64], v: f64) -> Option<f64> {
        lines
            .iter()
            .copied()
            .filter(|l| (l - v).abs() <= self.reach)
            .min_by(|a, b| (a - v).abs().total_cmp(&(b - v).abs()))
    }

    fn bed(&self, y: f64) -> Option<f64> {
        if self.gauge <= 0.0 {
            return None;
        }
        let bed = self.first_bed + ((y - self.first_bed) / self.gauge).round() * self.gauge;
        ((bed - y).abs() <= self.reach).then_some(bed)
    }

    /// The nearest step along the wall, mm.
    fn step(&self, x: f64) -> f64 {
        let (step, from) = self.along;
        ((x - from) / step).round() * step + from
    }

    /// Where a place along the wall snaps to, mm.
    #[must_use]
    pub fn snap_x(&self, x: f64) -> f64 {
        if self.free {
            return x.round();
        }
        tidy_mm(self.nearest(&self.x, x).unwrap_or_else(|| self.step(x)))
    }

    /// Where a height snaps to, mm.
    #[must_use]
    pub fn snap_y(&self, y: f64) -> f64 {
        if self.free {
            return y.round();
        }
        let line = self.nearest(&self.y, y).or_else(|| self.bed(y));
        tidy_mm(line.unwrap_or_else(|| (y / STEP).round() * STEP))
    }

    /// The nearest step to a point along the wall and up it, whatever lines are near, mm.
    #[must_use]
    pub fn step_to(&self, p: Point) -> Point {
        if self.free {
            return (p.0.round(), p.1.round());
        }
        (tidy_mm(self.step(p.0)), tidy_mm((p.1 / STEP).round() * STEP))
    }

    /// Where a point snaps to, mm.
    #[must_use]
    pub fn snap(&self, p: Point) -> Point {
        (self.snap_x(p.0), self.snap_y(p.1))
    }

    /// The lines that a snapped point lies on.
    #[must_use]
    pub fn guides_at(&self, p: Point) -> Vec<Guide> {
        let on = |lines: &[f64], v: f64| lines.iter().any(|l| (l - v).abs() < 0.01);
        let guide = |upright, at| Guide { upright, at, pull: Pull::Edge };
        let x = on(&self.x, p.0).then(|| guide(true, p.0));
        let y = on(&self.y, p.1).then(|| guide(false, p.1));
        x.into_iter().chain(y).collect()
    }

    /// How far a thing of these bounds moves when it is dragged by `by`: its nearest edge snaps.
    #[must_use]
    pub fn snap_move(&self, bounds: Bounds, by: Point) -> Point {
        self.snap_move_guided(bounds, by).0
    }

    /// As [`Self::snap_move`], with the lines it snapped to.
    #[must_use]
    pub fn snap_move_guided(&self, (l, b, r, t): Bounds, by: Point) -> (Point, Vec<Guide>) {
        if self.free {
            return ((by.0.round(), by.1.round()), Vec::new());
        }
        let mut guides = Vec::new();
        let row = gaps::beside(&self.things, b + by.1, t + by.1);
        let across = gaps::equal((l + by.0, r + by.0), &row, (self.wall.0, self.wall.2));
        let dx = self.pulled(true, (l, r), by.0, &across, &mut guides);
        let dx = dx.unwrap_or_else(|| self.step(l + by.0) - l);
        let column = gaps::above(&self.things, l + dx, r + dx);
        let up = gaps::equal((b + by.1, t + by.1), &column, (self.wall.1, self.wall.3));
        let dy = self
            .pulled(false, (b, t), by.1, &up, &mut guides)
            .or_else(|| self.bed(b + by.1).map(|bed| bed - b))
            .unwrap_or_else(|| ((b + by.1) / STEP).round() * STEP - b);
        ((tidy_mm(dx), tidy_mm(dy)), guides)
    }

    /// How far a span moves to the nearest line that pulls it: an edge, else a middle, else equal gaps.
    fn pulled(
        &self,
        upright: bool,
        (lo, hi): (f64, f64),
        by: f64,
        gaps: &[f64],
        guides: &mut Vec<Guide>,
    ) -> Option<f64> {
        let (edges, middles) = if upright { (&self.x, &self.middles.0) } else { (&self.y, &self.middles.1) };
        let nearest = |places: &[f64], lines: &[f64]| {
            let moves =
                places.iter().filter_map(|p| self.nearest(lines, p + by).map(|line| (line - p, line)));
            moves.min_by(|a, b| (a.0 - by).abs().total_cmp(&(b.0 - by).abs()))
        };
        // Middles and gaps pull half as far: there are many, and edges are meant more often.
        let close = |m: &(f64, f64)| (m.0 - by).abs() <= self.reach * 0.5;
        let found = nearest(&[lo, hi], edges)
            .map(|m| (m, Pull::Edge))
            .or_else(|| nearest(&[(lo + hi) / 2.0], middles).filter(close).map(|m| (m, Pull::Middle)))
            .or_else(|| nearest(&[lo], gaps).filter(close).map(|m| (m, Pull::Gap)));
        let ((by, at), pull) = found?;
        guides.push(Guide { upright, at, pull });
        Some(by)
    }
}

/// Bounds of nothing.
const NOTHING: Bounds = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::{Opening, Shape};

    fn wall() -> Elevation {
        let mut e = Elevation::new("Front", vec![(0.0, 0.0), (9010.0, 0.0), (9010.0, 5250.0), (0.0, 5250.0)]);
        e.openings.push(Opening {
            name: "W1".into(),
            shape: Shape::Rect { x: 1210.0, y: 900.0, w: 1200.0, h: 1350.0 },
        });
        e
    }

    #[test]
    fn edges_pull_before_steps() {
        let lines = Lines::of(&wall(), &[], 40.0, false);
        assert_eq!(lines.snap((1230.0, 3331.0)), (1210.0, 3300.0));
        assert_eq!(lines.snap((3333.0, 3345.0)), (3325.0, 3375.0));
    }

    #[test]
    fn what_is_dragged_does_not_snap_to_itself() {
        let lines = Lines::of(&wall(), &[Item::Opening(0)], 40.0, false);
        // 1210 + 33 = 1243 steps to 1250; its foot 900 + 20 goes to the bed joint at 900.
        assert_eq!(lines.snap_move((1210.0, 900.0, 2410.0, 2250.0), (33.0, 20.0)), (40.0, 0.0));
    }

    #[test]
    fn the_far_edge_snaps_too() {
        let lines = Lines::of(&wall(), &[Item::Opening(0)], 40.0, false);
        // The right edge 2410 dragged by 6590 is 10 short of the wall's end at 9010.
        assert_eq!(lines.snap_move((1210.0, 900.0, 2410.0, 2250.0), (6590.0, 0.0)).0, 6600.0);
    }

    #[test]
    fn free_goes_by_whole_millimetres() {
        let lines = Lines::of(&wall(), &[], 40.0, true);
        assert_eq!(lines.snap((1229.6, 3331.2)), (1230.0, 3331.0));
    }

    #[test]
    fn a_faulty_gauge_gives_no_bed_joints() {
        let mut e = wall();
        e.coursing.gauge = f64::NAN;
        assert_eq!(Lines::of(&e, &[], 40.0, false).snap_y(3331.0), 3325.0);
    }

    #[test]
    fn middles_and_equal_gaps_pull_and_say_so() {
        let mut e = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
        let rect = |x: f64, y: f64, w: f64| Shape::Rect { x, y, w, h: 1350.0 };
        let shapes = [rect(1000.0, 900.0, 1000.0), rect(3500.0, 900.0, 1000.0), rect(7000.0, 3300.0, 600.0)];
        e.openings = shapes.into_iter().map(|shape| Opening { name: String::new(), shape }).collect();
        let lines = Lines::of(&e, &[Item::Opening(2)], 40.0, false);
        // The third, 600 wide, dragged over the second: middle at 4000, so it begins at 3700.
        let (by, guides) = lines.snap_move_guided((7000.0, 3300.0, 7600.0, 4650.0), (-3310.0, 0.0));
        assert_eq!(by.0, -3300.0);
        assert!(guides.contains(&Guide { upright: true, at: 4000.0, pull: Pull::Middle }));
        // Into the row of the others: the pier of 1500 again puts it at 6000.
        let (by, guides) = lines.snap_move_guided((7000.0, 3300.0, 7600.0, 4650.0), (-1012.0, -2400.0));
        assert_eq!(by, (-1000.0, -2400.0));
        assert!(guides.contains(&Guide { upright: true, at: 6000.0, pull: Pull::Gap }));
    }

    #[test]
    fn steps_of_half_a_brick() {
        let e = wall();
        let lines = Lines::of(&e, &[Item::Opening(0)], 10.0, false).by_half_bricks(&e);
        // 30 halves of 112.5.
        assert_eq!(lines.snap_x(3390.0), 3375.0);
    }
}
