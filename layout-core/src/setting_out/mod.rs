//! The placer: decides where every new tie goes.
//!
//! The passes, in order:
//!
//! 1. [`board`]: rows, cells, edges; pinned ties stand.
//! 2. [`perimeter`]: ties round openings, where the rules ask for whole perimeters.
//! 3. [`sweep`]: row by row from below, a tie where this row is the last chance to serve an edge or a
//!    piece of masonry; long stretches as a [`chain`] at even steps, every other one staggered.
//! 4. [`repair`]: whatever the sweep could not serve, if any place serves it; where another new tie
//!    stands in the way, [`unblock`] tries to move that one.
//! 5. [`reduce`]: ties that others make needless go; two become one where one will do.
//! 6. [`density`]: more ties where the rules ask for a number.
//! 7. [`tidy`]: ties slide along their row to whole dimensions where nothing is lost.
//!
//! Rules 4 to 8 hold for every tie placed; rules 1 to 3 are met where they can be. Nothing here checks
//! the outcome: the checker does, and measures again from scratch.

mod board;
mod chain;
mod density;
mod perimeter;
mod reduce;
mod repair;
mod standing;
mod sweep;
mod tidy;
mod unblock;

use board::Board;

use crate::elevation::{Elevation, Point};
use crate::masonry::Masonry;
use crate::rules::RuleSet;
use crate::units::tidy_mm;

/// A tie in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Where, mm.
    pub at: Point,
    /// Whether the user fixed it there.
    pub pinned: bool,
}

/// Sets out the ties of an elevation: the pinned ones, and where the elevation is automatic as many more
/// as its rules need. Row by row from below, each row from the left.
#[must_use]
pub fn set_out(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<Placed> {
    let mut placed = if elevation.automatic && !masonry.rings.is_empty() {
        automatic(elevation, masonry, rules)
    } else {
        elevation.pinned.iter().map(|&at| Placed { at, pinned: true }).collect()
    };
    placed.sort_by(|a, b| a.at.1.total_cmp(&b.at.1).then(a.at.0.total_cmp(&b.at.0)));
    placed
}

fn automatic(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<Placed> {
    let (h, v) = density::spacing(elevation, rules);
    let mut board = Board::new(elevation, masonry, rules, h, v);
    perimeter::run(&mut board);
    sweep::run(&mut board);
    repair::run(&mut board);
    reduce::run(&mut board);
    repair::run(&mut board);
    density::run(&mut board, rules.fewest_for(crate::units::m2(masonry.net_area)));
    tidy::run(&mut board);
    board
        .ties
        .iter()
        .filter(|t| t.alive)
        .map(|t| {
            let y = board.rows[t.row].y;
            let at = if t.pinned { (t.x, y) } else { (tidy_mm(t.x), tidy_mm(y)) };
            Placed { at, pinned: t.pinned }
        })
        .collect()
}
