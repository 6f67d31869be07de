//! Zones of the wind, rings of the pull tests, treatment of old ties: on the drawing and in its notes.

use super::draft::{Draft, THIN, small};
use super::flow::{Notes, Sample};
use super::geom::PaperPoint;
use super::model::{Align, Dash, Graphic, Layer, Symbol};
use super::place::Taken;
use super::symbols::SIZE;
use super::view::{View, Wall};
use crate::engineering::{Section, figure, for_sheet};
use layout_core::demand::DemandZone;
use layout_core::elevation::{ExistingTie, Treatment};
use layout_core::engineering::proposal;
use layout_core::testing::TestPlan;

/// Sides of the ring drawn round a tie.
const RING_SIDES: usize = 24;

/// How far the ring stands off the symbol, mm.
const RING_AIR: f64 = 0.55;

fn zones<'a>(wall: &'a Wall<'_>) -> &'a [DemandZone] {
    wall.plan.engineering.demand.as_ref().and_then(|d| d.demand()).map_or(&[], |d| d.zones.as_slice())
}

fn rings(wall: &Wall<'_>) -> Vec<usize> {
    wall.plan.engineering.tests.as_ref().map(TestPlan::rings).unwrap_or_default()
}

/// Takes the room of the rings, before any lettering is placed.
pub(super) fn take_room(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) {
    for tie in rings(wall).into_iter().filter_map(|i| wall.plan.ties.get(i)) {
        let (x, y) = view.at(tie.at);
        let r = SIZE / 2.0 * size + RING_AIR;
        if view.shown.contains((x, y)) {
            draft.room.take([(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)], Taken::Symbol);
        }
    }
}

/// Draws the limits of the zones, the rings, and letters at old ties that are isolated or removed.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, size: f64) {
    zone_lines(draft, wall, view);
    for tie in rings(wall).into_iter().filter_map(|i| wall.plan.ties.get(i)) {
        let at = view.at(tie.at);
        if view.shown.contains(at) {
            ring(draft, Layer::Ties, at, SIZE / 2.0 * size + RING_AIR);
        }
    }
    for t in &wall.elevation.existing_ties {
        let at = view.at(t.at);
        if let Some(letter) = letter(t).filter(|_| view.shown.contains(at)) {
            beside(draft, at, 1.1, letter);
        }
    }
}

/// The letter of what is done with an old tie, where it is not left.
fn letter(t: &ExistingTie) -> Option<&'static str> {
    match proposal(t).treatment {
        Treatment::Isolate => Some("I"),
        Treatment::Remove => Some("R"),
        Treatment::Leave | Treatment::AsProposed => None,
    }
    .filter(|_| t.grade > 0 || t.treatment != Treatment::AsProposed)
}

/// A short text at the first place round a point that is free.
fn beside(draft: &mut Draft, at: PaperPoint, off: f64, text: &str) {
    for (dx, align) in [(1.0, Align::Left), (-1.0, Align::Right)] {
        for dy in [-0.9, 0.6, -2.6] {
            let label = small((at.0 + dx * (off + 0.3), at.1 + dy), text, align);
            if draft.room.cost(&label.quad()).is_some_and(|c| c < 10.0) {
                draft.text(Layer::Ties, label);
                return;
            }
        }
    }
}

fn ring(draft: &mut Draft, layer: Layer, (x, y): PaperPoint, r: f64) {
    let turn = |i: usize| (i as f64 * std::f64::consts::TAU / RING_SIDES as f64).sin_cos();
    let points = (0..RING_SIDES).map(turn).map(|(s, c)| (x + r * c, y + r * s)).collect();
    draft.push(layer, Graphic::Stroke { points, closed: true, width: THIN, dash: Dash::Solid, grey: 0.0 });
}

/// A ring for the key.
pub(super) fn sample_ring(draft: &mut Draft, at: PaperPoint) {
    ring(draft, Layer::Notes, at, 1.7);
}

/// The limits between zones, each zone with its letter and spacing where there is room.
fn zone_lines(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    let all = zones(wall);
    if all.len() < 2 {
        return;
    }
    let w = view.wall;
    let mut upright: Vec<f64> =
        all.iter().map(|z| view.x(z.x.1)).filter(|x| *x > w.left + 0.1 && *x < w.right - 0.1).collect();
    let mut level: Vec<f64> =
        all.iter().map(|z| view.y(z.y.1)).filter(|y| *y > w.bottom + 0.1 && *y < w.top - 0.1).collect();
    for cuts in [&mut upright, &mut level] {
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    }
    for x in upright {
        draft.styled(Layer::Notes, (x, w.bottom), (x, w.top), THIN, Dash::Dotted, 0.0);
    }
    for y in level {
        draft.styled(Layer::Notes, (w.left, y), (w.right, y), THIN, Dash::Dotted, 0.0);
    }
    for z in all {
        let (left, right) = (view.x(z.x.0).max(w.left), view.x(z.x.1).min(w.right));
        let (bottom, top) = (view.y(z.y.0).max(w.bottom), view.y(z.y.1).min(w.top));
        name(draft, z, (left + right) / 2.0, right - left, (bottom, top));
    }
}

/// The letter of a zone with its spacing, or the letter alone, where it is free, from the top.
fn name(draft: &mut Draft, z: &DemandZone, x: f64, room: f64, (bottom, top): (f64, f64)) {
    let full = format!("ZONE {}  {} x {}", z.name, figure(z.horizontal), figure(z.vertical));
    for text in [full, format!("ZONE {}", z.name), z.name.clone()] {
        let mut y = top - 4.0;
        while y > bottom + 1.0 {
            let label = small((x, y), &text, Align::Centre);
            if label.width() <= room - 1.0 && draft.room.cost(&label.quad()).is_some_and(|c| c < 10.0) {
                draft.text(Layer::Notes, label);
                return;
            }
            y -= 1.5;
        }
    }
}

/// Rows of the key.
pub(super) fn key(notes: &mut Notes, wall: &Wall<'_>) {
    if zones(wall).len() > 1 {
        notes.key(Sample::ZoneLimit, "limit between zones of wind", "");
    }
    let tested = rings(wall).len();
    if tested > 0 {
        notes.key(Sample::Ring, "tie to be pull-tested", &tested.to_string());
    }
}

/// Rows of the key for what is done with old ties.
pub(super) fn old_tie_key(notes: &mut Notes, wall: &Wall<'_>) {
    let treated = |l: &str| wall.elevation.existing_ties.iter().filter(|t| letter(t) == Some(l)).count();
    for (l, words) in [("I", "of these, to isolate (I)"), ("R", "of these, to remove (R)")] {
        if treated(l) > 0 {
            notes.key(Sample::Tie(Symbol::OldTie), words, &treated(l).to_string());
        }
    }
}

/// What was worked out, section by section.
pub(super) fn notes(notes: &mut Notes, wall: &Wall<'_>) {
    for Section { title, lines, notes: more } in for_sheet(wall.elevation, wall.plan) {
        notes.heading(&title.to_uppercase());
        for l in lines {
            let how = if l.how.is_empty() { String::new() } else { format!(" ({})", l.how) };
            notes.para(Layer::Notes, &format!("{}: {}{how}", l.label, l.value));
        }
        for text in more {
            notes.para(Layer::Notes, &text);
        }
    }
}
