//! Numbered flags at the places of findings.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::geom::{PaperPoint, Rect, segment};
use super::model::{Align, Graphic, Layer};
use super::place::Taken;
use super::view::{View, Wall};

/// After so many flags without room, the rest are not tried: they are told in the list alone.
const MOST_LOST: usize = 200;

/// Draws a flag for every finding, numbered from 1. Returns the numbers that found no room.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View) -> Vec<usize> {
    let mut lost = Vec::new();
    for (i, finding) in wall.plan.findings.iter().enumerate() {
        if !wall.owns(finding.at) {
            continue;
        }
        let at = view.at(finding.at);
        let inside = at.0.is_finite() && at.1.is_finite() && view.window.contains(at);
        if !inside || lost.len() > MOST_LOST || !flag(draft, view, at, i + 1) {
            lost.push(i + 1);
        }
    }
    lost
}

fn flag(draft: &mut Draft, view: &View, at: PaperPoint, number: usize) -> bool {
    let words = number.to_string();
    let radius = small((0.0, 0.0), &words, Align::Centre).width() / 2.0 + 0.9;
    let radius = radius.max(2.0);
    let mut best: Option<(f64, PaperPoint)> = None;
    for out in [5.0, 7.5, 10.0, 14.0, 19.0, 25.0, 33.0, 42.0, 55.0] {
        for turn in 0..16 {
            let (sin, cos) = (f64::from(turn) * std::f64::consts::TAU / 16.0 + 0.6).sin_cos();
            let c = (at.0 + cos * out, at.1 + sin * out);
            let ring = Rect::new(c.0 - radius, c.1 - radius, c.0 + radius, c.1 + radius).inset(-0.3);
            let near = (at.0 + cos * 0.6, at.1 + sin * 0.6);
            let far = (c.0 - cos * radius, c.1 - sin * radius);
            if !ring.corners().iter().all(|&p| view.window.contains(p)) {
                continue;
            }
            // The leader may leave the symbol that the finding is about, but crosses no lettering.
            let leaves = (at.0 + cos * 2.0, at.1 + sin * 2.0);
            if draft.room.hits_text(&segment(near, far)) || draft.room.hits(&segment(leaves, far)) {
                continue;
            }
            let Some(cost) = draft.room.cost(&ring.corners()) else { continue };
            let cost = cost + out * 0.6;
            if best.is_none_or(|b| cost < b.0) {
                best = Some((cost, c));
            }
        }
        if best.is_some_and(|b| b.0 <= out) {
            break;
        }
    }
    let Some((_, c)) = best else { return false };
    let d = (c.0 - at.0).hypot(c.1 - at.1).max(1e-6);
    let edge = (c.0 + (at.0 - c.0) * radius / d, c.1 + (at.1 - c.1) * radius / d);
    draft.line(Layer::Findings, at, edge, THIN);
    draft.room.take_line(at, edge, Taken::Line);
    let dot = Rect::new(at.0 - 0.35, at.1 - 0.35, at.0 + 0.35, at.1 + 0.35);
    draft.fill(Layer::Findings, dot.corners().to_vec(), 0.0);
    draft.push(Layer::Findings, Graphic::Circle { centre: c, radius, width: MEDIUM });
    draft.text(Layer::Findings, small((c.0, c.1 - SMALL / 2.0), &words, Align::Centre));
    let ring = Rect::new(c.0 - radius, c.1 - radius, c.0 + radius, c.1 + radius);
    draft.room.take(ring.corners(), Taken::Symbol);
    true
}
