//! The placer: decides where every new tie goes.
//!
//! The passes, in order:
//!
//! 1. [`board`]: rows, cells, edges; pinned ties stand.
//! 2. [`perimeter`]: ties round openings and along tops, where the rules measure along the edge.
//! 3. [`sweep`]: edges from their [`rungs`], the field from [`main_rows`]; row by row from below, a tie where this row is
//!    the last chance to serve a piece of masonry; long stretches as a [`chain`] at even steps, every other one
//!    staggered.
//! 4. [`repair`]: whatever the sweep could not serve, if any place serves it; where another new tie
//!    stands in the way, [`unblock`] tries to move that one.
//! 5. [`reduce`]: ties that others make needless go; [`merge`]: two become one where one will do, in [`blocks`].
//! 6. [`windows`]: on small walls, and where the fewest are wanted, a few neighbours become one fewer wherever that
//!    can be done, each a small [`cover`] problem.
//! 7. [`density`]: more ties where the rules ask for a number.
//! 8. [`align`]: ties move to rows that have more of them where nothing is lost, unless the fewest are
//!    wanted.
//! 9. [`tidy`]: ties slide along their row to whole dimensions where nothing is lost; [`openings`]: those over and under an
//!    opening to places alike on both sides of its axis; [`plumb`]: those beside a jamb to one line.
//!
//! Where the wind asks for a closer spacing in parts of the elevation, [`zoned`] goes through all of that once
//! for each spacing.
//! Large walls are set out in [`tiles`], each with a board of its own that takes the passes in this order;
//! what all boards share is worked out once ([`site`]).
//!
//! Rules 4 to 8 hold for every tie placed; rules 1 to 3 are met where they can be. Nothing here checks
//! the outcome: the checker does, and measures again from scratch.

mod align;
mod blocks;
mod board;
mod chain;
mod columns;
mod cover;
mod density;
mod main_rows;
mod merge;
mod openings;
mod perimeter;
mod plumb;
mod reduce;
mod repair;
mod rungs;
mod site;
mod standing;
mod sweep;
mod tidy;
mod tiles;
mod unblock;
mod windows;
mod zoned;

use board::{Board, BoardTie};
pub use chain::is_set_back;
use main_rows::MainRows;
use site::{Site, Window};
use tiles::{Stood, Tiles};

use crate::elevation::{Elevation, Point, Style};
use crate::many::sort;
use crate::masonry::{Masonry, fewest_ties};
use crate::rules::RuleSet;
use crate::units::{m2, tidy_mm};

/// A tie in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Where, mm.
    pub at: Point,
    /// Whether the user fixed it there, by pinning it or by locking its area.
    pub pinned: bool,
}

/// Sets out the ties of an elevation: those pinned or locked, and where the elevation is automatic as many more
/// as its rules need. Row by row from below, each row from the left.
#[must_use]
pub fn set_out(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<Placed> {
    set_out_with(elevation, masonry, rules, tiles::LEAST_TIES)
}

/// As [`set_out`], in tiles from so many ties on.
fn set_out_with(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet, tile_from: f64) -> Vec<Placed> {
    let mut placed = if elevation.automatic && !masonry.rings.is_empty() {
        zoned::run(elevation, masonry, rules, tile_from)
    } else {
        stay(&elevation.fixed_ties()).collect()
    };
    let order = |a: &Placed, b: &Placed| a.at.1.total_cmp(&b.at.1).then(a.at.0.total_cmp(&b.at.0));
    sort(&mut placed, order);
    placed
}

/// Layouts with no more ties than this are looked over window by window, whatever the style.
const SMALL: usize = 250;

/// Ties in a window: the fewer, the less far a change reaches.
const WINDOW: usize = 3;

/// Ties in a window where the fewest are wanted.
const LARGE_WINDOW: usize = 8;

/// Lays out ties at a field spacing, beside those that `stand`, on main rows; where the fewest are wanted
/// also each at its last chance, and takes the layout with fewer ties.
fn lay<'a>(
    site: &Site<'a>,
    main_rows: &MainRows,
    window: &Window,
    stand: &dyn Fn(&mut Board<'a>),
) -> Board<'a> {
    let mut blank = Board::new(site, main_rows, window);
    stand(&mut blank);
    if site.elevation.style == Style::Even {
        return passes(blank, sweep::run_on_main_rows);
    }
    let lean = passes(blank.clone(), sweep::run);
    let regular = passes(blank, sweep::run_on_main_rows);
    if regular.count() <= lean.count() { regular } else { lean }
}

fn passes<'a>(mut board: Board<'a>, sweep: fn(&mut Board<'a>)) -> Board<'a> {
    perimeter::run(&mut board);
    sweep(&mut board);
    let whole = repair::run(&mut board);
    let reduced = reduce::run(&mut board, usize::MAX);
    // Where all is served, only what the ties served that went can be open now.
    let known = if whole && !repair::is_open_without(&board, &reduced.gone) {
        Some(reduced.alone)
    } else {
        repair::run(&mut board);
        None
    };
    merge::pairs(&mut board, known);
    board
}

fn automatic(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet, tile_from: f64) -> Vec<Placed> {
    let fewest = fewest_ties(masonry, elevation, rules);
    let site = Site::new(elevation, masonry, rules);
    let fixed = &site.fixed;
    let mut board = None;
    // The closest even spacing that needs no more ties than the rules ask for by number.
    for spacing in density::spacings(elevation, rules, fewest, m2(masonry.net_area)) {
        let main_rows = MainRows::new(&site, spacing);
        let tried = match Tiles::new(&site, &main_rows, tile_from) {
            Some(tiles) => Tried::InTiles(in_tiles(&site, &main_rows, &tiles), main_rows),
            None => Tried::OnOneBoard(Box::new(lay(&site, &main_rows, &Window::whole(), &|_| ()))),
        };
        let enough = tried.count(fixed.len()) <= fewest;
        board = Some(tried);
        if enough {
            break;
        }
    }
    match board {
        None => Vec::new(),
        Some(Tried::OnOneBoard(mut board)) => {
            look_over(&mut board, fewest);
            let spare = board.count().saturating_sub(fewest);
            density::run(&mut board, fewest, !elevation.openings.is_empty());
            finish(&mut board, elevation, spare);
            placed(&board, fixed)
        }
        Some(Tried::InTiles(ties, main_rows)) if ties.len() + fixed.len() < fewest => {
            let mut board = Board::new(&site, &main_rows, &Window::whole());
            for tie in ties {
                if let Some(row) = board.row_at(tie.y) {
                    board.add(row, tie.x, false);
                }
            }
            density::run(&mut board, fewest, !elevation.openings.is_empty());
            placed(&board, fixed)
        }
        Some(Tried::InTiles(ties, _)) => {
            let at = |t: &Stood| Placed { at: (tidy_mm(t.x), tidy_mm(t.y)), pinned: false };
            ties.iter().map(at).chain(stay(fixed)).collect()
        }
    }
}

/// A layout at one field spacing.
enum Tried<'a> {
    OnOneBoard(Box<Board<'a>>),
    /// Done but for the number of ties, with its main rows; pinned ties aside.
    InTiles(Vec<Stood>, MainRows),
}

impl Tried<'_> {
    fn count(&self, pinned: usize) -> usize {
        match self {
            Self::OnOneBoard(board) => board.count(),
            Self::InTiles(ties, _) => ties.len() + pinned,
        }
    }
}

fn in_tiles(site: &Site<'_>, main_rows: &MainRows, tiles: &Tiles) -> Vec<Stood> {
    tiles.set_out(site, |window, stand| {
        let mut board = lay(site, main_rows, window, stand);
        if !board.even {
            look_over(&mut board, 0);
        }
        finish(&mut board, site.elevation, usize::MAX);
        board
    })
}

/// Looks for fewer ties, down to the `least` the rules ask for by number.
fn look_over(board: &mut Board<'_>, least: usize) {
    if !board.even {
        windows::run(board, LARGE_WINDOW, least);
    } else if board.count() <= SMALL {
        windows::run(board, WINDOW, least);
    }
}

/// Makes a layout easy to mark out. Where what is served from new places meets, a tie between them may be needless now:
/// up to so many to `spare` go.
fn finish(board: &mut Board<'_>, elevation: &Elevation, spare: usize) {
    if board.even {
        align::run(board);
    }
    tidy::run(board);
    if board.even {
        openings::run(board, elevation);
        plumb::run(board);
        reduce::run(board, spare);
    }
}

/// The ties of a board, and those that are `fixed` where they were given, to the last figure.
fn placed(board: &Board<'_>, fixed: &[Point]) -> Vec<Placed> {
    // Row by row, as they come in the end.
    let all = board.on_row.iter().flatten().map(|t| &board.ties[t.1 as usize]);
    let laid = all.filter(|t| !t.pinned);
    let at = |t: &BoardTie| Placed { at: (tidy_mm(t.x), tidy_mm(board.rows[t.row].y)), pinned: false };
    laid.map(at).chain(stay(fixed)).collect()
}

/// Ties that were given, as they stand.
fn stay(fixed: &[Point]) -> impl Iterator<Item = Placed> + '_ {
    fixed.iter().map(|&at| Placed { at, pinned: true })
}
