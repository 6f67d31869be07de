//! What a tie serves: exactly, and as far as it can tell by going straight up or down.

use super::{Board, Column};
use crate::masonry::Intervals;
use crate::units::EPSILON;

impl Board<'_> {
    /// The parts of cells that a tie on a row reaches by going straight up or down and then along the
    /// cell; by cell, each from the left.
    pub(in crate::setting_out) fn columns(&mut self, row: usize) -> &[Column] {
        if self.columns[row].is_none() {
            self.columns[row] = Some(self.columns_of(row));
        }
        self.columns[row].as_deref().unwrap_or_default()
    }

    /// As [`Self::columns`], if they have been asked for before.
    pub(in crate::setting_out) fn columns_known(&self, row: usize) -> &[Column] {
        self.columns[row].as_deref().unwrap_or_default()
    }

    fn columns_of(&self, row: usize) -> Vec<Column> {
        let row = &self.rows[row];
        let mut out = Vec::new();
        let (s0, s1) = row.strips;
        let mid = self.strips.strips.partition_point(|s| s.y1 < row.y).clamp(s0, s1);
        let both = |s: usize| self.strips.strips[s].y1 <= row.y;
        let start = mid + usize::from(mid < s1 && both(mid));
        let mut visible = row.runs.clone();
        for s in start..s1 {
            visible = self.through(s, &visible, &mut out);
        }
        let mut visible = row.runs.clone();
        if start < s1 && self.strips.strips[start].y0 < row.y - EPSILON {
            // The row runs inside this strip: it is done, but the columns go on below it.
            visible = self.through(start, &visible, &mut Vec::new());
        }
        for s in (s0..start).rev() {
            visible = self.through(s, &visible, &mut out);
        }
        out.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        out
    }

    fn through(&self, strip: usize, visible: &Intervals, out: &mut Vec<Column>) -> Intervals {
        let s = self.strips.strips[strip];
        let mut on = Vec::new();
        for c in s.first..s.last {
            let cell = &self.strips.cells[c as usize];
            let (lo, hi) = cell.core();
            if lo > hi {
                continue;
            }
            let seen = visible.clipped(lo, hi);
            let reach = Intervals::from_unsorted(
                seen.0
                    .iter()
                    .map(|&(a, b)| ((a - self.half_h).max(cell.left()), (b + self.half_h).min(cell.right())))
                    .collect(),
            );
            out.extend(reach.0.into_iter().map(|(a, b)| (c, a, b)));
            on.extend(seen.0);
        }
        Intervals(on)
    }

    /// The cells a tie would serve.
    pub(in crate::setting_out) fn reach(&mut self, row: usize, x: f64) -> Vec<u32> {
        let found = self.take_reach(row, x);
        let out = found.clone();
        self.found = found;
        out
    }

    /// Whether a tie would serve some of each of these cells.
    pub(in crate::setting_out) fn reaches_all(&mut self, row: usize, x: f64, cells: &[u32]) -> bool {
        self.found = self.take_reach(row, x);
        cells.iter().all(|c| self.visited[*c as usize] == self.visit)
    }

    /// As [`Self::reach`], in a list that is to be put back into `found`.
    pub(super) fn take_reach(&mut self, row: usize, x: f64) -> Vec<u32> {
        let mut found = std::mem::take(&mut self.found);
        found.clear();
        if self.visit == u32::MAX {
            self.visited.fill(0);
            self.visit = 0;
        }
        self.visit += 1;
        let r = &self.rows[row];
        let Some(start) = self.strips.cell_on((x, r.y), r.level) else { return found };
        let (s0, s1) = (r.strips.0 as u32, r.strips.1 as u32);
        let visit = self.visit;
        let (lo, hi) = (x - self.half_h, x + self.half_h);
        let cells = &self.strips.cells;
        let visited = &mut self.visited;
        let own = cells[start as usize].strip;
        if own < s0 || own >= s1 {
            return found;
        }
        visited[start as usize] = visit;
        found.push(start);
        let mut done = 0;
        while done < found.len() {
            let c = &cells[found[done] as usize];
            done += 1;
            if c.strip + 1 < s1 {
                for d in c.up.0..c.up.1 {
                    let up = &cells[d as usize];
                    let shared = c.r1.min(up.r0).min(hi) - c.l1.max(up.l0).max(lo);
                    if shared > EPSILON && visited[d as usize] != visit {
                        visited[d as usize] = visit;
                        found.push(d);
                    }
                }
            }
            if c.strip > s0 {
                for d in c.down.0..c.down.1 {
                    let down = &cells[d as usize];
                    let shared = c.r0.min(down.r1).min(hi) - c.l0.max(down.l1).max(lo);
                    if shared > EPSILON && visited[d as usize] != visit {
                        visited[d as usize] = visit;
                        found.push(d);
                    }
                }
            }
        }
        found
    }
}
