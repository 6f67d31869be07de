//! Unserved trapezoids, and the pieces they make.

use std::collections::BTreeMap;

use crate::elevation::Point;
use crate::masonry::{Cell, Few, Intervals};
use crate::units::EPSILON;

/// An unserved trapezoid.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    pub y0: f64,
    pub y1: f64,
    pub l0: f64,
    pub l1: f64,
    pub r0: f64,
    pub r1: f64,
}

impl Gap {
    fn area(&self) -> f64 {
        (self.y1 - self.y0) * ((self.r0 - self.l0).max(0.0) + (self.r1 - self.l1).max(0.0)) / 2.0
    }
    fn widest(&self) -> f64 {
        self.r0.max(self.r1) - self.l0.min(self.l1)
    }
    /// The widths that are inside over the whole of a range of heights.
    fn inner(&self, from: f64, to: f64) -> (f64, f64) {
        let at = |a: f64, b: f64, y: f64| a + (b - a) * ((y - self.y0) / (self.y1 - self.y0)).clamp(0.0, 1.0);
        (
            at(self.l0, self.l1, from).max(at(self.l0, self.l1, to)),
            at(self.r0, self.r1, from).min(at(self.r0, self.r1, to)),
        )
    }
}

/// The part of a cell between two heights.
pub(super) fn part_of(y0: f64, y1: f64, cell: &Cell, from: f64, to: f64) -> Gap {
    let at = |a: f64, b: f64, y: f64| a + (b - a) * ((y - y0) / (y1 - y0)).clamp(0.0, 1.0);
    Gap {
        y0: from,
        y1: to,
        l0: at(cell.l0, cell.l1, from),
        l1: at(cell.l0, cell.l1, to),
        r0: at(cell.r0, cell.r1, from),
        r1: at(cell.r0, cell.r1, to),
    }
}

/// Adds the part of a trapezoid between two x, as trapezoids, those narrower than `least` left out.
pub(super) fn clip(part: &Gap, left: f64, right: f64, least: f64, gaps: &mut Vec<Gap>) {
    // A slanting side may cross a limit: cut there, so that each piece has straight sides.
    let mut cuts = vec![part.y0, part.y1];
    for (a, b) in [(part.l0, part.l1), (part.r0, part.r1)] {
        for limit in [left, right] {
            if (a < limit) != (b < limit) && (b - a).abs() > 0.0 {
                cuts.push(part.y0 + (limit - a) / (b - a) * (part.y1 - part.y0));
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    for pair in cuts.windows(2) {
        if pair[1] - pair[0] <= EPSILON {
            continue;
        }
        let at = |a: f64, b: f64, y: f64| a + (b - a) * ((y - part.y0) / (part.y1 - part.y0)).clamp(0.0, 1.0);
        let l = |y: f64| at(part.l0, part.l1, y).max(left);
        let r = |y: f64| at(part.r0, part.r1, y).min(right);
        let (y0, y1) = (pair[0], pair[1]);
        let gap = Gap { y0, y1, l0: l(y0), l1: l(y1), r0: r(y0).max(l(y0)), r1: r(y1).max(l(y1)) };
        if gap.widest() >= least && gap.area() > 0.0 {
            gaps.push(gap);
        }
    }
}

/// The parts of gaps that lie between two x and two heights.
pub(super) fn within(gaps: &[Gap], x: (f64, f64), y: (f64, f64)) -> Vec<Gap> {
    let mut out = Vec::new();
    for g in gaps {
        let (y0, y1) = (g.y0.max(y.0), g.y1.min(y.1));
        if y1 - y0 <= EPSILON {
            continue;
        }
        let at = |a: f64, b: f64, y: f64| a + (b - a) * ((y - g.y0) / (g.y1 - g.y0)).clamp(0.0, 1.0);
        let level = Gap {
            y0,
            y1,
            l0: at(g.l0, g.l1, y0),
            l1: at(g.l0, g.l1, y1),
            r0: at(g.r0, g.r1, y0),
            r1: at(g.r0, g.r1, y1),
        };
        clip(&level, x.0, x.1, EPSILON, &mut out);
    }
    out
}

/// Gaps that hang together, sorted by their lower heights.
pub(super) struct Piece {
    gaps: Vec<Gap>,
    /// The greatest height of any of them, mm.
    tallest: f64,
}

/// Heights this close are one, mm.
const LEVEL: f64 = 1e-5;

/// Puts gaps together that share a length of a height, or, at a cut between bays, of the cut.
pub(super) fn pieces(mut gaps: Vec<Gap>, cuts: &[f64]) -> Vec<Piece> {
    gaps.sort_by(|a, b| a.y0.total_cmp(&b.y0).then(a.l0.total_cmp(&b.l0)));
    let mut parent: Vec<usize> = (0..gaps.len()).collect();
    join_upwards(&gaps, &mut parent);
    join_across(&gaps, cuts, &mut parent);
    let mut groups: BTreeMap<usize, Vec<Gap>> = BTreeMap::new();
    for (i, &gap) in gaps.iter().enumerate() {
        groups.entry(root(&mut parent, i)).or_default().push(gap);
    }
    let tallest = |gaps: &[Gap]| gaps.iter().map(|g| g.y1 - g.y0).fold(0.0, f64::max);
    groups.into_values().map(|gaps| Piece { tallest: tallest(&gaps), gaps }).collect()
}

fn root(parent: &mut [usize], mut i: usize) -> usize {
    while parent[i] != i {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    i
}

fn join(parent: &mut [usize], i: usize, j: usize) {
    let (a, b) = (root(parent, i), root(parent, j));
    parent[a.max(b)] = a.min(b);
}

/// Joins each gap to those that begin where it ends. `gaps` are sorted by height, then from the left.
fn join_upwards(gaps: &[Gap], parent: &mut [usize]) {
    for i in 0..gaps.len() {
        let top = gaps[i].y1;
        let mut from = gaps.partition_point(|g| g.y0 < top - LEVEL);
        while from < gaps.len() && gaps[from].y0 <= top + LEVEL {
            // All that begin at exactly one height lie side by side.
            let level = gaps[from].y0;
            let to = from + gaps[from..].partition_point(|g| g.y0 <= level);
            let first = from + gaps[from..to].partition_point(|g| g.r0 <= gaps[i].l1);
            for j in first..to {
                if gaps[j].l0 >= gaps[i].r1 {
                    break;
                }
                if gaps[i].r1.min(gaps[j].r0) - gaps[i].l1.max(gaps[j].l0) > EPSILON {
                    join(parent, i, j);
                }
            }
            from = to;
        }
    }
}

/// Joins gaps on either side of a cut between bays that share a length of it.
fn join_across(gaps: &[Gap], cuts: &[f64], parent: &mut [usize]) {
    if cuts.is_empty() {
        return;
    }
    let cut_at = |x: f64, z: f64| {
        let at = cuts.partition_point(|&c| c < x);
        (x == z && cuts.get(at) == Some(&x)).then_some(at)
    };
    let mut sides: Vec<(Vec<usize>, Vec<usize>)> = vec![(Vec::new(), Vec::new()); cuts.len()];
    for (i, g) in gaps.iter().enumerate() {
        if let Some(cut) = cut_at(g.r0, g.r1) {
            sides[cut].0.push(i);
        }
        if let Some(cut) = cut_at(g.l0, g.l1) {
            sides[cut].1.push(i);
        }
    }
    for (left, right) in sides {
        let (mut i, mut j) = (0, 0);
        while i < left.len() && j < right.len() {
            let (a, b) = (&gaps[left[i]], &gaps[right[j]]);
            if a.y1.min(b.y1) - a.y0.max(b.y0) > EPSILON {
                join(parent, left[i], right[j]);
            }
            if a.y1 < b.y1 { i += 1 } else { j += 1 }
        }
    }
}

impl Piece {
    /// Whether a square of a side fits in, its sides level and upright.
    pub(super) fn takes_square(&self, side: f64) -> bool {
        self.gaps.iter().any(|g| g.y1 - g.y0 >= side && self.square_from(g.y0, side))
            || self.gaps.iter().any(|g| self.square_from(g.y0, side) || self.square_from(g.y1 - side, side))
    }

    fn square_from(&self, low: f64, side: f64) -> bool {
        let high = low + side;
        let mut levels: Vec<f64> = vec![low, high];
        let from = self.gaps.partition_point(|g| g.y0 < low - self.tallest - EPSILON);
        let to = self.gaps.partition_point(|g| g.y0 < high - EPSILON);
        let close: Vec<&Gap> = self.gaps[from..to].iter().filter(|g| g.y1 > low + EPSILON).collect();
        for g in &close {
            levels.extend([g.y0, g.y1].iter().filter(|&&y| y > low && y < high));
        }
        levels.sort_by(f64::total_cmp);
        levels.dedup_by(|b, a| *b - *a <= 1e-5);
        let mut open = Intervals(Few::one((f64::NEG_INFINITY, f64::INFINITY)));
        for pair in levels.windows(2) {
            if pair[1] - pair[0] <= 1e-5 {
                continue;
            }
            let middle = f64::midpoint(pair[0], pair[1]);
            let here =
                close.iter().filter(|g| g.y0 < middle && middle < g.y1).map(|g| g.inner(pair[0], pair[1]));
            open = open.meet(&Intervals::from_unsorted(here));
            open.0.retain(|r| r.1 - r.0 >= side);
            if open.is_empty() {
                return false;
            }
        }
        true
    }

    pub(super) fn gaps(&self) -> &[Gap] {
        &self.gaps
    }

    pub(super) fn area(&self) -> f64 {
        self.gaps.iter().map(Gap::area).sum()
    }

    pub(super) fn bounds(&self) -> (Point, Point) {
        self.gaps.iter().fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(lo, hi), g| {
            ((lo.0.min(g.l0).min(g.l1), lo.1.min(g.y0)), (hi.0.max(g.r0).max(g.r1), hi.1.max(g.y1)))
        })
    }

    /// A point well inside: the middle of the largest gap.
    pub(super) fn place(&self) -> Point {
        self.gaps.iter().max_by(|a, b| a.area().total_cmp(&b.area())).map_or((0.0, 0.0), |g| {
            let y = f64::midpoint(g.y0, g.y1);
            ((g.l0 + g.l1 + g.r0 + g.r1) / 4.0, y)
        })
    }
}
