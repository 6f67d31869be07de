//! Ties round openings, where the rules ask for whole perimeters.
//!
//! Places along a perimeter are lengths from its start. Going round, each next tie is taken as far on as
//! the spacing lets it from where the perimeter is served so far.

use super::board::Board;
use crate::masonry::{Measure, service};
use crate::units::EPSILON;

pub(super) fn run(board: &mut Board<'_>) {
    for edge in 0..board.edges.len() {
        if let Measure::Length { ring } = board.edges[edge].edge.measure {
            go_round(board, edge, ring);
        }
    }
}

/// A place for a tie and the length it serves about.
#[derive(Clone, Copy)]
struct Place {
    row: usize,
    x: f64,
    at: f64,
    off: f64,
}

/// Candidate places near a perimeter, in order of length along it.
fn places(board: &Board<'_>, edge: usize) -> Vec<Place> {
    const STEP: f64 = 25.0;
    let mut out = Vec::new();
    for &row in &board.edges[edge].rows {
        let y = board.rows[row].y;
        let Some(near) = board.rows[row].near.iter().find(|n| n.edge == edge) else { continue };
        for &(lo, hi) in &board.clear_of_ties(row, &near.runs).0 {
            let n = ((hi - lo) / STEP).ceil().max(1.0) as usize;
            for i in 0..=n {
                let x = if i == n { hi } else { lo + (hi - lo) * i as f64 / n as f64 };
                if let Some(s) = service(board.masonry, &board.edges[edge].edge, (x, y), board.within + 0.005)
                {
                    out.push(Place { row, x, at: s.place, off: s.distance });
                }
            }
        }
    }
    out.sort_by(|a, b| a.at.total_cmp(&b.at).then(b.off.total_cmp(&a.off)).then(a.row.cmp(&b.row)));
    out
}

fn go_round(board: &mut Board<'_>, edge: usize, ring: bool) {
    let spacing = 2.0 * board.half_edge;
    let length = board.edges[edge].edge.to;
    if ring && board.edges[edge].served.is_empty() {
        // Begin at the place furthest from the perimeter near its start: it serves most of the field.
        let start = places(board, edge);
        let Some(first) = start.iter().find(|p| p.at <= length / 2.0).or(start.first()).copied() else {
            return;
        };
        board.add(first.row, first.x, false);
    }
    let mut given_up = f64::NEG_INFINITY;
    for _ in 0..10_000 {
        let Some(gap) = open_place(board, edge, ring, given_up) else { return };
        let all = places(board, edge);
        // As far on as still serves the place that is open.
        let far = |p: &&Place| {
            let ahead = if ring { (p.at - gap).rem_euclid(length) } else { p.at - gap };
            ahead <= spacing / 2.0 + EPSILON && ahead >= -spacing / 2.0
        };
        let reach = |p: &Place| if ring { (p.at - gap).rem_euclid(length) } else { p.at - gap };
        let behind = |p: &&Place| ring && (gap - p.at).rem_euclid(length) <= spacing / 2.0 + EPSILON;
        let best = all
            .iter()
            .filter(far)
            .max_by(|a, b| reach(a).total_cmp(&reach(b)).then(a.off.total_cmp(&b.off)))
            .or_else(|| all.iter().filter(behind).max_by(|a, b| a.off.total_cmp(&b.off)));
        match best.copied() {
            Some(p) => {
                board.add(p.row, p.x, false);
            }
            None if ring => return,
            None => given_up = gap + spacing / 8.0,
        }
    }
}

fn open_place(board: &Board<'_>, edge: usize, ring: bool, from: f64) -> Option<f64> {
    board.edge_gap(edge, if ring { 0.0 } else { from })
}
