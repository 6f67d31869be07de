//! A place that would serve what is open, but for another new tie too close to it: take that one off,
//! put this one on, and see whether the rest can be served otherwise.

use super::board::Board;
use super::repair::{best_for_cell, best_for_edge};
use crate::masonry::Measure;
use crate::units::EPSILON;

/// Serves a gap of an edge by moving ties that stand in the way; whether that came off.
pub(super) fn edge(board: &mut Board<'_>, edge: usize, gap: f64) -> bool {
    if board.swaps_left == 0 {
        return false;
    }
    let mut places = Vec::new();
    for &row in &board.edges[edge].rows {
        let y = board.rows[row].y;
        if board.edges[edge].edge.measure == Measure::Height
            && (y - gap).abs() > board.edges[edge].half() + EPSILON
        {
            continue;
        }
        if let Some(near) = board.near(row, edge) {
            places.extend(near.runs.spread().map(|x| (row, x)));
        }
    }
    places.into_iter().any(|(row, x)| swap(board, row, x, Some(edge), &[]))
}

/// Serves a stretch of a cell by moving ties that stand in the way; whether that came off.
pub(super) fn cell(board: &mut Board<'_>, cell: u32, from: f64, to: f64) -> bool {
    if board.swaps_left == 0 {
        return false;
    }
    let strip = board.strips.cells[cell as usize].strip as usize;
    let mut places = Vec::new();
    for row in board.rows_serving(strip) {
        let runs = board.rows[row].runs.clipped(from - board.half_h, to + board.half_h);
        places.extend(runs.spread().map(|x| (row, x)));
    }
    places.retain(|&(row, x)| !board.too_close(row, x).is_empty() && board.reaches_all(row, x, &[cell]));
    places.into_iter().any(|(row, x)| swap(board, row, x, None, &[cell]))
}

/// More ties than this in the way of one are not worth moving.
const MOST_IN_THE_WAY: usize = 4;

/// Puts a tie at a place in exchange for those too close to it; keeps that only if less is open after.
fn swap(board: &mut Board<'_>, row: usize, x: f64, edge: Option<usize>, cells: &[u32]) -> bool {
    let in_the_way = board.too_close(row, x);
    let pinned = in_the_way.iter().any(|&id| board.ties[id as usize].pinned);
    if in_the_way.is_empty() || in_the_way.len() > MOST_IN_THE_WAY || pinned || board.swaps_left == 0 {
        return false;
    }
    board.swaps_left -= 1;
    let mut edges: Vec<usize> = edge.into_iter().collect();
    let mut cells = cells.to_vec();
    for &id in &in_the_way {
        let tie = &board.ties[id as usize];
        edges.extend(tie.edges.iter().map(|e| e.0));
        cells.extend(&tie.cells);
    }
    edges.sort_unstable();
    edges.dedup();
    cells.sort_unstable();
    cells.dedup();
    let before = open(board, &edges, &cells);
    for &id in &in_the_way {
        board.remove(id);
    }
    let mut added = vec![board.add(row, x, false)];
    serve(board, &edges, &cells, &mut added);
    if open(board, &edges, &cells) < before - EPSILON {
        return true;
    }
    for id in added {
        board.remove(id);
    }
    for id in in_the_way {
        board.put_back(id);
    }
    false
}

/// Adds ties for what is open on these edges and cells, as far as there is room.
fn serve(board: &mut Board<'_>, edges: &[usize], cells: &[u32], added: &mut Vec<u32>) {
    for &e in edges {
        while let Some(gap) = board.edge_gap(e, f64::NEG_INFINITY) {
            let Some((row, x)) = best_for_edge(board, e, gap) else { break };
            added.push(board.add(row, x, false));
        }
    }
    for &c in cells {
        while let Some(&(from, to)) = board.unserved(c).first() {
            let Some((row, x)) = best_for_cell(board, c, from, to) else { break };
            added.push(board.add(row, x, false));
        }
    }
}

/// How much is open on these edges and cells: lengths and areas thrown together, for comparing only.
fn open(board: &Board<'_>, edges: &[usize], cells: &[u32]) -> f64 {
    let mut sum = 0.0;
    for &e in edges {
        let by_length =
            matches!(board.edges[e].edge.measure, Measure::Height | Measure::Length { ring: false });
        sum += board.edge_open(e) / if by_length { board.edges[e].edge.spacing.max(1.0) } else { 1.0 };
    }
    let full = 4.0 * board.half_h * board.half_v;
    for &c in cells {
        let height = board.strips.cells[c as usize].height();
        sum += board.unserved(c).iter().map(|r| (r.1 - r.0) * height / full).sum::<f64>();
    }
    sum
}
