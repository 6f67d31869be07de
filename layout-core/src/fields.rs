//! Square fields over a drawing, each with the numbers of the things in it: what is near a place is found
//! without looking at the rest.

use crate::elevation::Point;

/// No more fields than this for each thing, and never fewer than [`FEWEST`].
const FOR_EACH: usize = 16;

/// See [`FOR_EACH`].
const FEWEST: usize = 4096;

/// Fields in rows, each row from the left.
#[derive(Clone, Debug, Default)]
pub(crate) struct Fields {
    origin: Point,
    side: f64,
    columns: usize,
    rows: usize,
    /// For each field where its numbers begin; one more than there are fields.
    starts: Vec<u32>,
    items: Vec<u32>,
}

impl Fields {
    /// Fields over `count` things with these bounds (lower left, upper right), no side shorter than `least`,
    /// mm. Where the bounds of a thing come into a field, `keeps` says whether the thing does, given the
    /// field's middle and half its side.
    pub(crate) fn new(
        count: usize,
        least: f64,
        bounds: impl Fn(usize) -> (Point, Point),
        keeps: impl Fn(usize, Point, f64) -> bool,
    ) -> Self {
        if count == 0 {
            return Self { starts: vec![0], ..Self::default() };
        }
        let (mut lo, mut hi) = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
        for (a, b) in (0..count).map(&bounds) {
            lo = (lo.0.min(a.0), lo.1.min(a.1));
            hi = (hi.0.max(b.0), hi.1.max(b.1));
        }
        let (w, h) = (hi.0 - lo.0, hi.1 - lo.1);
        let most = (count * FOR_EACH).max(FEWEST) as f64;
        let side = (w * h / most).sqrt().max(w.max(h) / 60_000.0).max(least);
        let (columns, rows) = ((w / side) as usize + 1, (h / side) as usize + 1);
        let mut this =
            Self { origin: lo, side, columns, rows, starts: vec![0; columns * rows + 1], items: Vec::new() };
        let mut kept: Vec<(u32, u32)> = Vec::with_capacity(count * 2);
        for i in 0..count {
            let (a, b) = bounds(i);
            let (columns, rows) = this.reach(a, b);
            let single = columns.len() * rows.len() == 1;
            for j in rows {
                for k in columns.clone() {
                    if single || keeps(i, this.middle(k, j), side * 0.5) {
                        kept.push(((j * this.columns + k) as u32, i as u32));
                    }
                }
            }
        }
        for &(f, _) in &kept {
            this.starts[f as usize + 1] += 1;
        }
        for f in 1..this.starts.len() {
            this.starts[f] += this.starts[f - 1];
        }
        this.items = vec![0; kept.len()];
        let mut next = this.starts.clone();
        for (f, i) in kept {
            let at = &mut next[f as usize];
            this.items[*at as usize] = i;
            *at += 1;
        }
        this
    }

    fn middle(&self, column: usize, row: usize) -> Point {
        (self.origin.0 + (column as f64 + 0.5) * self.side, self.origin.1 + (row as f64 + 0.5) * self.side)
    }

    /// Columns and rows that a box comes into.
    fn reach(&self, lo: Point, hi: Point) -> (std::ops::Range<usize>, std::ops::Range<usize>) {
        let at =
            |v: f64, o: f64, n: usize| (((v - o) / self.side).max(0.0) as usize).min(n.saturating_sub(1));
        let (w, h) = (self.columns as f64 * self.side, self.rows as f64 * self.side);
        let outside = self.columns == 0
            || lo.0 > hi.0
            || lo.1 > hi.1
            || hi.0 < self.origin.0
            || hi.1 < self.origin.1
            || lo.0 > self.origin.0 + w
            || lo.1 > self.origin.1 + h;
        if outside {
            return (0..0, 0..0);
        }
        (
            at(lo.0, self.origin.0, self.columns)..at(hi.0, self.origin.0, self.columns) + 1,
            at(lo.1, self.origin.1, self.rows)..at(hi.1, self.origin.1, self.rows) + 1,
        )
    }

    /// Numbers of the things that may come within a box: some twice, some that do not. Row by row, so many
    /// at a time.
    pub(crate) fn near_by_row(&self, lo: Point, hi: Point) -> impl Iterator<Item = &[u32]> + '_ {
        let (columns, rows) = self.reach(lo, hi);
        rows.map(move |j| {
            let from = j * self.columns;
            &self.items[self.starts[from + columns.start] as usize..self.starts[from + columns.end] as usize]
        })
    }

    /// As [`Self::near_by_row`], one by one.
    pub(crate) fn near(&self, lo: Point, hi: Point) -> impl Iterator<Item = u32> + '_ {
        self.near_by_row(lo, hi).flat_map(|r| r.iter().copied())
    }
}
