//! The order in which improvements are tried: block by block.
//!
//! An improvement changes what its neighbours can do. Tried from one end of the wall to the other, one change could run
//! on through all that come after it. So the wall is cut into blocks, fixed from the axis and the foot, and every
//! other block of every other band comes first, then those between: what happens in a block can touch at most the
//! three kinds that come later, and no block of its own kind.

use super::board::{Board, BoardTie};
use crate::units::floor;
use std::cmp::Ordering;

/// Width and height of a block, in field spacings.
const SIDE: f64 = 2.0;

/// A block: its turn, then which it is, from below and from the left.
pub(super) type Block = (u8, i64, i64);

/// The block in which a tie stands.
pub(super) fn of(board: &Board<'_>, id: u32) -> Block {
    let tie = &board.ties[id as usize];
    block(board, tie.x, band(board, tie.row))
}

/// The band of blocks in which a row lies.
fn band(board: &Board<'_>, row: usize) -> i64 {
    // Limits where no rung of a ladder is.
    floor((board.rows[row].y - board.foot) / (SIDE * 2.0 * board.half_v) + 0.23) as i64
}

/// The block of a band at a place along it.
fn block(board: &Board<'_>, x: f64, up: i64) -> Block {
    let off = x - board.axis;
    let across = floor(off.abs() / (SIDE * 2.0 * board.half_h) + 0.63).copysign(off) as i64;
    let turn = 2 * (up & 1) + (across & 1);
    (turn as u8, up, across)
}

/// The order of ties in a block: from below and from the axis.
pub(super) fn order(board: &Board<'_>, a: u32, b: u32) -> Ordering {
    let (p, q) = (&board.ties[a as usize], &board.ties[b as usize]);
    let off = |t: &BoardTie| (t.x - board.axis).abs();
    p.row.cmp(&q.row).then_with(|| off(p).total_cmp(&off(q))).then(a.cmp(&b))
}

/// Ties block by block, each with its block; in a block in their [`order`].
pub(super) fn in_turn(board: &Board<'_>) -> Vec<(Block, Vec<u32>)> {
    // Band by band: going up, a band is never begun again.
    let mut bands: Vec<(i64, usize)> = Vec::new();
    let mut ties: Vec<(Block, u32)> = Vec::with_capacity(board.ties.len());
    for (number, row) in board.on_row.iter().enumerate().filter(|(_, row)| !row.is_empty()) {
        let up = band(board, number);
        if bands.last().is_none_or(|b| b.0 != up) {
            bands.push((up, ties.len()));
        }
        ties.extend(row.iter().map(|&(x, id)| (block(board, x, up), id)));
    }
    let mut out: Vec<(Block, Vec<u32>)> = Vec::new();
    for turn in 0..4 {
        for (i, &(_, from)) in bands.iter().enumerate() {
            let to = bands.get(i + 1).map_or(ties.len(), |b| b.1);
            let band = &mut ties[from..to];
            if turn == 0 {
                band.sort_by(|a, b| a.0.2.cmp(&b.0.2).then_with(|| order(board, a.1, b.1)));
            }
            for part in band.chunk_by(|a, b| a.0 == b.0).filter(|p| p[0].0.0 == turn) {
                out.push((part[0].0, part.iter().map(|t| t.1).collect()));
            }
        }
    }
    out
}
