//! Row by row from below: a tie goes where this row is the last chance.
//!
//! A piece of masonry, or a height of an edge, can be served from several rows. Going up, nothing is
//! done for it until the last row from which it can be served; there every such duty is met with as few
//! ties as will do. On a plain wall this gives the fewest rows and the fewest ties in each.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::ops::Range;

use super::board::{Board, Column, LEAST_GAP, TOUCHING};
use super::rungs::{self, Rungs};
use super::{chain, main_rows};
use crate::masonry::{Edge, Few, Intervals, Measure, Spans};
use crate::units::EPSILON;

/// Serves edges and field together, each at its last chance.
pub(super) fn run(board: &mut Board<'_>) {
    for row in 0..board.rows.len() {
        edge_ties(board, row, None);
        field_ties(board, row);
    }
}

/// Serves the edges, then the field from main rows at the full spacing, then what is left at its last
/// chance.
pub(super) fn run_on_main_rows(board: &mut Board<'_>) {
    let rungs = rungs::of(board);
    for row in 0..board.rows.len() {
        edge_ties(board, row, Some(&rungs));
    }
    for row in main_rows::of(board) {
        let pieces = in_reach(board, row);
        serve(board, row, pieces);
    }
    field_ties_left(board);
}

/// Unserved stretches that a row reaches.
fn in_reach(board: &mut Board<'_>, row: usize) -> Vec<Piece> {
    let mut out = Vec::new();
    board.columns(row);
    for of_cell in board.columns_known(row).chunk_by(|a, b| a.0 == b.0) {
        in_reach_of(board, row, of_cell, &mut out);
    }
    out
}

/// Unserved stretches of a cell that a row reaches in these columns of it; in an even layout only as far as masonry goes
/// on through the row: what lies round the corner of an opening is left to ties over and under that.
fn in_reach_of(board: &Board<'_>, row: usize, columns: &[Column], out: &mut Vec<Piece>) {
    let Some(&(cell, ..)) = columns.first() else { return };
    board.each_unserved(cell, f64::NEG_INFINITY, f64::INFINITY, |from, to| {
        // The columns of a cell are apart.
        for c in columns {
            let (from, to) = (from.max(c.1), to.min(c.2));
            if to - from <= LEAST_GAP {
                continue;
            }
            if board.even {
                let through = board.rows[row].through.clipped(from, to);
                let wide = through.0.iter().filter(|r| r.1 - r.0 > LEAST_GAP);
                out.extend(wide.map(|&(from, to)| Piece { cell, from, to }));
            } else {
                out.push(Piece { cell, from, to });
            }
        }
    });
}

/// An edge that this row has to serve, and from where it can.
struct Duty {
    edge: usize,
    runs: Intervals,
}

fn edge_ties(board: &mut Board<'_>, row: usize, rungs: Option<&Rungs>) {
    let mut from = 0;
    while from < board.rows[row].near.len() {
        // Edges that ties on this row can count for, as far as they can have to do with each other.
        let near = &board.rows[row].near;
        let mut to = from + 1;
        let mut reach = near[from].last();
        while to < near.len() && near[to].first() <= reach + board.between {
            reach = reach.max(near[to].last());
            to += 1;
        }
        edge_ties_among(board, row, from..to, rungs);
        from = to;
    }
}

/// Serves the edges of a stretch of a row for which it is the last chance.
fn edge_ties_among(board: &mut Board<'_>, row: usize, near: Range<usize>, rungs: Option<&Rungs>) {
    let mut duties: Vec<Duty> = Vec::new();
    for i in near.clone() {
        let edge = board.rows[row].near[i].edge;
        let due = match rungs {
            Some(rungs) if board.edges[edge].edge.measure == Measure::Height => {
                rungs::is_due(board, edge, row, &rungs[edge])
            }
            _ => is_last_chance(board, edge, row),
        };
        if due {
            let runs = board.clear_of_ties(row, &board.rows[row].near[i].runs);
            if !runs.is_empty() {
                duties.push(Duty { edge, runs });
            }
        }
    }
    // The duty whose last place comes first is served first, from a place that serves most.
    while let Some(at) = (0..duties.len()).min_by(|&a, &b| last(&duties[a]).total_cmp(&last(&duties[b]))) {
        let x = best_place(board, row, &duties, at, near.clone());
        if let Some(x) = x {
            let id = board.add(row, x, false);
            let served: Vec<usize> = board.ties[id as usize].edges.iter().map(|e| e.0).collect();
            duties.retain(|d| !served.contains(&d.edge));
        } else {
            duties.swap_remove(at);
        }
        // A tie placed takes its surroundings.
        for d in &mut duties {
            d.runs = board.clear_of_ties(row, &d.runs);
        }
        duties.retain(|d| !d.runs.is_empty());
    }
}

fn last(d: &Duty) -> f64 {
    d.runs.0.last().map_or(f64::MAX, |r| r.1)
}

/// The next unserved place of an edge that this row can serve, if any.
fn gap_for(board: &Board<'_>, edge: usize, row: usize) -> Option<f64> {
    let y = board.rows[row].y;
    match board.edges[edge].edge.measure {
        Measure::Height => {
            let gap = board.edge_gap(edge, y - board.edges[edge].half())?;
            (gap <= y + board.edges[edge].half() + EPSILON).then_some(gap)
        }
        Measure::Level => board.edge_gap(edge, 0.0),
        Measure::Length { .. } => None,
    }
}

fn is_last_chance(board: &Board<'_>, edge: usize, row: usize) -> bool {
    let Some(gap) = gap_for(board, edge, row) else { return false };
    let rows = &board.edges[edge].rows;
    let next = rows.get(rows.partition_point(|&r| r <= row));
    match (board.edges[edge].edge.measure, next) {
        (_, None) => true,
        (Measure::Level, Some(_)) => false,
        (_, Some(&next)) => board.rows[next].y - board.edges[edge].half() > gap + EPSILON,
    }
}

/// The place for a tie that serves `duties[at]`, and of those the one that serves most besides.
fn best_place(
    board: &mut Board<'_>,
    row: usize,
    duties: &[Duty],
    at: usize,
    near: Range<usize>,
) -> Option<f64> {
    let runs = &duties[at].runs;
    let mut others: Vec<(Intervals, f64)> =
        duties.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, d)| (d.runs.clone(), 4.0)).collect();
    for i in near {
        let edge = board.rows[row].near[i].edge;
        if duties.iter().any(|d| d.edge == edge) {
            continue;
        }
        if let Some(gap) = gap_for(board, edge, row) {
            // The further the tie carries the edge, the better.
            let carried = match board.edges[edge].edge.measure {
                Measure::Height => {
                    let top = (board.rows[row].y + board.edges[edge].half()).min(board.edges[edge].edge.to);
                    ((top - gap) / (2.0 * board.edges[edge].half())).clamp(0.0, 1.0)
                }
                _ => 1.0,
            };
            others.push((board.rows[row].near[i].runs.clone(), 3.0 * carried));
        }
    }
    let mut places: Vec<f64> = runs.0.iter().flat_map(|r| [r.0, r.1]).collect();
    places.extend(
        others.iter().flat_map(|(o, _)| o.meet(runs).0).flat_map(|r| [r.0, r.1, f64::midpoint(r.0, r.1)]),
    );
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < EPSILON);
    if board.even {
        furthest_first(&board.edges[duties[at].edge].edge, &mut places);
    }
    let mut best: Option<(f64, f64)> = None;
    for x in places {
        let mut worth: f64 = others.iter().filter(|(o, _)| o.contains(x)).map(|(_, w)| w).sum();
        worth += board.gain(row, x);
        if best.is_none_or(|b| worth > b.0 + 1e-9) {
            best = Some((worth, x));
        }
    }
    best.map(|b| b.1)
}

/// Of places as good the one furthest from an edge is best, of two as far the one on the side of its masonry: the same
/// for a wall and its mirror image.
fn furthest_first(edge: &Edge, places: &mut [f64]) {
    let x = f64::midpoint(edge.lo.0, edge.hi.0);
    // Masonry lies on the left of a piece.
    let side = if edge.pieces.first().is_some_and(|p| p.b.1 > p.a.1) { -1.0 } else { 1.0 };
    let off = |p: f64| ((p - x).abs(), side * (p - x));
    places.sort_by(|&a, &b| off(b).0.total_cmp(&off(a).0).then(off(b).1.total_cmp(&off(a).1)));
}

/// A stretch of a cell to be served from a row; the one furthest left comes first.
#[derive(Clone, Copy)]
struct Piece {
    cell: u32,
    from: f64,
    to: f64,
}

impl Ord for Piece {
    fn cmp(&self, other: &Self) -> Ordering {
        other.from.total_cmp(&self.from).then(other.cell.cmp(&self.cell)).then(other.to.total_cmp(&self.to))
    }
}

impl PartialOrd for Piece {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Piece {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Piece {}

/// Serves what is open, row by row, each piece at its last chance.
fn field_ties_left(board: &mut Board<'_>) {
    // Nothing opens once it is served: what is not open now need not be looked at again.
    let mut open: Vec<Vec<u32>> = vec![Vec::new(); board.strips.strips.len()];
    for cell in 0..board.strips.cells.len() as u32 {
        if board.is_open(cell) {
            open[board.strips.cells[cell as usize].strip as usize].push(cell);
        }
    }
    for row in 0..board.rows.len() {
        if board.rows[row].runs.is_empty() {
            continue;
        }
        let mut pieces = Vec::new();
        let (s0, s1) = board.rows[row].strips;
        for (s, cells) in open.iter().enumerate().take(s1).skip(s0) {
            last_chances(board, row, s, cells, &mut pieces);
        }
        if board.even && !pieces.is_empty() {
            pieces.sort_unstable();
            with_those_beside(board, row, &open[s0..s1.min(open.len())], &mut pieces);
        }
        serve(board, row, pieces);
    }
}

/// Adds to the pieces of a row what is open over and under them and it reaches too, in these cells by strip: then the
/// ties serve that with them.
fn with_those_beside(board: &mut Board<'_>, row: usize, open: &[Vec<u32>], pieces: &mut Vec<Piece>) {
    let due = stretches(pieces);
    let mut beside = Vec::new();
    board.columns(row);
    let columns = board.columns_known(row);
    for &cell in open.iter().flatten() {
        let first = columns.partition_point(|c| c.0 < cell);
        let end = first + columns[first..].partition_point(|c| c.0 == cell);
        in_reach_of(board, row, &columns[first..end], &mut beside);
    }
    let meets = |p: &Piece| due.get(due.partition_point(|d| d.1 <= p.from)).is_some_and(|d| d.0 < p.to);
    pieces.extend(beside.into_iter().filter(meets));
}

fn field_ties(board: &mut Board<'_>, row: usize) {
    if board.rows[row].runs.is_empty() {
        return;
    }
    let mut pieces = Vec::new();
    for s in board.rows[row].strips.0..board.rows[row].strips.1 {
        let cells: Vec<u32> = (board.strips.strips[s].first..board.strips.strips[s].last).collect();
        last_chances(board, row, s, &cells, &mut pieces);
    }
    serve(board, row, pieces);
}

/// Serves pieces from a row, from left to right, with as few ties as will do.
fn serve(board: &mut Board<'_>, row: usize, mut pieces: Vec<Piece>) {
    pieces.sort_unstable();
    for (from, to) in stretches(&pieces) {
        chain::lay(board, row, from, to);
    }
    // What is left of pieces once a tie is placed.
    let mut queue: BinaryHeap<Piece> = BinaryHeap::new();
    // Where the stretch begins that ties are being placed for, and as far as the last of them reaches.
    let (mut start, mut served_to) = (0.0, f64::NEG_INFINITY);
    loop {
        let left_first = queue.peek().is_some_and(|left| pieces.last().is_none_or(|next| left > next));
        let Some(piece) = (if left_first { queue.pop() } else { pieces.pop() }) else { break };
        // What ties placed for earlier pieces left of it.
        let Some((from, to)) = board.first_unserved(piece.cell, piece.from, piece.to) else { continue };
        if let Some(x) = place_for(board, row, piece.cell, from) {
            // Other pieces that begin before what it serves ends.
            let reached = x + board.half_h;
            let beside = pieces.iter().rev().take_while(|p| p.from < reached).chain(&queue);
            let to = beside.fold(to, |to, p| match board.first_unserved(p.cell, p.from, p.to) {
                Some(open) if open.0 < reached => to.max(open.1),
                _ => to,
            });
            if (from - served_to).abs() >= 1.0 {
                start = from;
            }
            let x = settled(board, row, &piece, x, Stretch { start, from, to });
            board.add(row, x, false);
            served_to = x + board.half_h;
            // On at all events: ties that need not be apart could stand in one place for ever.
            let reached = x + board.half_h;
            queue.push(Piece { from: if reached > from { reached } else { from + LEAST_GAP }, ..piece });
        } else if let Some(x) = first_place_for(board, row, piece.cell, from, to) {
            // No place on this row serves its start: from the first that serves any of it, on.
            queue.push(Piece { from: x - board.half_h, ..piece });
        } else if to + LEAST_GAP < piece.to {
            queue.push(Piece { from: to, ..piece });
        }
    }
}

/// In an even layout a tie goes to a rung of the ladder no further off than this, mm.
const CLOSE: f64 = 60.0;

/// What is open where ties are being placed along a row, mm: where it began before the first of them, where it begins
/// now, and its end.
#[derive(Clone, Copy)]
struct Stretch {
    start: f64,
    from: f64,
    to: f64,
}

/// A better place than `x` for a tie that serves the start of a stretch, and of a piece, where that then needs no more
/// ties: on a rung of the ladder or at a round dimension; else `x`.
fn settled(board: &mut Board<'_>, row: usize, piece: &Piece, x: f64, stretch: Stretch) -> f64 {
    let Stretch { from, to, .. } = stretch;
    let h = 2.0 * board.half_h;
    // As if every later tie stood at the full spacing.
    let reached = x + board.half_h;
    let later = ((to - reached - TOUCHING) / h).ceil().max(0.0);
    let slack =
        (reached + later * h - to).min(h - LEAST_GAP).min(x - (from - board.half_h) - LEAST_GAP).max(0.0);
    let free = board.free(row, x - slack, x);
    let places = if board.even {
        even_places(board, row, (x - slack, x), &free, stretch, later)
    } else {
        let rung = chain::rung_before(board, row, x);
        let close = free.nearest(rung).filter(|at| (at - rung).abs() <= board.half_h / 2.0);
        close.into_iter().chain(chain::round(board, x, slack)).collect()
    };
    places.into_iter().find(|&at| free.contains(at) && board.reaches_all(row, at, &[piece.cell])).unwrap_or(x)
}

/// Places from `lo` to `hi` for a tie of a stretch in an even layout that has so many `later`, the best first. They are
/// the same for a wall and its mirror image: a lone tie leaves as much to spare on one side as on the other; of more the
/// first and the last stand as near as may be to the middle, each told from its own end, so that the other end does not
/// matter.
fn even_places(
    board: &Board<'_>,
    row: usize,
    (lo, hi): (f64, f64),
    free: &Intervals,
    Stretch { start, from, to }: Stretch,
    later: f64,
) -> Vec<f64> {
    let between = f64::midpoint(lo, hi);
    if start == from && later == 0.0 {
        let rung = chain::rung_near(board, row, between);
        let on_rung = free.nearest(rung).filter(|at| (at - rung).abs() <= CLOSE);
        let round = chain::round_about(board, between, (hi - lo) / 2.0);
        return on_rung.into_iter().chain(round).chain(free.nearest(between)).collect();
    }
    let (h, middle) = (2.0 * board.half_h, f64::midpoint(start, to));
    // Those next to the middle are half a spacing apart or more.
    let wish = match (start == from, later == 0.0) {
        (true, _) => hi.min(middle - h / 4.0),
        (_, true) => lo.max(middle + h / 4.0),
        _ => between,
    };
    let count = ((to - start - TOUCHING) / h).ceil().max(1.0);
    let share = (h - (to - start) / count).max(0.0);
    chain::round_beside(board, wish, share, start != from).chain(free.nearest(wish)).collect()
}

/// The pieces of a row, the one furthest left last, put together to stretches of wall.
fn stretches(pieces: &[Piece]) -> Spans {
    let mut out = Spans::new();
    for p in pieces.iter().rev() {
        match out.last_mut() {
            Some(last) if p.from <= last.1 => last.1 = last.1.max(p.to),
            _ => out.push((p.from, p.to)),
        }
    }
    out
}

/// Unserved stretches of some cells of a strip that no later row reaches.
fn last_chances(board: &mut Board<'_>, row: usize, strip: usize, cells: &[u32], out: &mut Vec<Piece>) {
    if cells.is_empty() {
        return;
    }
    let later = later_rows(board, row, strip);
    for &cell in cells {
        let mut open = Intervals(board.unserved(cell));
        for &next in later.iter().rev() {
            if open.is_empty() {
                break;
            }
            let columns = board.columns(next);
            let at = columns.partition_point(|c| c.0 < cell);
            let mut seen: Few<(f64, f64), 4> = Few::new();
            seen.extend(columns[at..].iter().take_while(|c| c.0 == cell).map(|c| (c.1, c.2)));
            if board.even {
                let through = &board.rows[next].through;
                seen = seen.iter().flat_map(|c| through.clipped(c.0, c.1).0).collect();
            }
            open = open.without(&mut seen);
            open.0.retain(|r| r.1 - r.0 > LEAST_GAP);
        }
        out.extend(open.0.iter().map(|&(from, to)| Piece { cell, from, to }));
    }
}

/// Rows above this one that can serve a strip.
fn later_rows(board: &Board<'_>, row: usize, strip: usize) -> Vec<usize> {
    let serving = board.rows_serving(strip);
    (serving.start.max(row + 1)..serving.end).filter(|&r| !board.rows[r].runs.is_empty()).collect()
}

/// The place on a row, as far to the right as may be, from which a tie serves a cell from `from` on.
fn place_for(board: &mut Board<'_>, row: usize, cell: u32, from: f64) -> Option<f64> {
    let free = board.free(row, from - board.half_h, from + board.half_h);
    for &(lo, hi) in free.0.iter().rev() {
        for x in [hi, f64::midpoint(lo, hi), lo] {
            if board.reaches_all(row, x, &[cell]) {
                return Some(x);
            }
        }
    }
    None
}

/// The first place on a row from which a tie serves any of a stretch of a cell, though not its start.
fn first_place_for(board: &mut Board<'_>, row: usize, cell: u32, from: f64, to: f64) -> Option<f64> {
    let free = board.free(row, from + board.half_h, to + board.half_h - LEAST_GAP);
    for &(lo, hi) in &free.0 {
        for x in [lo, f64::midpoint(lo, hi), hi] {
            if x - board.half_h > from && board.reaches_all(row, x, &[cell]) {
                return Some(x);
            }
        }
    }
    None
}
