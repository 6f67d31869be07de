//! The board the passes play on: rows, cells, edges, and the ties placed so far.
//!
//! The masonry is cut at every height where the served area of a tie on some row can begin or end, so
//! the served area of any tie is made of whole cells, cut only at its left and right limit. Each cell
//! keeps the ties that serve it in order of x, each edge those that count for it in order of place.

mod edges;
mod reach;
mod room;

use super::standing::Standing;
use crate::elevation::{Elevation, Fix, Pattern, shape_bounds};
use crate::masonry::{Edge, Intervals, Masonry, Strips, edges};
use crate::rules::RuleSet;
use crate::units::{ANYWHERE_STEP, EPSILON, SLIVER};

/// Gaps narrower than this are left alone: no sliver that counts fits in, mm.
pub(super) const LEAST_GAP: f64 = SLIVER - 0.5;

/// A height at which ties may stand.
#[derive(Clone)]
pub(super) struct Row {
    pub y: f64,
    /// Where a tie may stand, other new ties aside; empty on the row of a pinned tie off the courses.
    pub runs: Intervals,
    /// Strips that a tie on this row can serve.
    pub strips: (usize, usize),
    /// Edges a tie on this row can count for, and from where; from the left.
    pub near: Vec<Near>,
    /// Width of the widest of `near`, mm.
    pub widest: f64,
}

#[derive(Clone)]
pub(super) struct Near {
    pub edge: usize,
    pub runs: Intervals,
}

impl Near {
    pub(super) fn first(&self) -> f64 {
        self.runs.0.first().map_or(f64::NEG_INFINITY, |r| r.0)
    }
    pub(super) fn last(&self) -> f64 {
        self.runs.0.last().map_or(f64::INFINITY, |r| r.1)
    }
}

impl Row {
    /// Edges that a tie at x counts for.
    fn counting(&self, x: f64) -> impl Iterator<Item = &Near> {
        let from = self.near.partition_point(|n| n.first() < x - self.widest - EPSILON);
        self.near[from..].iter().take_while(move |n| n.first() <= x).filter(move |n| n.runs.contains(x))
    }
}

#[derive(Clone, Debug)]
pub(super) struct BoardTie {
    pub row: usize,
    pub x: f64,
    pub pinned: bool,
    pub alive: bool,
    /// Whether it is one of a long chain at even steps.
    pub in_chain: bool,
    pub cells: Vec<u32>,
    /// Edges it counts for, with the place it serves about.
    pub edges: Vec<(usize, f64)>,
}

#[derive(Clone)]
pub(super) struct EdgeState {
    pub edge: Edge,
    /// Rows a tie that counts for it can stand on, from below.
    pub rows: Vec<usize>,
    /// Places served, in order, with the tie.
    pub served: Vec<(f64, u32)>,
}

impl EdgeState {
    /// The places served on an edge that closes on itself, each with the next; the last with the first,
    /// once round.
    pub(super) fn gaps_round(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let first = self.served.first().map(|s| s.0 + self.edge.to);
        let next = self.served.iter().skip(1).map(|s| s.0).chain(first);
        self.served.iter().map(|s| s.0).zip(next)
    }

    /// Half the spacing along it, mm.
    pub(super) fn half(&self) -> f64 {
        self.edge.spacing / 2.0
    }
}

#[derive(Clone)]
pub(super) struct Board<'a> {
    pub masonry: &'a Masonry,
    pub half_h: f64,
    pub half_v: f64,
    pub within: f64,
    pub between: f64,
    /// The left end of the wall, from which ties are measured.
    pub datum: f64,
    /// Whether rows of long plain stretches are staggered.
    pub staggered: bool,
    /// Step between candidate heights, mm.
    pub pitch: f64,
    pub strips: Strips,
    pub rows: Vec<Row>,
    pub ties: Vec<BoardTie>,
    pub on_row: Vec<Vec<(f64, u32)>>,
    pub serving: Vec<Vec<(f64, u32)>>,
    pub edges: Vec<EdgeState>,
    /// For each row and each cell it reaches straight up or down, from where to where.
    pub columns: Vec<Vec<(u32, f64, f64)>>,
    /// Attempts left to move ties that stand in the way: bounds the work on walls that cannot be done.
    pub swaps_left: u32,
    /// Failed searches for a place left, likewise.
    pub misses_left: u32,
    visited: Vec<u32>,
    visit: u32,
}

/// Places are rounded to twice this, mm: edges keep it in hand.
const ROUNDING: f64 = 0.0005;

/// See [`Board::swaps_left`].
const SWAPS: u32 = 400;

/// See [`Board::misses_left`].
const MISSES: u32 = 4000;

impl<'a> Board<'a> {
    /// A board with the pinned ties on it. `h` and `v` are the field spacing to set out by, mm.
    pub(super) fn new(elevation: &Elevation, masonry: &'a Masonry, rules: &RuleSet, h: f64, v: f64) -> Self {
        let standing = Standing::new(elevation, masonry, rules);
        let mut rows: Vec<Row> = heights(elevation, masonry, rules)
            .into_iter()
            .map(|y| Row { y, runs: standing.at(y), strips: (0, 0), near: Vec::new(), widest: 0.0 })
            .filter(|r| !r.runs.is_empty())
            .collect();
        let fixed = elevation.fixed_ties();
        for &(_, y) in &fixed {
            if !rows.iter().any(|r| (r.y - y).abs() < 1e-9) {
                rows.push(Row { y, runs: Intervals::empty(), strips: (0, 0), near: Vec::new(), widest: 0.0 });
            }
        }
        rows.sort_by(|a, b| a.y.total_cmp(&b.y));
        let cuts: Vec<f64> = rows.iter().flat_map(|r| [r.y - v / 2.0, r.y + v / 2.0]).collect();
        let strips = Strips::new(&masonry.boundary.segments, &cuts);
        let middles: Vec<f64> = strips.strips.iter().map(|s| f64::midpoint(s.y0, s.y1)).collect();
        for r in &mut rows {
            r.strips = (
                middles.partition_point(|&m| m < r.y - v / 2.0),
                middles.partition_point(|&m| m < r.y + v / 2.0),
            );
        }
        let within = rules.edges.as_ref().map_or(0.0, |e| e.within.value - ROUNDING);
        let mut board = Self {
            masonry,
            half_h: h / 2.0,
            half_v: v / 2.0,
            within,
            between: rules.between.value,
            datum: masonry.rings.iter().flatten().map(|p| p.0).fold(f64::INFINITY, f64::min),
            staggered: elevation.pattern == Pattern::Staggered,
            pitch: if elevation.coursing.fix == Fix::Anywhere {
                ANYWHERE_STEP
            } else {
                elevation.coursing.gauge
            },
            on_row: vec![Vec::new(); rows.len()],
            serving: vec![Vec::new(); strips.cells.len()],
            visited: vec![0; strips.cells.len()],
            visit: 0,
            swaps_left: SWAPS,
            misses_left: MISSES,
            columns: Vec::new(),
            strips,
            rows,
            ties: Vec::new(),
            edges: Vec::new(),
        };
        if let Some(rule) = &rules.edges {
            board.note_edges(edges(masonry, elevation, rule));
        }
        board.note_columns();
        for &(x, y) in &fixed {
            if let Some(row) = board.rows.iter().position(|r| (r.y - y).abs() < 1e-9) {
                board.add(row, x, true);
            }
        }
        board
    }

    /// Ties on the board.
    pub(super) fn count(&self) -> usize {
        self.ties.iter().filter(|t| t.alive).count()
    }

    /// Puts a tie on the board.
    pub(super) fn add(&mut self, row: usize, x: f64, pinned: bool) -> u32 {
        let id = self.ties.len() as u32;
        let holds = !pinned || self.masonry.holds((x, self.rows[row].y));
        let cells = if holds { self.reach(row, x) } else { Vec::new() };
        for &c in &cells {
            insert(&mut self.serving[c as usize], x, id);
        }
        insert(&mut self.on_row[row], x, id);
        let edges = if holds { self.counts_for(row, x, pinned) } else { Vec::new() };
        for &(e, place) in &edges {
            insert(&mut self.edges[e].served, place, id);
        }
        self.ties.push(BoardTie { row, x, pinned, alive: true, in_chain: false, cells, edges });
        id
    }

    /// Takes a tie off the board.
    pub(super) fn remove(&mut self, id: u32) {
        let tie = self.ties[id as usize].clone();
        self.ties[id as usize].alive = false;
        for c in tie.cells {
            delete(&mut self.serving[c as usize], tie.x, id);
        }
        delete(&mut self.on_row[tie.row], tie.x, id);
        for (e, place) in tie.edges {
            delete(&mut self.edges[e].served, place, id);
        }
    }

    /// Puts a tie that was taken off back where it was.
    pub(super) fn put_back(&mut self, id: u32) {
        let tie = self.ties[id as usize].clone();
        self.ties[id as usize].alive = true;
        for c in tie.cells {
            insert(&mut self.serving[c as usize], tie.x, id);
        }
        insert(&mut self.on_row[tie.row], tie.x, id);
        for (e, place) in tie.edges {
            insert(&mut self.edges[e].served, place, id);
        }
    }
}

fn insert(list: &mut Vec<(f64, u32)>, x: f64, id: u32) {
    let at = list.partition_point(|t| (t.0, t.1) < (x, id));
    list.insert(at, (x, id));
}

fn delete(list: &mut Vec<(f64, u32)>, x: f64, id: u32) {
    let from = list.partition_point(|t| t.0 < x);
    if let Some(i) = list[from..].iter().position(|t| t.1 == id) {
        list.remove(from + i);
    }
}

/// The heights ties may stand at, from below.
fn heights(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<f64> {
    let Some((low, high)) = masonry.height_range() else { return Vec::new() };
    let c = elevation.coursing;
    if c.fix != Fix::Anywhere {
        let first = ((low - c.first_bed) / c.gauge).floor() as i64 - 1;
        let last = ((high - c.first_bed) / c.gauge).ceil() as i64 + 1;
        return (first..=last).map(|k| c.height(k)).filter(|y| (low..=high).contains(y)).collect();
    }
    // Whole steps from the base, and the heights that just clear a level side or a keep-out.
    let steps = ((high - low) / ANYWHERE_STEP) as i64;
    let mut ys: Vec<f64> = (0..=steps).map(|i| low + i as f64 * ANYWHERE_STEP).collect();
    let d = rules.edge_distance.value;
    for s in masonry.boundary.segments.iter().filter(|s| s.a.1 == s.b.1) {
        ys.extend([s.a.1 - d, s.a.1 + d]);
    }
    for k in &elevation.keep_outs {
        let (_, lower, _, upper) = shape_bounds(&k.shape);
        ys.extend([lower - k.clearance, upper + k.clearance]);
    }
    ys.retain(|y| (low..=high).contains(y));
    ys.sort_by(f64::total_cmp);
    ys.dedup_by(|b, a| *b - *a < 1e-3);
    ys
}
