//! Marks of levels beside the wall: the datum that heights are measured from, and the base where it is not there.

use super::draft::{Draft, SMALL, THIN, small};
use super::model::{Align, Layer};
use super::view::{View, Wall};
use super::words::fill;

/// Breadth of the column they stand in, mm.
pub(super) const BREADTH: f64 = 4.8;

/// Half the breadth of the triangle of the datum, and its height, mm.
const TRIANGLE: (f64, f64) = (1.3, 2.2);

/// A level beside a piece of wall.
pub(super) enum Level {
    /// Height 0.
    Datum,
    /// The foot of the wall, mm.
    Base(f64),
}

/// The levels that a piece shows.
pub(super) fn of(wall: &Wall<'_>) -> Vec<Level> {
    let (b, e) = (&wall.bounds, &wall.extent);
    let mut all = Vec::new();
    if b.bottom <= 0.0 && b.top >= 0.0 && e.bottom <= 0.0 && e.top >= 0.0 {
        all.push(Level::Datum);
    }
    if !wall.cuts[1] && wall.style.mm(b.bottom) != wall.style.mm(0.0) {
        all.push(Level::Base(b.bottom));
    }
    all
}

/// Draws them in their column, which begins `out` from the wall. The datum has its words above its line and the base
/// below, so that they stand clear of each other however close they are.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, out: f64) {
    let w = wall.style.words;
    let (right, middle) = (view.wall.right, view.wall.right + out + BREADTH / 2.0 + 0.6);
    for level in of(wall) {
        let (y, words, align, off) = match level {
            Level::Datum => (view.y(0.0), w.datum.to_owned(), Align::Left, TRIANGLE.1 + 1.0),
            Level::Base(y) => (view.y(y), fill(w.base_at, &[&wall.style.mm(y)]), Align::Right, -1.0),
        };
        draft.broken_line(Layer::Dimensions, (right + 1.0, y), (middle + 2.0, y), THIN, 0.0);
        if matches!(level, Level::Datum) {
            let (half, high) = TRIANGLE;
            let ring = vec![(middle, y), (middle + half, y + high), (middle - half, y + high)];
            draft.fill(Layer::Dimensions, ring, 0.0);
        }
        draft.text(Layer::Dimensions, small((middle + SMALL / 2.0, y + off), &words, align).turned(90.0));
    }
}
