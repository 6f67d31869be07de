//! Rule 1: every part of the masonry is served by some tie.
//!
//! A tie serves the connected piece of masonry about it within half the spacing each way. The masonry is
//! a set of trapezoids; within one of them, a tie that serves it serves the whole width within its reach.
//! So in each trapezoid, between the heights where some tie's reach begins or ends, what is unserved are
//! the gaps between intervals on a line: exact, with nothing sampled. Gaps that touch are put together,
//! and a piece in which no square of 4 mm fits is ignored.

use super::place::mm;
use super::reason::{Wanted, reaches, reason};
use super::{Finding, Rule, Severity, Subject};
use crate::elevation::Point;
use crate::masonry::{Cell, Intervals, Strips};
use crate::units::{EPSILON, SLIVER, m2};

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    let reach = Reach { h: s.rules.horizontal.value / 2.0, v: s.rules.vertical.value / 2.0 };
    let strips = &s.masonry.strips;
    let holding: Vec<Point> = s.ties.iter().copied().filter(|&t| s.masonry.holds(t)).collect();
    let served = served_by_cell(strips, &holding, reach);
    let mut gaps = Vec::new();
    for (number, ties) in served.iter().enumerate() {
        gaps_in_cell(strips, &strips.cells[number], ties, reach, &mut gaps);
    }
    for piece in pieces(gaps) {
        if piece.takes_square(SLIVER) {
            out.push(finding(s, &piece));
        }
    }
}

/// Half the spacing each way, mm.
#[derive(Clone, Copy)]
struct Reach {
    h: f64,
    v: f64,
}

/// For each cell the ties that serve it.
fn served_by_cell(strips: &Strips, ties: &[Point], reach: Reach) -> Vec<Vec<Point>> {
    let mut served: Vec<Vec<Point>> = vec![Vec::new(); strips.cells.len()];
    let mut seen = vec![usize::MAX; strips.cells.len()];
    let mut queue: Vec<u32> = Vec::new();
    for (number, &tie) in ties.iter().enumerate() {
        let Some(start) = strips.cell_at(tie) else { continue };
        let (left, right) = (tie.0 - reach.h, tie.0 + reach.h);
        let (low, high) = (tie.1 - reach.v, tie.1 + reach.v);
        queue.push(start);
        seen[start as usize] = number;
        while let Some(at) = queue.pop() {
            served[at as usize].push(tie);
            let cell = &strips.cells[at as usize];
            let strip = strips.strips[cell.strip as usize];
            if strip.y1 < high - EPSILON && strip.y1 > low + EPSILON {
                for next in cell.up.0..cell.up.1 {
                    let above = &strips.cells[next as usize];
                    let joined = cell.r1.min(above.r0).min(right) - cell.l1.max(above.l0).max(left);
                    if joined > EPSILON && seen[next as usize] != number {
                        seen[next as usize] = number;
                        queue.push(next);
                    }
                }
            }
            if strip.y0 > low + EPSILON && strip.y0 < high - EPSILON {
                for next in cell.down.0..cell.down.1 {
                    let below = &strips.cells[next as usize];
                    let joined = cell.r0.min(below.r1).min(right) - cell.l0.max(below.l1).max(left);
                    if joined > EPSILON && seen[next as usize] != number {
                        seen[next as usize] = number;
                        queue.push(next);
                    }
                }
            }
        }
    }
    served
}

/// An unserved trapezoid.
#[derive(Clone, Copy, Debug)]
struct Gap {
    y0: f64,
    y1: f64,
    l0: f64,
    l1: f64,
    r0: f64,
    r1: f64,
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

/// Finds what no tie serves in a cell.
fn gaps_in_cell(strips: &Strips, cell: &Cell, ties: &[Point], reach: Reach, gaps: &mut Vec<Gap>) {
    let strip = strips.strips[cell.strip as usize];
    let mut ties = ties.to_vec();
    ties.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut cuts: Vec<f64> = vec![strip.y0, strip.y1];
    let mut last = f64::NEG_INFINITY;
    for t in &ties {
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
        let mut xs: Vec<f64> = ties[from..to].iter().map(|t| t.0).collect();
        xs.sort_by(f64::total_cmp);
        let part = part_of(strip.y0, strip.y1, cell, pair[0], pair[1]);
        let (left, right) = (part.l0.min(part.l1), part.r0.max(part.r1));
        let mut reached = left;
        for x in xs {
            if x - reach.h - reached >= SLIVER {
                clip(&part, reached, (x - reach.h).min(right), gaps);
            }
            reached = reached.max(x + reach.h);
            if reached >= right {
                break;
            }
        }
        if right - reached >= SLIVER {
            clip(&part, reached, right, gaps);
        }
    }
}

/// The part of a cell between two heights.
fn part_of(y0: f64, y1: f64, cell: &Cell, from: f64, to: f64) -> Gap {
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

/// Adds the part of a trapezoid between two x, as trapezoids.
fn clip(part: &Gap, left: f64, right: f64, gaps: &mut Vec<Gap>) {
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
        if gap.widest() >= SLIVER && gap.area() > 0.0 {
            gaps.push(gap);
        }
    }
}

/// Gaps that hang together.
struct Piece(Vec<Gap>);

/// Puts gaps together that share a length of a height.
fn pieces(mut gaps: Vec<Gap>) -> Vec<Piece> {
    gaps.sort_by(|a, b| a.y0.total_cmp(&b.y0).then(a.l0.total_cmp(&b.l0)));
    let mut parent: Vec<usize> = (0..gaps.len()).collect();
    fn root(parent: &mut [usize], mut i: usize) -> usize {
        while parent[i] != i {
            parent[i] = parent[parent[i]];
            i = parent[i];
        }
        i
    }
    for i in 0..gaps.len() {
        let top = gaps[i].y1;
        let from = gaps.partition_point(|g| g.y0 < top - 1e-5);
        for j in from..gaps.len() {
            if gaps[j].y0 > top + 1e-5 {
                break;
            }
            let shared = gaps[i].r1.min(gaps[j].r0) - gaps[i].l1.max(gaps[j].l0);
            if shared > EPSILON {
                let (a, b) = (root(&mut parent, i), root(&mut parent, j));
                parent[a.max(b)] = a.min(b);
            }
        }
    }
    let mut groups: std::collections::BTreeMap<usize, Vec<Gap>> = std::collections::BTreeMap::new();
    for (i, &gap) in gaps.iter().enumerate() {
        groups.entry(root(&mut parent, i)).or_default().push(gap);
    }
    groups.into_values().map(Piece).collect()
}

impl Piece {
    /// Whether a square of a side fits in, its sides level and upright.
    fn takes_square(&self, side: f64) -> bool {
        self.0.iter().any(|g| g.y1 - g.y0 >= side && self.square_from(g.y0, side))
            || self.0.iter().any(|g| self.square_from(g.y0, side) || self.square_from(g.y1 - side, side))
    }

    fn square_from(&self, low: f64, side: f64) -> bool {
        let high = low + side;
        // The gaps are sorted by their lower height.
        let mut levels: Vec<f64> = vec![low, high];
        let close: Vec<&Gap> =
            self.0.iter().filter(|g| g.y0 < high - EPSILON && g.y1 > low + EPSILON).collect();
        for g in &close {
            levels.extend([g.y0, g.y1].iter().filter(|&&y| y > low && y < high));
        }
        levels.sort_by(f64::total_cmp);
        levels.dedup_by(|b, a| *b - *a <= 1e-5);
        let mut open = Intervals(vec![(f64::NEG_INFINITY, f64::INFINITY)]);
        for pair in levels.windows(2) {
            if pair[1] - pair[0] <= 1e-5 {
                continue;
            }
            let middle = f64::midpoint(pair[0], pair[1]);
            let here =
                close.iter().filter(|g| g.y0 < middle && middle < g.y1).map(|g| g.inner(pair[0], pair[1]));
            open = open.meet(&Intervals::from_unsorted(here.collect()));
            open.0.retain(|r| r.1 - r.0 >= side);
            if open.is_empty() {
                return false;
            }
        }
        true
    }

    fn area(&self) -> f64 {
        self.0.iter().map(Gap::area).sum()
    }

    fn bounds(&self) -> (Point, Point) {
        self.0.iter().fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(lo, hi), g| {
            ((lo.0.min(g.l0).min(g.l1), lo.1.min(g.y0)), (hi.0.max(g.r0).max(g.r1), hi.1.max(g.y1)))
        })
    }

    /// A point well inside: the middle of the largest gap.
    fn place(&self) -> Point {
        self.0.iter().max_by(|a, b| a.area().total_cmp(&b.area())).map_or((0.0, 0.0), |g| {
            let y = f64::midpoint(g.y0, g.y1);
            ((g.l0 + g.l1 + g.r0 + g.r1) / 4.0, y)
        })
    }
}

fn finding(s: &Subject<'_>, piece: &Piece) -> Finding {
    let (lo, hi) = piece.bounds();
    let area = m2(piece.area());
    let (h, v) = (s.rules.horizontal.value, s.rules.vertical.value);
    let (place, reach) = (piece.place(), (h / 2.0, v / 2.0));
    let serves = |p: Point| reaches(&s.masonry.strips, p, place, reach);
    let wanted = Wanted { about: place, reach, serves: &serves };
    let why = reason(s, &wanted).map_or_else(String::new, |r| format!(": {r}"));
    Finding {
        rule: Rule::Coverage,
        severity: Severity::Breach,
        message: format!(
            "{area:.4} m² of masonry between x {} and {}, y {} and {} mm is served by no tie at {} x {} mm{why}",
            mm(lo.0),
            mm(hi.0),
            mm(lo.1),
            mm(hi.1),
            mm(h),
            mm(v)
        ),
        at: place,
        measured: Some(area),
        required: Some(0.0),
        source: s.rules.horizontal.source.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, found, passes, wall};
    use super::*;
    use crate::elevation::{Elevation, MovementJoint, Opening, Shape};

    const GRID: [Point; 4] = [(450., 225.), (1350., 225.), (450., 675.), (1350., 675.)];

    #[test]
    fn the_plain_grid_serves_the_plain_wall() {
        passes(Rule::Coverage, &wall(), &GRID);
    }

    #[test]
    fn a_missing_tie_is_found_with_its_area() {
        let f = broken(Rule::Coverage, &wall(), &GRID[1..]);
        // 900 x 450 mm.
        assert!((f.measured.unwrap_or(0.) - 0.405).abs() < 1e-9);
        assert_eq!(f.at, (450., 225.));
    }

    #[test]
    fn no_ties_leave_the_whole_wall() {
        let f = broken(Rule::Coverage, &wall(), &[]);
        assert!((f.measured.unwrap_or(0.) - 1.62).abs() < 1e-9);
    }

    #[test]
    fn a_gap_of_three_is_ignored_and_one_of_five_is_not() {
        let shifted = |d: f64| [(450. - d, 225.), (1350., 225.), (450. - d, 675.), (1350., 675.)];
        passes(Rule::Coverage, &wall(), &shifted(3.));
        broken(Rule::Coverage, &wall(), &shifted(5.));
    }

    #[test]
    fn a_staggered_pattern_serves_too() {
        let ties = [(450., 225.), (1350., 225.), (75., 675.), (900., 675.), (1725., 675.)];
        passes(Rule::Coverage, &wall(), &ties);
    }

    #[test]
    fn nothing_is_served_across_an_opening_or_a_joint() {
        let mut e = wall();
        e.movement_joints.push(MovementJoint { x: 800., from: 0., to: 900. });
        // Without the joint the tie at 450 reaches to 900; with it, to 800, and 800 to 900 is open.
        let f = broken(Rule::Coverage, &e, &GRID);
        assert!((f.measured.unwrap_or(0.) - 0.09).abs() < 1e-9, "{f:?}");

        let mut e = wall();
        e.openings
            .push(Opening { name: "Slot".into(), shape: Shape::Rect { x: 700., y: 0., w: 100., h: 900. } });
        let f = broken(Rule::Coverage, &e, &GRID);
        assert!((f.measured.unwrap_or(0.) - 0.09).abs() < 1e-9, "{f:?}");
    }

    #[test]
    fn a_tie_serves_round_the_end_of_a_joint() {
        let mut e = wall();
        e.movement_joints.push(MovementJoint { x: 800., from: 0., to: 300. });
        // The upper and lower tie on the left: the lower one's piece goes round the joint's top at 300,
        // within its own height of 450.
        passes(Rule::Coverage, &e, &GRID);
    }

    #[test]
    fn a_gable_is_served_up_to_its_apex() {
        let e = Elevation::new("Gable", vec![(0., 0.), (900., 0.), (450., 450.)]);
        passes(Rule::Coverage, &e, &[(450., 225.)]);
        // A tie at (300, 200) reaches x 750 and y 425. Right of 750 a triangle 150 x 150 is open, above
        // 425 one 50 wide and 25 high.
        let f = found(Rule::Coverage, &e, &[(300., 200.)]);
        let areas: Vec<f64> = f.iter().filter_map(|f| f.measured).map(|a| (a * 1e9).round() / 1e9).collect();
        assert_eq!(areas, [0.01125, 0.000625]);
    }
}
