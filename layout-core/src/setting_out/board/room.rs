//! Room for ties among the others, and what none of them serves yet.

use super::{Apart, Board, LEAST_GAP, Reached};
use crate::masonry::{Few, Intervals, Spans};
use crate::units::EPSILON;

impl Board<'_> {
    /// Where on a row between `lo` and `hi` a tie may stand, clear of the other new ties.
    pub(in crate::setting_out) fn free(&self, row: usize, lo: f64, hi: f64) -> Intervals {
        self.clear_of_ties_but(None, row, self.rows[row].runs.clipped(lo, hi))
    }

    /// As [`Self::free`], one of the ties left out of account.
    pub(in crate::setting_out) fn free_without(&self, id: u32, row: usize, lo: f64, hi: f64) -> Intervals {
        self.clear_of_ties_but(Some(id), row, self.rows[row].runs.clipped(lo, hi))
    }

    /// Whether a tie may stand at a place, clear of the other new ties.
    pub(in crate::setting_out) fn is_free(&self, row: usize, x: f64) -> bool {
        self.is_free_but(None, row, x)
    }

    /// As [`Self::is_free`], one of the ties left out of account.
    pub(in crate::setting_out) fn is_free_but(&self, but: Option<u32>, row: usize, x: f64) -> bool {
        self.rows[row].runs.contains(x)
            && self.rows_about(row, Apart::Clear).all(|other| {
                let half = self.keeps_clear(row, other);
                let ties = &self.on_row[other];
                let from = ties.partition_point(|t| t.0 <= x - half);
                ties[from..].iter().find(|t| Some(t.1) != but).is_none_or(|t| t.0 >= x + half)
            })
    }

    /// The parts of `runs` on a row that are clear of the other new ties.
    pub(in crate::setting_out) fn clear_of_ties(&self, row: usize, runs: &Intervals) -> Intervals {
        self.clear_of_ties_but(None, row, runs.clone())
    }

    fn clear_of_ties_but(&self, but: Option<u32>, row: usize, runs: Intervals) -> Intervals {
        let (Some(first), Some(last)) = (runs.0.first(), runs.0.last()) else { return Intervals::empty() };
        let (lo, hi) = (first.0, last.1);
        let mut taken: Few<(f64, f64), 4> = Few::new();
        for other in self.rows_about(row, Apart::Clear) {
            let ties = &self.on_row[other];
            if ties.is_empty() {
                continue;
            }
            let half = self.keeps_clear(row, other);
            let from = ties.partition_point(|t| t.0 <= lo - half);
            let close = ties[from..].iter().take_while(|t| t.0 < hi + half).filter(|t| Some(t.1) != but);
            taken.extend(close.map(|t| (t.0 - half, t.0 + half)));
        }
        if taken.is_empty() { runs } else { runs.without(&mut taken) }
    }

    /// How far along a row a tie keeps clear of one on another row, mm.
    fn keeps_clear(&self, row: usize, other: usize) -> f64 {
        let dy = self.rows[other].y - self.rows[row].y;
        (self.between * self.between - dy * dy).max(0.0).sqrt()
    }

    /// New ties too close to a place for another to stand there.
    pub(in crate::setting_out) fn too_close(&self, row: usize, x: f64) -> Vec<u32> {
        let mut out = Vec::new();
        for other in self.rows_about(row, Apart::Clear) {
            let half = self.keeps_clear(row, other);
            let ties = &self.on_row[other];
            let from = ties.partition_point(|t| t.0 <= x - half);
            out.extend(ties[from..].iter().take_while(|t| t.0 < x + half).map(|t| t.1));
        }
        out
    }

    /// Rows so little above or below a row, itself among them.
    pub(in crate::setting_out) fn rows_about(&self, row: usize, apart: Apart) -> std::ops::Range<usize> {
        let (first, end) = self.about[row][apart as usize];
        first as usize..end as usize
    }

    /// Works out [`Self::rows_about`].
    pub(super) fn note_rows_about(&mut self) {
        let reaches = [self.between, 2.0 * self.half_v, 2.0 * self.half_v + EPSILON];
        let rows = &self.rows;
        let mut bounds = [(0, 0); 3];
        self.about = (0..rows.len())
            .map(|row| {
                for ((first, end), reach) in bounds.iter_mut().zip(reaches) {
                    while *first < row && rows[row].y - rows[*first].y >= reach {
                        *first += 1;
                    }
                    *end = row.max(*end);
                    while *end < rows.len() && rows[*end].y - rows[row].y < reach {
                        *end += 1;
                    }
                }
                bounds.map(|(first, end)| (first as u32, end as u32))
            })
            .collect();
    }

    /// Rows from which a strip can be served.
    pub(in crate::setting_out) fn rows_serving(&self, strip: usize) -> std::ops::Range<usize> {
        let s = self.strips.strips[strip];
        let middle = f64::midpoint(s.y0, s.y1);
        let first = self.rows.partition_point(|r| r.y + self.half_v < middle);
        let last = self.rows.partition_point(|r| r.y - self.half_v <= middle);
        first..last
    }

    /// The parts of a cell that no tie serves, wide enough to count.
    pub(in crate::setting_out) fn unserved(&self, cell: u32) -> Spans {
        self.unserved_between(cell, f64::NEG_INFINITY, f64::INFINITY)
    }

    /// Whether any part of a cell is unserved.
    pub(in crate::setting_out) fn is_open(&self, cell: u32) -> bool {
        self.is_open_between(cell, f64::NEG_INFINITY, f64::INFINITY)
    }

    /// Whether any part of a cell between two x is unserved.
    pub(in crate::setting_out) fn is_open_between(&self, cell: u32, lo: f64, hi: f64) -> bool {
        self.find_unserved(cell, (lo, hi), |_, _| false)
    }

    /// The first part of a cell between two x that no tie serves, wide enough to count.
    pub(in crate::setting_out) fn first_unserved(&self, cell: u32, lo: f64, hi: f64) -> Option<(f64, f64)> {
        let mut first = None;
        self.find_unserved(cell, (lo, hi), |from, to| {
            first = Some((from, to));
            false
        });
        first
    }

    /// The parts of a cell between two x that no tie serves, wide enough to count.
    pub(in crate::setting_out) fn unserved_between(&self, cell: u32, lo: f64, hi: f64) -> Spans {
        let mut out = Spans::new();
        self.each_unserved(cell, lo, hi, |from, to| out.push((from, to)));
        out
    }

    pub(in crate::setting_out) fn each_unserved(
        &self,
        cell: u32,
        lo: f64,
        hi: f64,
        mut f: impl FnMut(f64, f64),
    ) {
        self.find_unserved(cell, (lo, hi), |from, to| {
            f(from, to);
            true
        });
    }

    /// As [`Self::each_unserved`], as long as `go_on` says so: whether it was stopped.
    fn find_unserved(
        &self,
        cell: u32,
        (lo, hi): (f64, f64),
        mut go_on: impl FnMut(f64, f64) -> bool,
    ) -> bool {
        let c = &self.strips.cells[cell as usize];
        if self.spared[c.strip as usize] || !self.duty.contains(&c.strip) {
            return false;
        }
        let (mut from, right) = (c.left().max(lo), c.right().min(hi));
        let (half, first) = (self.half_h, from - self.half_h);
        'lists: for list in self.serving.lists_from(cell, first) {
            for &(x, _) in list {
                if x < first {
                    continue;
                }
                if x - half - from > LEAST_GAP && !go_on(from, (x - half).min(right)) {
                    return true;
                }
                from = if x + half > from { x + half } else { from };
                if from >= right {
                    break 'lists;
                }
            }
        }
        right - from > LEAST_GAP && !go_on(from, right)
    }

    /// As [`Self::each_unserved`], if one of the ties were not there and another stood at `new` and served the
    /// cell; at infinity none does.
    fn each_unserved_if(
        &self,
        cell: u32,
        (lo, hi): (f64, f64),
        but: u32,
        mut new: f64,
        f: &mut impl FnMut(f64, f64),
    ) {
        let c = &self.strips.cells[cell as usize];
        if self.spared[c.strip as usize] || !self.duty.contains(&c.strip) {
            return;
        }
        let (mut from, right) = (c.left().max(lo), c.right().min(hi));
        let mut serve = |x: f64| {
            let start = x - self.half_h;
            if start - from > LEAST_GAP {
                f(from, start.min(right));
            }
            from = from.max(x + self.half_h);
            from < right
        };
        let first = c.left().max(lo) - self.half_h;
        'lists: for list in self.serving.lists_from(cell, first) {
            for &(x, id) in list.iter().filter(|t| t.0 >= first) {
                let goes_on = new > x || serve(std::mem::replace(&mut new, f64::INFINITY));
                if !goes_on || (id != but && !serve(x)) {
                    break 'lists;
                }
            }
        }
        if new < f64::INFINITY {
            serve(new);
        }
        if right - from > LEAST_GAP {
            f(from, right);
        }
    }

    /// The cells that a tie would serve at another place, if those that it serves now would then have no more
    /// open between two x.
    pub(in crate::setting_out) fn served_without_loss(
        &mut self,
        id: u32,
        (row, x): (usize, f64),
        between: (f64, f64),
    ) -> Option<Reached> {
        self.find_reach(row, x);
        let (mut now, mut then) = (0.0, 0.0);
        for &c in &self.ties[id as usize].cells {
            let new = if self.visited[c as usize] == self.visit { x } else { f64::INFINITY };
            self.each_unserved(c, between.0, between.1, |a, b| now += b - a);
            self.each_unserved_if(c, between, id, new, &mut |a, b| then += b - a);
        }
        (then <= now + EPSILON).then(|| self.found.iter().copied().collect())
    }

    /// Area that a tie would newly serve, as a share of the full served area; roughly.
    pub(in crate::setting_out) fn gain(&mut self, row: usize, x: f64) -> f64 {
        self.find_reach(row, x);
        let (lo, hi) = (x - self.half_h, x + self.half_h);
        let mut area = 0.0;
        for &c in &self.found {
            let height = self.strips.cells[c as usize].height();
            self.each_unserved(c, lo, hi, |a, b| area += (b - a) * height);
        }
        area / (4.0 * self.half_h * self.half_v)
    }
}
