//! Ties slide along their row to whole dimensions where nothing is lost.
//!
//! A lone tie in a gap, where the wall alone limits it, goes to the middle of where it can stand, so that like gaps
//! look alike and mirrored walls are mirrored; one that serves both jambs of a pier goes to the axis, and so does a
//! lone one between the ties of both. Then every tie that has room goes to a whole brick length from the axis of the
//! wall, or else to a multiple of 25, 5 or 1 mm.

use super::board::{Apart, Board, LEAST_GAP, Reached};
use super::reduce::edge_spares;
use crate::marking::ROUND_STEP;
use crate::units::{EPSILON, floor, round};

/// Steps a tie is moved to, coarsest first, mm: a 225 mm brick length, then round numbers.
const STEPS: [f64; 4] = [225.0, 25.0, 5.0, 1.0];

/// No tie is moved further than this for the sake of a rounder number, mm.
const FURTHEST: f64 = 57.0;

pub(super) fn run(board: &mut Board<'_>) {
    each(board, |board, id| {
        let tie = &board.ties[id as usize];
        if tie.in_chain {
            return None;
        }
        if tie.edges.is_empty() {
            let room = room(board, id)?;
            let inside = |x: &f64| (room.lo - EPSILON..=room.hi + EPSILON).contains(x);
            let middle = room.fixed.then(|| f64::midpoint(room.lo, room.hi));
            return middle.or_else(|| axis_between(board, id).filter(inside));
        }
        let x = axis(board, id)?;
        room(board, id).filter(|r| (r.lo - EPSILON..=r.hi + EPSILON).contains(&x)).map(|_| x)
    });
    let axis = board.axis;
    each(board, |board, id| {
        let x = board.ties[id as usize].x;
        if is_round(board, id) {
            return None;
        }
        let Room { lo, hi, .. } = room(board, id)?;
        STEPS.iter().find_map(|&step| {
            let to = axis + round((x - axis) / step) * step;
            let inside = |v: &f64| *v >= lo - EPSILON && *v <= hi + EPSILON && (v - x).abs() <= FURTHEST;
            let inwards = step.copysign(axis - to);
            [to, to + inwards, to - inwards].into_iter().find(inside)
        })
    });
}

/// The middle between two upright edges that a tie counts for, one on either side: the axis of a pier.
fn axis(board: &Board<'_>, id: u32) -> Option<f64> {
    let tie = &board.ties[id as usize];
    let (mut left, mut right) = (f64::NEG_INFINITY, f64::INFINITY);
    for edge in tie.edges.iter().map(|&(e, _)| &board.edges[e].edge).filter(|e| e.lo.0 == e.hi.0) {
        if edge.lo.0 < tie.x {
            left = left.max(edge.lo.0);
        } else {
            right = right.min(edge.lo.0);
        }
    }
    (left.is_finite() && right.is_finite()).then(|| f64::midpoint(left, right))
}

/// The axis of the pier in which a tie stands between those of two jambs, alone on its row.
fn axis_between(board: &Board<'_>, id: u32) -> Option<f64> {
    if !board.even {
        return None;
    }
    let tie = &board.ties[id as usize];
    let masonry = &board.rows[tie.row].through.0;
    let &(left, right) = masonry.get(masonry.partition_point(|r| r.1 <= tie.x)).filter(|r| r.0 < tie.x)?;
    let between_jambs = left > board.datum + EPSILON && right < board.datum + board.width - EPSILON;
    if !between_jambs || right - left > 4.0 * board.half_h + 2.0 * board.within {
        return None;
    }
    let list = &board.on_row[tie.row];
    let inside = &list[list.partition_point(|t| t.0 < left)..list.partition_point(|t| t.0 <= right)];
    let alone = inside.iter().all(|t| t.1 == id || !board.ties[t.1 as usize].edges.is_empty());
    alone.then(|| f64::midpoint(left, right))
}

/// Whether a tie's dimension is already a good one: from the axis of the wall, or from an edge it counts for.
fn is_round(board: &Board<'_>, id: u32) -> bool {
    let tie = &board.ties[id as usize];
    let whole = |v: f64, step: f64| (round(v / step) * step - v).abs() < 1e-6;
    let axis = axis(board, id).or_else(|| axis_between(board, id).filter(|_| tie.edges.is_empty()));
    if axis.is_some_and(|x| (x - tie.x).abs() < 1e-6) {
        return true;
    }
    whole(tie.x - board.axis, ROUND_STEP)
        || tie.edges.iter().any(|&(e, _)| {
            let edge = &board.edges[e].edge;
            edge.lo.0 == edge.hi.0 && whole(tie.x - edge.lo.0, ROUND_STEP)
        })
}

/// Moves every tie to where `wish` wants it, row by row, as long as nothing is lost. What each wants hangs on where the
/// others stand before any moves, not on where they go, so that one that moves does not push on all beyond it; those in
/// every other bay a spacing wide move first.
fn each(board: &mut Board<'_>, wish: impl Fn(&Board<'_>, u32) -> Option<f64>) {
    let bay = |board: &Board<'_>, id: u32| {
        floor((board.ties[id as usize].x - board.axis).abs() / (2.0 * board.half_h) + 0.63) as i64
    };
    let (mut moves, mut between) = (Vec::new(), Vec::new());
    for row in 0..board.rows.len() {
        for &(at, id) in &board.on_row[row] {
            if board.ties[id as usize].pinned {
                continue;
            }
            if let Some(x) = wish(board, id)
                && (x - at).abs() > 1e-9
            {
                let list = if bay(board, id) % 2 == 0 { &mut moves } else { &mut between };
                list.push((row, id, x));
            }
        }
        moves.append(&mut between);
    }
    for (row, id, x) in moves {
        let fits = room(board, id).is_some_and(|r| r.lo - EPSILON <= x && x <= r.hi + EPSILON);
        // Where it reaches the same as before, its room says that nothing is lost.
        if fits && !board.slide(id, x) {
            move_to(board, id, row, x);
        }
    }
}

/// Where a tie can slide on its row without anything being lost, as far as its neighbours tell.
struct Room {
    lo: f64,
    hi: f64,
    /// Whether the wall alone limits it on both sides: where another tie does, that may slide too.
    fixed: bool,
}

fn room(board: &Board<'_>, id: u32) -> Option<Room> {
    let tie = &board.ties[id as usize];
    let x = tie.x;
    let run = board.rows[tie.row].runs.0.iter().find(|r| r.0 <= x + EPSILON && x <= r.1 + EPSILON)?;
    let (mut lo, mut hi) = *run;
    // The limits that other ties set.
    let (mut lo_by_ties, mut hi_by_ties) = (f64::NEG_INFINITY, f64::INFINITY);
    // Clear of the other ties.
    for other in board.rows_about(tie.row, Apart::Clear) {
        let dy = board.rows[other].y - board.rows[tie.row].y;
        let half = (board.between * board.between - dy * dy).max(0.0).sqrt();
        let list = &board.on_row[other];
        let from = list.partition_point(|t| t.0 < x - 2.0 * board.half_h);
        for &(at, other_id) in list[from..].iter().take_while(|t| t.0 <= x + 2.0 * board.half_h) {
            if other_id == id {
                continue;
            }
            if at > x {
                hi_by_ties = hi_by_ties.min(at - half);
            } else {
                lo_by_ties = lo_by_ties.max(at + half);
            }
        }
    }
    for &c in &tie.cells {
        let cell = &board.strips.cells[c as usize];
        if !board.duty.contains(&cell.strip) {
            continue;
        }
        let (left, right) = (cell.left(), cell.right());
        let (before, after) = board.serving.beside(c, x, id);
        let before = (before + board.half_h).max(left);
        let after = (after - board.half_h).min(right);
        if after - before > LEAST_GAP && !board.spared[cell.strip as usize] {
            // It alone serves this stretch, as far as it does now.
            let from = after.min(x + board.half_h) - board.half_h;
            let to = before.max(x - board.half_h) + board.half_h;
            if after < right {
                lo_by_ties = lo_by_ties.max(from);
            } else {
                lo = lo.max(from);
            }
            if before > left { hi_by_ties = hi_by_ties.min(to) } else { hi = hi.min(to) }
        }
    }
    for &(e, _) in &tie.edges {
        if !edge_spares(board, e, id) {
            let near = board.near(tie.row, e)?;
            let run = near.runs.0.iter().find(|r| r.0 <= x + EPSILON && x <= r.1 + EPSILON)?;
            lo = lo.max(run.0);
            hi = hi.min(run.1);
        }
    }
    let fixed = lo_by_ties <= lo && hi_by_ties >= hi;
    let (lo, hi) = (lo.max(lo_by_ties), hi.min(hi_by_ties));
    (hi - lo > EPSILON).then_some(Room { lo, hi, fixed })
}

/// Moves a tie to a place on a row, unless something would be lost. Whether it moved.
pub(super) fn move_to(board: &mut Board<'_>, id: u32, row: usize, x: f64) -> bool {
    let Some(cells) = could_serve(board, id, row, x) else { return false };
    let in_chain = board.ties[id as usize].in_chain;
    board.remove(id);
    let new = board.add_serving(row, x, cells);
    board.ties[new as usize].in_chain = in_chain;
    true
}

/// What a tie would serve at another place, if it can stand there and nothing would be lost.
pub(super) fn could_serve(board: &mut Board<'_>, id: u32, row: usize, x: f64) -> Option<Reached> {
    let now = board.ties[id as usize].x;
    let about = (now - board.half_h - LEAST_GAP, now + board.half_h + LEAST_GAP);
    let fits = board.is_free_but(Some(id), row, x) && board.keeps_edges(id, row, x);
    if fits { board.served_without_loss(id, (row, x), about) } else { None }
}
