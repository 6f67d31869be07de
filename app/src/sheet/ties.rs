//! New and old ties at their places.

use super::draft::Draft;
use super::geom::{PaperPoint, Rect};
use super::model::{Layer, Symbol};
use super::place::Taken;
use super::symbols::SIZE;
use super::view::{View, Wall};

/// Half the breadth of the symbol of an old tie, mm.
pub(super) const OLD_HALF: f64 = 0.9;

/// Size of symbols, 1 for full size: smaller where ties stand close on paper.
pub(super) fn symbol_scale(wall: &Wall<'_>, scale: f64) -> f64 {
    let apart = close_spacing(wall) / scale;
    (apart / (SIZE * 1.2)).clamp(0.5, 1.0)
}

/// Distance within which one tie in twenty has its nearest neighbour, mm.
pub(super) fn close_spacing(wall: &Wall<'_>) -> f64 {
    let mut points: Vec<(f64, f64)> = wall.own_ties().map(|t| t.at).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut nearest = vec![f64::INFINITY; points.len()];
    for i in 0..points.len() {
        // A tie with hundreds nearer to the left or right than above or below has said enough.
        for j in i + 1..points.len().min(i + 400) {
            let dx = points[j].0 - points[i].0;
            if dx >= nearest[i].min(2000.0) {
                break;
            }
            let d = dx.hypot(points[j].1 - points[i].1);
            nearest[i] = nearest[i].min(d);
            nearest[j] = nearest[j].min(d);
        }
    }
    nearest.sort_by(f64::total_cmp);
    nearest.get(nearest.len() / 20).copied().unwrap_or(f64::INFINITY)
}

fn boxed((x, y): PaperPoint, half: f64) -> [PaperPoint; 4] {
    Rect::new(x - half, y - half, x + half, y + half).corners()
}

/// Takes the room of every symbol, before any lettering is placed.
pub(super) fn take_room(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64, matched: bool) {
    for t in wall.plan.ties.iter().filter(|t| matched || wall.owns(t.at)) {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            draft.room.take(boxed(at, SIZE / 2.0 * size), Taken::Symbol);
            if t.pinned {
                draft.room.take(boxed((at.0, at.1 + 2.0 * size), 0.6 * size), Taken::Pin);
            }
        }
    }
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            draft.room.take(boxed(at, OLD_HALF), Taken::Symbol);
        }
    }
}

/// Draws every symbol; those beyond a match line in outline, those beyond the edge of a detail not at all.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64, matched: bool) {
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if view.shown.contains(at) {
            draft.symbol(Layer::OldTies, Symbol::OldTie, at, 1.0);
        }
    }
    for t in wall.plan.ties.iter().filter(|t| matched || wall.owns(t.at)) {
        let at = view.at(t.at);
        if !view.shown.contains(at) {
            continue;
        }
        if !wall.owns(t.at) {
            draft.symbol(Layer::Ties, Symbol::Beyond(t.role), at, size);
            continue;
        }
        if t.pinned {
            draft.symbol(Layer::Ties, Symbol::Pin, at, size);
        }
        draft.symbol(Layer::Ties, Symbol::Tie(t.role), at, size);
    }
}

/// The number of an old tie, as drawn and listed.
pub(super) fn old_mark(index: usize) -> String {
    format!("O{}", index + 1)
}
