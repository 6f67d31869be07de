//! A few neighbouring ties become one fewer wherever that can be done.
//!
//! The ties of a window, one and those nearest to it, are taken off together. What is then open, stretches
//! of cells and of edges, is cut into pieces that any place serves whole or not at all; which places serve
//! which pieces is a small covering problem, made smaller (a piece that is served whenever another is, a
//! place that serves no more than another, drop out) and searched to the end, or until the search has
//! taken too many turns. Ties go where they just reach the start of what is open, or where there is room
//! no further: one that stands elsewhere could be pushed there without losing anything.
//!
//! Only what the window served counts, so a change here changes nothing further off than the reach of
//! these ties.

mod needs;

use std::cmp::Ordering;
use std::collections::{BTreeSet, VecDeque};

use needs::{Ground, Needs, ground, needs, open};

use super::blocks;
use super::board::{Board, Counting, Reached};
use super::cover::{Cover, Pieces, Places};
use super::merge::{is_close, neighbours};
use crate::masonry::Measure;
use crate::units::EPSILON;

/// Makes fewer ties of so many neighbours, all over the board. Where the fewest are wanted, as long as it has more than
/// the `least`.
pub(super) fn run(board: &mut Board<'_>, size: usize, least: usize) {
    let mut is_main = vec![!board.even; board.rows.len()];
    for row in super::main_rows::of(board) {
        is_main[row] = true;
    }
    if !board.even {
        let all = (0..board.ties.len() as u32).collect();
        let spare = board.count().saturating_sub(least);
        look_over(board, size, &is_main, all, &mut { LONG_WORK }, spare, |_, _| true);
    } else if board.count() > least {
        for (block, ties) in blocks::in_turn(board) {
            let inside = |board: &Board<'_>, id: u32| blocks::of(board, id) == block;
            look_over(board, size, &is_main, ties, &mut { WORK }, usize::MAX, inside);
        }
    }
}

/// Looks at the window of every tie of a list, and of those about a change that are `wanted`, for up to so many `spare`.
fn look_over(
    board: &mut Board<'_>,
    size: usize,
    is_main: &[bool],
    ties: Vec<u32>,
    work: &mut usize,
    mut spare: usize,
    wanted: impl Fn(&Board<'_>, u32) -> bool,
) {
    let mut queue: VecDeque<u32> = ties.into_iter().filter(|&id| is_free(board, id)).collect();
    let mut tried = BTreeSet::new();
    while let Some(id) = queue.pop_front() {
        if spare == 0 || *work == 0 {
            return;
        }
        if !is_free(board, id) {
            continue;
        }
        let x = board.ties[id as usize].x;
        let mut ties = neighbours(board, id, |other| is_close(board, id, other, APART));
        ties.truncate(size - 1);
        ties.push(id);
        ties.sort_unstable();
        if ties.len() < 2 || !tried.insert(ties.clone()) {
            continue;
        }
        if let Some(new) = improve(board, &ties, x, is_main, work) {
            spare -= ties.len() - new.len();
            // What stands about the change may have become easier.
            let mut about: BTreeSet<u32> = new.iter().copied().collect();
            for &tie in &new {
                about.extend(neighbours(board, tie, |_| true));
            }
            tried.retain(|w| !w.iter().any(|t| about.contains(t)));
            queue.retain(|t| !about.contains(t));
            let mut about: Vec<u32> = about.into_iter().filter(|&t| wanted(board, t)).collect();
            about.sort_by(|&a, &b| blocks::order(board, a, b));
            queue.extend(about);
        }
    }
}

/// The side a window is looked at from, that of the end of the wall it is nearer to: lengths from the left are told as
/// they are, those from the right by their negatives. So a wall and its mirror image are treated alike.
#[derive(Clone, Copy)]
struct Side(f64);

impl Side {
    fn nearer_to(board: &Board<'_>, x: f64) -> Self {
        Self(if x > board.axis + EPSILON { -1.0 } else { 1.0 })
    }

    /// A stretch as it is told from there.
    fn told(self, lo: f64, hi: f64) -> (f64, f64) {
        if self.0 < 0.0 { (-hi, -lo) } else { (lo, hi) }
    }

    fn order(self, a: f64, b: f64) -> Ordering {
        (self.0 * a).total_cmp(&(self.0 * b))
    }
}

/// How far from its first tie the others of a window may stand along and up the wall in an even layout, in field spacings.
const APART: (f64, f64) = (0.6, 0.6);

fn is_free(board: &Board<'_>, id: u32) -> bool {
    let tie = &board.ties[id as usize];
    tie.alive && !tie.pinned
}

/// Places times pieces looked at before the search is given up: bounds the time of a block, by counting.
const WORK: usize = 500_000;

/// Likewise of the whole wall, where the fewest ties are wanted.
const LONG_WORK: usize = 200_000_000;

/// A window of more cells than this, on a wall of thousands of corners, is left as it is.
const MOST_CELLS: usize = 600;

/// Serves what the ties about a place `x` serve with one fewer; the new ties, or nothing and the board as it was.
fn improve(
    board: &mut Board<'_>,
    ties: &[u32],
    x: f64,
    is_main: &[bool],
    work: &mut usize,
) -> Option<Vec<u32>> {
    let ground = ground(board, ties);
    if ground.cells.len() > MOST_CELLS {
        return None;
    }
    let before = needs(board, &ground);
    let lost_before = open(board, &ground);
    for &id in ties {
        board.remove(id);
    }
    let needs = needs(board, &ground).without(&before);
    let side = Side::nearer_to(board, x);
    if apart(board, &needs, ties.len(), side) < ties.len() {
        let places = places(board, ties, x, &needs, is_main, side);
        *work = work.saturating_sub(places.len() * (needs.cells.len() + needs.edges.len()));
        let about = places_of(board, &places, ties);
        let solved =
            Cover::new(&pieces(board, &needs, &places, side), &about).and_then(|c| c.solve(ties.len() - 1));
        if let Some(chosen) = solved
            && let Some(new) = exchange(board, &ground, lost_before, &places, &chosen)
        {
            return Some(new);
        }
    }
    for &id in ties {
        board.put_back(id);
    }
    None
}

/// Puts ties at the chosen places; takes them off again if anything would be lost by them.
fn exchange(
    board: &mut Board<'_>,
    ground: &Ground,
    lost_before: (f64, f64),
    places: &[Place],
    chosen: &[usize],
) -> Option<Vec<u32>> {
    let new: Vec<u32> = chosen.iter().map(|&i| board.add(places[i].row, places[i].x, false)).collect();
    let lost = open(board, ground);
    if lost.0 <= lost_before.0 + EPSILON && lost.1 <= lost_before.1 + EPSILON {
        return Some(new);
    }
    for id in new {
        board.remove(id);
    }
    None
}

/// A number of open spots, no more than `enough`, no two of which one tie can serve: for each, the rows and the
/// stretch a tie that serves it stands in have nothing in common.
fn apart(board: &Board<'_>, needs: &Needs, enough: usize, side: Side) -> usize {
    let h = board.half_h;
    let mut spots: Vec<(f64, f64, usize, usize)> = Vec::with_capacity(2 * needs.cells.len());
    let mut serving = (u32::MAX, 0..0);
    for &(c, a, b) in &needs.cells {
        let strip = board.strips.cells[c as usize].strip;
        if serving.0 != strip {
            serving = (strip, board.rows_serving(strip as usize));
        }
        let rows = &serving.1;
        let (a, b) = side.told(a, b);
        spots.push((a - h, a + h, rows.start, rows.end));
        if b - a > 2.0 * h {
            spots.push((b - h, b + h, rows.start, rows.end));
        }
    }
    for &(e, from, to) in &needs.edges {
        let state = &board.edges[e];
        let (left, right) = side.told(state.edge.lo.0 - board.within, state.edge.hi.0 + board.within);
        let height = state.edge.measure == Measure::Height;
        for place in [from, to] {
            let (low, high) = if height {
                let half = state.half() + EPSILON;
                (
                    board.rows.partition_point(|r| r.y < place - half),
                    board.rows.partition_point(|r| r.y <= place + half),
                )
            } else {
                (0, board.rows.len())
            };
            spots.push((left, right, low, high));
        }
    }
    let mut most = 0;
    for by_row in [false, true] {
        if by_row {
            spots.sort_by(|p, q| p.3.cmp(&q.3).then(p.1.total_cmp(&q.1)));
        } else {
            spots.sort_by(|p, q| p.1.total_cmp(&q.1).then(p.3.cmp(&q.3)));
        }
        let mut taken: Vec<(f64, f64, usize, usize)> = Vec::new();
        for s in &spots {
            if taken.iter().all(|t| t.1 + EPSILON < s.0 || s.1 + EPSILON < t.0 || t.3 <= s.2 || s.3 <= t.2) {
                taken.push(*s);
                if taken.len() >= enough {
                    return enough;
                }
            }
        }
        most = most.max(taken.len());
    }
    most
}

/// A place for a tie with what it serves.
struct Place {
    row: usize,
    x: f64,
    cells: Reached,
    edges: Counting,
}

/// Places that serve some of what is open, from the left: the present ones, and where a tie just reaches
/// the start or end of a stretch or has room no further.
fn places(
    board: &mut Board<'_>,
    ties: &[u32],
    x: f64,
    needs: &Needs,
    is_main: &[bool],
    side: Side,
) -> Vec<Place> {
    let mut spots: Vec<(usize, f64)> =
        ties.iter().map(|&id| (board.ties[id as usize].row, board.ties[id as usize].x)).collect();
    let of_ties: BTreeSet<usize> = spots.iter().map(|s| s.0).collect();
    for row in rows(board, needs) {
        // Where even rows are wanted, no new ones.
        if !is_main[row] && !of_ties.contains(&row) && !has_ties_about(board, row, x) {
            continue;
        }
        spots.extend(spots_on(board, row, needs, side).into_iter().map(|x| (row, x)));
    }
    spots.sort_by(|a, b| side.order(a.1, b.1).then(a.0.cmp(&b.0)));
    spots.dedup_by(|a, b| a.0 == b.0 && (a.1 - b.1).abs() < EPSILON);
    let mut out = Vec::with_capacity(spots.len());
    for (row, x) in spots {
        let mut cells = board.reach(row, x);
        cells.retain(|c| needs.cells.binary_search_by(|n| n.0.cmp(c)).is_ok());
        cells.sort_unstable();
        let mut edges = board.counts_for(row, x, false);
        edges.retain(|(e, _)| needs.edges.iter().any(|n| n.0 == *e));
        if !cells.is_empty() || !edges.is_empty() {
            out.push(Place { row, x, cells, edges });
        }
    }
    out
}

/// Whether a row has ties about a place along it.
fn has_ties_about(board: &Board<'_>, row: usize, x: f64) -> bool {
    let list = &board.on_row[row];
    let from = list.partition_point(|t| t.0 < x - 2.0 * board.half_h);
    list.get(from).is_some_and(|t| t.0 <= x + 2.0 * board.half_h)
}

/// Rows from which some of what is open can be served.
fn rows(board: &Board<'_>, needs: &Needs) -> Vec<usize> {
    let mut out: Vec<usize> = Vec::new();
    let mut strips: Vec<u32> = needs.cells.iter().map(|n| board.strips.cells[n.0 as usize].strip).collect();
    strips.sort_unstable();
    strips.dedup();
    // The higher a strip, the higher the rows that serve it.
    let mut above = 0;
    for s in strips {
        let serving = board.rows_serving(s as usize);
        out.extend(above.max(serving.start)..serving.end);
        above = above.max(serving.end);
    }
    for &(e, from, to) in &needs.edges {
        let state = &board.edges[e];
        let by_height = state.edge.measure == Measure::Height;
        let half = state.half() + EPSILON;
        out.extend(state.rows.iter().copied().filter(|&r| {
            let y = board.rows[r].y;
            !by_height || (y >= from - half && y <= to + half)
        }));
    }
    out.sort_unstable();
    out.dedup();
    out.retain(|&r| !board.rows[r].runs.is_empty());
    out
}

/// Places on a row worth a look.
fn spots_on(board: &Board<'_>, row: usize, needs: &Needs, side: Side) -> Vec<f64> {
    let h = board.half_h;
    let (s0, s1) = board.rows[row].strips;
    let mut wishes: Vec<f64> = Vec::new();
    let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
    for &(c, a, b) in &needs.cells {
        let strip = board.strips.cells[c as usize].strip as usize;
        if strip < s0 || strip >= s1 {
            continue;
        }
        left = left.min(a - h);
        right = right.max(b + h);
        wishes.extend([a + h, b - h]);
        // Along a stretch wider than one tie serves, one after another.
        let (a, b) = side.told(a, b);
        let mut x = a + 3.0 * h;
        while x < b + h {
            wishes.push(side.0 * x);
            x += 2.0 * h;
        }
    }
    let mut near_runs: Vec<(f64, f64)> = Vec::new();
    for near in &board.rows[row].near {
        if needs.edges.iter().any(|n| n.0 == near.edge) {
            near_runs.extend(&near.runs.0);
        }
    }
    for r in &near_runs {
        left = left.min(r.0);
        right = right.max(r.1);
    }
    if left > right {
        return Vec::new();
    }
    let free = board.free(row, left, right);
    let mut out: Vec<f64> = free.0.iter().flat_map(|r| [r.0, r.1]).collect();
    out.extend(wishes.iter().copied().filter(|&x| free.contains(x)));
    let ends = free.0.iter().map(|r| side.0 * (side.told(r.0, r.1).1 + 2.0 * h));
    out.extend(ends.filter(|&x| free.contains(x)).collect::<Vec<f64>>());
    for &(lo, hi) in &near_runs {
        out.extend(free.clipped(lo, hi).0.iter().flat_map(|r| [r.0, r.1]));
    }
    out.sort_by(|a, b| side.order(*a, *b));
    out.dedup_by(|a, b| (*a - *b).abs() < 1.0);
    out
}

/// Pieces of what is open, each as the places that serve it.
fn pieces(board: &Board<'_>, needs: &Needs, places: &[Place], side: Side) -> Pieces {
    let mut out = Pieces::of(places.len());
    let h = board.half_h;
    let mut cuts: Vec<f64> = Vec::new();
    // Places that serve a cell, in their order.
    let mut serve: Vec<(usize, f64)> = Vec::new();
    let mut of: Option<u32> = None;
    for &(c, a, b) in &needs.cells {
        if of.replace(c) != Some(c) {
            serve.clear();
            let reach = places.iter().enumerate().filter(|p| p.1.cells.binary_search(&c).is_ok());
            serve.extend(reach.map(|(i, p)| (i, side.0 * p.x)));
        }
        cuts.clear();
        cuts.extend(serve.iter().flat_map(|p| [p.1 - h, p.1 + h]));
        let mut first = 0;
        let (a, b) = side.told(a, b);
        each_middle(a, b, &mut cuts, |m| {
            first += serve[first..].iter().take_while(|p| p.1 < m && (p.1 - m).abs() > h).count();
            out.push(serve[first..].iter().take_while(|p| (p.1 - m).abs() <= h).map(|p| p.0));
        });
    }
    for &(e, a, b) in &needs.edges {
        let half = board.edges[e].half() + EPSILON;
        let edge = &board.edges[e].edge;
        serve.clear();
        for (i, place) in places.iter().enumerate() {
            serve.extend(place.edges.iter().filter(|x| x.0 == e).map(|x| (i, x.1)));
        }
        if edge.measure == Measure::Level {
            out.push(serve.iter().map(|s| s.0));
            continue;
        }
        let ring = matches!(edge.measure, Measure::Length { ring: true });
        let turns: &[f64] = if ring { &[-1.0, 0.0, 1.0] } else { &[0.0] };
        let spots = || serve.iter().flat_map(|s| turns.iter().map(move |t| (s.0, s.1 + t * edge.to)));
        cuts.clear();
        cuts.extend(spots().flat_map(|s| [s.1 - half, s.1 + half]));
        each_middle(a, b, &mut cuts, |m| {
            out.push(spots().filter(|s| (s.1 - m).abs() <= half).map(|s| s.0));
        });
    }
    out
}

/// Middles of the parts into which `cuts` divide `[a, b]`, from below, slivers aside; the middle of it all where there
/// would be none.
fn each_middle(a: f64, b: f64, cuts: &mut Vec<f64>, mut f: impl FnMut(f64)) {
    cuts.retain(|&c| c > a && c < b);
    cuts.extend([a, b]);
    cuts.sort_unstable_by(f64::total_cmp);
    let mut none = true;
    for w in cuts.windows(2).filter(|w| w[1] - w[0] > 1.0) {
        none = false;
        f(f64::midpoint(w[0], w[1]));
    }
    if none {
        f(f64::midpoint(a, b));
    }
}

fn places_of(board: &Board<'_>, places: &[Place], ties: &[u32]) -> Places {
    let at: Vec<(f64, f64)> = places.iter().map(|p| (p.x, board.rows[p.row].y)).collect();
    let stands = |p: &Place| {
        ties.iter().any(|&id| {
            let tie = &board.ties[id as usize];
            tie.row == p.row && (tie.x - p.x).abs() < EPSILON
        })
    };
    // What need not change stays.
    let favour = |p: &Place| match (board.even, stands(p)) {
        (false, _) => 0,
        (true, true) => usize::MAX,
        (true, false) => board.on_row[p.row].len(),
    };
    let favour = places.iter().map(favour).collect();
    Places { at, favour, between: board.between }
}
