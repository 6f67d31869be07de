//! Ties, new and old.

use layout_core::elevation::Elevation;

use super::Sheet;
use super::symbols::{Atlas, Inks, Symbol};
use crate::session::{Context, Selection};

/// Radius of a tie's symbol on the screen at a scale.
pub(super) fn radius(scale: f64) -> f32 {
    (scale * 52.0).clamp(1.5, 8.0) as f32
}

pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let r = radius(sheet.view.scale);
    let atlas = Atlas::of(sheet.painter, r, &Inks::of(&sheet.palette));
    let mut mesh = atlas.mesh();
    let palette = &sheet.palette;
    let near = sheet.view.rect.expand(12.0);
    for old in e.existing_ties.iter().filter(|_| cx.session.layers.old_ties) {
        let at = sheet.view.to_screen(old.at);
        if near.contains(at) {
            atlas.add(&mut mesh, Symbol::Old, at, 1.0);
        }
    }
    let i = cx.session.elevation;
    // A layout of the drawing before the latest change is shown faintly until the new one is there.
    let strength = if cx.derived.is_late(i) { 0.45 } else { 1.0 };
    let ties = cx.derived.plan(i).map(|p| p.ties.as_slice()).unwrap_or_default();
    for tie in ties {
        let at = sheet.view.to_screen(tie.at);
        if near.contains(at) {
            let symbol = Symbol::Tie(tie.role, tie.pinned || tie.locked);
            atlas.add(&mut mesh, symbol, at, strength);
        }
    }
    // Without a layout the ties that never move still stand where they were put.
    if ties.is_empty() {
        for p in e.fixed_ties() {
            let at = sheet.view.to_screen(p);
            let symbol = Symbol::Tie(layout_core::Role::Field, true);
            atlas.add(&mut mesh, symbol, at, 1.0);
        }
    }
    sheet.painter.add(mesh);
    super::marks::paint(sheet, cx, e, ties, strength);
    if let Some(Selection::Tie(at)) = cx.session.selection {
        let at = sheet.view.to_screen(at);
        sheet.painter.circle_stroke(at, r + 5.0, egui::Stroke::new(2.0, palette.accent));
    }
}
