//! Ties that others make needless go.

use super::board::{Board, LEAST_GAP};
use super::merge::{Alone, alone, alone_each, neighbours};
use crate::masonry::Measure;
use crate::units::EPSILON;

/// The ties that went, and what each that is left alone serves now.
pub(super) struct Reduced {
    pub gone: Vec<u32>,
    pub alone: Vec<Alone>,
}

/// Drops up to so many ties that nothing would miss; those that serve no edge first, later rows before earlier ones.
pub(super) fn run(board: &mut Board<'_>, spare: usize) -> Reduced {
    // What is needed stays so when others go.
    let needed = alone_each(board);
    let may_go = |&i: &u32| {
        let tie = &board.ties[i as usize];
        tie.alive && !tie.pinned && needed[i as usize].low == usize::MAX
    };
    let mut order: Vec<u32> = (0..board.ties.len() as u32).rev().filter(may_go).collect();
    order.sort_by(|&a, &b| {
        let edges = |i: u32| board.ties[i as usize].edges.len();
        edges(a).cmp(&edges(b)).then_with(|| super::blocks::order(board, b, a))
    });
    let mut gone = Vec::new();
    for id in order {
        if gone.len() < spare && is_needless(board, id) {
            board.remove(id);
            gone.push(id);
        }
    }
    let mut about: Vec<u32> = gone.iter().flat_map(|&id| neighbours(board, id, |_| true)).collect();
    about.sort_unstable();
    about.dedup();
    let mut known = needed;
    for id in about {
        known[id as usize] = alone(board, id);
    }
    Reduced { gone, alone: known }
}

pub(super) fn is_needless(board: &Board<'_>, id: u32) -> bool {
    let tie = &board.ties[id as usize];
    tie.cells.iter().all(|&c| alone_in_cell(board, c, tie.x, id).is_none())
        && tie.edges.iter().all(|&(e, _)| edge_spares(board, e, id))
}

/// The stretch of a cell that a tie alone serves, if any that counts.
pub(super) fn alone_in_cell(board: &Board<'_>, cell: u32, x: f64, id: u32) -> Option<(f64, f64)> {
    let c = &board.strips.cells[cell as usize];
    if board.spared[c.strip as usize] || !board.duty.contains(&c.strip) {
        return None;
    }
    let (before, after) = board.serving.beside(cell, x, id);
    alone_between(board.half_h, (c.left(), c.right()), before, x, after)
}

/// The stretch of a cell that a tie alone serves between those before and after it, if any that counts.
pub(super) fn alone_between(
    half_h: f64,
    (left, right): (f64, f64),
    before: f64,
    x: f64,
    after: f64,
) -> Option<(f64, f64)> {
    let (larger, smaller) = (|a, b| if a > b { a } else { b }, |a, b| if a < b { a } else { b });
    let from = larger(larger(before + half_h, left), x - half_h);
    let to = smaller(smaller(after - half_h, right), x + half_h);
    (to - from > LEAST_GAP).then_some((from, to))
}

/// Whether an edge stays served without a tie.
pub(super) fn edge_spares(board: &Board<'_>, edge: usize, id: u32) -> bool {
    let state = &board.edges[edge];
    let list = &state.served;
    let Some(&(_, place)) = board.ties[id as usize].edges.iter().find(|t| t.0 == edge) else { return true };
    let at = list.partition_point(|t| (t.0, t.1) < (place, id));
    if list.get(at).is_none_or(|t| t.1 != id) {
        return true;
    }
    let half = state.half() + EPSILON;
    let (from, to) = (state.edge.from, state.edge.to);
    match state.edge.measure {
        Measure::Level => list.len() > 1,
        Measure::Length { ring: true } => {
            if list.len() < 2 {
                return false;
            }
            let before = if at > 0 { list[at - 1].0 } else { list[list.len() - 1].0 - to };
            let after = list.get(at + 1).map_or(list[0].0 + to, |t| t.0);
            after - before <= 2.0 * half
        }
        Measure::Height | Measure::Length { ring: false } => {
            let before = (at > 0).then(|| list[at - 1].0);
            let after = list.get(at + 1).map(|t| t.0);
            match (before, after) {
                (None, None) => false,
                (Some(b), None) => b + half >= to && b - half <= to,
                (None, Some(a)) => a - half <= from && a + half >= from,
                (Some(b), Some(a)) => {
                    // The stretch between both neighbours, as far as it lies on the edge.
                    a - b <= 2.0 * half || b + half >= to || a - half <= from
                }
            }
        }
    }
}
