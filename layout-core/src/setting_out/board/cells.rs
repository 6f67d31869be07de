//! The masonry of a board cut into cells with straight sides.
//!
//! All of it is cut at the heights where the served area of a tie on some row begins or ends: what lies
//! between two of those is a strip. Within a strip a cell ends only where its own left or right side does,
//! not where a corner elsewhere is level with it, so there are no more cells than the wall has to do with;
//! cells with leaning sides end at every corner, which keeps them close to upright. A cell is convex, and
//! joined to those above and below it with which it shares a length of the height between them.

use crate::elevation::Point;
use crate::masonry::{BoundarySegment, Intervals};
use crate::units::EPSILON;

/// A level strip of the masonry.
#[derive(Clone, Copy, Debug)]
pub(in crate::setting_out) struct Strip {
    /// Lower height, mm.
    pub y0: f64,
    /// Upper height, mm.
    pub y1: f64,
    /// Number of its first cell.
    pub first: u32,
    /// One past the number of its last cell.
    pub last: u32,
}

/// One trapezoid of masonry.
#[derive(Clone, Copy, Debug)]
pub(in crate::setting_out) struct Cell {
    /// Its strip.
    pub strip: u32,
    /// Lower height, mm.
    pub y0: f64,
    /// Upper height, mm.
    pub y1: f64,
    /// Left side at the lower height.
    pub l0: f64,
    /// Left side at the upper height.
    pub l1: f64,
    /// Right side at the lower height.
    pub r0: f64,
    /// Right side at the upper height.
    pub r1: f64,
    /// Cells above that may touch it, by number.
    pub up: (u32, u32),
    /// Cells below that may touch it, by their place in [`Cells::by_top`].
    pub down: (u32, u32),
    /// Its own place in [`Cells::by_top`].
    pub top: u32,
    /// The cell straight above it with the same upright sides, or [`NO_CELL`].
    pub over: u32,
    /// Likewise the one straight below it.
    pub under: u32,
}

impl Cell {
    /// Leftmost x.
    pub(in crate::setting_out) fn left(&self) -> f64 {
        self.l0.min(self.l1)
    }
    /// Rightmost x.
    pub(in crate::setting_out) fn right(&self) -> f64 {
        self.r0.max(self.r1)
    }
    /// Left and right end of the part over which the cell stands at its full height.
    pub(super) fn core(&self) -> (f64, f64) {
        (self.l0.max(self.l1), self.r0.min(self.r1))
    }
    /// Its height, mm.
    pub(in crate::setting_out) fn height(&self) -> f64 {
        self.y1 - self.y0
    }
}

/// The number of no cell.
pub(super) const NO_CELL: u32 = u32::MAX;

/// Cells that a level line runs through: those that end at it or go on through it, and those that begin at
/// it or go on; places in [`Cells::across`].
pub(super) type Across = [(u32, u32); 2];

/// The cells of a board.
#[derive(Clone, Debug, Default)]
pub(in crate::setting_out) struct Cells {
    /// The strips, from below.
    pub strips: Vec<Strip>,
    /// All cells, strip by strip, in order of their lower heights, those of one height from the left.
    pub cells: Vec<Cell>,
    /// Their numbers in order of their upper heights, those of one height from the left.
    pub(super) by_top: Vec<u32>,
    /// See [`Across`].
    pub(super) across: Vec<u32>,
}

/// A cell that goes on: its sides, and its number.
type Open<'s> = (&'s BoundarySegment, &'s BoundarySegment, u32);

impl Cells {
    /// Cuts the masonry between two heights at the heights `cuts`. Also tells which cells lie at each of the
    /// heights `marks`, which come from below.
    pub(super) fn new(
        boundary: &[BoundarySegment],
        cuts: &[f64],
        marks: &[f64],
        range: (f64, f64),
    ) -> (Self, Vec<Across>) {
        let mut upright: Vec<&BoundarySegment> =
            boundary.iter().filter(|s| (s.a.1 - s.b.1).abs() > 0.0).collect();
        upright.sort_by(|s, t| low(s).total_cmp(&low(t)));
        let heights = heights(&upright, cuts, marks, range);
        let mut this = Self::default();
        let mut marked = vec![[(0, 0); 2]; marks.len()];
        let mut mark = 0;
        let (mut active, mut next): (Vec<&BoundarySegment>, usize) = (Vec::new(), 0);
        let (mut open, mut pairs): (Vec<Open<'_>>, Vec<Open<'_>>) = (Vec::new(), Vec::new());
        for (i, &(y, cut)) in heights.iter().enumerate() {
            let from = mark;
            while marks.get(mark).is_some_and(|&m| m <= y + EPSILON) {
                mark += 1;
            }
            if mark > from {
                let lower = this.note_across(&open);
                marked[from..mark].iter_mut().for_each(|m| m[0] = lower);
            }
            let above = heights.get(i + 1).map(|h| h.0);
            pairs.clear();
            if let Some(above) = above {
                let middle = f64::midpoint(y, above);
                active.retain(|s| high(s) > middle);
                while next < upright.len() && low(upright[next]) < middle {
                    let s = upright[next];
                    if high(s) > middle {
                        let at = active.partition_point(|t| !before(s, t, middle));
                        active.insert(at, s);
                    }
                    next += 1;
                }
                note_pairs(&active, (y, above), &mut pairs);
                if cut || i == 0 {
                    let first = this.cells.len() as u32;
                    this.strips.push(Strip { y0: y, y1: y, first, last: first });
                }
            }
            this.step(&mut open, &mut pairs, y, cut);
            if let Some(strip) = this.strips.last_mut() {
                strip.last = this.cells.len() as u32;
                strip.y1 = above.unwrap_or(y);
            }
            if mark > from {
                let upper = this.note_across(&open);
                marked[from..mark].iter_mut().for_each(|m| m[1] = upper);
            }
        }
        this.note_straight();
        (this, marked)
    }

    /// Notes which cells go straight on from one to the next.
    fn note_straight(&mut self) {
        for i in 0..self.cells.len() {
            let c = self.cells[i];
            let (first, end) = c.up;
            if end != first + 1 {
                continue;
            }
            let d = &mut self.cells[first as usize];
            let upright = c.l0 == c.l1 && c.r0 == c.r1 && d.l0 == d.l1 && d.r0 == d.r1;
            if upright && (c.l1, c.r1) == (d.l0, d.r0) && d.down.1 == d.down.0 + 1 {
                d.under = i as u32;
                self.cells[i].over = first;
            }
        }
    }

    fn note_across(&mut self, open: &[Open<'_>]) -> (u32, u32) {
        let from = self.across.len() as u32;
        self.across.extend(open.iter().map(|o| o.2));
        (from, self.across.len() as u32)
    }

    /// Goes on from the cells that are `open` below a height to those with the sides `pairs` above it.
    fn step<'s>(&mut self, open: &mut Vec<Open<'s>>, pairs: &mut Vec<Open<'s>>, y: f64, cut: bool) {
        let (ended, begun) = (self.by_top.len(), self.cells.len());
        let strip = self.strips.len().saturating_sub(1) as u32;
        let mut old = open.iter().peekable();
        for new in pairs.iter_mut() {
            let left = new.0.x_at(y);
            while let Some(&&(l, r, id)) = old.peek() {
                let same = std::ptr::eq(l, new.0) && std::ptr::eq(r, new.1);
                if same && !cut && l.a.0 == l.b.0 && r.a.0 == r.b.0 {
                    new.2 = id;
                    old.next();
                    break;
                }
                if l.x_at(y) > left {
                    break;
                }
                self.end((l, r, id), y);
                old.next();
            }
            if new.2 == NEW {
                new.2 = self.cells.len() as u32;
                let (l, r) = (new.0.x_at(y), new.1.x_at(y));
                let (none, top) = ((0, 0), 0);
                self.cells.push(Cell {
                    strip,
                    y0: y,
                    y1: y,
                    l0: l,
                    l1: l,
                    r0: r,
                    r1: r,
                    up: none,
                    down: none,
                    top,
                    over: NO_CELL,
                    under: NO_CELL,
                });
            }
        }
        for &o in old {
            self.end(o, y);
        }
        self.join(ended, begun);
        std::mem::swap(open, pairs);
    }

    fn end(&mut self, (l, r, id): Open<'_>, y: f64) {
        let cell = &mut self.cells[id as usize];
        (cell.y1, cell.l1, cell.r1) = (y, l.x_at(y), r.x_at(y));
        cell.top = self.by_top.len() as u32;
        self.by_top.push(id);
    }

    /// Notes which of the cells that end at a height and of those that begin there may touch.
    fn join(&mut self, ended: usize, begun: usize) {
        let below = &self.by_top[ended..];
        let (earlier, above) = self.cells.split_at_mut(begun);
        for &c in below {
            let c = &mut earlier[c as usize];
            let from = above.partition_point(|d| d.r0 <= c.l1);
            let to = above.partition_point(|d| d.l0 < c.r1).max(from);
            c.up = ((begun + from) as u32, (begun + to) as u32);
        }
        for d in above {
            let from = below.partition_point(|&c| earlier[c as usize].r1 <= d.l0);
            let to = below.partition_point(|&c| earlier[c as usize].l1 < d.r0).max(from);
            d.down = ((ended + from) as u32, (ended + to) as u32);
        }
    }

    /// The cells above a cell that may touch it.
    pub(super) fn above(&self, cell: u32) -> std::ops::Range<u32> {
        let up = self.cells[cell as usize].up;
        up.0..up.1
    }

    /// The cells below a cell that may touch it.
    pub(super) fn below(&self, cell: u32) -> &[u32] {
        let down = self.cells[cell as usize].down;
        &self.by_top[down.0 as usize..down.1 as usize]
    }

    /// The masonry that goes on straight through a level line, from the left.
    pub(super) fn through(&self, across: &Across) -> Intervals {
        let [lower, upper] = across.map(|(a, b)| &self.across[a as usize..b as usize]);
        let sides = |row: &[u32]| {
            Intervals::from_unsorted(row.iter().map(|&c| {
                let c = &self.cells[c as usize];
                (c.left(), c.right())
            }))
        };
        if lower == upper { sides(lower) } else { sides(lower).meet(&sides(upper)) }
    }

    /// The cell that holds a point of a level line, its boundary included.
    pub(super) fn cell_on(&self, p: Point, across: &Across) -> Option<u32> {
        across.iter().find_map(|&(from, to)| {
            let row = &self.across[from as usize..to as usize];
            let at = |c: u32| {
                let c = &self.cells[c as usize];
                if c.l0 == c.l1 && c.r0 == c.r1 {
                    return (c.l0, c.r0);
                }
                let t = if c.y1 > c.y0 { (p.1 - c.y0) / (c.y1 - c.y0) } else { 0.0 };
                (c.l0 + (c.l1 - c.l0) * t, c.r0 + (c.r1 - c.r0) * t)
            };
            let i = row.partition_point(|&c| at(c).1 < p.0 - EPSILON);
            row.get(i).copied().filter(|&c| at(c).0 <= p.0 + EPSILON)
        })
    }
}

/// A cell without a number yet.
const NEW: u32 = u32::MAX;

/// The sides of the cells between two heights, from the left.
fn note_pairs<'s>(active: &[&'s BoundarySegment], (y0, y1): (f64, f64), out: &mut Vec<Open<'s>>) {
    let mut left: Option<&BoundarySegment> = None;
    for &s in active {
        if s.a.1 > s.b.1 {
            left = Some(s);
        } else if let Some(l) = left.take()
            && (s.x_at(y0) - l.x_at(y0) > EPSILON || s.x_at(y1) - l.x_at(y1) > EPSILON)
        {
            out.push((l, s, NEW));
        }
    }
}

/// Whether a side comes before another at a height. At one x the side that ends masonry (drawn upwards)
/// comes before the one that begins it.
fn before(s: &BoundarySegment, t: &BoundarySegment, y: f64) -> bool {
    s.x_at(y).total_cmp(&t.x_at(y)).then((s.a.1 > s.b.1).cmp(&(t.a.1 > t.b.1))).is_lt()
}

fn low(s: &BoundarySegment) -> f64 {
    s.a.1.min(s.b.1)
}

fn high(s: &BoundarySegment) -> f64 {
    s.a.1.max(s.b.1)
}

/// Every height at which anything happens, from below, none twice; each with whether it is one of `cuts`.
fn heights(
    upright: &[&BoundarySegment],
    cuts: &[f64],
    marks: &[f64],
    (low, high): (f64, f64),
) -> Vec<(f64, bool)> {
    let mut ys: Vec<(f64, bool)> =
        upright.iter().flat_map(|s| [s.a.1, s.b.1]).map(|y| (y.clamp(low, high), false)).collect();
    let bottom = ys.iter().map(|y| y.0).fold(f64::INFINITY, f64::min);
    let top = ys.iter().map(|y| y.0).fold(f64::NEG_INFINITY, f64::max);
    let inside = |y: &f64| *y > bottom && *y < top;
    ys.extend(cuts.iter().copied().filter(inside).map(|y| (y, true)));
    ys.extend(marks.iter().copied().filter(inside).map(|y| (y, false)));
    ys.sort_by(|a, b| a.0.total_cmp(&b.0));
    ys.dedup_by(|b, a| {
        let same = b.0 - a.0 <= EPSILON;
        a.1 |= same && b.1;
        same
    });
    ys
}
