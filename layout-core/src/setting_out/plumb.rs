//! The ties beside a jamb go on one plumb line where nothing is lost: one line to snap, one dimension from the jamb.
//!
//! The line is the one of those the ties are on where most of them can stand, of those with as many the one furthest from
//! the jamb; a tie that cannot stand there stays where it is. Ties that count for another edge too stay, and so do
//! those of ends and joints, which run the whole height of a wall: what is changed at one place of them shall not show at
//! another.

use super::board::{Board, EdgeState};
use super::tidy::{could_serve, move_to};
use crate::masonry::{EdgeKind, Measure};

/// Places within this are on one line, mm.
const ON_LINE: f64 = 0.1;

pub(super) fn run(board: &mut Board<'_>) {
    for edge in 0..board.edges.len() {
        let state = &board.edges[edge].edge;
        if state.kind == EdgeKind::Jamb && state.measure == Measure::Height && state.lo.0 == state.hi.0 {
            line_up(board, edge);
        }
    }
}

fn line_up(board: &mut Board<'_>, edge: usize) {
    let EdgeState { edge, served, .. } = &board.edges[edge];
    // Those over its head or under its sill belong to their rows.
    let beside = served.iter().filter(|s| edge.lo.1 <= s.0 && s.0 <= edge.hi.1);
    let mut beside = beside.map(|s| (s.1, board.ties[s.1 as usize].x));
    let Some(first) = beside.next() else { return };
    if beside.clone().all(|t| (t.1 - first.1).abs() <= ON_LINE) {
        return;
    }
    let ties: Vec<(u32, f64)> = std::iter::once(first).chain(beside).collect();
    let jamb = edge.lo.0;
    let mut lines: Vec<f64> = ties.iter().map(|t| t.1).collect();
    lines.sort_by(f64::total_cmp);
    lines.dedup_by(|a, b| (*a - *b).abs() <= ON_LINE);
    // The furthest from the jamb serves most.
    lines.sort_by(|a, b| (b - jamb).abs().total_cmp(&(a - jamb).abs()));
    let mut best: Option<(usize, f64)> = None;
    for &x in &lines {
        let worth = ties.iter().filter(|t| (t.1 - x).abs() <= ON_LINE || could_stand(board, t.0, x)).count();
        if best.is_none_or(|b| worth > b.0) {
            best = Some((worth, x));
        }
    }
    let Some((_, line)) = best else { return };
    for &(id, x) in &ties {
        if (x - line).abs() > ON_LINE && may_move(board, id) {
            move_to(board, id, board.ties[id as usize].row, line);
        }
    }
}

fn may_move(board: &Board<'_>, id: u32) -> bool {
    let tie = &board.ties[id as usize];
    !tie.pinned && !tie.in_chain && tie.edges.len() == 1
}

/// Whether a tie could stand elsewhere on its row without anything being lost.
fn could_stand(board: &mut Board<'_>, id: u32, x: f64) -> bool {
    may_move(board, id) && could_serve(board, id, board.ties[id as usize].row, x).is_some()
}
