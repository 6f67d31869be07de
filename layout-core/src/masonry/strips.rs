//! The masonry cut into level strips, and each strip into cells with straight sides.
//!
//! A strip lies between two neighbouring heights at which anything happens: a corner of the
//! boundary, an end of a joint, or a height the caller asks for. Within a strip the masonry is a row
//! of trapezoids, its cells, from left to right. A cell is convex, so its cut with any upright band is
//! in one piece; two cells of neighbouring strips are joined where they share a length of the height
//! between them. A movement joint ends one cell and begins the next at the same x, unjoined.

use super::boundary::BoundarySegment;
use crate::elevation::Point;
use crate::units::EPSILON;

/// A level strip of the masonry.
#[derive(Clone, Copy, Debug)]
pub struct Strip {
    /// Lower height, mm.
    pub y0: f64,
    /// Upper height, mm.
    pub y1: f64,
    /// Index of its first cell.
    pub first: u32,
    /// One past the index of its last cell.
    pub last: u32,
}

/// One trapezoid of masonry.
#[derive(Clone, Copy, Debug)]
pub struct Cell {
    /// Its strip.
    pub strip: u32,
    /// Left side at the lower height.
    pub l0: f64,
    /// Left side at the upper height.
    pub l1: f64,
    /// Right side at the lower height.
    pub r0: f64,
    /// Right side at the upper height.
    pub r1: f64,
    /// Cells of the strip above that may touch it.
    pub up: (u32, u32),
    /// Cells of the strip below that may touch it.
    pub down: (u32, u32),
}

impl Cell {
    /// Leftmost x.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.l0.min(self.l1)
    }
    /// Rightmost x.
    #[must_use]
    pub fn right(&self) -> f64 {
        self.r0.max(self.r1)
    }
    /// Left and right end of the part over which the cell stands at its full height.
    #[must_use]
    pub fn core(&self) -> (f64, f64) {
        (self.l0.max(self.l1), self.r0.min(self.r1))
    }
}

/// The masonry as strips of cells, from below, each strip from the left.
#[derive(Clone, Debug, Default)]
pub struct Strips {
    /// The strips, from below.
    pub strips: Vec<Strip>,
    /// The cells of all strips.
    pub cells: Vec<Cell>,
}

impl Strips {
    /// Cuts the masonry at the corners of its boundary and at the heights `cuts`.
    #[must_use]
    pub fn new(boundary: &[BoundarySegment], cuts: &[f64]) -> Self {
        let upright: Vec<&BoundarySegment> = {
            let mut v: Vec<_> = boundary.iter().filter(|s| s.a.1 != s.b.1).collect();
            v.sort_by(|s, t| low(s).total_cmp(&low(t)));
            v
        };
        let heights = heights(&upright, cuts);
        let mut this = Self::default();
        let mut active: Vec<(f64, &BoundarySegment)> = Vec::new();
        let mut next = 0;
        for pair in heights.windows(2) {
            let (y0, y1) = (pair[0], pair[1]);
            let middle = f64::midpoint(y0, y1);
            active.retain(|(_, s)| high(s) > middle);
            while next < upright.len() && low(upright[next]) < middle {
                if high(upright[next]) > middle {
                    active.push((0.0, upright[next]));
                }
                next += 1;
            }
            this.push_strip(y0, y1, &mut active);
        }
        this.join();
        this
    }

    /// Adds the strip between two heights; `active` are the sides that run through it.
    fn push_strip(&mut self, y0: f64, y1: f64, active: &mut [(f64, &BoundarySegment)]) {
        let middle = f64::midpoint(y0, y1);
        for (x, s) in active.iter_mut() {
            *x = s.x_at(middle);
        }
        // At one x the side that ends masonry (drawn upwards) comes before the one that begins it.
        active.sort_by(|(x, s), (z, t)| x.total_cmp(z).then((s.a.1 > s.b.1).cmp(&(t.a.1 > t.b.1))));
        let strip = self.strips.len() as u32;
        let first = self.cells.len() as u32;
        let mut left: Option<&BoundarySegment> = None;
        for (_, s) in active.iter() {
            if s.a.1 > s.b.1 {
                left = Some(s);
            } else if let Some(l) = left.take() {
                let (l0, l1, r0, r1) = (l.x_at(y0), l.x_at(y1), s.x_at(y0), s.x_at(y1));
                if r0 - l0 > EPSILON || r1 - l1 > EPSILON {
                    self.cells.push(Cell { strip, l0, l1, r0, r1, up: (0, 0), down: (0, 0) });
                }
            }
        }
        self.strips.push(Strip { y0, y1, first, last: self.cells.len() as u32 });
    }

    /// Notes for each cell which cells above and below may touch it.
    fn join(&mut self) {
        for i in 1..self.strips.len() {
            let (below, above) = (self.strips[i - 1], self.strips[i]);
            for c in below.first..below.last {
                let (lo, hi) = (self.cells[c as usize].l1, self.cells[c as usize].r1);
                let row = &self.cells[above.first as usize..above.last as usize];
                let from = row.partition_point(|d| d.r0 <= lo);
                let to = row.partition_point(|d| d.l0 < hi);
                self.cells[c as usize].up = (above.first + from as u32, above.first + to.max(from) as u32);
            }
            for c in above.first..above.last {
                let (lo, hi) = (self.cells[c as usize].l0, self.cells[c as usize].r0);
                let row = &self.cells[below.first as usize..below.last as usize];
                let from = row.partition_point(|d| d.r1 <= lo);
                let to = row.partition_point(|d| d.l1 < hi);
                self.cells[c as usize].down = (below.first + from as u32, below.first + to.max(from) as u32);
            }
        }
    }

    /// The cells of a strip.
    #[must_use]
    pub fn cells_of(&self, strip: usize) -> &[Cell] {
        let s = self.strips[strip];
        &self.cells[s.first as usize..s.last as usize]
    }

    /// Index of the strip that holds a height; at the height between two strips the lower one.
    #[must_use]
    pub fn strip_at(&self, y: f64) -> Option<usize> {
        let i = self.strips.partition_point(|s| s.y1 < y);
        (i < self.strips.len() && self.strips[i].y0 <= y).then_some(i)
    }

    /// Index of the cell that holds a point, its boundary included.
    #[must_use]
    pub fn cell_at(&self, p: Point) -> Option<u32> {
        let at = self.strip_at(p.1)?;
        // At the height between two strips either may hold the point.
        self.cell_in(at, p).or_else(|| {
            let above = at + 1;
            (above < self.strips.len() && self.strips[above].y0 <= p.1)
                .then(|| self.cell_in(above, p))
                .flatten()
        })
    }

    fn cell_in(&self, strip: usize, p: Point) -> Option<u32> {
        let s = self.strips[strip];
        let t = if s.y1 > s.y0 { (p.1 - s.y0) / (s.y1 - s.y0) } else { 0.0 };
        let row = self.cells_of(strip);
        let right = |c: &Cell| c.r0 + (c.r1 - c.r0) * t;
        let i = row.partition_point(|c| right(c) < p.0 - EPSILON);
        let c = row.get(i)?;
        (c.l0 + (c.l1 - c.l0) * t <= p.0 + EPSILON).then_some(s.first + i as u32)
    }

    /// Whether a point lies in the masonry or on its boundary.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.cell_at(p).is_some()
    }

    /// Area of masonry between two x and two heights, mm2.
    #[must_use]
    pub fn area_within(&self, x: (f64, f64), y: (f64, f64)) -> f64 {
        let mut sum = 0.0;
        for cell in &self.cells {
            let strip = self.strips[cell.strip as usize];
            let (y0, y1) = (strip.y0.max(y.0), strip.y1.min(y.1));
            if y1 - y0 <= 0.0 || cell.right() <= x.0 || cell.left() >= x.1 {
                continue;
            }
            let at = |a: f64, b: f64, y: f64| a + (b - a) * ((y - strip.y0) / (strip.y1 - strip.y0));
            // A slanting side may cross a limit: between the heights where it does, the width is linear.
            let mut cuts = vec![y0, y1];
            for (a, b) in [(cell.l0, cell.l1), (cell.r0, cell.r1)] {
                for limit in [x.0, x.1] {
                    if (a < limit) != (b < limit) && limit.is_finite() {
                        cuts.push((strip.y0 + (limit - a) / (b - a) * (strip.y1 - strip.y0)).clamp(y0, y1));
                    }
                }
            }
            cuts.sort_by(f64::total_cmp);
            let width = |y: f64| {
                let (l, r) = (at(cell.l0, cell.l1, y), at(cell.r0, cell.r1, y));
                (r.min(x.1) - l.max(x.0)).max(0.0)
            };
            sum += cuts.windows(2).map(|p| (p[1] - p[0]) * width(f64::midpoint(p[0], p[1]))).sum::<f64>();
        }
        sum
    }
}

fn low(s: &BoundarySegment) -> f64 {
    s.a.1.min(s.b.1)
}

fn high(s: &BoundarySegment) -> f64 {
    s.a.1.max(s.b.1)
}

/// Every height to cut at, from below, none twice.
fn heights(upright: &[&BoundarySegment], cuts: &[f64]) -> Vec<f64> {
    let mut ys: Vec<f64> = upright.iter().flat_map(|s| [s.a.1, s.b.1]).collect();
    ys.sort_by(f64::total_cmp);
    let (Some(&bottom), Some(&top)) = (ys.first(), ys.last()) else { return Vec::new() };
    if !cuts.is_empty() {
        ys.extend(cuts.iter().copied().filter(|&y| y > bottom && y < top));
        ys.sort_by(f64::total_cmp);
    }
    ys.dedup_by(|b, a| *b - *a <= EPSILON);
    ys
}
