//! The boundary of the masonry, with fields over it for fast look-ups.

use crate::elevation::Point;
use crate::fields::Fields;

/// What a piece of boundary belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoundaryKind {
    /// Side of the outline, by number.
    Side(usize),
    /// An opening.
    Opening,
    /// A face of a movement joint, by number.
    Joint(usize),
}

/// A straight piece of boundary; masonry lies on the left going from `a` to `b`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoundarySegment {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
    /// What it belongs to.
    pub kind: BoundaryKind,
}

impl BoundarySegment {
    /// x at a height, for a piece that is not level.
    #[must_use]
    pub fn x_at(&self, y: f64) -> f64 {
        if self.a.0 == self.b.0 || y == self.a.1 {
            self.a.0
        } else if y == self.b.1 {
            self.b.0
        } else {
            self.a.0 + (y - self.a.1) / (self.b.1 - self.a.1) * (self.b.0 - self.a.0)
        }
    }

    /// The point of the piece nearest to `p`.
    #[must_use]
    pub fn nearest(&self, p: Point) -> Point {
        let (dx, dy) = (self.b.0 - self.a.0, self.b.1 - self.a.1);
        let len2 = dx * dx + dy * dy;
        if len2 <= 0.0 {
            return self.a;
        }
        let t = ((p.0 - self.a.0) * dx + (p.1 - self.a.1) * dy) / len2;
        if t <= 0.0 {
            self.a
        } else if t >= 1.0 {
            self.b
        } else {
            (self.a.0 + t * dx, self.a.1 + t * dy)
        }
    }

    /// Distance from a point, mm.
    #[must_use]
    pub fn distance(&self, p: Point) -> f64 {
        let q = self.nearest(p);
        (p.0 - q.0).hypot(p.1 - q.1)
    }

    /// Lower left and upper right corner of its bounds.
    #[must_use]
    pub fn bounds(&self) -> (Point, Point) {
        let (a, b) = (self.a, self.b);
        ((a.0.min(b.0), a.1.min(b.1)), (a.0.max(b.0), a.1.max(b.1)))
    }

    /// The open interval of x at a height that is closer to the piece than `off`, mm.
    #[must_use]
    pub fn reach_at(&self, off: f64, y: f64) -> Option<(f64, f64)> {
        let (lo, hi) = self.bounds();
        if off <= 0.0 || y <= lo.1 - off || y >= hi.1 + off {
            return None;
        }
        let beside = |v: f64| (off * off - v * v).max(0.0).sqrt();
        if lo.0 == hi.0 || lo.1 == hi.1 {
            // A level or an upright piece: the same all along it, less beyond its ends.
            let half = if y < lo.1 {
                beside(lo.1 - y)
            } else if y > hi.1 {
                beside(y - hi.1)
            } else {
                off
            };
            return Some((lo.0 - half, hi.0 + half));
        }
        let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut take = |x: f64| (left, right) = (left.min(x), right.max(x));
        for c in [self.a, self.b] {
            if (y - c.1).abs() < off {
                take(c.0 - beside(y - c.1));
                take(c.0 + beside(y - c.1));
            }
        }
        // The two long sides of the band of this half-width about the piece.
        let length = self.length();
        let (nx, ny) = (-(self.b.1 - self.a.1) / length * off, (self.b.0 - self.a.0) / length * off);
        for (ox, oy) in [(nx, ny), (-nx, -ny)] {
            let (a, b) = ((self.a.0 + ox, self.a.1 + oy), (self.b.0 + ox, self.b.1 + oy));
            if (a.1 <= y && y <= b.1) || (b.1 <= y && y <= a.1) {
                take(a.0 + (b.0 - a.0) * (y - a.1) / (b.1 - a.1));
            }
        }
        (left < right).then_some((left, right))
    }

    /// Whether a slanting piece comes into a square about a place (a hair generous); a level or upright one
    /// does wherever its bounds do.
    fn comes_near(&self, middle: Point, half: f64) -> bool {
        let (dx, dy) = (self.b.0 - self.a.0, self.b.1 - self.a.1);
        if dx == 0.0 || dy == 0.0 {
            return true;
        }
        let off = (dx * (middle.1 - self.a.1) - dy * (middle.0 - self.a.0)).abs();
        off <= (dx.abs() + dy.abs()) * (half + 1e-3)
    }

    /// Length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        (self.a.0 - self.b.0).hypot(self.a.1 - self.b.1)
    }
}

/// The boundary of the masonry.
#[derive(Clone, Debug, Default)]
pub struct Boundary {
    /// Its pieces; those of a ring one after another.
    pub segments: Vec<BoundarySegment>,
    fields: Fields,
}

/// No finer than a tie's reach needs, mm.
const LEAST_FIELD: f64 = 250.0;

impl Boundary {
    /// A boundary with its fields.
    #[must_use]
    pub fn new(segments: Vec<BoundarySegment>) -> Self {
        let bounds = |i: usize| segments[i].bounds();
        let fields = Fields::new(segments.len(), LEAST_FIELD, bounds, |i, middle, half| {
            segments[i].comes_near(middle, half)
        });
        Self { segments, fields }
    }

    /// Lower left and upper right corner of its bounds; `None` where there is nothing.
    #[must_use]
    pub fn bounds(&self) -> Option<(Point, Point)> {
        self.segments
            .iter()
            .map(BoundarySegment::bounds)
            .reduce(|(lo, hi), (a, b)| ((lo.0.min(a.0), lo.1.min(a.1)), (hi.0.max(b.0), hi.1.max(b.1))))
    }

    /// Numbers of the pieces that may come within the box; some twice, some that do not.
    pub fn near(&self, lo: Point, hi: Point) -> impl Iterator<Item = u32> + '_ {
        self.fields.near(lo, hi)
    }

    /// As [`Self::near`], so many at a time.
    pub(crate) fn near_by_row(&self, lo: Point, hi: Point) -> impl Iterator<Item = &[u32]> + '_ {
        self.fields.near_by_row(lo, hi)
    }

    /// Distance to the nearest piece that is closer than `limit`, with its number.
    #[must_use]
    pub fn nearest_within(&self, p: Point, limit: f64) -> Option<(f64, u32)> {
        let mut best: Option<(f64, u32)> = None;
        for row in self.fields.near_by_row((p.0 - limit, p.1 - limit), (p.0 + limit, p.1 + limit)) {
            for &i in row {
                let q = self.segments[i as usize].nearest(p);
                let (dx, dy) = ((p.0 - q.0).abs(), (p.1 - q.1).abs());
                if dx >= limit || dy >= limit {
                    continue;
                }
                let d = if dx == 0.0 || dy == 0.0 { dx + dy } else { dx.hypot(dy) };
                if d < limit && best.is_none_or(|b| d < b.0 || (d == b.0 && i < b.1)) {
                    best = Some((d, i));
                }
            }
        }
        best
    }
}
