//! Which trapezoids of the masonry each tie serves, and what no tie serves in each.

use super::gaps::{Gap, clip, part_of, within};
use crate::elevation::Point;
use crate::masonry::{Bays, Cell, Strip};
use crate::units::{EPSILON, SLIVER};

/// Half the spacing each way, mm.
#[derive(Clone, Copy)]
pub(super) struct Reach {
    pub h: f64,
    pub v: f64,
}

/// Finds what no tie serves in a bay; `ties` are all that may reach into it.
pub(super) fn gaps_in_bay(bays: &Bays, bay: usize, ties: &[Point], reach: Reach) -> Vec<Gap> {
    let strips = &bays.bays[bay];
    let mut flood = Flood::new(bays);
    let mut pairs: Vec<(u32, u32)> = Vec::with_capacity(ties.len() * 8);
    for (number, &tie) in ties.iter().enumerate() {
        flood.run(number as u32, tie, reach, |b, cell| {
            if b as usize == bay {
                pairs.push((cell, number as u32));
            }
        });
    }
    // For each cell the ties that serve it, one cell after another.
    let mut starts = vec![0u32; strips.cells.len() + 1];
    for &(cell, _) in &pairs {
        starts[cell as usize + 1] += 1;
    }
    for i in 1..starts.len() {
        starts[i] += starts[i - 1];
    }
    let mut next = starts.clone();
    let mut serving = vec![(0.0, 0.0); pairs.len()];
    for (cell, number) in pairs {
        let at = &mut next[cell as usize];
        serving[*at as usize] = ties[number as usize];
        *at += 1;
    }
    let mut finder =
        Finder { reach, cuts: Vec::new(), xs: Vec::new(), ends: bays.ends(bay), gaps: Vec::new() };
    for (i, cell) in strips.cells.iter().enumerate() {
        let serving = &mut serving[starts[i] as usize..starts[i + 1] as usize];
        if !serving.is_sorted_by(|a, b| a.1 <= b.1) {
            serving.sort_by(|a, b| a.1.total_cmp(&b.1));
        }
        finder.in_cell(strips.strips[cell.strip as usize], cell, serving);
    }
    finder.gaps
}

/// Limits in x and in height, mm.
type Limits = ((f64, f64), (f64, f64));

/// Calls `f` with the number of each tie and every trapezoid of what it serves, within limits if there are any.
pub(super) fn areas_of(
    bays: &Bays,
    ties: &[Point],
    holding: impl Iterator<Item = bool>,
    reach: Reach,
    limits: Option<Limits>,
    mut f: impl FnMut(usize, Gap),
) {
    let mut flood = Flood::new(bays);
    let mut found = Vec::new();
    for (number, (&tie, _)) in ties.iter().zip(holding).enumerate().filter(|(_, (_, holds))| *holds) {
        found.clear();
        flood.run(number as u32, tie, reach, |bay, cell| {
            let strips = &bays.bays[bay as usize];
            let cell = &strips.cells[cell as usize];
            let Strip { y0, y1, .. } = strips.strips[cell.strip as usize];
            let (from, to) = (y0.max(tie.1 - reach.v), y1.min(tie.1 + reach.v));
            if to - from > EPSILON {
                clip(&part_of(y0, y1, cell, from, to), tie.0 - reach.h, tie.0 + reach.h, EPSILON, &mut found);
            }
        });
        match limits {
            Some((x, y)) => within(&found, x, y).into_iter().for_each(|gap| f(number, gap)),
            None => found.drain(..).for_each(|gap| f(number, gap)),
        }
    }
}

/// Spreads from a tie over all the cells that hang together within its reach.
struct Flood<'a> {
    bays: &'a Bays,
    /// For each bay, as far as it was come into, and each of its cells the last tie that came there.
    seen: Vec<Vec<u32>>,
    queue: Vec<(u32, u32)>,
}

impl<'a> Flood<'a> {
    fn new(bays: &'a Bays) -> Self {
        Self { bays, seen: vec![Vec::new(); bays.bays.len()], queue: Vec::new() }
    }

    fn visit(&mut self, bay: u32, cell: u32, number: u32) {
        let seen = &mut self.seen[bay as usize];
        if seen.is_empty() {
            seen.resize(self.bays.bays[bay as usize].cells.len(), u32::MAX);
        }
        if seen[cell as usize] != number {
            seen[cell as usize] = number;
            self.queue.push((bay, cell));
        }
    }

    fn run(&mut self, number: u32, tie: Point, reach: Reach, mut serves: impl FnMut(u32, u32)) {
        let bays = self.bays;
        let bay = bays.bay_at(tie.0);
        let Some(start) = bays.bays[bay].cell_at(tie) else { return };
        let (left, right) = (tie.0 - reach.h, tie.0 + reach.h);
        let (low, high) = (tie.1 - reach.v, tie.1 + reach.v);
        self.visit(bay as u32, start, number);
        while let Some(at) = self.queue.pop() {
            serves(at.0, at.1);
            each_next(bays, at, (left, low), (right, high), |bay, cell| self.visit(bay, cell, number));
        }
    }
}

/// Calls `f` with the bay and number of each cell that hangs together with one within a box.
fn each_next(
    bays: &Bays,
    (bay, at): (u32, u32),
    (left, low): Point,
    (right, high): Point,
    mut f: impl FnMut(u32, u32),
) {
    let strips = &bays.bays[bay as usize];
    let cell = &strips.cells[at as usize];
    let strip = strips.strips[cell.strip as usize];
    if strip.y1 < high - EPSILON && strip.y1 > low + EPSILON {
        for next in cell.up.0..cell.up.1 {
            let above = &strips.cells[next as usize];
            if cell.r1.min(above.r0).min(right) - cell.l1.max(above.l0).max(left) > EPSILON {
                f(bay, next);
            }
        }
    }
    if strip.y0 > low + EPSILON && strip.y0 < high - EPSILON {
        for next in cell.down.0..cell.down.1 {
            let below = &strips.cells[next as usize];
            if cell.r0.min(below.r1).min(right) - cell.l0.max(below.l1).max(left) > EPSILON {
                f(bay, next);
            }
        }
    }
    let heights = (strip.y0.max(low), strip.y1.min(high));
    let (left_cut, right_cut) = bays.ends(bay as usize);
    if right_cut.is_some_and(|x| cell.r0 == x && cell.r1 == x && right > x + EPSILON) {
        across(bays, bay + 1, heights, true, |cell| f(bay + 1, cell));
    }
    if left_cut.is_some_and(|x| cell.l0 == x && cell.l1 == x && left < x - EPSILON) {
        across(bays, bay - 1, heights, false, |cell| f(bay - 1, cell));
    }
}

/// Calls `f` with the cells of a bay that lie at its cut between two heights: at its left one, come `to_right`,
/// or at its right one.
fn across(bays: &Bays, bay: u32, (low, high): (f64, f64), to_right: bool, mut f: impl FnMut(u32)) {
    let strips = &bays.bays[bay as usize];
    let (left, right) = bays.ends(bay as usize);
    let from = strips.strips.partition_point(|s| s.y1 <= low + EPSILON);
    for s in strips.strips[from..].iter().take_while(|s| s.y0 < high - EPSILON) {
        if s.first == s.last || s.y1.min(high) - s.y0.max(low) <= EPSILON {
            continue;
        }
        let number = if to_right { s.first } else { s.last - 1 };
        let c = &strips.cells[number as usize];
        let (side, cut) = if to_right { ((c.l0, c.l1), left) } else { ((c.r0, c.r1), right) };
        if cut.is_some_and(|x| side == (x, x)) {
            f(number);
        }
    }
}

/// Whether a tie at `p` serves the place `q`.
pub(super) fn serves(bays: &Bays, p: Point, q: Point, reach: Reach) -> bool {
    let cell_at = |p: Point| {
        let bay = bays.bay_at(p.0);
        Some((bay as u32, bays.bays[bay].cell_at(p)?))
    };
    let (Some(start), Some(goal)) = (cell_at(p), cell_at(q)) else { return false };
    if (p.0 - q.0).abs() > reach.h || (p.1 - q.1).abs() > reach.v {
        return false;
    }
    let (lo, hi) = ((p.0 - reach.h, p.1 - reach.v), (p.0 + reach.h, p.1 + reach.v));
    let mut seen = vec![start];
    let mut next = 0;
    while let Some(&at) = seen.get(next) {
        next += 1;
        if at == goal {
            return true;
        }
        each_next(bays, at, lo, hi, |bay, cell| {
            if !seen.contains(&(bay, cell)) {
                seen.push((bay, cell));
            }
        });
    }
    false
}

/// Finds what no tie serves, cell by cell.
struct Finder {
    reach: Reach,
    /// The cuts at the ends of the bay: what is open there may go on beyond.
    ends: (Option<f64>, Option<f64>),
    /// Used over again: heights to part a cell at, and places of ties along one part.
    cuts: Vec<f64>,
    xs: Vec<f64>,
    gaps: Vec<Gap>,
}

impl Finder {
    /// `ties` serve the cell, the lowest first.
    fn in_cell(&mut self, strip: Strip, cell: &Cell, ties: &[Point]) {
        let reach = self.reach;
        let mut cuts = std::mem::take(&mut self.cuts);
        cuts.clear();
        cuts.extend([strip.y0, strip.y1]);
        let mut last = f64::NEG_INFINITY;
        for t in ties {
            if t.1 > last {
                cuts.extend([t.1 - reach.v, t.1 + reach.v].iter().filter(|&&y| y > strip.y0 && y < strip.y1));
                last = t.1;
            }
        }
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|b, a| *b - *a <= EPSILON);
        for pair in cuts.windows(2) {
            let middle = f64::midpoint(pair[0], pair[1]);
            let from = ties.partition_point(|t| t.1 < middle - reach.v);
            let to = ties.partition_point(|t| t.1 <= middle + reach.v);
            self.xs.clear();
            self.xs.extend(ties[from..to].iter().map(|t| t.0));
            self.xs.sort_by(f64::total_cmp);
            self.in_part(&part_of(strip.y0, strip.y1, cell, pair[0], pair[1]));
        }
        self.cuts = cuts;
    }

    fn in_part(&mut self, part: &Gap) {
        let (left, right) = (part.l0.min(part.l1), part.r0.max(part.r1));
        let goes_on = (
            self.ends.0.is_some_and(|x| part.l0 == x && part.l1 == x),
            self.ends.1.is_some_and(|x| part.r0 == x && part.r1 == x),
        );
        // What touches a cut may go on beyond it, however narrow it is here.
        let least = |from: f64, to: f64| {
            let touches = (goes_on.0 && from <= left) || (goes_on.1 && to >= right);
            if touches { EPSILON } else { SLIVER }
        };
        let mut reached = left;
        for &x in &self.xs {
            let start = x - self.reach.h;
            if start - reached >= least(reached, start) {
                let to = start.min(right);
                clip(part, reached, to, least(reached, to), &mut self.gaps);
            }
            reached = reached.max(x + self.reach.h);
            if reached >= right {
                break;
            }
        }
        if right - reached >= least(reached, right) {
            clip(part, reached, right, least(reached, right), &mut self.gaps);
        }
    }
}
