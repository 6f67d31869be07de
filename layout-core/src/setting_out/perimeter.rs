//! Ties round openings and along tops, where the rules measure along the edge.
//!
//! Places along a perimeter are lengths from its start. Going round, each next tie is taken as far on as
//! the spacing lets it from where the perimeter is served so far.

use super::board::Board;
use super::main_rows;
use crate::masonry::{Measure, service};
use crate::units::EPSILON;
use std::cmp::Ordering;

pub(super) fn run(board: &mut Board<'_>) {
    // In an even layout rows that have ties of the field anyhow come first.
    let main = if board.even { main_rows::of(board) } else { Vec::new() };
    for edge in 0..board.edges.len() {
        if let Measure::Length { ring } = board.edges[edge].edge.measure {
            go_round(board, edge, ring, &main);
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
    main: bool,
}

impl Place {
    fn new(board: &Board<'_>, edge: usize, main: &[usize], row: usize, x: f64) -> Option<Self> {
        let p = (x, board.rows[row].y);
        let s = service(board.masonry, &board.edges[edge].edge, p, board.within + 0.005)?;
        Some(Self { row, x, at: s.place, off: s.distance, main: main.binary_search(&row).is_ok() })
    }

    /// Of places that serve about the same length: on a main row, then furthest off, where a tie serves most
    /// of the field.
    fn preferred(&self, other: &Self) -> Ordering {
        other.main.cmp(&self.main).then(other.off.total_cmp(&self.off)).then(self.row.cmp(&other.row))
    }
}

/// Candidate places near a perimeter, in order of length along it, other new ties aside.
fn places(board: &Board<'_>, edge: usize, main: &[usize]) -> Vec<Place> {
    const STEP: f64 = 50.0;
    let mut out = Vec::new();
    for &row in &board.edges[edge].rows {
        let Some(near) = board.near(row, edge) else { continue };
        for &(lo, hi) in &near.runs.0 {
            let n = ((hi - lo) / STEP).ceil().max(1.0) as usize;
            for i in 0..=n {
                let x = if i == n { hi } else { lo + (hi - lo) * i as f64 / n as f64 };
                out.extend(Place::new(board, edge, main, row, x));
            }
        }
    }
    out.sort_by(|a, b| a.at.total_cmp(&b.at).then_with(|| a.preferred(b)));
    out
}

/// On each row the place right above or below a length along a perimeter.
fn beside(board: &Board<'_>, edge: usize, main: &[usize], at: f64) -> Vec<Place> {
    let x = board.edges[edge].edge.point_at(at).0;
    let rows = board.edges[edge].rows.iter().copied();
    rows.filter(|&row| board.near(row, edge).is_some_and(|n| n.runs.contains(x)))
        .filter_map(|row| Place::new(board, edge, main, row, x))
        .collect()
}

/// The places of the ties of a perimeter if it were alone, so that a tie that happens to stand by does not shift all
/// beyond it. A ring begins at the place furthest from the perimeter near its start: it serves most of the field.
fn stops(board: &Board<'_>, edge: usize, ring: bool, main: &[usize], all: &[Place]) -> Vec<Place> {
    let (spacing, length) = (board.edges[edge].edge.spacing, board.edges[edge].edge.to);
    let half = spacing / 2.0 + EPSILON;
    let mut out: Vec<Place> = Vec::new();
    let mut gap = board.edges[edge].edge.from;
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
        let furthest = gap + spacing / 2.0;
        let furthest = if ring { furthest.rem_euclid(length.max(1.0)) } else { furthest };
        // To the millimetre.
        let next = beside(board, edge, main, furthest)
            .into_iter()
            .chain(all.iter().copied())
            .map(|p| (ahead(&p), p))
            .filter(|(on, _)| (-half..=half).contains(on))
            .min_by(|a, b| b.0.round().total_cmp(&a.0.round()).then_with(|| a.1.preferred(&b.1)));
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

fn go_round(board: &mut Board<'_>, edge: usize, ring: bool, main: &[usize]) {
    let spacing = board.edges[edge].edge.spacing;
    let length = board.edges[edge].edge.to;
    let all = places(board, edge, main);
    let stands = |board: &Board<'_>, p: &Place| board.is_free(p.row, p.x);
    for stop in stops(board, edge, ring, main, &all) {
        if stands(board, &stop) && is_open_about(board, edge, stop.at) {
            board.add(stop.row, stop.x, false);
        }
    }
    let mut from = f64::NEG_INFINITY;
    for _ in 0..MOST_STEPS {
        let Some(gap) = board.edge_gap(edge, from) else { return };
        // As far on as still serves the place that is open, to the millimetre.
        let ahead = |p: &Place| if ring { (p.at - gap).rem_euclid(length) } else { p.at - gap };
        let behind = |p: &Place| (gap - p.at).rem_euclid(length.max(1.0));
        let furthest =
            if ring { (gap + spacing / 2.0).rem_euclid(length.max(1.0)) } else { gap + spacing / 2.0 };
        let mut close: Vec<(f64, Place)> = beside(board, edge, main, furthest)
            .into_iter()
            .chain(all.iter().copied())
            .filter_map(|p| {
                let on = ahead(&p);
                if (-spacing / 2.0 - EPSILON..=spacing / 2.0 + EPSILON).contains(&on) {
                    Some((on.round(), p))
                } else {
                    (ring && behind(&p) <= spacing / 2.0 + EPSILON).then(|| (-behind(&p).round(), p))
                }
            })
            .collect();
        close.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.preferred(&b.1)));
        match close.iter().find(|(_, p)| stands(board, p)).map(|c| c.1) {
            Some(p) => {
                board.add(p.row, p.x, false);
            }
            None => from = gap + spacing / 8.0,
        }
    }
}
