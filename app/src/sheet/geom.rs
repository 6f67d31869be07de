//! Plane geometry on paper: rectangles, turned boxes, clipping, scan lines. Millimetres, y up.

/// A point on the sheet, mm from its lower left corner.
pub type PaperPoint = (f64, f64);

/// An upright rectangle, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub left: f64,
    /// Lower edge.
    pub bottom: f64,
    /// Right edge.
    pub right: f64,
    /// Upper edge.
    pub top: f64,
}

impl Rect {
    /// A rectangle by its edges.
    #[must_use]
    pub fn new(left: f64, bottom: f64, right: f64, top: f64) -> Self {
        Self { left, bottom, right, top }
    }

    /// The smallest rectangle round some points; `None` without points.
    #[must_use]
    pub fn round(points: impl IntoIterator<Item = PaperPoint>) -> Option<Self> {
        points.into_iter().fold(None, |r: Option<Self>, (x, y)| {
            Some(r.map_or(Self::new(x, y, x, y), |r| {
                Self::new(r.left.min(x), r.bottom.min(y), r.right.max(x), r.top.max(y))
            }))
        })
    }

    /// Width, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.top - self.bottom
    }

    /// The middle.
    #[must_use]
    pub fn centre(&self) -> PaperPoint {
        (f64::midpoint(self.left, self.right), f64::midpoint(self.bottom, self.top))
    }

    /// The same rectangle drawn in by `d` on every side (grown for a negative `d`).
    #[must_use]
    pub fn inset(&self, d: f64) -> Self {
        Self::new(self.left + d, self.bottom + d, self.right - d, self.top - d)
    }

    /// The smallest rectangle round both.
    #[must_use]
    pub fn joined(&self, o: &Self) -> Self {
        Self::new(
            self.left.min(o.left),
            self.bottom.min(o.bottom),
            self.right.max(o.right),
            self.top.max(o.top),
        )
    }

    /// How far another is from it, 0 where they touch.
    #[must_use]
    pub fn apart(&self, o: &Self) -> f64 {
        let gap = |a: f64, b: f64| a.max(b).max(0.0);
        gap(o.left - self.right, self.left - o.right).hypot(gap(o.bottom - self.top, self.bottom - o.top))
    }

    /// Whether a point lies in it or on its edge.
    #[must_use]
    pub fn contains(&self, (x, y): PaperPoint) -> bool {
        x >= self.left && x <= self.right && y >= self.bottom && y <= self.top
    }

    /// Its corners, anticlockwise from the lower left.
    #[must_use]
    pub fn corners(&self) -> Quad {
        [(self.left, self.bottom), (self.right, self.bottom), (self.right, self.top), (self.left, self.top)]
    }

    /// The part of a segment inside, if any.
    #[must_use]
    pub fn clip(&self, a: PaperPoint, b: PaperPoint) -> Option<(PaperPoint, PaperPoint)> {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (d, low, high) in
            [(dx, self.left - a.0, self.right - a.0), (dy, self.bottom - a.1, self.top - a.1)]
        {
            if d.abs() < 1e-12 {
                if low > 0.0 || high < 0.0 {
                    return None;
                }
            } else {
                let (t0, t1) = if d > 0.0 { (low / d, high / d) } else { (high / d, low / d) };
                from = from.max(t0);
                to = to.min(t1);
            }
        }
        (from <= to).then(|| {
            let at = |t: f64| (a.0 + dx * t, a.1 + dy * t);
            (at(from), at(to))
        })
    }

    /// A ring cut to the rectangle. Pieces of a ring that leaves it are joined along its edge, so that
    /// filling is right and stroking is not.
    #[must_use]
    pub fn clip_ring(&self, ring: &[PaperPoint]) -> Vec<PaperPoint> {
        let mut ring = ring.to_vec();
        for (upright, sign, limit) in [
            (true, -1.0, -self.left),
            (true, 1.0, self.right),
            (false, -1.0, -self.bottom),
            (false, 1.0, self.top),
        ] {
            let depth = |p: &PaperPoint| limit - sign * if upright { p.0 } else { p.1 };
            let mut kept = Vec::with_capacity(ring.len() + 4);
            for (i, a) in ring.iter().enumerate() {
                let b = &ring[(i + 1) % ring.len()];
                let (da, db) = (depth(a), depth(b));
                if da >= 0.0 {
                    kept.push(*a);
                }
                if (da >= 0.0) != (db >= 0.0) {
                    let t = da / (da - db);
                    kept.push((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t));
                }
            }
            ring = kept;
        }
        ring
    }
}

/// A box that may be turned: its corners in order. A segment is a box without width.
pub type Quad = [PaperPoint; 4];

/// A segment as a box.
#[must_use]
pub fn segment(a: PaperPoint, b: PaperPoint) -> Quad {
    [a, b, b, a]
}

/// Whether two boxes share more than an edge.
///
/// Both convex; at most one of them without width.
#[must_use]
pub fn overlap(a: &Quad, b: &Quad) -> bool {
    let apart = |p: &Quad, q: &Quad| {
        (0..4).any(|i| {
            let (s, e) = (p[i], p[(i + 1) % 4]);
            let n = (s.1 - e.1, e.0 - s.0);
            if n.0.hypot(n.1) < 1e-9 {
                return false;
            }
            let reach = |r: &Quad| {
                r.iter()
                    .map(|c| c.0 * n.0 + c.1 * n.1)
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |m, d| (m.0.min(d), m.1.max(d)))
            };
            let ((p0, p1), (q0, q1)) = (reach(p), reach(q));
            p1 <= q0 + 1e-9 || q1 <= p0 + 1e-9
        })
    };
    !apart(a, b) && !apart(b, a)
}

/// Where a level line at height `y` runs inside rings (even-odd), as `(from, to)` from the left.
#[must_use]
pub fn inside_spans(rings: &[Vec<PaperPoint>], y: f64) -> Vec<(f64, f64)> {
    let mut xs = Vec::new();
    for ring in rings {
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if (a.1 > y) != (b.1 > y) {
                xs.push(a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0));
            }
        }
    }
    xs.sort_by(f64::total_cmp);
    xs.chunks_exact(2).map(|c| (c[0], c[1])).filter(|(a, b)| b - a > 1e-6).collect()
}

/// Slanting hatch lines (45 degrees, rising to the right) inside a ring, cut to a rectangle.
#[must_use]
pub fn hatch(ring: &[PaperPoint], pitch: f64, within: &Rect) -> Vec<(PaperPoint, PaperPoint)> {
    let root = std::f64::consts::SQRT_2;
    // Turn the ring so that hatch lines are level: u along them, v across.
    let turned = |(x, y): PaperPoint| ((x + y) / root, (y - x) / root);
    let back = |(u, v): PaperPoint| ((u - v) / root, (u + v) / root);
    let rings = [ring.iter().map(|&p| turned(p)).collect::<Vec<_>>()];
    let (Some(r), Some(w)) =
        (Rect::round(rings[0].iter().copied()), Rect::round(within.corners().map(turned)))
    else {
        return Vec::new();
    };
    let (low, high) = (r.bottom.max(w.bottom), r.top.min(w.top));
    let mut lines = Vec::new();
    let mut k = (low / pitch).ceil();
    while k * pitch <= high {
        let v = k * pitch + 1e-4;
        for (u0, u1) in inside_spans(&rings, v) {
            lines.extend(within.clip(back((u0, v)), back((u1, v))));
        }
        k += 1.0;
    }
    lines
}

/// The line at a distance outside a ring, round at its corners, cut to a rectangle: its pieces, point by point.
#[must_use]
pub fn around(ring: &[PaperPoint], distance: f64, within: &Rect) -> Vec<Vec<PaperPoint>> {
    let n = ring.len();
    let side = |i: usize| (ring[i], ring[(i + 1) % n]);
    let turn: f64 = (0..n).map(side).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    let out = if turn >= 0.0 { -1.0 } else { 1.0 };
    // Outward direction of each side, as an angle.
    let outward = |i: usize| {
        let (a, b) = side(i);
        (out * (b.0 - a.0)).atan2(-out * (b.1 - a.1))
    };
    let sides: Vec<usize> = (0..n).filter(|&i| side(i).0 != side(i).1).collect();
    let off = |p: PaperPoint, angle: f64| (p.0 + angle.cos() * distance, p.1 + angle.sin() * distance);
    let mut points = Vec::new();
    for (k, &i) in sides.iter().enumerate() {
        let ((a, b), angle) = (side(i), outward(i));
        let steps = (b.0 - a.0).hypot(b.1 - a.1).ceil().clamp(1.0, 4000.0) as usize;
        points.extend((0..=steps).map(|s| {
            let t = s as f64 / steps as f64;
            off((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t), angle)
        }));
        // Round the corner to the next side, where it turns outwards.
        let bend = (outward(sides[(k + 1) % sides.len()]) - angle).sin_cos();
        let bend = bend.0.atan2(bend.1);
        let steps = (bend.abs() / 0.17).floor() as usize;
        points.extend((1..=steps).map(|s| off(b, angle + bend * s as f64 / (steps + 1) as f64)));
    }
    points.extend(points.first().copied());
    // What comes nearer than that, at a corner that turns inwards, is no part of it.
    let clear = |p: &PaperPoint| {
        within.contains(*p) && sides.iter().all(|&i| to_segment(*p, side(i)) >= distance - 1e-6)
    };
    let mut pieces: Vec<Vec<PaperPoint>> = vec![Vec::new()];
    for p in points {
        match pieces.last_mut() {
            Some(last) if clear(&p) => last.push(p),
            Some(last) if !last.is_empty() => pieces.push(Vec::new()),
            _ => {}
        }
    }
    pieces.retain(|p| p.len() > 1);
    pieces
}

/// Distance of a point from a segment.
fn to_segment(p: PaperPoint, (a, b): (PaperPoint, PaperPoint)) -> f64 {
    let d = (b.0 - a.0, b.1 - a.1);
    let t = ((p.0 - a.0) * d.0 + (p.1 - a.1) * d.1) / (d.0 * d.0 + d.1 * d.1).max(1e-12);
    let t = t.clamp(0.0, 1.0);
    (a.0 + d.0 * t - p.0).hypot(a.1 + d.1 * t - p.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_that_touch_do_not_overlap() {
        let a = Rect::new(0.0, 0.0, 2.0, 1.0).corners();
        assert!(!overlap(&a, &Rect::new(2.0, 0.0, 3.0, 1.0).corners()));
        assert!(overlap(&a, &Rect::new(1.9, 0.5, 3.0, 2.0).corners()));
        // A slanting segment past the corner (2, 1): x + y = 3.1 misses it, x + y = 2.9 cuts it.
        assert!(!overlap(&a, &segment((3.1, 0.0), (0.0, 3.1))));
        assert!(overlap(&a, &segment((2.9, 0.0), (0.0, 2.9))));
    }

    #[test]
    fn segments_are_cut_to_a_rectangle() {
        let r = Rect::new(0.0, 0.0, 10.0, 10.0);
        assert_eq!(r.clip((-5.0, 5.0), (15.0, 5.0)), Some(((0.0, 5.0), (10.0, 5.0))));
        assert_eq!(r.clip((-5.0, 11.0), (15.0, 11.0)), None);
    }

    #[test]
    fn rings_are_cut_to_a_rectangle() {
        let r = Rect::new(0.0, 0.0, 10.0, 10.0);
        // A square half out at the right keeps its left half; one outside keeps nothing.
        let half = r.clip_ring(&[(8.0, 2.0), (12.0, 2.0), (12.0, 4.0), (8.0, 4.0)]);
        assert_eq!(half, vec![(8.0, 2.0), (10.0, 2.0), (10.0, 4.0), (8.0, 4.0)]);
        assert!(r.clip_ring(&[(11.0, 2.0), (12.0, 2.0), (12.0, 4.0)]).is_empty());
    }

    #[test]
    fn spans_leave_holes_out() {
        let wall = vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
        let hole = vec![(4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0)];
        assert_eq!(inside_spans(&[wall, hole], 5.0), vec![(0.0, 4.0), (6.0, 10.0)]);
    }

    #[test]
    fn the_line_round_a_ring_keeps_its_distance() {
        // An L: 2 outside a square of 10 with its upper right quarter gone.
        let ring = [(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (5.0, 5.0), (5.0, 10.0), (0.0, 10.0)];
        let all = around(&ring, 2.0, &Rect::new(-9.0, -9.0, 19.0, 19.0));
        let points: Vec<PaperPoint> = all.concat();
        let has = |x: f64, y: f64| points.iter().any(|p| (p.0 - x).hypot(p.1 - y) < 1e-9);
        assert!(has(-2.0, 5.0) && has(5.0, -2.0) && has(12.0, 5.0) && has(7.0, 10.0));
        // Nothing in the corner that turns inwards, where (6, 7) is 1 from a side.
        assert!(
            !has(6.0, 7.0)
                && points.iter().all(|p| p.0 < 5.0
                    || p.1 < 5.0
                    || (p.0 >= 7.0 && p.1 >= 7.0)
                    || p.0 > 10.0
                    || p.1 > 10.0)
        );
        let far = |p: &PaperPoint| {
            (0..6).map(|i| to_segment(*p, (ring[i], ring[(i + 1) % 6]))).fold(f64::MAX, f64::min)
        };
        assert!(points.iter().all(|p| (far(p) - 2.0).abs() < 1e-6));
        assert!(around(&ring, 2.0, &Rect::new(20.0, 20.0, 30.0, 30.0)).is_empty());
    }
}
