//! Ties move up or down to rows that have more of them about there, so that there are fewer rows to mark out.
//!
//! The main rows come first, then those with more ties near the place: what stands far off does not matter, so that
//! a change there moves nothing here. A tie moves only where it still serves all that it alone serves, at the same x
//! or a little beside it.

use super::board::{Apart, Board};
use super::main_rows;
use super::merge::alone;
use super::reduce::edge_spares;
use super::tidy::move_to;
use crate::masonry::Few;

/// No tie moves further sideways than this for the sake of its row, mm.
const SIDEWAYS: f64 = 100.0;

pub(super) fn run(board: &mut Board<'_>) {
    let mut is_main = vec![false; board.rows.len()];
    for row in main_rows::of(board) {
        is_main[row] = true;
    }
    for row in (0..board.rows.len()).filter(|&r| !is_main[r]) {
        let ids: Vec<u32> = board.on_row[row].iter().map(|t| t.1).collect();
        for id in ids {
            if !board.ties[id as usize].pinned && !board.ties[id as usize].in_chain {
                lift(board, id, &is_main);
            }
        }
    }
}

/// Moves a tie to the best row that will do.
fn lift(board: &mut Board<'_>, id: u32, is_main: &[bool]) {
    let (row, x) = (board.ties[id as usize].row, board.ties[id as usize].x);
    let about = |board: &Board<'_>, r: usize| {
        let list = &board.on_row[r];
        let from = list.partition_point(|t| t.0 < x - board.half_h);
        list[from..].iter().take_while(|t| t.0 <= x + board.half_h).count()
    };
    let here = about(board, row);
    let only = alone(board, id);
    let needed = |&&(e, _): &&(usize, f64)| !edge_spares(board, e, id);
    let edges: Few<usize, 2> = board.ties[id as usize].edges.iter().filter(needed).map(|e| e.0).collect();
    let counts = |r: usize| {
        edges.iter().all(|&e| {
            let near = board.near(r, e);
            near.is_some_and(|n| n.last() >= x - SIDEWAYS && n.first() <= x + SIDEWAYS)
        })
    };
    let reaches = |r: usize| {
        let (s0, s1) = board.rows[r].strips;
        only.low == usize::MAX || (s0 <= only.low && only.high < s1)
    };
    let mut rows: Few<(bool, usize, usize), 4> = board
        .rows_about(row, Apart::Spacing)
        .filter(|&r| (is_main[r] || !board.on_row[r].is_empty()) && r != row && reaches(r))
        .map(|r| (is_main[r], about(board, r), r))
        .filter(|t| (t.0 || t.1 > here) && !board.rows[t.2].runs.is_empty() && counts(t.2))
        .collect();
    rows.sort_by_key(|t| (std::cmp::Reverse((t.0, t.1)), t.2.abs_diff(row)));
    for (_, _, r) in rows {
        let free = board.free_without(id, r, x - SIDEWAYS, x + SIDEWAYS);
        if let Some(to) = free.nearest(x)
            && move_to(board, id, r, to)
        {
            return;
        }
    }
}
