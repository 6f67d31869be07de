//! The boundary of the masonry, with a grid over it for fast look-ups.

use crate::elevation::Point;

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
    grid: Grid,
}

/// Square fields over the boundary, each with the numbers of the pieces that cross it.
#[derive(Clone, Debug, Default)]
struct Grid {
    origin: Point,
    field: f64,
    columns: usize,
    rows: usize,
    starts: Vec<u32>,
    items: Vec<u32>,
}

impl Boundary {
    /// A boundary with its grid.
    #[must_use]
    pub fn new(segments: Vec<BoundarySegment>) -> Self {
        let grid = Grid::new(&segments);
        Self { segments, grid }
    }

    /// Numbers of the pieces that may come within the box; some twice, some that do not.
    pub fn near(&self, lo: Point, hi: Point) -> impl Iterator<Item = u32> + '_ {
        self.grid.fields(lo, hi).flat_map(|f| {
            let (a, b) = (self.grid.starts[f] as usize, self.grid.starts[f + 1] as usize);
            self.grid.items[a..b].iter().copied()
        })
    }

    /// Distance to the nearest piece that is closer than `limit`, with its number.
    #[must_use]
    pub fn nearest_within(&self, p: Point, limit: f64) -> Option<(f64, u32)> {
        self.near((p.0 - limit, p.1 - limit), (p.0 + limit, p.1 + limit))
            .map(|i| (self.segments[i as usize].distance(p), i))
            .filter(|(d, _)| *d < limit)
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
    }
}

impl Grid {
    fn new(segments: &[BoundarySegment]) -> Self {
        if segments.is_empty() {
            return Self { starts: vec![0], ..Self::default() };
        }
        let points = || segments.iter().flat_map(|s| [s.a, s.b]);
        let lo = points().fold((f64::MAX, f64::MAX), |m, p| (m.0.min(p.0), m.1.min(p.1)));
        let hi = points().fold((f64::MIN, f64::MIN), |m, p| (m.0.max(p.0), m.1.max(p.1)));
        let (w, h) = (hi.0 - lo.0, hi.1 - lo.1);
        // No finer than a tie's reach needs, no more fields than a few for each piece.
        let most = (segments.len() * 16).max(4096) as f64;
        let field = (w * h / most).sqrt().max(w.max(h) / 60_000.0).max(250.0);
        let (columns, rows) = ((w / field) as usize + 1, (h / field) as usize + 1);
        let mut grid =
            Self { origin: lo, field, columns, rows, starts: vec![0; columns * rows + 1], items: Vec::new() };
        let mut pairs: Vec<(u32, u32)> = Vec::with_capacity(segments.len() * 2);
        for (i, s) in segments.iter().enumerate() {
            let lo = (s.a.0.min(s.b.0), s.a.1.min(s.b.1));
            let hi = (s.a.0.max(s.b.0), s.a.1.max(s.b.1));
            for f in grid.fields(lo, hi) {
                if grid.crosses(f, s) {
                    pairs.push((f as u32, i as u32));
                }
            }
        }
        pairs.sort_unstable();
        for &(f, _) in &pairs {
            grid.starts[f as usize + 1] += 1;
        }
        for f in 1..grid.starts.len() {
            grid.starts[f] += grid.starts[f - 1];
        }
        grid.items = pairs.into_iter().map(|(_, i)| i).collect();
        grid
    }

    /// Whether a slanting piece comes into a field (a hair generous).
    fn crosses(&self, f: usize, s: &BoundarySegment) -> bool {
        if s.a.0 == s.b.0 || s.a.1 == s.b.1 {
            return true;
        }
        let (i, j) = (f % self.columns, f / self.columns);
        let cx = self.origin.0 + (i as f64 + 0.5) * self.field;
        let cy = self.origin.1 + (j as f64 + 0.5) * self.field;
        let (dx, dy) = (s.b.0 - s.a.0, s.b.1 - s.a.1);
        let off = (dx * (cy - s.a.1) - dy * (cx - s.a.0)).abs();
        off <= (dx.abs() + dy.abs()) * (self.field * 0.5 + 1e-3)
    }

    fn fields(&self, lo: Point, hi: Point) -> impl Iterator<Item = usize> + '_ {
        let at = |v: f64, o: f64, n: usize| {
            (((v - o) / self.field).floor().max(0.0) as usize).min(n.saturating_sub(1))
        };
        let (reach_x, reach_y) = (self.columns as f64 * self.field, self.rows as f64 * self.field);
        let outside = self.columns == 0
            || hi.0 < self.origin.0
            || hi.1 < self.origin.1
            || lo.0 > self.origin.0 + reach_x
            || lo.1 > self.origin.1 + reach_y;
        let (i0, i1) = (at(lo.0, self.origin.0, self.columns), at(hi.0, self.origin.0, self.columns));
        let (j0, j1) = (at(lo.1, self.origin.1, self.rows), at(hi.1, self.origin.1, self.rows));
        let rows = if outside { 0..0 } else { j0..j1 + 1 };
        rows.flat_map(move |j| (i0..=i1).map(move |i| j * self.columns + i))
    }
}
