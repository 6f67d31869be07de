//! A long plain stretch of a row: ties at even steps, every other row staggered.
//!
//! The fewest ties that serve a stretch are at the full spacing from its left end; what the last one
//! reaches beyond the right end is slack. A staggered row is set back by half the spacing: within the
//! slack where that will do, else with one tie more, where the stretch is long enough that this costs no
//! more than a twentieth.

use super::board::Board;
use crate::units::EPSILON;

/// Fewest ties that make a chain.
const LEAST: f64 = 3.0;

/// A staggered row may have one tie more than the fewest where those are at least this many: with every
/// other row staggered, a twentieth more ties.
const LEAST_FOR_ONE_MORE: f64 = 10.0;

/// Chains begin at a multiple of this from the datum edge where there is slack for it, mm.
const ROUND: f64 = 25.0;

/// Lays a chain on a row from `from` to `to`, if the stretch is long and every tie of it can stand.
pub(super) fn lay(board: &mut Board<'_>, row: usize, from: f64, to: f64) {
    let h = 2.0 * board.half_h;
    let fewest = ((to - from - EPSILON) / h).ceil();
    if fewest < LEAST {
        return;
    }
    let slack = fewest * h - (to - from);
    let (count, back) = if !board.staggered || !is_set_back(board, row) {
        (fewest, 0.0)
    } else if slack >= board.half_h || fewest < LEAST_FOR_ONE_MORE {
        (fewest, slack.min(board.half_h))
    } else {
        (fewest + 1.0, board.half_h)
    };
    // What slack is left brings the first tie to a round dimension, and so the others.
    let first = from + board.half_h - back;
    let odd = (first - board.datum).rem_euclid(ROUND);
    let first = if odd <= count * h - (to - from) - back { first - odd } else { first };
    let mut places = Vec::with_capacity(count as usize);
    for i in 0..count as usize {
        let wish = first + i as f64 * h;
        // The ends of the wall keep their distance; the next tie reaches back far enough only from there.
        let reach = board.half_h - EPSILON;
        let free = board.free(row, wish - reach, wish + reach);
        let Some(x) = nearest(&free.0, wish) else { return };
        let end = i == 0 || i + 1 == count as usize;
        if (x - wish).abs() > EPSILON && !end {
            return;
        }
        places.push(x);
    }
    let served = |places: &[f64]| {
        let gap = places.windows(2).any(|p| p[1] - p[0] > h + EPSILON);
        let ends = places[0] - board.half_h <= from + EPSILON
            && places[places.len() - 1] + board.half_h >= to - EPSILON;
        let apart = places.windows(2).all(|p| p[1] - p[0] >= board.between);
        !gap && ends && apart
    };
    if !served(&places) {
        return;
    }
    for x in places {
        let id = board.add(row, x, false);
        board.ties[id as usize].in_chain = true;
    }
}

fn nearest(free: &[(f64, f64)], wish: f64) -> Option<f64> {
    free.iter()
        .map(|&(lo, hi)| wish.clamp(lo, hi))
        .min_by(|a, b| (a - wish).abs().total_cmp(&(b - wish).abs()))
}

/// Whether a row is one of those set back: every other one of the rows at the full spacing in whole courses.
fn is_set_back(board: &Board<'_>, row: usize) -> bool {
    let courses = (2.0 * board.half_v / board.pitch + EPSILON).floor().max(1.0);
    ((board.rows[row].y - board.foot) / (courses * board.pitch)).round() as i64 % 2 != 0
}
