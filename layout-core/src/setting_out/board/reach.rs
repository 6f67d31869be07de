//! What a tie serves: exactly, and as far as it can tell by going straight up or down.

use super::cells::NO_CELL;
use super::{Board, Column, Reached, Row};
use crate::masonry::{Intervals, Spans};
use crate::units::EPSILON;

/// So many cells side by side are looked at one after another.
const FEW: usize = 4;

/// What is seen of cells that wait for their turn, the first of them last.
#[derive(Default)]
struct Waiting(Vec<(u32, Spans)>);

impl Waiting {
    /// What is seen of the cell whose turn this is.
    fn at(&mut self, turn: u32) -> &mut Spans {
        let at = self.0.partition_point(|w| w.0 > turn);
        if self.0.get(at).is_none_or(|w| w.0 != turn) {
            self.0.insert(at, (turn, Spans::new()));
        }
        &mut self.0[at].1
    }

    /// The one whose turn comes first.
    fn next(&mut self) -> Option<(u32, Spans)> {
        self.0.pop()
    }
}

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
            if lo <= hi { row.runs.clipped(lo, hi).0 } else { Spans::new() }
        };
        // Going up, each cell after all those below it; going down, each after all those above it.
        let mut waiting = Waiting::default();
        for &c in upper {
            waiting.at(c).extend(seen_from_row(c));
        }
        while let Some((mut cell, visible)) = waiting.next() {
            let seen = Intervals::from_unsorted(visible);
            self.along(cell, &seen, &mut out);
            // Straight up nothing else comes in.
            while let Some(over) = self.served_by(row, self.strips.cells[cell as usize].over) {
                cell = over;
                self.along(cell, &seen, &mut out);
            }
            self.hand_on(row, &seen, self.strips.above(cell), |c| c, &mut waiting);
        }
        let downwards = |c: u32| !self.strips.cells[c as usize].top;
        for &c in lower {
            waiting.at(downwards(c)).extend(seen_from_row(c));
        }
        while let Some((place, visible)) = waiting.next() {
            let seen = Intervals::from_unsorted(visible);
            let mut cell = self.strips.by_top[!place as usize];
            // Where the row runs inside a cell it is done, but the columns go on below it.
            if self.strips.cells[cell as usize].y1 <= row.y + EPSILON {
                self.along(cell, &seen, &mut out);
            }
            while let Some(under) = self.served_by(row, self.strips.cells[cell as usize].under) {
                cell = under;
                self.along(cell, &seen, &mut out);
            }
            self.hand_on(row, &seen, self.strips.below(cell).iter().copied(), downwards, &mut waiting);
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
        waiting: &mut Waiting,
    ) {
        for c in beyond {
            let cell = &self.strips.cells[c as usize];
            let (lo, hi) = cell.core();
            if lo <= hi && row.strips.0 <= cell.strip as usize && (cell.strip as usize) < row.strips.1 {
                let through = seen.clipped(lo, hi);
                if !through.is_empty() {
                    waiting.at(order(c)).extend(through.0);
                }
            }
        }
    }

    /// A cell, if there is one and a row can serve it.
    fn served_by(&self, row: &Row, cell: u32) -> Option<u32> {
        let strip = self.strips.cells.get(cell as usize)?.strip as usize;
        (row.strips.0 <= strip && strip < row.strips.1).then_some(cell)
    }

    /// Notes what is reached along a cell whose core is seen at these places.
    fn along(&self, cell: u32, seen: &Intervals, out: &mut Vec<Column>) {
        let c = &self.strips.cells[cell as usize];
        let (left, right) = (c.left(), c.right());
        let mut open: Option<(f64, f64)> = None;
        for &(a, b) in &seen.0 {
            let (from, to) = ((a - self.half_h).max(left), (b + self.half_h).min(right));
            match &mut open {
                Some(open) if from <= open.1 => open.1 = open.1.max(to),
                _ => {
                    out.extend(open.map(|(a, b)| (cell, a, b)));
                    open = Some((from, to));
                }
            }
        }
        out.extend(open.map(|(a, b)| (cell, a, b)));
    }

    /// The cells a tie would serve.
    pub(in crate::setting_out) fn reach(&mut self, row: usize, x: f64) -> Reached {
        self.find_reach(row, x);
        self.found.iter().copied().collect()
    }

    /// Whether a tie would serve some of each of these cells.
    pub(in crate::setting_out) fn reaches_all(&mut self, row: usize, x: f64, cells: &[u32]) -> bool {
        self.find_reach(row, x);
        cells.iter().all(|c| self.visited[*c as usize] == self.visit)
    }

    /// As [`Self::reach`], in `found`; those found are `visited`.
    pub(super) fn find_reach(&mut self, row: usize, x: f64) {
        if self.found_for == (row, x) {
            return;
        }
        let start = self.strips.cell_on((x, self.rows[row].y), &self.rows[row].across);
        // Straight up and down from one cell all is the same, wherever on the row it is looked at from.
        let same = self.found_straight && self.found_for.0 == row && self.found.first().copied() == start;
        self.found_for = (row, x);
        if same {
            return;
        }
        self.found_straight = false;
        let found = &mut self.found;
        found.clear();
        if self.visit == u32::MAX {
            self.visited.fill(0);
            self.visit = 0;
        }
        self.visit += 1;
        let r = &self.rows[row];
        let Some(start) = start else { return };
        let (s0, s1) = (r.strips.0 as u32, r.strips.1 as u32);
        let visit = self.visit;
        let (lo, hi) = (x - self.half_h, x + self.half_h);
        let cells = &self.strips.cells;
        let visited = &mut self.visited;
        let own = cells[start as usize].strip;
        if own < s0 || own >= s1 {
            return;
        }
        visited[start as usize] = visit;
        found.push(start);
        let mut straight = true;
        let mut done = 0;
        while done < found.len() {
            let c = &cells[found[done] as usize];
            done += 1;
            // A cell of the same width straight on shares all that this one has.
            if c.over != NO_CELL {
                if visited[c.over as usize] != visit && cells[c.over as usize].strip < s1 {
                    visited[c.over as usize] = visit;
                    found.push(c.over);
                }
            } else {
                let (from, to) = (c.l1.max(lo), c.r1.min(hi));
                let above = &cells[c.up.0 as usize..c.up.1 as usize];
                straight &= above.first().is_none_or(|up| up.strip >= s1);
                let skipped = if above.len() > FEW { above.partition_point(|up| up.r0 <= from) } else { 0 };
                for (up, d) in above[skipped..].iter().zip(c.up.0 + skipped as u32..) {
                    if up.l0 >= to || up.strip >= s1 {
                        break;
                    }
                    if visited[d as usize] != visit && to.min(up.r0) - from.max(up.l0) > EPSILON {
                        visited[d as usize] = visit;
                        found.push(d);
                    }
                }
            }
            if c.under != NO_CELL {
                if visited[c.under as usize] != visit && cells[c.under as usize].strip >= s0 {
                    visited[c.under as usize] = visit;
                    found.push(c.under);
                }
            } else {
                let (from, to) = (c.l0.max(lo), c.r0.min(hi));
                let below = &self.strips.by_top[c.down.0 as usize..c.down.1 as usize];
                straight &= below.iter().all(|&d| cells[d as usize].strip < s0);
                let ends_before = |&d: &u32| cells[d as usize].r1 <= from;
                let skipped = if below.len() > FEW { below.partition_point(ends_before) } else { 0 };
                for &d in &below[skipped..] {
                    let down = &cells[d as usize];
                    if down.l1 >= to || down.strip < s0 {
                        break;
                    }
                    if visited[d as usize] != visit && to.min(down.r1) - from.max(down.l1) > EPSILON {
                        visited[d as usize] = visit;
                        found.push(d);
                    }
                }
            }
        }
        self.found_straight = straight;
    }
}
