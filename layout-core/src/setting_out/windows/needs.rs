//! What the ties of a window touch, and what is open once they are off.

use crate::masonry::{Few, Intervals};
use crate::setting_out::board::{Board, LEAST_GAP};
use crate::units::EPSILON;

/// What is open once the ties of a window are off.
pub(super) struct Needs {
    /// Cell, from, to; by cell.
    pub cells: Vec<(u32, f64, f64)>,
    /// Edge, from, to in its measure.
    pub edges: Vec<(usize, f64, f64)>,
}

/// What a window touches.
pub(super) struct Ground {
    pub cells: Vec<u32>,
    pub edges: Vec<usize>,
    /// Leftmost and rightmost x it reaches.
    pub about: (f64, f64),
}

/// How much of the ground is open: width of cells, length of edges.
pub(super) fn open(board: &Board<'_>, g: &Ground) -> (f64, f64) {
    let mut cells = 0.0;
    for &c in &g.cells {
        board.each_unserved(c, g.about.0, g.about.1, |a, b| cells += b - a);
    }
    (cells, g.edges.iter().map(|&e| board.edge_open(e)).sum())
}

pub(super) fn ground(board: &Board<'_>, ties: &[u32]) -> Ground {
    let (mut cells, mut edges) = (Vec::new(), Vec::new());
    let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
    for &id in ties {
        let tie = &board.ties[id as usize];
        cells.extend(&tie.cells);
        edges.extend(tie.edges.iter().map(|e| e.0));
        left = left.min(tie.x);
        right = right.max(tie.x);
    }
    cells.sort_unstable();
    cells.dedup();
    edges.sort_unstable();
    edges.dedup();
    let about = (left - board.half_h - LEAST_GAP, right + board.half_h + LEAST_GAP);
    Ground { cells, edges, about }
}

pub(super) fn needs(board: &Board<'_>, g: &Ground) -> Needs {
    let mut cells = Vec::new();
    for &c in &g.cells {
        board.each_unserved(c, g.about.0, g.about.1, |a, b| cells.push((c, a, b)));
    }
    let edges =
        g.edges.iter().flat_map(|&e| board.edge_gaps(e).into_iter().map(move |(a, b)| (e, a, b))).collect();
    Needs { cells, edges }
}

impl Needs {
    /// Less what was open already.
    pub(super) fn without(self, before: &Self) -> Self {
        if before.cells.is_empty() && before.edges.is_empty() {
            return self;
        }
        let cells = self
            .cells
            .iter()
            .flat_map(|&(c, a, b)| {
                let holes: Vec<_> = before.cells.iter().filter(|h| h.0 == c).map(|h| (h.1, h.2)).collect();
                Intervals(Few::one((a, b))).minus(&holes).0.into_iter().map(move |r| (c, r.0, r.1))
            })
            .filter(|n| n.2 - n.1 > LEAST_GAP)
            .collect();
        let edges = self
            .edges
            .iter()
            .flat_map(|&(e, a, b)| {
                let holes: Vec<_> = before
                    .edges
                    .iter()
                    .filter(|h| h.0 == e)
                    .map(|h| (h.1 - EPSILON, h.2 + EPSILON))
                    .collect();
                Intervals(Few::one((a, b))).minus(&holes).0.into_iter().map(move |r| (e, r.0, r.1))
            })
            .collect();
        Self { cells, edges }
    }
}
