//! Keep-outs: hatched, with a dashed line where ties may begin again; each told in the notes with its place, its size
//! and the distance to keep clear of it.

use super::draft::{Draft, THIN};
use super::flow::Notes;
use super::geom::{Rect, around, hatch};
use super::model::{Dash, Graphic, Layer};
use super::place::Taken;
use super::view::{View, Wall};
use super::words::{self, fill};
use layout_core::elevation::{KeepOut, Shape, shape_bounds, shape_ring};

/// Between strokes of the hatch, mm.
const PITCH: f64 = 1.6;

/// Draws each keep-out and the line round it, and takes their room.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    for k in &wall.elevation.keep_outs {
        let ring = view.ring(&shape_ring(&k.shape));
        for (a, b) in hatch(&ring, PITCH, &view.shown).into_iter().chain(view.sides(&ring)) {
            draft.line(Layer::Masonry, a, b, THIN);
            draft.room.take_line(a, b, Taken::Line);
        }
        let clear = k.clearance / view.scale;
        if !clear.is_finite() || clear <= 0.0 {
            continue;
        }
        for points in around(&ring, clear, &view.shown) {
            for p in points.windows(2) {
                draft.room.take_line(p[0], p[1], Taken::Fine);
            }
            let (width, dash) = (THIN, Dash::Dashed);
            draft.push(Layer::Masonry, Graphic::Stroke { points, closed: false, width, dash, grey: 0.0 });
        }
    }
}

/// The keep-outs that a piece shows, with their numbers.
pub(super) fn seen<'a>(wall: &Wall<'a>) -> Vec<(usize, &'a KeepOut)> {
    let all = wall.elevation.keep_outs.iter().enumerate();
    all.filter(|(_, k)| wall.shows(&k.shape, k.clearance)).collect()
}

/// Lists them: what they are, where, how large, how far to keep clear of them.
pub(super) fn list(notes: &mut Notes, wall: &Wall<'_>) {
    let (style, w) = (wall.style, wall.style.words);
    let all = seen(wall);
    if all.is_empty() {
        return;
    }
    notes.heading(w.keep_outs);
    for (i, k) in all {
        let number = fill(w.keep_out_n, &[&(i + 1).to_string()]);
        let name = Some(k.name.trim()).filter(|n| !n.is_empty()).unwrap_or(&number);
        let (left, bottom, right, top) = shape_bounds(&k.shape);
        let r = Rect::new(left, bottom, right, top);
        let (place, (x, y)) = match k.shape {
            Shape::Circle { .. } => (w.keep_out_round, r.centre()),
            _ => (w.keep_out_square, (r.left, r.bottom)),
        };
        let (x, y) = (style.mm((x - wall.bounds.left).round()), style.mm(y.round()));
        let said = fill(place, &[name, &words::size(&k.shape, style), &x, &y, &style.mm(k.clearance)]);
        notes.hanging(Layer::Notes, "–", 4.0, &said);
    }
}
