//! Whether the straight line between two points runs through the masonry.

use super::{BoundaryKind, Masonry};
use crate::elevation::Point;

/// Two points this close are one, mm.
const NEAR: f64 = 1e-4;

impl Masonry {
    /// Whether the straight line from `p` to `q` runs through the masonry: it may touch the boundary,
    /// and may end on it, but leaves the masonry nowhere and crosses no joint.
    #[must_use]
    pub fn sees(&self, p: Point, q: Point) -> bool {
        let (dx, dy) = (q.0 - p.0, q.1 - p.1);
        let length = dx.hypot(dy);
        if length <= NEAR {
            return true;
        }
        let lo = (p.0.min(q.0) - NEAR, p.1.min(q.1) - NEAR);
        let hi = (p.0.max(q.0) + NEAR, p.1.max(q.1) + NEAR);
        let end = NEAR / length;
        // Where it meets the boundary between its ends; mostly nowhere.
        let mut meets: Vec<f64> = Vec::new();
        for i in self.boundary.near(lo, hi) {
            let s = self.boundary.segments[i as usize];
            let (ex, ey) = (s.b.0 - s.a.0, s.b.1 - s.a.1);
            let cross = dx * ey - dy * ex;
            if cross.abs() <= 1e-12 * length * s.length() {
                // Along the line: its ends matter, if they lie on it.
                for c in [s.a, s.b] {
                    let t = ((c.0 - p.0) * dx + (c.1 - p.1) * dy) / (length * length);
                    let off = ((c.0 - p.0) * dy - (c.1 - p.1) * dx).abs() / length;
                    if off <= NEAR && t > end && t < 1.0 - end {
                        meets.push(t);
                    }
                }
                continue;
            }
            let t = ((s.a.0 - p.0) * ey - (s.a.1 - p.1) * ex) / cross;
            let u = ((s.a.0 - p.0) * dy - (s.a.1 - p.1) * dx) / cross;
            let reach = NEAR / s.length().max(NEAR);
            if !(0.0..=1.0).contains(&t) || u < -reach || u > 1.0 + reach {
                continue;
            }
            if t <= end || t >= 1.0 - end {
                continue;
            }
            let inner_end = u > reach && u < 1.0 - reach;
            if matches!(s.kind, BoundaryKind::Joint(_)) && inner_end {
                return false;
            }
            meets.push(t);
        }
        if meets.is_empty() {
            return self.contains((f64::midpoint(p.0, q.0), f64::midpoint(p.1, q.1)));
        }
        meets.extend([0.0, 1.0]);
        meets.sort_by(f64::total_cmp);
        meets.windows(2).filter(|w| w[1] - w[0] > end).all(|w| {
            let t = f64::midpoint(w[0], w[1]);
            self.contains((p.0 + t * dx, p.1 + t * dy))
        })
    }
}
