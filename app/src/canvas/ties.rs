//! Ties, new and old, with their marks.

use std::collections::HashSet;

use egui::{Align2, Color32, Rect, vec2};
use layout_core::Tie;
use layout_core::elevation::Elevation;

use super::Sheet;
use super::symbols::{Atlas, Symbol};
use crate::session::{Context, Selection};

/// From this scale on (points per mm) ties 300 mm apart leave room for marks.
const MARKS_FROM: f64 = 0.1;

/// Marks drawn at most: more could not be read anyway.
const MOST_MARKS: usize = 1500;

/// Size of marks, points.
const MARK_SIZE: f32 = 10.5;

/// Radius of a tie's symbol on the screen at a scale.
pub(super) fn radius(scale: f64) -> f32 {
    (scale * 52.0).clamp(1.5, 8.0) as f32
}

pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let r = radius(sheet.view.scale);
    let atlas = Atlas::of(sheet.painter, r);
    let mut mesh = atlas.mesh();
    let palette = &sheet.palette;
    let near = sheet.view.rect.expand(12.0);
    for old in e.existing_ties.iter().filter(|_| cx.session.layers.old_ties) {
        let at = sheet.view.to_screen(old.at);
        if near.contains(at) {
            atlas.add(&mut mesh, Symbol::Old, at, palette.paper, palette.hazard);
        }
    }
    let i = cx.session.elevation;
    // A layout of the drawing before the latest change is shown faintly until the new one is there.
    let strength = if cx.derived.is_late(i) { 0.45 } else { 1.0 };
    let dim = |c: Color32| c.gamma_multiply(strength);
    let ties = cx.derived.plan(i).map(|p| p.ties.as_slice()).unwrap_or_default();
    for tie in ties {
        let at = sheet.view.to_screen(tie.at);
        if near.contains(at) {
            let symbol = Symbol::Tie(tie.role, tie.pinned || tie.locked);
            atlas.add(&mut mesh, symbol, at, dim(palette.paper), dim(palette.role(tie.role)));
        }
    }
    // Without a layout the ties that never move still stand where they were put.
    if ties.is_empty() {
        for p in e.fixed_ties() {
            let at = sheet.view.to_screen(p);
            let symbol = Symbol::Tie(layout_core::Role::Field, true);
            atlas.add(&mut mesh, symbol, at, palette.paper, palette.ink);
        }
    }
    sheet.painter.add(mesh);
    if cx.session.layers.marks && sheet.view.scale >= MARKS_FROM {
        let seen = ties.iter().filter(|t| near.contains(sheet.view.to_screen(t.at)));
        marks(sheet, &seen.take(MOST_MARKS).collect::<Vec<_>>(), r, strength);
    }
    if let Some(Selection::Tie(at)) = cx.session.selection {
        let at = sheet.view.to_screen(at);
        sheet.painter.circle_stroke(at, r + 5.0, egui::Stroke::new(2.0, palette.accent));
    }
}

/// Marks beside their ties: at the upper right, or where that is taken at the upper left; left out where
/// both are, and there as soon as one looks nearer.
fn marks(sheet: &Sheet<'_>, ties: &[&Tie], r: f32, strength: f32) {
    let mut taken: HashSet<(i32, i32)> = HashSet::new();
    let cells = |rect: Rect| {
        let cell = |v: f32| (v / 3.0).floor() as i32;
        let (x, y) = (cell(rect.left())..=cell(rect.right()), cell(rect.top())..=cell(rect.bottom()));
        x.flat_map(move |i| y.clone().map(move |j| (i, j))).collect::<Vec<_>>()
    };
    for tie in ties {
        let symbol = Rect::from_center_size(sheet.view.to_screen(tie.at), egui::Vec2::splat(r * 1.6));
        taken.extend(cells(symbol));
    }
    for tie in ties {
        let at = sheet.view.to_screen(tie.at);
        let size = sheet.text_size(&tie.mark, MARK_SIZE);
        let right = Rect::from_min_size(at + vec2(r + 2.0, -r * 0.5 - size.y), size);
        let left = Rect::from_min_size(at + vec2(-r - 2.0 - size.x, -r * 0.5 - size.y), size);
        let free = |rect: &Rect| cells(rect.shrink(2.0)).iter().all(|c| !taken.contains(c));
        if let Some(rect) = [right, left].into_iter().find(free) {
            let ink = sheet.palette.role(tie.role).gamma_multiply(strength);
            sheet.text(rect.min, Align2::LEFT_TOP, &tie.mark, MARK_SIZE, ink);
            taken.extend(cells(rect.shrink(2.0)));
        }
    }
}
