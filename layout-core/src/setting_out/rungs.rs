//! Rungs: the rows of the ties of an upright edge, if it were alone.
//!
//! There are as few of them as will do, as many of those as may be on main rows, where other ties are marked out anyway
//! and often need not stand then, or on the rows of ends and joints; of those the highest. They depend on nothing but
//! the edge, the main rows and the edges as high as the wall, so that a tie that happens to stand by does not shift all
//! above it.

use std::cmp::Reverse;

use super::board::{Board, EdgeState};
use crate::masonry::{EdgeKind, Measure};
use crate::units::EPSILON;

/// For each upright edge its rungs from below, each with the height it serves the edge from.
pub(super) type Rungs = Vec<Vec<(usize, f64)>>;

/// What a rung costs on a main row, on one that has rungs of ends and joints, and on any other.
const COSTS: [u32; 3] = [0, 5, 6];

/// The rungs of every upright edge.
pub(super) fn of(board: &Board<'_>) -> Rungs {
    let is_jamb = |i: usize| board.edges[i].edge.kind == EdgeKind::Jamb;
    let (jambs, others): (Vec<usize>, Vec<usize>) = (0..board.edges.len()).partition(|&i| is_jamb(i));
    let mut cost: Vec<u32> = board.rows.iter().map(|r| if r.main { COSTS[0] } else { COSTS[2] }).collect();
    let mut rungs = vec![Vec::new(); board.edges.len()];
    of_these(board, &others, &cost, &mut rungs);
    // Ends and joints are marked out all the way up.
    for &(row, _) in rungs.iter().flatten() {
        cost[row] = cost[row].min(COSTS[1]);
    }
    of_these(board, &jambs, &cost, &mut rungs);
    rungs
}

fn of_these(board: &Board<'_>, edges: &[usize], cost: &[u32], rungs: &mut Rungs) {
    let mut before: Option<usize> = None;
    for &i in edges {
        let state = &board.edges[i];
        if state.edge.measure != Measure::Height {
            continue;
        }
        // Openings side by side are mostly alike.
        let like = before.filter(|&b| {
            let b = &board.edges[b];
            let bounds = |s: &EdgeState| (s.edge.from, s.edge.to, s.edge.spacing);
            bounds(b) == bounds(state) && b.rows == state.rows
        });
        rungs[i] = match like {
            Some(b) => rungs[b].clone(),
            None => on_cheapest_rows(board, state, cost).unwrap_or_else(|| at_last_chance(board, state)),
        };
        before = Some(i);
    }
}

/// As few rungs as will do, of those the ones on rows that cost least, of those the highest; nothing where some of the
/// edge cannot be served.
fn on_cheapest_rows(board: &Board<'_>, state: &EdgeState, cost: &[u32]) -> Option<Vec<(usize, f64)>> {
    let half = state.half() + EPSILON;
    let (from, to) = (state.edge.from, state.edge.to);
    let y = |i: usize| board.rows[state.rows[i]].y;
    // For each row how many rungs there are from it up, what their rows cost, and the next.
    let mut best: Vec<Option<(u32, u32, usize)>> = vec![None; state.rows.len()];
    let (none, end) = (usize::MAX, state.rows.len());
    for i in (0..end).rev() {
        let own = cost[state.rows[i]];
        if y(i) + half >= to {
            best[i] = (y(i) - half <= to).then_some((1, own, none));
            continue;
        }
        let above = (i + 1..end).take_while(|&j| y(j) - half <= y(i) + half);
        // Clear of each other, on one plumb line.
        let above = above.filter(|&j| y(j) - y(i) >= board.between);
        let next = above.filter_map(|j| best[j].map(|b| (b.0, b.1, Reverse(j)))).min();
        best[i] = next.map(|(count, more, j)| (count + 1, more + own, j.0));
    }
    let first = (0..end).take_while(|&i| y(i) - half <= from);
    let first = first.filter_map(|i| best[i].map(|b| (b.0, b.1, Reverse(i)))).min()?;
    let (mut out, mut at, mut open) = (Vec::new(), first.2.0, from);
    while at != none {
        out.push((state.rows[at], open));
        open = y(at) + state.half();
        at = best[at].map_or(none, |b| b.2);
    }
    Some(out)
}

/// Each rung at the last chance to serve what lies below it.
fn at_last_chance(board: &Board<'_>, state: &EdgeState) -> Vec<(usize, f64)> {
    let mut out = Vec::new();
    let (half, mut open) = (state.half(), state.edge.from);
    for (i, &row) in state.rows.iter().enumerate() {
        let y = board.rows[row].y;
        if y - half > open + EPSILON {
            open = y - half;
        }
        let next = state.rows.get(i + 1).map(|&r| board.rows[r].y);
        if y + half > open && next.is_none_or(|n| n - half > open + EPSILON) {
            out.push((row, open));
            open = y + half;
            if open >= state.edge.to {
                break;
            }
        }
    }
    out
}

/// Whether a row is a rung of an edge that is needed still.
pub(super) fn is_due(board: &Board<'_>, edge: usize, row: usize, rungs: &[(usize, f64)]) -> bool {
    let at = rungs.partition_point(|r| r.0 < row);
    let Some(&(_, from)) = rungs.get(at).filter(|r| r.0 == row) else { return false };
    let state = &board.edges[edge];
    let to = (board.rows[row].y + state.half()).min(state.edge.to);
    board.edge_gap(edge, from).is_some_and(|gap| gap + EPSILON < to || gap >= state.edge.to - EPSILON)
}

#[cfg(test)]
mod tests {
    use crate::elevation::{Elevation, Opening, Shape};
    use crate::masonry::Masonry;
    use crate::rules::resolve;
    use crate::setting_out::board::Board;
    use crate::setting_out::main_rows::MainRows;
    use crate::setting_out::site::{Site, Window};

    /// Heights of the rungs of both jambs of a window in a wall 4500 x 2700, its main rows at 225, 675, ... 2475, to
    /// the millimetre.
    fn rungs(sill: f64, height: f64) -> Vec<Vec<i64>> {
        let mut e = Elevation::new("Front", vec![(0., 0.), (4500., 0.), (4500., 2700.), (0., 2700.)]);
        let shape = Shape::Rect { x: 1800., y: sill, w: 900., h: height };
        e.openings.push(Opening { name: String::new(), shape });
        let (masonry, rules) = (Masonry::new(&e), resolve(&e.rules).unwrap());
        let site = Site::new(&e, &masonry, &rules);
        let main_rows = MainRows::new(&site, (900.0, 450.0));
        let whole = |y: f64| y.round() as i64;
        let main: Vec<i64> = main_rows.heights(&site).map(whole).collect();
        assert_eq!(main, [225, 675, 1125, 1575, 2025, 2475]);
        let board = Board::new(&site, &main_rows, &Window::whole());
        super::of(&board).iter().map(|r| r.iter().map(|r| whole(board.rows[r.0].y)).collect()).collect()
    }

    // Ties every 300 by Approved Document A, the first within 150 of the sill, the last within 150 of the head; joints
    // every 75. Sill 750, head 1800: at most 900, 1200, 1500, 1800, so four and no fewer. The second can be on the main row
    // at 1125: the first then at 900 at most, the others at 1425 and 1725. From the first at 675 the fourth would be at
    // 1575 at most, where 1650 is needed; and the third cannot be at 1575.
    #[test]
    fn as_many_as_may_be_are_on_main_rows() {
        assert_eq!(rungs(750., 1050.), vec![vec![900, 1125, 1425, 1725]; 2]);
    }

    // Sill 900, head 2100: 1200 takes four, and those have to be 300 apart from 1050 on.
    #[test]
    fn they_are_no_more_for_the_sake_of_main_rows() {
        assert_eq!(rungs(900., 1200.), vec![vec![1050, 1350, 1650, 1950]; 2]);
    }
}
