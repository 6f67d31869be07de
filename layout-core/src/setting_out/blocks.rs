//! The order in which improvements are tried: block by block.
//!
//! An improvement changes what its neighbours can do. Tried from one end of the wall to the other, one change could run
//! on through all that come after it. So the wall is cut into blocks, fixed from the datum and the foot, and every
//! other block of every other band comes first, then those between: what happens in a block can touch at most the
//! three kinds that come later, and no block of its own kind.

use super::board::Board;

/// Width and height of a block, in field spacings.
const SIDE: f64 = 2.0;

/// A block: its turn, then which it is, from below and from the left.
pub(super) type Block = (u8, i64, i64);

/// The block in which a tie stands.
pub(super) fn of(board: &Board<'_>, id: u32) -> Block {
    let tie = &board.ties[id as usize];
    // Limits where no rung of a ladder is.
    let across = ((tie.x - board.datum) / (SIDE * 2.0 * board.half_h) + 0.13).floor() as i64;
    let up = ((board.rows[tie.row].y - board.foot) / (SIDE * 2.0 * board.half_v) + 0.23).floor() as i64;
    let turn = 2 * up.rem_euclid(2) + across.rem_euclid(2);
    (turn as u8, up, across)
}

/// Ties block by block, each with its block; in a block from below and from the left.
pub(super) fn in_turn(board: &Board<'_>) -> Vec<(Block, Vec<u32>)> {
    let mut ties: Vec<(Block, usize, f64, u32)> = (0..board.ties.len() as u32)
        .filter(|&id| board.ties[id as usize].alive)
        .map(|id| (of(board, id), board.ties[id as usize].row, board.ties[id as usize].x, id))
        .collect();
    ties.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.total_cmp(&b.2)));
    let mut out: Vec<(Block, Vec<u32>)> = Vec::new();
    for (block, _, _, id) in ties {
        match out.last_mut() {
            Some(last) if last.0 == block => last.1.push(id),
            _ => out.push((block, vec![id])),
        }
    }
    out
}
