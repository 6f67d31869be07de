//! The placer: decides where every new tie goes.
//!
//! The passes, in order:
//!
//! 1. [`board`]: rows, cells, edges; pinned ties stand.
//! 2. [`perimeter`]: ties round openings and along tops, where the rules measure along the edge.
//! 3. [`sweep`]: row by row from below, a tie where this row is the last chance to serve an edge or a
//!    piece of masonry; long stretches as a [`chain`] at even steps, every other one staggered.
//! 4. [`repair`]: whatever the sweep could not serve, if any place serves it; where another new tie
//!    stands in the way, [`unblock`] tries to move that one.
//! 5. [`reduce`]: ties that others make needless go; [`merge`]: two become one where one will do, and
//!    where the fewest are wanted three become two.
//! 6. [`density`]: more ties where the rules ask for a number.
//! 7. [`align`]: ties move to rows that have more of them where nothing is lost, unless the fewest are
//!    wanted.
//! 8. [`tidy`]: ties slide along their row to whole dimensions where nothing is lost.
//!
//! Rules 4 to 8 hold for every tie placed; rules 1 to 3 are met where they can be. Nothing here checks
//! the outcome: the checker does, and measures again from scratch.

mod align;
mod board;
mod chain;
mod density;
mod merge;
mod perimeter;
mod reduce;
mod repair;
mod standing;
mod sweep;
mod tidy;
mod unblock;

use board::Board;

use crate::elevation::{Elevation, Point, Style};
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
    let mut placed = if elevation.automatic && !masonry.rings.is_empty() {
        automatic(elevation, masonry, rules)
    } else {
        elevation.fixed_ties().into_iter().map(|at| Placed { at, pinned: true }).collect()
    };
    placed.sort_by(|a, b| a.at.1.total_cmp(&b.at.1).then(a.at.0.total_cmp(&b.at.0)));
    placed
}

/// The regular layout is taken unless it has more than this many times the ties of the other.
const REGULAR_MAY_COST: f64 = 1.03;

/// Lays out ties at a field spacing: on main rows, and each at its last chance; takes the layout on main
/// rows unless it needs clearly more ties, or where the fewest are wanted any more.
fn lay<'a>(elevation: &Elevation, masonry: &'a Masonry, rules: &RuleSet, h: f64, v: f64) -> Board<'a> {
    let fewest = elevation.style == Style::Fewest;
    let blank = Board::new(elevation, masonry, rules, h, v);
    let done = |sweep: fn(&mut Board<'a>)| {
        let mut board = passes(blank.clone(), sweep);
        if fewest {
            merge::pairs(&mut board);
            merge::triples(&mut board);
        }
        board
    };
    let (regular, lean) = (done(sweep::run_on_main_rows), done(sweep::run));
    let may_cost = if fewest { 1.0 } else { REGULAR_MAY_COST };
    let worth_it = regular.count() as f64 <= lean.count() as f64 * may_cost;
    let mut board = if worth_it { regular } else { lean };
    if !fewest {
        merge::pairs(&mut board);
    }
    board
}

fn passes<'a>(mut board: Board<'a>, sweep: fn(&mut Board<'a>)) -> Board<'a> {
    perimeter::run(&mut board);
    sweep(&mut board);
    repair::run(&mut board);
    reduce::run(&mut board);
    repair::run(&mut board);
    board
}

fn automatic(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<Placed> {
    let fewest = fewest_ties(masonry, elevation, rules);
    let mut board = None;
    // The closest even spacing that needs no more ties than the rules ask for by number.
    for (h, v) in density::spacings(elevation, rules, fewest, m2(masonry.net_area)) {
        let tried = lay(elevation, masonry, rules, h, v);
        let enough = tried.count() <= fewest;
        board = Some(tried);
        if enough {
            break;
        }
    }
    let Some(mut board) = board else { return Vec::new() };
    density::run(&mut board, fewest);
    if elevation.style == Style::Even {
        align::run(&mut board);
    }
    tidy::run(&mut board);
    board
        .ties
        .iter()
        .filter(|t| t.alive && !t.pinned)
        .map(|t| Placed { at: (tidy_mm(t.x), tidy_mm(board.rows[t.row].y)), pinned: false })
        // Those that never move stand where they were given, to the last figure.
        .chain(elevation.fixed_ties().into_iter().map(|at| Placed { at, pinned: true }))
        .collect()
}
