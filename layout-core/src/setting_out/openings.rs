//! Ties over and under an opening go to places that are each other's mirror image about its axis, where nothing is lost:
//! both sides of an opening are then marked out alike, and like openings too.
//!
//! Only ties between the jambs of an opening are looked at, so that one opening has nothing to do with the next.

use super::board::Board;
use super::tidy::move_to;
use crate::elevation::{Elevation, shape_bounds};
use crate::marking::ROUND_STEP;
use crate::units::{EPSILON, floor};

pub(super) fn run(board: &mut Board<'_>, elevation: &Elevation) {
    for opening in &elevation.openings {
        let (left, bottom, right, top) = shape_bounds(&opening.shape);
        let from = board.rows.partition_point(|r| r.y < bottom - board.half_v);
        for row in from..board.rows.len() {
            let y = board.rows[row].y;
            if y > top + board.half_v {
                break;
            }
            if y < bottom || y > top {
                each_pair(board, row, f64::midpoint(left, right), (right - left) / 2.0);
            }
        }
    }
}

/// Two ties of a row, or one that is given twice, from where to where.
#[derive(Clone, Copy)]
struct Pair {
    row: usize,
    from: (f64, f64),
    to: (f64, f64),
}

/// Moves the ties of a row within so much of an axis, the outermost two, those next to them, and so on: to the full
/// spacing about the axis, or else to places as far from it as each other, about as far as they are now.
fn each_pair(board: &mut Board<'_>, row: usize, axis: f64, reach: f64) {
    let list = &board.on_row[row];
    let from = list.partition_point(|t| t.0 < axis - reach - EPSILON);
    let near = list[from..].iter().take_while(|t| t.0 <= axis + reach + EPSILON);
    let stays = |id: u32| board.ties[id as usize].pinned || board.ties[id as usize].in_chain;
    if near.clone().any(|t| stays(t.1)) {
        return;
    }
    let near: Vec<f64> = near.map(|t| t.0).collect();
    let last = near.len().saturating_sub(1);
    for i in 0..near.len().div_ceil(2) {
        let from = (near[i], near[last - i]);
        let (full, as_it_is) = ((last - 2 * i) as f64 * board.half_h, (from.1 - from.0) / 2.0);
        let down = floor(as_it_is / ROUND_STEP) * ROUND_STEP;
        for off in [full, down, down + ROUND_STEP, as_it_is] {
            let pair = Pair { row, from, to: (axis - off, axis + off) };
            if pair.stands() || move_both(board, pair) {
                break;
            }
        }
    }
}

impl Pair {
    fn stands(&self) -> bool {
        (self.from.0 - self.to.0).abs() <= EPSILON && (self.from.1 - self.to.1).abs() <= EPSILON
    }
}

/// Moves a pair, if nothing is lost; whether it did.
fn move_both(board: &mut Board<'_>, Pair { row, from: (a, b), to: (to_a, to_b) }: Pair) -> bool {
    if a == b {
        return slide(board, row, a, to_a);
    }
    // What the one gives up the other may have to serve first.
    [((a, to_a), (b, to_b)), ((b, to_b), (a, to_a))].into_iter().any(|(first, then)| {
        if !slide(board, row, first.0, first.1) {
            return false;
        }
        let both = slide(board, row, then.0, then.1);
        if !both {
            slide(board, row, first.1, first.0);
        }
        both
    })
}

/// Moves the tie at a place of a row to another, if nothing is lost. Whether it is there.
fn slide(board: &mut Board<'_>, row: usize, from: f64, to: f64) -> bool {
    let list = &board.on_row[row];
    let at = list.partition_point(|t| t.0 < from - EPSILON);
    let Some(&(x, id)) = list.get(at).filter(|t| t.0 <= from + EPSILON) else { return false };
    (x - to).abs() <= EPSILON || move_to(board, id, row, to)
}
