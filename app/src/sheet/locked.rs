//! Locked areas, whose ties stay as they are: a fine line with short strokes to the inside round each, its name at
//! the line, and rows of the key.

use super::draft::{Draft, SMALL, THIN};
use super::flow::{Notes, Sample};
use super::font::Face;
use super::geom::{PaperPoint, Rect};
use super::model::Layer;
use super::place::Taken;
use super::view::{View, Wall};
use super::wall::along;
use super::words::fill;
use layout_core::elevation::{Locked, Shape, shape_bounds, shape_ring};

/// Distance between the strokes, mm.
const PITCH: f64 = 2.4;

/// Length of the strokes, mm.
const STROKE: f64 = 1.0;

/// A name is not cut to less than this, mm.
const LEAST_SHORTENED: f64 = 24.0;

/// A line with strokes at its left, seen from `a` to `b`, the first `before` from `a`, one every [`PITCH`], as far as
/// they stand where `kept` says. Returns how far the next would be from `b`.
fn fringed(
    draft: &mut Draft,
    layer: Layer,
    (a, b): (PaperPoint, PaperPoint),
    before: f64,
    kept: impl Fn(PaperPoint) -> bool,
) -> f64 {
    draft.line(layer, a, b, THIN);
    let length = (b.0 - a.0).hypot(b.1 - a.1);
    if length < 1e-9 || !length.is_finite() {
        return before;
    }
    let (ux, uy) = ((b.0 - a.0) / length, (b.1 - a.1) / length);
    let mut d = before;
    while d < length {
        let foot = (a.0 + ux * d, a.1 + uy * d);
        let tip = (foot.0 - uy * STROKE, foot.1 + ux * STROKE);
        if kept(tip) {
            draft.line(layer, foot, tip, THIN);
        }
        d += PITCH;
    }
    d - length
}

/// The ring of an area on paper, with its inside at the left of each side.
fn ring(view: &View, area: &Locked) -> Vec<PaperPoint> {
    let mut ring = view.ring(&shape_ring(&area.shape));
    let n = ring.len();
    let turn: f64 = (0..n).map(|i| (ring[i], ring[(i + 1) % n])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    if turn < 0.0 {
        ring.reverse();
    }
    ring
}

/// Draws the line round each area, and takes its room.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    for area in &wall.elevation.locked {
        let mut before = PITCH / 2.0;
        for (a, b) in view.sides(&ring(view, area)) {
            before = fringed(draft, Layer::Masonry, (a, b), before, |p| view.shown.contains(p));
            draft.room.take_line(a, b, Taken::Line);
        }
    }
}

fn name(area: &Locked) -> Option<&str> {
    Some(area.name.trim()).filter(|n| !n.is_empty())
}

/// Writes the name of each area at its line. Returns how many found no room.
pub(super) fn label(draft: &mut Draft, wall: &Wall<'_>, view: &View) -> usize {
    let w = wall.style.words;
    let mut lost = 0;
    for area in wall.elevation.locked.iter().filter(|a| wall.shows(&a.shape, 0.0)) {
        let mut sides = view.sides(&ring(view, area));
        if matches!(area.shape, Shape::Circle { .. } | Shape::Arched { .. }) {
            // Beside a curve lettering stands level above or below it.
            let (left, bottom, right, top) = shape_bounds(&area.shape);
            sides = view.sides(&view.rect(&Rect::new(left, bottom, right, top)).corners());
        }
        // The highest first.
        sides.sort_by(|a, b| (b.0.1 + b.1.1).total_cmp(&(a.0.1 + a.1.1)));
        let in_full = name(area).map(|n| fill(w.locked_named, &[n]));
        let in_full = in_full.as_deref();
        let done = at_a_side(draft, &sides, |_| in_full.map(str::to_owned))
            || at_a_side(draft, &sides, |room| {
                let short = in_full.filter(|_| room > LEAST_SHORTENED)?;
                Some(Face::Condensed.shorten(short, SMALL, room))
            })
            || at_a_side(draft, &sides, |_| Some(w.locked.to_owned()));
        lost += usize::from(!done);
    }
    lost
}

/// Writes words along the first side that has room, given the length of each, mm.
fn at_a_side(
    draft: &mut Draft,
    sides: &[(PaperPoint, PaperPoint)],
    words: impl Fn(f64) -> Option<String>,
) -> bool {
    sides.iter().any(|&(a, b)| {
        let Some(text) = words((b.0 - a.0).hypot(b.1 - a.1)) else { return false };
        let (a, b, inside) = upright_reading(a, b);
        let angle = (b.1 - a.1).atan2(b.0 - a.0).to_degrees();
        // Baselines above and below the line; the strokes are on one side of it.
        let (above, below) = if inside { (STROKE + 0.7, 0.7) } else { (0.7, STROKE + 0.7) };
        along(draft, a, b, &text, &[(-above, angle), (below + SMALL, angle)])
    })
}

/// A side turned so that lettering along it reads from below or from the right; and whether the inside of the area
/// is then above it.
fn upright_reading(a: PaperPoint, b: PaperPoint) -> (PaperPoint, PaperPoint, bool) {
    let angle = (b.1 - a.1).atan2(b.0 - a.0).to_degrees();
    if angle > 90.0 + 1e-6 || angle <= -90.0 + 1e-6 { (b, a, false) } else { (a, b, true) }
}

/// Row of the key: how many areas this piece shows, their names under it.
pub(super) fn key(notes: &mut Notes, wall: &Wall<'_>, with_count: bool) {
    let w = wall.style.words;
    let areas: Vec<&Locked> = wall.elevation.locked.iter().filter(|a| wall.shows(&a.shape, 0.0)).collect();
    if areas.is_empty() {
        return;
    }
    let names: Vec<&str> = areas.iter().filter_map(|a| name(a)).collect();
    let words = if names.is_empty() {
        w.key_locked.to_owned()
    } else {
        fill(w.key_locked_named, &[w.key_locked, &names.join("; ")])
    };
    let count = if with_count { areas.len().to_string() } else { String::new() };
    notes.key(Sample::Locked, &words, &count);
}

/// A piece of the line for the key.
pub(super) fn sample(draft: &mut Draft, (x, y): PaperPoint) {
    let all = Rect::new(x - 4.0, y - 2.0, x + 4.0, y + 2.0);
    fringed(draft, Layer::Notes, ((x - 4.0, y - 0.5), (x + 4.0, y - 0.5)), 0.4, |p| all.contains(p));
}
