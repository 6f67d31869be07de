//! Ties round openings and along tops, where the rules measure along the edge.
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

/// More steps than this round one perimeter lead nowhere.
const MOST_STEPS: usize = 10_000;

/// A place for a tie and the length it serves about.
#[derive(Clone, Copy)]
struct Place {
    row: usize,
    x: f64,
    at: f64,
    off: f64,
}

/// Candidate places near a perimeter, in order of length along it, other new ties aside.
fn places(board: &Board<'_>, edge: usize) -> Vec<Place> {
    const STEP: f64 = 50.0;
    let mut out = Vec::new();
    for &row in &board.edges[edge].rows {
        let y = board.rows[row].y;
        let Some(near) = board.near(row, edge) else { continue };
        for &(lo, hi) in &near.runs.0 {
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

/// The places of the ties of a perimeter if it were alone, so that a tie that happens to stand by does not shift all
/// beyond it. A ring begins at the place furthest from the perimeter near its start: it serves most of the field.
fn stops(all: &[Place], start: f64, length: f64, spacing: f64, ring: bool) -> Vec<Place> {
    let half = spacing / 2.0 + EPSILON;
    let mut out: Vec<Place> = Vec::new();
    let mut gap = start;
    let mut end = length;
    if ring {
        let Some(first) = all.first() else { return out };
        out.push(*first);
        gap = first.at + spacing / 2.0;
        end = first.at - spacing / 2.0 + length;
    }
    for _ in 0..MOST_STEPS {
        if gap + EPSILON >= end {
            break;
        }
        let ahead = |p: &Place| if ring && p.at < gap - half { p.at + length - gap } else { p.at - gap };
        let next =
            all.iter().map(|&p| (ahead(&p), p)).filter(|(on, _)| (-half..=half).contains(on)).max_by(
                |a, b| a.0.total_cmp(&b.0).then(a.1.off.total_cmp(&b.1.off)).then(b.1.row.cmp(&a.1.row)),
            );
        match next {
            Some((on, p)) if on + spacing / 2.0 > EPSILON => {
                out.push(p);
                gap += on + spacing / 2.0;
            }
            _ => gap += spacing / 8.0,
        }
    }
    out
}

/// Whether anything that a tie at a place along an edge serves is open.
fn is_open_about(board: &Board<'_>, edge: usize, at: f64) -> bool {
    let (half, length) = (board.edges[edge].half(), board.edges[edge].edge.to);
    let open = board.edge_gaps(edge);
    [at - length, at, at + length]
        .iter()
        .any(|at| open.iter().any(|g| g.0.max(at - half) + EPSILON < g.1.min(at + half)))
}

fn go_round(board: &mut Board<'_>, edge: usize, ring: bool) {
    let spacing = board.edges[edge].edge.spacing;
    let length = board.edges[edge].edge.to;
    let all = places(board, edge);
    let stands = |board: &Board<'_>, p: &Place| board.is_free(p.row, p.x);
    for stop in stops(&all, board.edges[edge].edge.from, length, spacing, ring) {
        if stands(board, &stop) && is_open_about(board, edge, stop.at) {
            board.add(stop.row, stop.x, false);
        }
    }
    let mut from = f64::NEG_INFINITY;
    for _ in 0..MOST_STEPS {
        let Some(gap) = board.edge_gap(edge, from) else { return };
        // As far on as still serves the place that is open; of those at one place the furthest off.
        let ahead = |p: &Place| if ring { (p.at - gap).rem_euclid(length) } else { p.at - gap };
        let behind = |p: &Place| (gap - p.at).rem_euclid(length.max(1.0));
        let mut close: Vec<(f64, Place)> = all
            .iter()
            .filter_map(|&p| {
                let on = ahead(&p);
                if (-spacing / 2.0 - EPSILON..=spacing / 2.0 + EPSILON).contains(&on) {
                    Some((on, p))
                } else {
                    (ring && behind(&p) <= spacing / 2.0 + EPSILON).then(|| (-behind(&p), p))
                }
            })
            .collect();
        close.sort_by(|a, b| {
            b.0.total_cmp(&a.0).then(b.1.off.total_cmp(&a.1.off)).then(a.1.row.cmp(&b.1.row))
        });
        match close.iter().find(|(_, p)| stands(board, p)).map(|c| c.1) {
            Some(p) => {
                board.add(p.row, p.x, false);
            }
            None => from = gap + spacing / 8.0,
        }
    }
}
