//! What a tie serves: exactly, and as far as it can tell by going straight up or down.

use std::collections::BTreeMap;

use super::{Board, Column, Row};
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
        let [lower, upper] = row.across.map(|(a, b)| &self.strips.across[a as usize..b as usize]);
        let seen_from_row = |c: u32| {
            let (lo, hi) = self.strips.cells[c as usize].core();
            if lo <= hi { row.runs.clipped(lo, hi).0 } else { Vec::new() }
        };
        // Going up, each cell after all those below it; going down, each after all those above it.
        let mut waiting: BTreeMap<u32, Vec<(f64, f64)>> = BTreeMap::new();
        waiting.extend(upper.iter().map(|&c| (c, seen_from_row(c))));
        while let Some((cell, visible)) = waiting.pop_first() {
            let seen = self.through(cell, visible, Some(&mut out));
            self.hand_on(row, &seen, self.strips.above(cell), |c| c, &mut waiting);
        }
        let top = |c: u32| self.strips.cells[c as usize].top;
        waiting.extend(lower.iter().map(|&c| (top(c), seen_from_row(c))));
        while let Some((place, visible)) = waiting.pop_last() {
            let cell = self.strips.by_top[place as usize];
            // Where the row runs inside a cell it is done, but the columns go on below it.
            let done = self.strips.cells[cell as usize].y1 > row.y + EPSILON;
            let seen = self.through(cell, visible, (!done).then_some(&mut out));
            self.hand_on(row, &seen, self.strips.below(cell).iter().copied(), top, &mut waiting);
        }
        out.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        out
    }

    /// Lets what is seen at the end of a cell wait for the cells beyond it that the row can serve.
    fn hand_on(
        &self,
        row: &Row,
        seen: &Intervals,
        beyond: impl Iterator<Item = u32>,
        order: impl Fn(u32) -> u32,
        waiting: &mut BTreeMap<u32, Vec<(f64, f64)>>,
    ) {
        for c in beyond {
            let cell = &self.strips.cells[c as usize];
            let (lo, hi) = cell.core();
            if lo <= hi && row.strips.0 <= cell.strip as usize && (cell.strip as usize) < row.strips.1 {
                let through = seen.clipped(lo, hi);
                if !through.is_empty() {
                    waiting.entry(order(c)).or_default().extend(through.0);
                }
            }
        }
    }

    /// What of a cell is seen where its core is seen at these places, which go to `out` with all they reach
    /// along the cell.
    fn through(&self, cell: u32, visible: Vec<(f64, f64)>, out: Option<&mut Vec<Column>>) -> Intervals {
        let seen = Intervals::from_unsorted(visible);
        let c = &self.strips.cells[cell as usize];
        if let Some(out) = out {
            let reach = seen
                .0
                .iter()
                .map(|&(a, b)| ((a - self.half_h).max(c.left()), (b + self.half_h).min(c.right())));
            let reach = Intervals::from_unsorted(reach.collect());
            out.extend(reach.0.into_iter().map(|(a, b)| (cell, a, b)));
        }
        seen
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
        let Some(start) = self.strips.cell_on((x, r.y), &r.across) else { return found };
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
            for d in c.up.0..c.up.1 {
                let up = &cells[d as usize];
                let shared = c.r1.min(up.r0).min(hi) - c.l1.max(up.l0).max(lo);
                if up.strip < s1 && shared > EPSILON && visited[d as usize] != visit {
                    visited[d as usize] = visit;
                    found.push(d);
                }
            }
            for &d in &self.strips.by_top[c.down.0 as usize..c.down.1 as usize] {
                let down = &cells[d as usize];
                let shared = c.r0.min(down.r1).min(hi) - c.l0.max(down.l1).max(lo);
                if down.strip >= s0 && shared > EPSILON && visited[d as usize] != visit {
                    visited[d as usize] = visit;
                    found.push(d);
                }
            }
        }
        found
    }
}
