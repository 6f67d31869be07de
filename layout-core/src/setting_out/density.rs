//! As many ties as the rules ask for, where coverage alone needs fewer.

use super::board::Board;
use crate::elevation::{Elevation, Fix};
use crate::rules::RuleSet;

/// Steps between the closest spacing worth trying and the rules' own.
const STEPS: usize = 4;

/// Field spacings to try, mm, the closest first: from a plain grid with the number of ties per m2 that
/// the rules ask for, edge ties that come on top included, to the rules' own spacing. One alone where that
/// has enough ties by itself. `fewest` ties are wanted on `area` m2.
pub(super) fn spacings(elevation: &Elevation, rules: &RuleSet, fewest: usize, area: f64) -> Vec<(f64, f64)> {
    let (h, v) = (rules.horizontal.value, rules.vertical.value);
    let Some(mut per_m2) = rules.density.value.minimum() else { return vec![(h, v)] };
    if rules.density.value.edges_on_top() && area > 0.0 {
        per_m2 = fewest as f64 / area;
    }
    // The height a row really serves: whole courses.
    let courses = elevation.coursing.courses_within(v) as f64 * elevation.coursing.gauge;
    let row = if elevation.coursing.fix == Fix::Anywhere || courses <= 0.0 { v } else { courses };
    let closest = 1e6 / per_m2.max(1e-9);
    if h * row <= closest * 1.03 {
        return vec![(h, v)];
    }
    (0..=STEPS)
        .map(|i| {
            let area = closest + (h * row - closest) * i as f64 / STEPS as f64;
            // Closer along the wall first, then up it too, keeping the field near to square.
            if area / row >= row.min(h) * 0.6 {
                ((area / row).min(h), v)
            } else {
                let side = area.sqrt();
                (side.min(h), side.min(v))
            }
        })
        .collect()
}

/// Adds ties, each where it is furthest from the others, until there are `fewest`.
pub(super) fn run(board: &mut Board<'_>, fewest: usize) {
    let mut count = board.ties.iter().filter(|t| t.alive).count();
    let mut step = board.half_h / 2.0;
    while count < fewest {
        let mut places = candidates(board, step);
        if places.is_empty() {
            if step < 2.0 {
                return;
            }
            step /= 3.0;
            continue;
        }
        places.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)).then(a.1.total_cmp(&b.1)));
        let before = count;
        for (row, x, apart) in places {
            if count >= fewest {
                return;
            }
            // Still as far from the others as it was, those just added among them?
            if distance_to_ties(board, row, x) >= apart - 1e-6 && board.is_free(row, x) {
                board.add(row, x, false);
                count += 1;
            }
        }
        if count == before {
            if step < 2.0 {
                return;
            }
            step /= 3.0;
        }
    }
}

/// Places where a tie may stand, with their distance from the nearest tie.
fn candidates(board: &Board<'_>, step: f64) -> Vec<(usize, f64, f64)> {
    let mut out = Vec::new();
    for row in 0..board.rows.len() {
        let runs = &board.rows[row].runs;
        for &(lo, hi) in &board.clear_of_ties(row, runs).0 {
            let n = ((hi - lo) / step).floor() as usize;
            for i in 0..=n {
                let x = if n == 0 { f64::midpoint(lo, hi) } else { lo + (hi - lo) * i as f64 / n as f64 };
                out.push((row, x, distance_to_ties(board, row, x)));
            }
        }
    }
    out
}

/// Distance to the nearest tie, no further than the field spacing, mm.
fn distance_to_ties(board: &Board<'_>, row: usize, x: f64) -> f64 {
    let limit = board.half_h.max(board.half_v) * 2.0;
    let mut best = limit;
    let y = board.rows[row].y;
    let mut look = |other: usize| {
        let dy = (board.rows[other].y - y).abs();
        if dy >= best {
            return false;
        }
        let ties = &board.on_row[other];
        let at = ties.partition_point(|t| t.0 < x);
        for t in ties[at..].iter().take(1).chain(ties[..at].iter().rev().take(1)) {
            best = best.min((t.0 - x).hypot(dy));
        }
        true
    };
    let mut r = row;
    while look(r) && r > 0 {
        r -= 1;
    }
    let mut r = row + 1;
    while r < board.rows.len() && look(r) {
        r += 1;
    }
    best
}
