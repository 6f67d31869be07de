//! A long plain stretch of a row: ties at the full spacing on a ladder, every other row staggered.
//!
//! The ladder is the same for every stretch of a row, so that dimensions are regular from one datum, and a window that
//! moves a little moves only the ties next to it. Where the wall has openings it stands about the middle of the wall, so
//! that both halves of one that is its own mirror image are marked out alike; on a plain wall it starts at the datum edge.
//!
//! The fewest ties that serve a stretch stand at the full spacing from its left end; what the last one reaches beyond
//! the right end is slack. Where the ladder needs no more ties than that, it is taken; where it needs one more, only in
//! a stretch long enough for one tie to matter little, and in a wall without openings only in one as long as is set
//! back. Any other is served from its left end, at a round dimension as far as the slack allows.

use super::board::{Board, TOUCHING};
use crate::units::{EPSILON, floor, round as whole};

/// Fewest ties that make a chain.
const LEAST: f64 = 3.0;

/// A stretch may have one tie more than the fewest for the sake of the ladder where those are at least this many.
const LEAST_FOR_ONE_MORE: f64 = 3.0;

/// The ladder of staggered rows is set back by half the spacing, even if that costs a tie, where a row across the whole
/// wall has at least so many.
const LEAST_TO_SET_BACK: f64 = 10.0;

/// A chain off the ladder begins at a multiple of the first of these from the axis that the slack allows, mm.
const ROUND: [f64; 4] = [450.0, 225.0, 75.0, 25.0];

/// Ties on a row across a wall so wide, at a spacing, mm.
fn across(width: f64, spacing: f64) -> f64 {
    ((width - EPSILON) / spacing).ceil()
}

/// Whether staggered rows of a wall so wide are set back by half a spacing, mm: narrower ones at most by what is slack
/// on a plain wall.
#[must_use]
pub fn is_set_back(width: f64, spacing: f64) -> bool {
    across(width, spacing) >= LEAST_TO_SET_BACK
}

/// Lays a chain on a row from `from` to `to`, as far as the stretch is long and its ties can stand.
pub(super) fn lay(board: &mut Board<'_>, row: usize, from: f64, to: f64) {
    let h = 2.0 * board.half_h;
    let fewest = ((to - from - TOUCHING) / h).ceil();
    if fewest < LEAST {
        return;
    }
    let slack = (fewest * h - (to - from)).max(0.0);
    let on_ladder = rung_before(board, row, from + board.half_h);
    let needed = ((to - TOUCHING - (on_ladder - board.half_h)) / h).ceil();
    if board.even && fewest >= if board.opened { LEAST_FOR_ONE_MORE } else { LEAST_TO_SET_BACK } {
        lay_inner(board, row, (from, to), on_ladder);
    } else if needed <= fewest {
        lay_whole(board, row, (from, to), on_ladder, needed as usize);
    } else {
        let last = from + board.half_h;
        let first = round(board, last, slack).next().unwrap_or(last);
        lay_whole(board, row, (from, to), first, fewest as usize);
    }
}

/// A whole chain, if every tie of it can stand; the end ones may give way a little.
fn lay_whole(board: &mut Board<'_>, row: usize, (from, to): (f64, f64), first: f64, count: usize) {
    let h = 2.0 * board.half_h;
    let mut places = Vec::with_capacity(count);
    for i in 0..count {
        let wish = first + i as f64 * h;
        // The ends of the wall keep their distance; the next tie reaches back far enough only from there.
        let reach = board.half_h - EPSILON;
        let free = board.free(row, wish - reach, wish + reach);
        let Some(x) = free.nearest(wish) else { return };
        let end = i == 0 || i + 1 == count;
        if (x - wish).abs() > EPSILON && !end {
            return;
        }
        places.push(x);
    }
    let served = |places: &[f64]| {
        let gap = places.windows(2).any(|p| p[1] - p[0] > h + EPSILON);
        let ends = places[0] - board.half_h <= from + EPSILON
            && places[places.len() - 1] + board.half_h >= to - TOUCHING;
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

/// The ties of a chain that serve nothing but the stretch; its ends are left to be served one by one.
fn lay_inner(board: &mut Board<'_>, row: usize, (from, to): (f64, f64), on_ladder: f64) {
    let h = 2.0 * board.half_h;
    let mut x = if on_ladder - board.half_h < from - EPSILON { on_ladder + h } else { on_ladder };
    while x + board.half_h <= to + EPSILON {
        if board.is_free(row, x) {
            let id = board.add(row, x, false);
            board.ties[id as usize].in_chain = true;
        }
        x += h;
    }
}

/// The round dimensions up to `slack` before `last`, the roundest first.
pub(super) fn round(board: &Board<'_>, last: f64, slack: f64) -> impl Iterator<Item = f64> {
    let axis = board.axis;
    ROUND
        .iter()
        .map(move |&step| axis + floor((last + EPSILON - axis) / step) * step)
        .filter(move |x| last - x <= slack)
}

/// The round dimensions no further than `off` from a place, the roundest first.
pub(super) fn round_about(board: &Board<'_>, x: f64, off: f64) -> impl Iterator<Item = f64> {
    let axis = board.axis;
    let near = ROUND.iter().map(move |&step| axis + whole((x - axis) / step) * step);
    near.filter(move |at| (x - at).abs() <= off)
}

/// A round dimension no further than `off` before a place, or `beyond` it; then the next one of the finest kind.
pub(super) fn round_beside(board: &Board<'_>, x: f64, off: f64, beyond: bool) -> impl Iterator<Item = f64> {
    let (axis, sign) = (board.axis, if beyond { -1.0 } else { 1.0 });
    let at = |step: f64| axis + sign * floor((sign * (x - axis) + EPSILON) / step) * step;
    // The coarser ones would hang on how much there is to spare.
    let [.., coarse, fine] = ROUND.map(at);
    Some(coarse).filter(|at| (x - at).abs() <= off).into_iter().chain([fine])
}

/// The rung of a row's ladder nearest to a place.
pub(super) fn rung_near(board: &Board<'_>, row: usize, x: f64) -> f64 {
    let (h, foot) = (2.0 * board.half_h, ladder(board, row));
    whole((x - foot) / h) * h + foot
}

/// The last rung of a row's ladder at or before a place.
pub(super) fn rung_before(board: &Board<'_>, row: usize, last: f64) -> f64 {
    let (h, foot) = (2.0 * board.half_h, ladder(board, row));
    floor((last + EPSILON - foot) / h) * h + foot
}

/// A rung of the ladder of a row, mm. Where the wall has openings the ladder is the same from both ends; else half a
/// spacing from the datum edge, less on a row that is set back.
fn ladder(board: &Board<'_>, row: usize) -> f64 {
    let h = 2.0 * board.half_h;
    let (across, wide) = (across(board.width, h), is_set_back(board.width, h));
    let set_back = board.staggered && board.rows[row].set_back;
    if board.opened {
        // As many ties as will do stand in the middle of a row.
        let on_axis = (across % 2.0 != 0.0) != (set_back && wide);
        return board.axis + if on_axis { 0.0 } else { board.half_h };
    }
    let plain = board.datum + board.half_h;
    if !set_back {
        return plain;
    }
    let slack = across * h - board.width;
    plain - if wide { board.half_h } else { slack.min(board.half_h) }
}
