//! Two ties become one where one will do.
//!
//! Neighbouring ties are taken off together. What is then open, stretches of cells and gaps of edges, is
//! what the fewer have to serve; if they can, the count is down by one.

use std::collections::VecDeque;

use super::blocks;
use super::board::{Apart, Board, LEAST_GAP};
use crate::masonry::{Intervals, Measure};
use crate::units::EPSILON;

/// What is open once some ties are off.
struct Needs {
    /// Cell, from, to.
    cells: Vec<(u32, f64, f64)>,
    edges: Vec<usize>,
}

/// The reach of what one tie alone serves.
#[derive(Clone, Copy)]
pub(super) struct Alone {
    left: f64,
    right: f64,
    /// Lowest strip; `usize::MAX` where it serves nothing alone.
    pub low: usize,
    /// Highest strip.
    pub high: usize,
}

impl Alone {
    const NOTHING: Self = Self { left: f64::INFINITY, right: f64::NEG_INFINITY, low: usize::MAX, high: 0 };

    fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            right: self.right.max(other.right),
            low: self.low.min(other.low),
            high: self.high.max(other.high),
        }
    }
}

/// Makes one tie of two wherever that can be done; `known` is what each tie alone serves, if that is.
pub(super) fn pairs(board: &mut Board<'_>, known: Option<Vec<Alone>>) {
    let mut known = known.unwrap_or_else(|| alone_each(board));
    // For each tie how many pairs had been made one when something last changed about it, and when all its
    // pairs were last tried: a pair is not tried again where nothing has changed.
    let mut changed = vec![0u32; board.ties.len()];
    let mut tried: Vec<Option<u32>> = vec![None; board.ties.len()];
    let mut made = 0;
    let blocks = if board.even {
        blocks::in_turn(board).into_iter().map(|b| b.1).collect()
    } else {
        vec![(0..board.ties.len() as u32).collect::<Vec<u32>>()]
    };
    let mut queue: VecDeque<u32> = VecDeque::new();
    let mut blocks = blocks.into_iter();
    loop {
        let Some(id) = queue.pop_front() else {
            let Some(block) = blocks.next() else { break };
            queue.extend(block);
            continue;
        };
        if !board.ties[id as usize].alive || board.ties[id as usize].pinned {
            continue;
        }
        let mine = known[id as usize];
        tried[id as usize] = Some(made);
        if !fits(board, mine) {
            continue;
        }
        let changed_here = changed[id as usize];
        let close = neighbours(board, id, |other| {
            let vain =
                tried[other as usize].is_some_and(|at| at >= changed_here && at >= changed[other as usize]);
            !vain && is_close(board, id, other, PAIR) && fits(board, mine.with(known[other as usize]))
        });
        let done = |board: &mut Board<'_>, other: u32| {
            one_may_do(board, id, other, mine.with(known[other as usize])) && exchange(board, &[id, other], 1)
        };
        if let Some(&other) = close.iter().find(|&&other| done(board, other)) {
            made += 1;
            // The new one may make another.
            queue.push_back(board.ties.len() as u32 - 1);
            // What the ties about these two serve alone is another matter now.
            known.resize(board.ties.len(), Alone::NOTHING);
            changed.resize(board.ties.len(), made);
            tried.resize(board.ties.len(), None);
            let mut about = neighbours(board, id, |_| true);
            about.extend(neighbours(board, other, |_| true));
            about.push(board.ties.len() as u32 - 1);
            for tie in about {
                known[tie as usize] = alone(board, tie);
                changed[tie as usize] = made;
            }
        }
        known.resize(board.ties.len(), Alone::NOTHING);
        changed.resize(board.ties.len(), made);
        tried.resize(board.ties.len(), None);
    }
}

/// How far apart the two ties of a pair may stand along and up the wall in an even layout, in field spacings: the nearer,
/// the less far a change reaches.
const PAIR: (f64, f64) = (0.5, 0.9);

/// Whether two ties stand within so many field spacings along and up the wall; wherever the fewest are wanted.
pub(super) fn is_close(board: &Board<'_>, a: u32, b: u32, (along, up): (f64, f64)) -> bool {
    let (a, b) = (&board.ties[a as usize], &board.ties[b as usize]);
    let off = (a.x - b.x, board.rows[a.row].y - board.rows[b.row].y);
    let within = |off: f64, half: f64, spacings: f64| off.abs() <= spacings * 2.0 * half + EPSILON;
    !board.even || within(off.0, board.half_h, along) && within(off.1, board.half_v, up)
}

/// Ties that are not pinned and whose served areas meet a tie's, the nearest first.
pub(super) fn neighbours(board: &Board<'_>, id: u32, wanted: impl Fn(u32) -> bool) -> Vec<u32> {
    let tie = &board.ties[id as usize];
    let y = board.rows[tie.row].y;
    let mut out: Vec<(f64, usize, f64, u32)> = Vec::new();
    let (left, right) = (tie.x - 2.0 * board.half_h, tie.x + 2.0 * board.half_h);
    for row in board.rows_about(tie.row, Apart::Meeting) {
        let list = &board.on_row[row];
        if list.is_empty() {
            continue;
        }
        let from = list.partition_point(|t| t.0 < left);
        for &(x, other) in list[from..].iter().take_while(|t| t.0 <= right) {
            if other != id && wanted(other) && !board.ties[other as usize].pinned {
                let (dx, dy) = ((x - tie.x) / board.half_h, (board.rows[row].y - y) / board.half_v);
                out.push((dx.hypot(dy), row, (x - board.axis).abs(), other));
            }
        }
    }
    out.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.total_cmp(&b.2)).then(a.3.cmp(&b.3)));
    out.into_iter().map(|t| t.3).collect()
}

/// The bounds of what a tie alone serves.
pub(super) fn alone(board: &Board<'_>, id: u32) -> Alone {
    let tie = &board.ties[id as usize];
    let mut out = Alone::NOTHING;
    for &c in &tie.cells {
        if let Some((left, right)) = super::reduce::alone_in_cell(board, c, tie.x, id) {
            let strip = board.strips.cells[c as usize].strip as usize;
            out = out.with(Alone { left, right, low: strip, high: strip });
        }
    }
    out
}

/// For each tie the bounds of what it alone serves.
pub(super) fn alone_each(board: &Board<'_>) -> Vec<Alone> {
    let mut out = vec![Alone::NOTHING; board.ties.len()];
    for (c, cell) in board.strips.cells.iter().enumerate() {
        if board.spared[cell.strip as usize] || !board.duty.contains(&cell.strip) {
            continue;
        }
        let ends = (cell.left(), cell.right());
        board.serving.each_beside(c as u32, |before, (x, id), after| {
            if let Some((left, right)) = super::reduce::alone_between(board.half_h, ends, before, x, after) {
                let strip = cell.strip as usize;
                let known = &mut out[id as usize];
                *known = known.with(Alone { left, right, low: strip, high: strip });
            }
        });
    }
    out
}

/// Whether one tie could reach all of it.
fn fits(board: &Board<'_>, a: Alone) -> bool {
    a.low == usize::MAX
        || (a.right - a.left <= 2.0 * board.half_h + EPSILON && {
            let (low, high) = (board.strips.strips[a.low], board.strips.strips[a.high]);
            high.y1 - low.y0 <= 2.0 * board.half_v + EPSILON
        })
}

/// Whether there may be a place for one tie that serves what two alone serve, `open`, and the edges that
/// need either.
fn one_may_do(board: &Board<'_>, a: u32, b: u32, open: Alone) -> bool {
    let mut needed: [usize; MOST_EDGES] = [0; MOST_EDGES];
    let mut count = 0;
    // Heights from which it would serve what is open on the edges.
    let (mut low, mut high) = (f64::NEG_INFINITY, f64::INFINITY);
    for id in [a, b] {
        for &(e, _) in &board.ties[id as usize].edges {
            if needed[..count].contains(&e) || super::reduce::edge_spares(board, e, id) {
                continue;
            }
            if board.edges[e].edge.measure == Measure::Height {
                let (from, to) = open_without(board, e, a, b);
                let half = board.edges[e].half();
                low = low.max(to - half);
                high = high.min(from + half);
            }
            if count < MOST_EDGES {
                needed[count] = e;
                count += 1;
            }
        }
    }
    let (left, right) = if open.low == usize::MAX {
        (f64::NEG_INFINITY, f64::INFINITY)
    } else {
        (open.right - board.half_h - HAIR, open.left + board.half_h + HAIR)
    };
    let rows = board.rows.partition_point(|r| r.y < low - EPSILON)
        ..board.rows.partition_point(|r| r.y <= high + EPSILON);
    let rows = if let Some(&e) = needed[..count].first() {
        let on = &board.edges[e].rows;
        rows.start.max(on.first().map_or(usize::MAX, |&r| r))..rows.end.min(on.last().map_or(0, |&r| r + 1))
    } else if open.low == usize::MAX {
        return true;
    } else {
        let (lowest, highest) = (board.rows_serving(open.low), board.rows_serving(open.high));
        rows.start.max(highest.start.min(lowest.start))..rows.end.min(highest.end.max(lowest.end))
    };
    let meets = |runs: &Intervals| {
        let i = runs.0.partition_point(|r| r.1 < left);
        runs.0.get(i).is_some_and(|r| r.0 <= right)
    };
    rows.into_iter().any(|r| {
        let row = &board.rows[r];
        let reaches = open.low == usize::MAX || (row.strips.0 <= open.low && open.high < row.strips.1);
        reaches
            && meets(&row.runs)
            && needed[..count].iter().all(|&e| board.near(r, e).is_some_and(|n| meets(&n.runs)))
    })
}

/// Edges looked at to tell whether one tie may do for two.
const MOST_EDGES: usize = 8;

/// What is open is told to within this, mm.
const HAIR: f64 = LEAST_GAP + 1.0;

/// Bounds of what is open on an edge measured by height about two of its ties once both are off.
fn open_without(board: &Board<'_>, edge: usize, a: u32, b: u32) -> (f64, f64) {
    let state = &board.edges[edge];
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for id in [a, b] {
        for &(_, place) in board.ties[id as usize].edges.iter().filter(|t| t.0 == edge) {
            low = low.min(place);
            high = high.max(place);
        }
    }
    let (mut from, mut to) = (state.edge.from, state.edge.to);
    let half = state.half();
    let start = state.served.partition_point(|s| s.0 < low - 2.0 * half);
    for &(place, id) in &state.served[start..] {
        if id == a || id == b {
            continue;
        }
        if place <= low {
            from = from.max(place + half);
        } else if place >= high {
            to = to.min(place - half);
            break;
        }
    }
    (from, to)
}

/// Takes ties off and serves what is open with `fewer`; puts them back if that cannot be done.
fn exchange(board: &mut Board<'_>, ids: &[u32], fewer: usize) -> bool {
    let (mut cells, mut edges) = (Vec::new(), Vec::new());
    for &id in ids {
        cells.extend(&board.ties[id as usize].cells);
        edges.extend(board.ties[id as usize].edges.iter().map(|e| e.0));
    }
    cells.sort_unstable();
    cells.dedup();
    edges.sort_unstable();
    edges.dedup();
    let xs = || ids.iter().map(|&id| board.ties[id as usize].x);
    let about = (
        xs().fold(f64::INFINITY, f64::min) - board.half_h - LEAST_GAP,
        xs().fold(f64::NEG_INFINITY, f64::max) + board.half_h + LEAST_GAP,
    );
    // What was open before need not be served now.
    let open_edges: Vec<usize> =
        edges.iter().copied().filter(|&e| board.edge_gap(e, f64::NEG_INFINITY).is_some()).collect();
    if !open_edges.is_empty() || cells.iter().any(|&c| board.is_open_between(c, about.0, about.1)) {
        return false;
    }
    for &id in ids {
        board.remove(id);
    }
    if serve_with(board, &cells, &edges, about, fewer) {
        return true;
    }
    for &id in ids {
        board.put_back(id);
    }
    false
}

fn needs(board: &Board<'_>, cells: &[u32], edges: &[usize], about: (f64, f64)) -> Needs {
    Needs {
        cells: cells
            .iter()
            .flat_map(|&c| {
                board.unserved_between(c, about.0, about.1).into_iter().map(move |(a, b)| (c, a, b))
            })
            .collect(),
        edges: edges.iter().copied().filter(|&e| board.edge_gap(e, f64::NEG_INFINITY).is_some()).collect(),
    }
}

/// Serves all that is open on these cells and edges with so many ties; leaves the board as it was if
/// that cannot be done.
fn serve_with(
    board: &mut Board<'_>,
    cells: &[u32],
    edges: &[usize],
    about: (f64, f64),
    count: usize,
) -> bool {
    let needs = needs(board, cells, edges, about);
    if needs.cells.is_empty() && needs.edges.is_empty() {
        return true;
    }
    if count == 0 {
        return false;
    }
    for (row, x) in places(board, &needs, count == 1) {
        let id = board.add(row, x, false);
        if serve_with(board, cells, edges, about, count - 1) {
            return true;
        }
        board.remove(id);
    }
    false
}

/// The roundest dimension from the axis between two places, the one nearest to their middle; the middle itself
/// where none is. What limits a tie may move a little, and the tie stay.
fn roundest(board: &Board<'_>, (lo, hi): (f64, f64)) -> f64 {
    const STEPS: [f64; 4] = [225.0, 75.0, 25.0, 5.0];
    let (axis, middle) = (board.axis, f64::midpoint(lo, hi));
    let round = |step: f64| axis + crate::units::round((middle - axis) / step) * step;
    STEPS.into_iter().map(round).find(|x| (lo..=hi).contains(x)).unwrap_or(middle)
}

/// Puts places in the same order for a wall and its mirror image: those furthest from the first edge first, without edges
/// those next to the axis; after the first of them, which is told from both ends.
fn in_even_order(board: &Board<'_>, edges: &[usize], xs: &mut [f64]) {
    if let Some(&e) = edges.first() {
        let x = f64::midpoint(board.edges[e].edge.lo.0, board.edges[e].edge.hi.0);
        xs.sort_by(|a, b| (b - x).abs().total_cmp(&(a - x).abs()));
    } else if let Some((_, others)) = xs.split_first_mut() {
        others.sort_by(|a, b| (a - board.axis).abs().total_cmp(&(b - board.axis).abs()));
    }
}

/// Places that serve the start of what is open furthest to the left, or all of it where it is to be done
/// with `one` tie.
fn places(board: &mut Board<'_>, needs: &Needs, one: bool) -> Vec<(usize, f64)> {
    let (mut lo, mut hi) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut rows = 0..board.rows.len();
    let strip_of = |board: &Board<'_>, c: u32| board.strips.cells[c as usize].strip as usize;
    let wanted: Vec<u32> = if one {
        for &(c, a, b) in &needs.cells {
            lo = lo.max(b.min(a + 2.0 * board.half_h + 1.0) - board.half_h);
            hi = hi.min(a + board.half_h);
            let serving = board.rows_serving(strip_of(board, c));
            rows = rows.start.max(serving.start)..rows.end.min(serving.end);
        }
        needs.cells.iter().map(|n| n.0).collect()
    } else if let Some(&(c, a, _)) = needs.cells.iter().min_by(|p, q| p.1.total_cmp(&q.1).then(p.0.cmp(&q.0)))
    {
        lo = a - board.half_h;
        hi = a + board.half_h;
        rows = board.rows_serving(strip_of(board, c));
        vec![c]
    } else {
        Vec::new()
    };
    if lo > hi + EPSILON {
        return Vec::new();
    }
    if needs.cells.is_empty() {
        // Edges alone: near the first of them.
        let on = &board.edges[needs.edges[0]].rows;
        let (Some(&first), Some(&last)) = (on.first(), on.last()) else { return Vec::new() };
        rows = first..last + 1;
    }
    let mut out = Vec::new();
    for row in rows {
        let window = board.rows[row].runs.clipped(lo, hi.max(lo));
        let free = board.clear_of_ties(row, &window);
        if free.is_empty() {
            continue;
        }
        let mut xs: Vec<f64> = free.0.iter().flat_map(|r| [r.1, f64::midpoint(r.0, r.1), r.0]).collect();
        let mut edge_runs = Vec::new();
        for near in needs.edges.iter().filter_map(|&e| board.near(row, e)) {
            edge_runs.extend(near.runs.meet(&free).0.into_iter().flat_map(|r| [r.0, r.1]));
        }
        if one && !needs.edges.is_empty() {
            xs = edge_runs;
        } else if one && board.even {
            xs = free.0.iter().map(|&r| roundest(board, r)).chain(xs).collect();
        } else {
            xs.truncate(if one { xs.len() } else { 1 });
            xs.extend(edge_runs);
        }
        xs.dedup_by(|a, b| (*a - *b).abs() < EPSILON);
        if board.even {
            in_even_order(board, &needs.edges, &mut xs);
        }
        for x in xs {
            if board.reaches_all(row, x, &wanted) {
                out.push((row, x));
            }
        }
    }
    out
}
