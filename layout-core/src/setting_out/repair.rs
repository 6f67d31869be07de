//! Whatever is still unserved, if any place serves it.

use super::board::Board;
use super::unblock;
use crate::masonry::{Intervals, Measure};
use crate::units::EPSILON;

/// A tie must serve at least this share of a full served area to be worth a hole on coverage alone;
/// anything the checker would report is larger.
const LEAST_GAIN: f64 = 1e-9;

/// More steps than this along one edge lead nowhere.
const MOST_STEPS: usize = 10_000;

/// Whether all was served before.
pub(super) fn run(board: &mut Board<'_>) -> bool {
    let edges_served = edges(board);
    cells(board) && edges_served
}

/// Whether anything is open that ties served which are gone.
pub(super) fn is_open_without(board: &Board<'_>, gone: &[u32]) -> bool {
    gone.iter().map(|&id| &board.ties[id as usize]).any(|tie| {
        tie.cells.iter().any(|&c| board.is_open(c))
            || tie.edges.iter().any(|&(e, _)| board.edge_gap(e, f64::NEG_INFINITY).is_some())
    })
}

fn edges(board: &mut Board<'_>) -> bool {
    let mut served = true;
    for edge in 0..board.edges.len() {
        let mut from = f64::NEG_INFINITY;
        for _ in 0..MOST_STEPS {
            let Some(gap) = board.edge_gap(edge, from) else { break };
            served = false;
            match best_for_edge(board, edge, gap) {
                Some((row, x)) => {
                    let id = board.add(row, x, false);
                    if board.edge_gap(edge, from).is_some_and(|next| next <= gap + EPSILON) {
                        // It closes nothing, by a hair: another in its place would not either.
                        board.remove(id);
                        from = gap + (board.edges[edge].half() / 8.0).max(1.0);
                    }
                }
                None if unblock::edge(board, edge, gap) => {}
                None if board.misses_left == 0 => return served,
                None if board.edges[edge].edge.measure != Measure::Level => {
                    board.misses_left -= 1;
                    from = gap + board.edges[edge].half() / 8.0;
                }
                None => break,
            }
        }
    }
    served
}

/// Where a tie serves a place on an edge and as much besides as may be.
pub(super) fn best_for_edge(board: &mut Board<'_>, edge: usize, gap: f64) -> Option<(usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    for i in 0..board.edges[edge].rows.len() {
        let row = board.edges[edge].rows[i];
        let y = board.rows[row].y;
        if board.edges[edge].edge.measure == Measure::Height
            && (y - gap).abs() > board.edges[edge].half() + EPSILON
        {
            continue;
        }
        let Some(near) = board.near(row, edge) else { continue };
        let runs = board.clear_of_ties(row, &near.runs);
        let places: Vec<f64> = runs.spread().collect();
        for x in places {
            if !board.serves_place(edge, row, x, gap) {
                continue;
            }
            // A higher tie carries the edge further.
            let worth = board.gain(row, x) + (y - gap) / board.edges[edge].half().max(1.0);
            if best.is_none_or(|b| worth > b.0 + 1e-9) {
                best = Some((worth, row, x));
            }
        }
    }
    best.map(|b| (b.1, b.2))
}

fn cells(board: &mut Board<'_>) -> bool {
    let mut served = true;
    for cell in 0..board.strips.cells.len() as u32 {
        if !board.is_open(cell) {
            continue;
        }
        served = false;
        let mut given_up: Vec<(f64, f64)> = Vec::new();
        loop {
            let open = Intervals(board.unserved(cell)).minus(&given_up);
            let Some(&(from, to)) = open.0.iter().find(|r| r.1 - r.0 > super::board::LEAST_GAP) else {
                break;
            };
            match best_for_cell(board, cell, from, to) {
                Some((row, x)) => {
                    board.add(row, x, false);
                }
                None if unblock::cell(board, cell, from, to) => {}
                None if board.misses_left == 0 => return served,
                None => {
                    board.misses_left -= 1;
                    given_up.push((from - EPSILON, (from + board.half_h / 4.0).min(to) + EPSILON));
                }
            }
        }
    }
    served
}

/// Where a tie serves the start of a stretch of a cell and as much besides as may be.
pub(super) fn best_for_cell(board: &mut Board<'_>, cell: u32, from: f64, to: f64) -> Option<(usize, f64)> {
    let strip = board.strips.cells[cell as usize].strip as usize;
    let mut best: Option<(f64, usize, f64)> = None;
    for row in board.rows_serving(strip) {
        let free = board.free(row, from - board.half_h, to + board.half_h);
        let mut places: Vec<f64> = free.spread().collect();
        places.extend(
            [from - board.half_h, from, from + board.half_h, to - board.half_h, to, to + board.half_h]
                .into_iter()
                .filter(|&x| free.contains(x)),
        );
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < EPSILON);
        for x in places {
            if x - board.half_h >= to || x + board.half_h <= from || !board.reaches_all(row, x, &[cell]) {
                continue;
            }
            let worth = board.gain(row, x);
            if worth > LEAST_GAIN && best.is_none_or(|b| worth > b.0 + 1e-9) {
                best = Some((worth, row, x));
            }
        }
    }
    best.map(|b| (b.1, b.2))
}
