//! Ties, new and old.

use egui::Pos2;
use layout_core::elevation::Elevation;

use super::symbols::{Atlas, Inks, Symbol};
use super::{Sheet, View};
use crate::session::{Context, Selection};

/// Radius of a tie's symbol on the screen at a scale.
pub(super) fn radius(scale: f64) -> f32 {
    (scale * 52.0).clamp(1.5, 8.0) as f32
}

/// The symbols at the size that the scale asks for.
pub(super) fn symbols(sheet: &Sheet<'_>) -> Atlas {
    Atlas::of(sheet.painter, radius(sheet.view.scale), &Inks::of(&sheet.palette))
}

/// The symbols of the ties.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let atlas = symbols(sheet);
    let mut mesh = atlas.mesh();
    each(&sheet.view, cx, e, |symbol, at, strength| atlas.add(&mut mesh, symbol, at, strength));
    sheet.painter.add(mesh);
}

/// How strong ties are drawn, 0 to 1: a layout of the drawing before the latest change is shown faintly until the new
/// one is there.
fn strength(cx: &Context<'_>) -> f32 {
    if cx.derived.is_late(cx.session.elevation) { 0.45 } else { 1.0 }
}

/// Every tie in view, old ones first: its symbol, where it is on the screen, and how strong it is drawn.
pub(super) fn each(view: &View, cx: &Context<'_>, e: &Elevation, mut put: impl FnMut(Symbol, Pos2, f32)) {
    let near = view.rect.expand(12.0);
    let mut place = |symbol, at, strength| {
        let at = view.to_screen(at);
        if near.contains(at) {
            put(symbol, at, strength);
        }
    };
    for old in e.existing_ties.iter().filter(|_| cx.session.layers.old_ties) {
        place(Symbol::Old, old.at, 1.0);
    }
    let ties = cx.derived.plan(cx.session.elevation).map(|p| p.ties.as_slice()).unwrap_or_default();
    let strength = strength(cx);
    for tie in ties {
        place(Symbol::Tie(tie.role, tie.pinned || tie.locked), tie.at, strength);
    }
    // Without a layout the ties that never move still stand where they were put.
    if ties.is_empty() {
        for p in e.fixed_ties() {
            place(Symbol::Tie(layout_core::Role::Field, true), p, 1.0);
        }
    }
}

/// What is written beside ties, and the ring round the selected one.
pub(super) fn told(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let ties = cx.derived.plan(cx.session.elevation).map(|p| p.ties.as_slice()).unwrap_or_default();
    super::marks::paint(sheet, cx, e, ties, strength(cx));
    if let Some(Selection::Tie(at)) = cx.session.selection {
        let at = sheet.view.to_screen(at);
        let r = radius(sheet.view.scale);
        sheet.painter.circle_stroke(at, r + 5.0, egui::Stroke::new(2.0, sheet.palette.accent));
    }
}
