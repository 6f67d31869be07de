//! Snapping: edges first, then bed joints, then 25 mm steps.

use layout_core::elevation::{Elevation, Point, shape_bounds};
use layout_core::units::tidy_mm;

use crate::document::Item;

/// Step of free places, mm.
pub const STEP: f64 = 25.0;

/// Lines that things snap to: `x` upright, `y` level, mm.
#[derive(Clone, Debug, Default)]
pub struct Lines {
    /// Upright lines.
    pub x: Vec<f64>,
    /// Level lines.
    pub y: Vec<f64>,
    gauge: f64,
    first_bed: f64,
    reach: f64,
    free: bool,
}

impl Lines {
    /// The lines of an elevation without those of `but`. `reach` is how far off a line pulls, mm;
    /// `free` turns snapping off but for whole millimetres.
    #[must_use]
    pub fn of(elevation: &Elevation, but: Option<Item>, reach: f64, free: bool) -> Self {
        let c = elevation.coursing;
        let gauge = if c.gauge.is_finite() && c.gauge >= 20.0 { c.gauge } else { 0.0 };
        let mut lines = Self { gauge, first_bed: c.first_bed, reach, free, ..Self::default() };
        if free {
            return lines;
        }
        // The datum and its left end: where a first wall begins.
        lines.x.push(0.0);
        lines.y.push(0.0);
        for (i, p) in elevation.outline.iter().enumerate() {
            if but != Some(Item::Corner(i)) {
                lines.x.push(p.0);
                lines.y.push(p.1);
            }
        }
        for (i, o) in elevation.openings.iter().enumerate() {
            if but != Some(Item::Opening(i)) {
                lines.bounds(shape_bounds(&o.shape));
            }
        }
        for (i, k) in elevation.keep_outs.iter().enumerate() {
            if but != Some(Item::KeepOut(i)) {
                lines.bounds(shape_bounds(&k.shape));
            }
        }
        for (i, j) in elevation.movement_joints.iter().enumerate() {
            if but != Some(Item::Joint(i)) {
                lines.x.push(j.x);
                lines.y.extend([j.from, j.to]);
            }
        }
        lines
    }

    fn bounds(&mut self, (l, b, r, t): (f64, f64, f64, f64)) {
        self.x.extend([l, r]);
        self.y.extend([b, t]);
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

    /// Where a place along the wall snaps to, mm.
    #[must_use]
    pub fn snap_x(&self, x: f64) -> f64 {
        if self.free {
            return x.round();
        }
        tidy_mm(self.nearest(&self.x, x).unwrap_or_else(|| (x / STEP).round() * STEP))
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

    /// Where a point snaps to, mm.
    #[must_use]
    pub fn snap(&self, p: Point) -> Point {
        (self.snap_x(p.0), self.snap_y(p.1))
    }

    /// How far a thing of these bounds moves when it is dragged by `by`: its nearest edge snaps.
    #[must_use]
    pub fn snap_move(&self, (l, b, r, t): (f64, f64, f64, f64), by: Point) -> Point {
        if self.free {
            return (by.0.round(), by.1.round());
        }
        let pull = |edges: [f64; 2], by: f64, find: &dyn Fn(f64) -> Option<f64>| {
            edges
                .into_iter()
                .filter_map(|edge| find(edge + by).map(|line| line - edge))
                .min_by(|p, q| (p - by).abs().total_cmp(&(q - by).abs()))
        };
        let step = |edge: f64, by: f64| ((edge + by) / STEP).round() * STEP - edge;
        let dx = pull([l, r], by.0, &|x| self.nearest(&self.x, x)).unwrap_or_else(|| step(l, by.0));
        let dy = pull([b, t], by.1, &|y| self.nearest(&self.y, y))
            .or_else(|| self.bed(b + by.1).map(|bed| bed - b))
            .unwrap_or_else(|| step(b, by.1));
        (tidy_mm(dx), tidy_mm(dy))
    }
}

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
        let lines = Lines::of(&wall(), None, 40.0, false);
        assert_eq!(lines.snap((1230.0, 3331.0)), (1210.0, 3300.0));
        assert_eq!(lines.snap((3333.0, 3345.0)), (3325.0, 3375.0));
    }

    #[test]
    fn what_is_dragged_does_not_snap_to_itself() {
        let lines = Lines::of(&wall(), Some(Item::Opening(0)), 40.0, false);
        // 1210 + 33 = 1243 steps to 1250; its foot 900 + 20 goes to the bed joint at 900.
        assert_eq!(lines.snap_move((1210.0, 900.0, 2410.0, 2250.0), (33.0, 20.0)), (40.0, 0.0));
    }

    #[test]
    fn the_far_edge_snaps_too() {
        let lines = Lines::of(&wall(), Some(Item::Opening(0)), 40.0, false);
        // The right edge 2410 dragged by 6590 is 10 short of the wall's end at 9010.
        assert_eq!(lines.snap_move((1210.0, 900.0, 2410.0, 2250.0), (6590.0, 0.0)).0, 6600.0);
    }

    #[test]
    fn free_goes_by_whole_millimetres() {
        let lines = Lines::of(&wall(), None, 40.0, true);
        assert_eq!(lines.snap((1229.6, 3331.2)), (1230.0, 3331.0));
    }

    #[test]
    fn a_faulty_gauge_gives_no_bed_joints() {
        let mut e = wall();
        e.coursing.gauge = f64::NAN;
        assert_eq!(Lines::of(&e, None, 40.0, false).snap_y(3331.0), 3325.0);
    }
}
