//! The board the passes play on: rows, cells, edges, and the ties placed so far.
//!
//! The masonry is cut at every height where the served area of a tie on some row can begin or end, so
//! the served area of any tie is made of whole cells, cut only at its left and right limit. Each cell
//! keeps the ties that serve it in order of x, each edge those that count for it in order of place.

mod cells;
mod edges;
mod reach;
mod room;
mod shelf;

use std::ops::Range;

use cells::Cells;
use shelf::Shelf;

use super::main_rows::MainRows;
use super::site::{Site, Window};
use crate::elevation::{Pattern, Style};
use crate::masonry::{BoundarySegment, Edge, Few, Intervals, Masonry, Measure};
use crate::units::{EPSILON, SLIVER};

/// Gaps narrower than this are left alone: no sliver that counts fits in, mm.
pub(super) const LEAST_GAP: f64 = SLIVER - 0.5;

/// Strips lower than this are left alone, likewise, mm.
pub(super) const LEAST_HEIGHT: f64 = SLIVER - 0.1;

/// A height at which ties may stand.
#[derive(Clone)]
pub(super) struct Row {
    pub y: f64,
    /// Where a tie may stand, other new ties aside; empty on the row of a pinned tie off the courses.
    pub runs: Intervals,
    /// Strips that a tie on this row can serve.
    pub strips: (usize, usize),
    /// Whether it is a main row of this board.
    pub main: bool,
    /// Whether the main row nearest to it is one of those set back: every other one.
    pub set_back: bool,
    /// The cells it runs through.
    across: cells::Across,
    /// The masonry that goes on straight through its height, from the left, where an even layout is wanted.
    pub through: Intervals,
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
    pub cells: Reached,
    /// Edges it counts for, with the place it serves about.
    pub edges: Counting,
}

/// The cells that a tie serves: mostly no more than there are strips, and a few at corners.
pub(super) type Reached = Few<u32, 14>;

/// Edges that a tie counts for, with the place it serves about.
pub(super) type Counting = Few<(usize, f64), 2>;

#[derive(Clone)]
pub(super) struct EdgeState {
    pub edge: Edge,
    /// Rows a tie that counts for it can stand on, from below.
    pub rows: Vec<usize>,
    /// For each of those its place among what is near the row.
    near: Vec<u32>,
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

/// How far apart rows are.
#[derive(Clone, Copy)]
pub(super) enum Apart {
    /// Less than ties have to be.
    Clear,
    /// Less than the field spacing.
    Spacing,
    /// No more than the field spacing: what ties on them serve may meet.
    Meeting,
}

/// A cell and the part of it that a row reaches, from where to where.
pub(super) type Column = (u32, f64, f64);

#[derive(Clone)]
pub(super) struct Board<'a> {
    pub masonry: &'a Masonry,
    pub half_h: f64,
    pub half_v: f64,
    pub within: f64,
    pub between: f64,
    /// The left end of the wall, from which ties are measured.
    pub datum: f64,
    /// Width of the wall, mm.
    pub width: f64,
    /// The upright line about which places are round, mm.
    pub axis: f64,
    /// The lowest height of the wall at which a tie may stand anywhere, mm.
    pub foot: f64,
    /// The strips that have to be served.
    pub duty: Range<u32>,
    /// Whether a layout that is easy to mark out is wanted, and may have a few more ties, rather than the fewest.
    pub even: bool,
    /// Whether the wall has openings.
    pub opened: bool,
    /// Whether rows of long plain stretches are staggered.
    pub staggered: bool,
    pub strips: Cells,
    /// For each strip whether what is open in it is too low to count.
    pub spared: Vec<bool>,
    pub rows: Vec<Row>,
    pub ties: Vec<BoardTie>,
    pub on_row: Vec<Vec<(f64, u32)>>,
    pub serving: Shelf,
    pub edges: Vec<EdgeState>,
    /// For each row the first of those about it and one past the last: see [`Apart`].
    about: Vec<[(u32, u32); 3]>,
    /// For each row and each cell it reaches straight up or down, from where to where; as far as asked for.
    columns: Vec<Option<Vec<Column>>>,
    /// Attempts left to move ties that stand in the way: bounds the work on walls that cannot be done.
    pub swaps_left: u32,
    /// Failed searches for a place left, likewise.
    pub misses_left: u32,
    visited: Vec<u32>,
    visit: u32,
    /// What [`Self::find_reach`] found last, and for where.
    found: Vec<u32>,
    found_for: (usize, f64),
    /// Whether all of it lies straight above or below the cell it began in.
    found_straight: bool,
}

/// A stretch longer than ties serve by no more than this takes no further tie: what [`ROUNDING`] keeps in hand at
/// either end adds up, mm.
pub(super) const TOUCHING: f64 = 0.01;

/// Places are rounded to twice this, mm: edges keep it in hand.
const ROUNDING: f64 = 0.0005;

/// See [`Board::swaps_left`].
const SWAPS: u32 = 400;

/// See [`Board::misses_left`].
const MISSES: u32 = 4000;

impl<'a> Board<'a> {
    /// A board over some heights of a wall, with the pinned ties on it. `h` and `v` are the field spacing to
    /// set out by, mm.
    pub(super) fn new(site: &Site<'a>, main_rows: &MainRows, window: &Window) -> Self {
        let &MainRows { h, v, .. } = main_rows;
        let even = site.elevation.style == Style::Even;
        let mut rows = rows(site, window);
        let cuts: Vec<f64> = rows
            .iter()
            .flat_map(|r| [r.y - v / 2.0, r.y + v / 2.0])
            .chain([window.duty.0, window.duty.1])
            .filter(|y| y.is_finite())
            .collect();
        let reached = (window.rows.0 - v / 2.0, window.rows.1 + v / 2.0);
        let marks: Vec<f64> = rows.iter().map(|r| r.y).collect();
        let (strips, across) = cells(site.masonry, &cuts, &marks, reached);
        let middles: Vec<f64> = strips.strips.iter().map(|s| f64::midpoint(s.y0, s.y1)).collect();
        for (r, across) in rows.iter_mut().zip(across) {
            r.across = across;
            if even && !r.runs.is_empty() {
                r.through = strips.through(&across);
            }
            let own = window.own.0 <= r.y && r.y < window.own.1;
            (r.main, r.set_back) = main_rows.at(site, r.y);
            r.main &= own && !r.runs.is_empty();
            r.strips = (
                middles.partition_point(|&m| m < r.y - v / 2.0),
                middles.partition_point(|&m| m < r.y + v / 2.0),
            );
        }
        let spared = spared(&strips);
        let duty = middles.partition_point(|&m| m < window.duty.0) as u32
            ..middles.partition_point(|&m| m < window.duty.1) as u32;
        let mut board = Self {
            masonry: site.masonry,
            half_h: h / 2.0,
            half_v: v / 2.0,
            within: site.rules.edges.as_ref().map_or(0.0, |e| e.within.value - ROUNDING),
            between: site.rules.between.value,
            datum: site.datum,
            width: site.width,
            axis: site.axis,
            foot: site.foot,
            duty,
            even,
            opened: !site.elevation.openings.is_empty(),
            staggered: site.elevation.pattern == Pattern::Staggered,
            on_row: vec![Vec::new(); rows.len()],
            serving: Shelf::new(strips.cells.iter().map(|c| (c.left(), c.right())), h / 2.0),
            visited: vec![0; strips.cells.len()],
            visit: 0,
            found: Vec::new(),
            found_for: (usize::MAX, f64::NAN),
            found_straight: false,
            swaps_left: SWAPS,
            misses_left: MISSES,
            columns: vec![None; rows.len()],
            strips,
            spared,
            rows,
            ties: Vec::new(),
            edges: Vec::new(),
            about: Vec::new(),
        };
        board.note_rows_about();
        board.note_edges(site, window);
        for &(x, y) in site.fixed_within(window.rows) {
            if let Some(row) = board.row_at(y) {
                board.add(row, x, true);
            }
        }
        board
    }

    /// The row at a height.
    pub(super) fn row_at(&self, y: f64) -> Option<usize> {
        let at = self.rows.partition_point(|r| r.y <= y - 1e-9);
        self.rows.get(at).is_some_and(|r| (r.y - y).abs() < 1e-9).then_some(at)
    }

    /// From where on a row a tie counts for an edge, if it does anywhere.
    pub(super) fn near(&self, row: usize, edge: usize) -> Option<&Near> {
        let state = &self.edges[edge];
        let at = state.rows.binary_search(&row).ok()?;
        self.rows[row].near.get(state.near[at] as usize)
    }

    /// Ties on the board.
    pub(super) fn count(&self) -> usize {
        self.ties.iter().filter(|t| t.alive).count()
    }

    /// Puts a tie on the board.
    pub(super) fn add(&mut self, row: usize, x: f64, pinned: bool) -> u32 {
        let holds = !pinned || self.masonry.holds((x, self.rows[row].y));
        let cells = if holds { self.reach(row, x) } else { Reached::new() };
        let edges = if holds { self.counts_for(row, x, pinned) } else { Counting::new() };
        self.put(row, x, pinned, cells, edges)
    }

    /// Puts a tie that is not pinned on the board, where it serves these cells.
    pub(super) fn add_serving(&mut self, row: usize, x: f64, cells: Reached) -> u32 {
        let edges = self.counts_for(row, x, false);
        self.put(row, x, false, cells, edges)
    }

    fn put(&mut self, row: usize, x: f64, pinned: bool, cells: Reached, edges: Counting) -> u32 {
        let id = self.ties.len() as u32;
        for &c in &cells {
            self.serving.insert(c, x, id);
        }
        insert(&mut self.on_row[row], x, id);
        for &(e, place) in &edges {
            insert(&mut self.edges[e].served, place, id);
        }
        self.ties.push(BoardTie { row, x, pinned, alive: true, in_chain: false, cells, edges });
        id
    }

    /// Takes a tie off the board.
    pub(super) fn remove(&mut self, id: u32) {
        let tie = &mut self.ties[id as usize];
        tie.alive = false;
        for &c in &tie.cells {
            self.serving.delete(c, tie.x, id);
        }
        delete(&mut self.on_row[tie.row], tie.x, id);
        for &(e, place) in &tie.edges {
            delete(&mut self.edges[e].served, place, id);
        }
    }

    /// Slides a tie along its row, if there is room and it serves the same cells and counts for the same edges from there;
    /// whether it does.
    pub(super) fn slide(&mut self, id: u32, x: f64) -> bool {
        let tie = &self.ties[id as usize];
        let (row, from, y) = (tie.row, tie.x, self.rows[tie.row].y);
        let same_edges = tie.edges.len() == self.rows[row].counting(x).count()
            && tie.edges.iter().all(|&(e, place)| {
                let measured = self.edges[e].edge.measure;
                let keeps = measured == Measure::Level || (measured == Measure::Height && place == y);
                keeps && self.near(row, e).is_some_and(|n| n.runs.contains(x))
            });
        if !same_edges || !self.is_free_but(Some(id), row, x) {
            return false;
        }
        self.find_reach(row, x);
        let tie = &self.ties[id as usize];
        let same = self.found.len() == tie.cells.len()
            && tie.cells.iter().all(|&c| self.visited[c as usize] == self.visit);
        if same {
            for &c in &tie.cells {
                self.serving.shift(c, from, x, id);
            }
            shift(&mut self.on_row[row], from, x, id);
            self.ties[id as usize].x = x;
        }
        same
    }

    /// Puts a tie that was taken off back where it was.
    pub(super) fn put_back(&mut self, id: u32) {
        let tie = &mut self.ties[id as usize];
        tie.alive = true;
        for &c in &tie.cells {
            self.serving.insert(c, tie.x, id);
        }
        insert(&mut self.on_row[tie.row], tie.x, id);
        for &(e, place) in &tie.edges {
            insert(&mut self.edges[e].served, place, id);
        }
    }
}

/// Strips too low for a sliver that counts to fit in, no two of them next to each other.
fn spared(strips: &Cells) -> Vec<bool> {
    let mut out = Vec::with_capacity(strips.strips.len());
    for s in &strips.strips {
        out.push(s.y1 - s.y0 < LEAST_HEIGHT && out.last() != Some(&true));
    }
    out
}

/// The rows of a window: where ties may stand, and where pinned ones do.
fn rows(site: &Site<'_>, window: &Window) -> Vec<Row> {
    let row = |y: f64, runs: Intervals| Row {
        y,
        runs,
        strips: (0, 0),
        main: false,
        set_back: false,
        across: [(0, 0); 2],
        through: Intervals::empty(),
        near: Vec::new(),
        widest: 0.0,
    };
    let inside = |y: f64| window.rows.0 <= y && y <= window.rows.1;
    let from = site.heights.partition_point(|&y| y < window.rows.0);
    let mut taken = Vec::new();
    let mut rows: Vec<Row> = site.heights[from..]
        .iter()
        .take_while(|&&y| inside(y))
        .map(|&y| row(y, site.standing.at_beside(y, &mut taken)))
        .filter(|r| !r.runs.is_empty())
        .collect();
    let mut pinned: Vec<f64> = site.fixed_within(window.rows).iter().map(|p| p.1).collect();
    pinned.dedup_by(|b, a| *b - *a < 1e-9);
    let known = rows.len();
    for y in pinned {
        let at = rows[..known].partition_point(|r| r.y <= y - 1e-9);
        if at == known || (rows[at].y - y).abs() >= 1e-9 {
            rows.push(row(y, Intervals::empty()));
        }
    }
    rows.sort_by(|a, b| a.y.total_cmp(&b.y));
    rows
}

/// The masonry between two heights cut at others, and its cells at the heights `marks`.
fn cells(
    masonry: &Masonry,
    cuts: &[f64],
    marks: &[f64],
    (low, high): (f64, f64),
) -> (Cells, Vec<cells::Across>) {
    let boundary = &masonry.boundary;
    let whole = masonry.height_range().is_none_or(|r| low <= r.0 && r.1 <= high);
    if whole {
        return Cells::new(&boundary.segments, cuts, marks, (low, high));
    }
    let mut about: Vec<u32> = boundary.near((f64::MIN, low), (f64::MAX, high)).collect();
    about.sort_unstable();
    about.dedup();
    let about: Vec<BoundarySegment> = about.into_iter().map(|i| boundary.segments[i as usize]).collect();
    Cells::new(&about, cuts, marks, (low, high))
}

fn insert(list: &mut Vec<(f64, u32)>, x: f64, id: u32) {
    if list.len() == list.capacity() {
        list.reserve(16);
    }
    let at = list.partition_point(|t| (t.0, t.1) < (x, id));
    list.insert(at, (x, id));
}

/// Moves an entry of a sorted list.
fn shift(list: &mut [(f64, u32)], from: f64, to: f64, id: u32) {
    let mut at = list.partition_point(|t| (t.0, t.1) < (from, id));
    if list.get(at).is_none_or(|t| t.1 != id) {
        return;
    }
    list[at].0 = to;
    while at > 0 && (to, id) < list[at - 1] {
        list.swap(at, at - 1);
        at -= 1;
    }
    while at + 1 < list.len() && list[at + 1] < (to, id) {
        list.swap(at, at + 1);
        at += 1;
    }
}

fn delete(list: &mut Vec<(f64, u32)>, x: f64, id: u32) {
    let from = list.partition_point(|t| t.0 < x);
    if let Some(i) = list[from..].iter().position(|t| t.1 == id) {
        list.remove(from + i);
    }
}
