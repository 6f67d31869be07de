//! Main rows: those at the full spacing up the wall, from which the field is served.
//!
//! They stand on a ladder of even steps from the base, the same all over the wall; the lowest is as high as still serves
//! the base, or lower. Openings may sit badly on that: above a row of heads or below a row of sills a strip too low to be
//! worth a row is left over. There a step may be shorter than the others, where that spares clearly more ties than it
//! costs. So that an opening that moves a little seldom changes the rows, each short step has to earn its keep.
//!
//! What rows cost is reckoned up [`columns`](super::columns) of masonry: a tie for each row that is needed, and a part of
//! one more for a strip left over at either end. The rows with the least cost are found step by step from below.

use std::ops::RangeInclusive;

use super::board::{Board, LEAST_HEIGHT};
use super::columns::{Need, needs};
use super::site::Site;
use crate::masonry::Measure;
use crate::units::{EPSILON, floor, round};

/// A strip left over as high as this takes ties as a whole row does; a lower one, a share of them, mm: others often
/// serve it.
const LOW: f64 = 150.0;

/// A step shorter than the others, or a lowest row that is another, has to spare so many ties, and this share of all.
const FEE: (f64, f64) = (3.0, 0.02);

/// Rungs in a whole step with which a shorter one is looked for: fewer leave no choice, more take long.
const RUNGS: RangeInclusive<usize> = 3..=64;

/// A field spacing, and the main rows at it.
#[derive(Clone)]
pub(super) struct MainRows {
    /// Field spacing along the wall, mm.
    pub h: f64,
    /// Field spacing up the wall, mm.
    pub v: f64,
    /// Which of the heights that ties may stand at, even steps from the foot, are main rows; from below.
    rungs: Vec<usize>,
}

impl MainRows {
    /// The main rows of a wall at a field spacing along and up it, mm.
    pub(super) fn new(site: &Site<'_>, (h, v): (f64, f64)) -> Self {
        let steps = |height: f64| floor((height + 1e-6) / site.pitch).max(0.0) as usize;
        let between = steps(v).max(1);
        let start = steps(site.base + v / 2.0 + LEAST_HEIGHT - site.foot);
        let top = site.masonry.height_range().map_or(site.foot, |r| r.1);
        let highest = steps(top - site.foot);
        // Ties all round an opening serve what is left over above and below it.
        let all_round = site.edges.iter().any(|e| matches!(e.measure, Measure::Length { .. }));
        let fixed = !RUNGS.contains(&between) || all_round || site.elevation.openings.is_empty();
        let rungs = if fixed {
            (start..=highest.max(start)).step_by(between).collect()
        } else {
            Ladder { site, v, between, start, highest }.best(&needs(site, (h, v)))
        };
        Self { h, v, rungs }
    }

    /// Their heights, mm.
    pub(super) fn heights(&self, site: &Site<'_>) -> impl Iterator<Item = f64> {
        let (foot, pitch) = (site.foot, site.pitch);
        self.rungs.iter().map(move |&r| foot + r as f64 * pitch)
    }

    /// Whether a height is that of a main row, and whether the nearest is one of every other.
    pub(super) fn at(&self, site: &Site<'_>, y: f64) -> (bool, bool) {
        let rung = round((y - site.foot) / site.pitch);
        let is_main = (y - site.foot - rung * site.pitch).abs() < 1e-6
            && rung >= 0.0
            && self.rungs.binary_search(&(rung as usize)).is_ok();
        let off = |i: usize| (self.rungs[i] as f64 - (y - site.foot) / site.pitch).abs();
        let above = self.rungs.partition_point(|&r| (r as f64) < rung).min(self.rungs.len() - 1);
        let nearest = if above > 0 && off(above - 1) < off(above) - EPSILON { above - 1 } else { above };
        (is_main, nearest % 2 != 0)
    }
}

/// The main rows of a board.
pub(super) fn of(board: &Board<'_>) -> Vec<usize> {
    (0..board.rows.len()).filter(|&r| board.rows[r].main).collect()
}

/// What is known of a ladder before its rows are chosen.
struct Ladder<'s, 'a> {
    site: &'s Site<'a>,
    v: f64,
    /// Rungs in a whole step.
    between: usize,
    /// The lowest main row where nothing speaks against it.
    start: usize,
    /// The highest rung.
    highest: usize,
}

impl Ladder<'_, '_> {
    fn height(&self, rung: usize) -> f64 {
        self.site.foot + rung as f64 * self.site.pitch
    }

    /// The rungs of the main rows.
    fn best(&self, needs: &[(Need, f64)]) -> Vec<usize> {
        let ties: f64 = needs.iter().map(|(n, count)| count * (n.stretch.1 - n.stretch.0) / self.v).sum();
        let fee = FEE.0 + FEE.1 * ties;
        let shortest = self.between.div_ceil(2);
        let (between, n) = (self.between, self.highest.max(self.start) + 1);
        // Cost of a step from a rung to one so many higher; of beginning at a rung; of ending there.
        let mut step = vec![0.0; n * (between + 1)];
        let mut first = vec![0.0; n];
        let mut last = vec![0.0; n];
        for (need, count) in needs {
            self.add(need, *count, (&mut step, &mut first, &mut last));
        }
        for (rung, cost) in first.iter_mut().enumerate() {
            if rung != self.start {
                *cost += fee;
            }
        }
        let begin = self.start.saturating_sub(between - 1)..n.min(self.start + 1);
        let mut best = vec![(f64::INFINITY, usize::MAX); n];
        for rung in 0..n {
            if begin.contains(&rung) {
                best[rung] = (first[rung], usize::MAX);
            }
            for by in (shortest..=between.min(rung)).rev() {
                let from = rung - by;
                let cost =
                    best[from].0 + step[from * (between + 1) + by] + if by == between { 0.0 } else { fee };
                if cost < best[rung].0 - 1e-9 {
                    best[rung] = (cost, from);
                }
            }
        }
        let ends = n.saturating_sub(between)..n;
        let end = ends.min_by(|&a, &b| (best[a].0 + last[a]).total_cmp(&(best[b].0 + last[b])));
        let mut out = Vec::new();
        let mut at = end.filter(|&e| best[e].0.is_finite());
        while let Some(rung) = at {
            out.push(rung);
            at = Some(best[rung].1).filter(|&r| r != usize::MAX);
        }
        out.reverse();
        if out.is_empty() { vec![self.start] } else { out }
    }

    /// Adds what a need costs, wherever the rows about it stand.
    fn add(&self, need: &Need, count: f64, (step, first, last): (&mut [f64], &mut [f64], &mut [f64])) {
        let ((low, high), half) = (need.stretch, self.v / 2.0);
        let over = |strip: f64| (strip / LOW).clamp(0.0, 1.0);
        let rung = |y: f64| (y - self.site.foot) / self.site.pitch;
        let from = rung(need.room.0.max(low - half)) - EPSILON;
        let to = rung(need.room.1.min(high + half)) + EPSILON;
        let (from, to) = (from.ceil().max(0.0), floor(to));
        if to < from {
            // Whichever the rows, none of them serves it.
            return;
        }
        let (from, to) = (from as usize, (to as usize).min(first.len() - 1));
        let serves = |r: usize| from <= r && r <= to;
        let missed = ((high - low) / self.v).max(1.0);
        let below = |r: usize| over(self.height(r) + half - low) + over(self.height(r) - half - low);
        let above = |r: usize| over(high - self.height(r) - half);
        let n = first.len();
        for (r, cost) in first.iter_mut().enumerate().take(self.start + 1).skip(from) {
            *cost += count * if serves(r) { below(r) } else { missed };
        }
        for (r, cost) in last.iter_mut().enumerate().skip(n.saturating_sub(self.between)) {
            *cost += count * if serves(r) { above(r) } else { f64::from(r < from) * missed };
        }
        for r in from.saturating_sub(self.between)..=to {
            for by in 1..=self.between {
                let next = r + by;
                if next < from || next >= n {
                    continue;
                }
                let cost = match (serves(r), serves(next)) {
                    (false, true) => below(next),
                    (true, _) => above(r),
                    (false, false) => missed,
                };
                step[r * (self.between + 1) + by] += count * cost;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::MainRows;
    use crate::elevation::{Elevation, Opening, Shape};
    use crate::masonry::Masonry;
    use crate::rules::resolve;
    use crate::setting_out::site::Site;

    /// A front 5850 x 5100 with two windows 1800 wide a storey: each storey's sill and head.
    fn front(storeys: [(f64, f64); 2]) -> Elevation {
        let mut e = Elevation::new("Front", vec![(0., 0.), (5850., 0.), (5850., 5100.), (0., 5100.)]);
        for x in [900.0, 3600.0] {
            for (sill, head) in storeys {
                let shape = Shape::Rect { x, y: sill, w: 1800.0, h: head - sill };
                e.openings.push(Opening { name: String::new(), shape });
            }
        }
        e
    }

    /// Heights of the main rows at 900 x 450, to the millimetre.
    fn heights(e: &Elevation) -> Vec<i64> {
        let (masonry, rules) = (Masonry::new(e), resolve(&e.rules).unwrap());
        let site = Site::new(e, &masonry, &rules);
        MainRows::new(&site, (900.0, 450.0)).heights(&site).map(|y| y.round() as i64).collect()
    }

    const EVEN: [i64; 11] = [225, 675, 1125, 1575, 2025, 2475, 2925, 3375, 3825, 4275, 4725];

    // Joints every 75 mm, rows 75 clear of heads and sills, each serving 225 up and down. Over the windows:
    //                 from 225 every 450                          another way
    // 0 to 825        225 675                                2    225 675           2
    // 2100 to 3375    2475 2925; 150 below, 225 above        4    2250 2700 3150    3
    // 4425 to 5100    4725; half of 75 below, 150 above    2.5    4500 4950         2
    // Four spacings of that: 6 ties. Between the windows, where ties of the jambs serve beside them, another 1. A short
    // step costs 3 and a fiftieth of the 40 or so of the field.
    #[test]
    fn a_step_is_short_where_that_spares_a_row_between_storeys() {
        let rows = heights(&front([(825.0, 2100.0), (3375.0, 4425.0)]));
        for at in [225, 675, 2250, 2700, 3150, 4500, 4950] {
            assert!(rows.contains(&at), "{at} in {rows:?}");
        }
        assert!(rows.windows(2).all(|w| w[1] - w[0] <= 450), "{rows:?}");
        assert_eq!(rows.len(), 12, "{rows:?}");
    }

    // 0 to 900, 1800 to 3150, 4050 to 5100: two, three and three rows at least, and no more from 225 every 450.
    #[test]
    fn steps_are_even_where_nothing_is_to_be_spared() {
        assert_eq!(heights(&front([(900.0, 1800.0), (3150.0, 4050.0)])), EVEN);
    }

    #[test]
    fn a_plain_wall_has_even_steps() {
        let mut e = front([(825.0, 2100.0), (3375.0, 4425.0)]);
        e.openings.clear();
        assert_eq!(heights(&e), EVEN);
    }

    #[test]
    fn a_window_moved_a_little_leaves_the_rows() {
        let e = front([(825.0, 2100.0), (3375.0, 4425.0)]);
        let rows = heights(&e);
        for i in 0..e.openings.len() {
            for (dx, dy) in [(25.0, 0.0), (-25.0, 0.0), (0.0, 25.0), (0.0, -25.0)] {
                let mut moved = e.clone();
                if let Shape::Rect { x, y, .. } = &mut moved.openings[i].shape {
                    *x += dx;
                    *y += dy;
                }
                assert_eq!(heights(&moved), rows, "window {i} by {dx}, {dy}");
            }
        }
    }
}
