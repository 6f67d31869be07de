//! Large walls in tiles: bands of the wall one above the other, each set out on a board of its own.
//!
//! Seams lie half-way between two main rows, whole tiles of rows from the lowest, so that no main row has
//! to do with both sides. Every other tile goes first, alone; then those between, with the ties of their
//! neighbours standing. Near a seam a tile may move and drop its neighbours' ties as if they were its own,
//! since all that those serve is on its board; further off they stand fast. So what lies at a seam ends up
//! on one board like everything else. The tiles of a turn have nothing to do with each other: the layout
//! is the same whatever the number of threads.

use rayon::prelude::*;

use super::board::Board;
use super::main_rows::MainRows;
use super::site::{Site, Window};
use crate::masonry::Measure;

/// Walls on which fewer ties than this are likely are set out on one board.
pub(super) const LEAST_TIES: f64 = 4000.0;

/// Main rows of a tile.
const ROWS: usize = 24;

/// A tie that stands, and what a later board has to know of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stood {
    pub x: f64,
    pub y: f64,
    pub in_chain: bool,
    /// Whether it counts for an edge that is on one tile's board alone.
    pub fast: bool,
}

/// The bands a wall is set out in.
pub(super) struct Tiles {
    /// Heights between two tiles, from below, mm.
    seams: Vec<f64>,
    /// For each tile the edges that may have to do with it.
    edges: Vec<Vec<u32>>,
    /// How far from its seams a tile of the second turn moves its neighbours' ties, mm.
    shared: f64,
    /// How far from what it serves a tie may stand, by height, mm.
    reach: f64,
}

impl Tiles {
    /// The tiles of a wall at a field spacing; `None` where one board will do.
    pub(super) fn new(site: &Site<'_>, main_rows: &MainRows, least_ties: f64) -> Option<Self> {
        let &MainRows { h, v, .. } = main_rows;
        if site.masonry.net_area / (h * v) < least_ties {
            return None;
        }
        let mut seams = seams(site, main_rows);
        let within = site.rules.edges.as_ref().map_or(0.0, |e| e.within.value);
        let spacing = site.edges.iter().filter(|e| e.measure == Measure::Height);
        let spacing = spacing.map(|e| e.spacing).fold(v, f64::max);
        let reach = (spacing / 2.0).max(within);
        // An edge that is measured as a whole may reach this far into another tile.
        let most = 0.25 * ROWS as f64 * v;
        let mut shared = v;
        for edge in site.edges.iter().filter(|e| e.measure != Measure::Height) {
            let (low, high) = (edge.lo.1, edge.hi.1);
            seams.retain(|&s| s <= low || s >= high || (s - low <= most && high - s <= most));
            let over = seams.iter().filter(|&&s| low < s && s < high).map(|s| (s - low).max(high - s));
            shared = over.fold(shared, f64::max);
        }
        if seams.is_empty() {
            return None;
        }
        let mut this = Self { edges: vec![Vec::new(); seams.len() + 1], seams, shared, reach };
        for (number, edge) in site.edges.iter().enumerate() {
            let margin = if edge.measure == Measure::Height { shared + reach } else { 0.0 };
            let (mut from, mut to) = (this.at(edge.lo.1 - margin), this.at(edge.hi.1 + margin));
            if edge.measure != Measure::Height && from < to {
                // It belongs to the one whose turn is second: that one has all of it on its board.
                from += usize::from(from.is_multiple_of(2));
                to = from;
            }
            for tile in from..=to {
                this.edges[tile].push(number as u32);
            }
        }
        Some(this)
    }

    /// The tile of a height.
    fn at(&self, y: f64) -> usize {
        self.seams.partition_point(|&s| s <= y)
    }

    fn band(&self, tile: usize) -> (f64, f64) {
        let low = if tile == 0 { f64::NEG_INFINITY } else { self.seams[tile - 1] };
        (low, self.seams.get(tile).copied().unwrap_or(f64::INFINITY))
    }

    /// What the board of a tile is about.
    fn window(&self, tile: usize, site: &Site<'_>) -> Window {
        let own = self.band(tile);
        let wider = |(lo, hi): (f64, f64), by: f64| (lo - by, hi + by);
        let edges = Some(self.edges[tile].clone());
        if tile.is_multiple_of(2) {
            return Window { own, duty: own, rows: wider(own, self.reach), edges };
        }
        let duty = wider(own, self.shared + self.reach);
        Window { own, duty, rows: wider(duty, self.reach + site.rules.between.value), edges }
    }

    /// Sets out a wall tile by tile: `lay` serves what is open on a board. Ties that are not pinned, by
    /// height.
    pub(super) fn set_out<'a>(
        &self,
        site: &Site<'a>,
        lay: impl Fn(&Window, &dyn Fn(&mut Board<'a>)) -> Board<'a> + Sync,
    ) -> Vec<Stood> {
        let tiles = self.edges.len();
        let first: Vec<Vec<Stood>> = (0..tiles)
            .into_par_iter()
            .step_by(2)
            .map(|tile| stood(&lay(&self.window(tile, site), &|_| ())))
            .collect();
        let second: Vec<Vec<Stood>> = (0..tiles)
            .into_par_iter()
            .skip(1)
            .step_by(2)
            .map(|tile| {
                let window = self.window(tile, site);
                let about = [&first[tile / 2][..], first.get(tile / 2 + 1).map_or(&[], |t| &t[..])];
                let stand = |board: &mut Board<'a>| {
                    for tie in about.into_iter().flatten() {
                        if let Some(row) = board.row_at(tie.y) {
                            let id = board.add(row, tie.x, false) as usize;
                            board.ties[id].in_chain = tie.in_chain;
                            board.ties[id].pinned = !self.moves(tile, tie);
                        }
                    }
                };
                stood(&lay(&window, &stand))
            })
            .collect();
        let mut out = Vec::new();
        for (i, tile) in first.into_iter().enumerate() {
            let moved = |tie: &Stood| {
                let around = [(2 * i).checked_sub(1), Some(2 * i + 1).filter(|&t| t < tiles)];
                around.into_iter().flatten().any(|t| self.moves(t, tie))
            };
            out.extend(tile.into_iter().filter(|tie| !moved(tie)));
            out.extend(second.get(i).into_iter().flatten());
        }
        out
    }

    /// Whether a tile of the second turn may move a neighbour's tie.
    fn moves(&self, tile: usize, tie: &Stood) -> bool {
        let (low, high) = self.band(tile);
        !tie.fast && low - self.shared <= tie.y && tie.y <= high + self.shared
    }
}

/// The ties of a board that are not pinned.
fn stood(board: &Board<'_>) -> Vec<Stood> {
    let whole = |e: usize| board.edges[e].edge.measure != Measure::Height;
    let ties = board.ties.iter().filter(|t| t.alive && !t.pinned);
    ties.map(|t| Stood {
        x: t.x,
        y: board.rows[t.row].y,
        in_chain: t.in_chain,
        fast: t.edges.iter().any(|e| whole(e.0)),
    })
    .collect()
}

/// Heights half-way between main rows, a tile apart; the last tile is up to half as high again.
fn seams(site: &Site<'_>, main_rows: &MainRows) -> Vec<f64> {
    let top = site.masonry.height_range().map_or(site.base, |r| r.1);
    let heights: Vec<f64> = main_rows.heights(site).collect();
    let tile = ROWS as f64 * main_rows.v;
    let between = heights.windows(2).map(|w| f64::midpoint(w[0], w[1]));
    between.skip(ROWS - 1).step_by(ROWS).take_while(|seam| seam + tile / 2.0 < top).collect()
}

#[cfg(test)]
mod tests {
    use crate::check::{Severity, check};
    use crate::elevation::{Elevation, Opening, RuleChoice, Shape, SideCondition};
    use crate::masonry::Masonry;
    use crate::rules::resolve;
    use crate::setting_out::{Placed, set_out_with};

    /// Two dozen main rows of 450 mm and a few more on top of each other three times over, with windows that
    /// the seams at 10.8 and 21.6 m run through, a free end, and a pinned tie beside a seam.
    fn tower() -> Elevation {
        let mut e = Elevation::new("Tower", vec![(0., 0.), (9000., 0.), (9000., 33_000.), (0., 33_000.)]);
        e.sides =
            vec![SideCondition::Base, SideCondition::FreeEnd, SideCondition::Eaves, SideCondition::Corner];
        for i in 0..13 {
            let (x, y) = (700.0 + 130.0 * f64::from(i % 5), 600.0 + 2450.0 * f64::from(i));
            for x in [x, x + 4200.0] {
                e.openings
                    .push(Opening { name: String::new(), shape: Shape::Rect { x, y, w: 1200.0, h: 1350.0 } });
            }
        }
        e.pinned.push((4000.0, 10_800.0));
        e
    }

    /// The layout, which has to be without breach.
    fn sound(e: &Elevation, tile_from: f64) -> Vec<Placed> {
        let (masonry, rules) = (Masonry::new(e), resolve(&e.rules).unwrap());
        let ties = set_out_with(e, &masonry, &rules, tile_from);
        let at: Vec<_> = ties.iter().map(|t| t.at).collect();
        let breaches: Vec<_> =
            check(e, &masonry, &rules, &at).into_iter().filter(|f| f.severity == Severity::Breach).collect();
        assert!(breaches.is_empty(), "{breaches:?}");
        ties
    }

    fn in_tiles_as_on_one_board(e: &Elevation) {
        let (tiles, whole) = (sound(e, 0.0), sound(e, f64::INFINITY));
        assert_eq!(tiles.iter().filter(|t| t.pinned).count(), e.pinned.len());
        let (tiles, whole) = (tiles.len() as f64, whole.len() as f64);
        assert!(tiles <= whole * 1.01, "{tiles} ties in tiles, {whole} on one board");
    }

    #[test]
    fn tiles_cost_next_to_no_ties_and_no_breach() {
        in_tiles_as_on_one_board(&tower());
    }

    #[test]
    fn edges_measured_by_length_may_lie_across_seams() {
        let mut e = tower();
        e.pinned.clear();
        e.rules = RuleChoice::Named("us-tms402-2016".into());
        in_tiles_as_on_one_board(&e);
    }

    #[test]
    fn the_number_of_threads_makes_no_difference() {
        let e = tower();
        let on = |threads| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| sound(&e, 0.0))
        };
        let one = on(1);
        assert!(one == on(2) && one == on(3));
    }
}
