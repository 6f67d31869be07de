//! New and old ties at their places, and the mark beside each new tie.

use super::draft::{Draft, FINE};
use super::font::Face;
use super::geom::{PaperPoint, Rect, segment};
use super::model::{Align, Layer, Symbol, Text};
use super::place::Taken;
use super::symbols::SIZE;
use super::view::{View, Wall};

/// Height of marks, mm.
const MARK: f64 = 1.8;

/// What came of drawing the ties.
#[derive(Default)]
pub(super) struct Outcome {
    /// Indices of ties whose mark found no room.
    pub unmarked: Vec<usize>,
    /// Marks that stand off with a leader.
    pub led: usize,
    /// Indices of ties outside the sheet.
    pub unseen: Vec<usize>,
}

/// Size of symbols, 1 for full size: smaller where ties stand close on paper.
pub(super) fn symbol_scale(wall: &Wall<'_>, scale: f64) -> f64 {
    let apart = close_spacing(wall) / scale;
    (apart / (SIZE * 1.3)).clamp(0.35, 1.0)
}

/// Distance within which one tie in twenty has its nearest neighbour, mm.
fn close_spacing(wall: &Wall<'_>) -> f64 {
    let mut points: Vec<(f64, f64)> = wall.plan.ties.iter().map(|t| t.at).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut nearest = vec![f64::INFINITY; points.len()];
    for i in 0..points.len() {
        for j in i + 1..points.len() {
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
pub(super) fn take_room(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) {
    for t in &wall.plan.ties {
        let at = view.at(t.at);
        if view.window.contains(at) {
            draft.room.take(boxed(at, SIZE / 2.0 * size), Taken::Symbol);
            if t.pinned {
                draft.room.take(boxed((at.0, at.1 + 2.0 * size), 0.6 * size), Taken::Symbol);
            }
        }
    }
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if view.window.contains(at) {
            draft.room.take(boxed(at, 0.9), Taken::Symbol);
        }
    }
}

/// Draws every symbol.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) {
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if view.window.contains(at) {
            draft.symbol(Layer::Ties, Symbol::OldTie, at, 1.0);
        }
    }
    for t in &wall.plan.ties {
        let at = view.at(t.at);
        if view.window.contains(at) {
            if t.pinned {
                draft.symbol(Layer::Ties, Symbol::Pin, at, size);
            }
            draft.symbol(Layer::Ties, Symbol::Tie(t.role), at, size);
        }
    }
}

/// Directions to try for a mark, best first: off the row line, to the right.
const ROUND: [(f64, f64); 12] = [
    (1.0, 1.0),
    (-1.0, 1.0),
    (1.0, -1.0),
    (-1.0, -1.0),
    (0.0, 1.0),
    (0.0, -1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (1.0, 0.5),
    (-1.0, 0.5),
    (1.0, -0.5),
    (-1.0, -0.5),
];

/// Writes the mark of every tie beside it, or further off with a leader.
pub(super) fn mark(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) -> Outcome {
    let mut out = Outcome::default();
    for (i, t) in wall.plan.ties.iter().enumerate() {
        let at = view.at(t.at);
        if !view.window.contains(at) {
            out.unseen.push(i);
        } else if beside(draft, view, at, &t.mark, size) {
        } else if stood_off(draft, view, at, &t.mark, size) {
            out.led += 1;
        } else {
            out.unmarked.push(i);
        }
    }
    out
}

/// A mark in a direction from a point, its nearest edge `out` away.
fn placed(at: PaperPoint, mark: &str, (dx, dy): (f64, f64), out: f64) -> Text {
    let align = if dx > 0.1 {
        Align::Left
    } else if dx < -0.1 {
        Align::Right
    } else {
        Align::Centre
    };
    let up = if dy > 0.9 {
        out * 0.55
    } else if dy < -0.9 {
        -out * 0.55 - MARK
    } else {
        dy * MARK * 1.2 - MARK / 2.0
    };
    let across = if dy.abs() > 0.9 { out * 0.75 } else { out };
    let up = if dx.abs() < 0.1 { if dy > 0.0 { out } else { -out - MARK } } else { up };
    Text::new((at.0 + dx * across, at.1 + up), mark, MARK, align, Face::Condensed)
}

fn inside(view: &View, t: &Text) -> bool {
    t.quad().iter().all(|&p| view.window.contains(p))
}

/// A little air round lettering, so that neighbours do not touch.
fn airy(t: &Text) -> Option<[PaperPoint; 4]> {
    Rect::round(t.quad()).map(|r| Rect::new(r.left - 0.3, r.bottom - 0.15, r.right + 0.3, r.top + 0.15).corners())
}

fn beside(draft: &mut Draft, view: &View, at: PaperPoint, mark: &str, size: f64) -> bool {
    let mut best: Option<(f64, Text)> = None;
    for (k, direction) in ROUND.into_iter().enumerate() {
        for (extra, penalty) in [(0.35, 0.0), (1.0, 1.5)] {
            let t = placed(at, mark, direction, SIZE / 2.0 * size + extra);
            let Some(quad) = airy(&t) else { continue };
            if !inside(view, &t) {
                continue;
            }
            if let Some(cost) = draft.room.cost(&quad) {
                let cost = cost + penalty + k as f64 * 0.1;
                if best.as_ref().is_none_or(|b| cost < b.0) {
                    best = Some((cost, t));
                }
            }
        }
        if best.as_ref().is_some_and(|b| b.0 < 1.0) {
            break;
        }
    }
    let Some((_, t)) = best else { return false };
    draft.text(Layer::Marks, t);
    true
}

fn stood_off(draft: &mut Draft, view: &View, at: PaperPoint, mark: &str, size: f64) -> bool {
    let start = SIZE / 2.0 * size;
    let mut best: Option<(f64, Text, PaperPoint)> = None;
    for out in [2.5, 4.0, 6.0, 8.5, 11.0] {
        for turn in 0..16 {
            let (sin, cos) = (f64::from(turn) * std::f64::consts::TAU / 16.0 + 0.2).sin_cos();
            let end = (at.0 + cos * (start + out), at.1 + sin * (start + out));
            let align = if cos >= 0.0 { Align::Left } else { Align::Right };
            let x = end.0 + if cos >= 0.0 { 0.4 } else { -0.4 };
            let t = Text::new((x, end.1 - MARK / 2.0), mark, MARK, align, Face::Condensed);
            let from = (at.0 + cos * start * 1.5, at.1 + sin * start * 1.5);
            let Some(quad) = airy(&t) else { continue };
            if !inside(view, &t) || draft.room.hits(&segment(from, end)) {
                continue;
            }
            if let Some(cost) = draft.room.cost(&quad) {
                let cost = cost + out;
                if best.as_ref().is_none_or(|b| cost < b.0) {
                    best = Some((cost, t, end));
                }
            }
        }
        if best.is_some() {
            break;
        }
    }
    let Some((_, t, end)) = best else { return false };
    let d = (end.0 - at.0).hypot(end.1 - at.1).max(1e-6);
    let from = (at.0 + (end.0 - at.0) * start / d, at.1 + (end.1 - at.1) * start / d);
    draft.line(Layer::Marks, from, end, FINE);
    draft.room.take(segment(from, end), Taken::Line);
    draft.text(Layer::Marks, t);
    true
}
