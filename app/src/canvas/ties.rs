//! Ties, new and old, with their marks.

use std::collections::HashSet;

use egui::{Align2, Color32, Pos2, Rect, vec2};
use layout_core::Tie;
use layout_core::elevation::{Elevation, Point, shape_ring};

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
        marks(sheet, e, &seen.take(MOST_MARKS).collect::<Vec<_>>(), r, strength);
    }
    if let Some(Selection::Tie(at)) = cx.session.selection {
        let at = sheet.view.to_screen(at);
        sheet.painter.circle_stroke(at, r + 5.0, egui::Stroke::new(2.0, palette.accent));
    }
}

/// Cells of the screen, three points wide, that are taken.
#[derive(Default)]
struct Taken(HashSet<(i32, i32)>);

impl Taken {
    fn cells(rect: Rect) -> impl Iterator<Item = (i32, i32)> {
        let cell = |v: f32| (v / 3.0).floor() as i32;
        let (x, y) = (cell(rect.left())..=cell(rect.right()), cell(rect.top())..=cell(rect.bottom()));
        x.flat_map(move |i| y.clone().map(move |j| (i, j)))
    }

    fn take(&mut self, rect: Rect) {
        self.0.extend(Self::cells(rect));
    }

    fn is_free(&self, rect: Rect) -> bool {
        Self::cells(rect).all(|c| !self.0.contains(&c))
    }

    /// Takes the cells along a line, as far as it is seen.
    fn take_line(&mut self, a: Pos2, b: Pos2, seen: Rect) {
        let (mut from, mut to) = (0.0_f32, 1.0_f32);
        for (p, q, lo, hi) in [(a.x, b.x, seen.left(), seen.right()), (a.y, b.y, seen.top(), seen.bottom())] {
            if (q - p).abs() < 1e-3 {
                if p < lo || p > hi {
                    return;
                }
            } else {
                let (s, t) = ((lo - p) / (q - p), (hi - p) / (q - p));
                (from, to) = (from.max(s.min(t)), to.min(s.max(t)));
            }
        }
        if from > to {
            return;
        }
        let steps = ((b - a).length() * (to - from) / 2.5).ceil().max(1.0) as usize;
        for i in 0..=steps {
            let p = a + (b - a) * (from + (to - from) * i as f32 / steps as f32);
            self.take(Rect::from_center_size(p, egui::Vec2::ZERO));
        }
    }
}

/// Marks beside their ties, in the first of the four corners that is clear of ties, marks and lines; else in the
/// first that is clear of ties and marks; left out where none is, and there as soon as one looks nearer.
fn marks(sheet: &Sheet<'_>, e: &Elevation, ties: &[&Tie], r: f32, strength: f32) {
    let (mut taken, mut lines) = (Taken::default(), Taken::default());
    let seen = sheet.view.rect.expand(12.0);
    let rings = e.openings.iter().map(|o| shape_ring(&o.shape)).chain([e.outline.clone()]);
    for ring in rings {
        let ring = sheet.points(&ring);
        for (i, p) in ring.iter().enumerate() {
            lines.take_line(*p, ring[(i + 1) % ring.len()], seen);
        }
    }
    let symbol =
        |at: Point, r: f32| Rect::from_center_size(sheet.view.to_screen(at), egui::Vec2::splat(r * 1.6));
    ties.iter().for_each(|t| taken.take(symbol(t.at, r)));
    e.existing_ties.iter().for_each(|t| taken.take(symbol(t.at, r)));
    for tie in ties {
        let at = sheet.view.to_screen(tie.at);
        let size = sheet.text_size(&tie.mark, MARK_SIZE);
        let (right, left) = (r + 2.0, -r - 2.0 - size.x);
        let (above, below) = (-r * 0.5 - size.y, r * 0.5);
        let places = [(right, above), (left, above), (right, below), (left, below)]
            .map(|(x, y)| Rect::from_min_size(at + vec2(x, y), size));
        let open = |rect: &&Rect| taken.is_free(rect.shrink(2.0));
        let clear = |rect: &&Rect| open(rect) && lines.is_free(**rect);
        if let Some(rect) = places.iter().find(clear).or_else(|| places.iter().find(open)).copied() {
            let ink = sheet.palette.role(tie.role).gamma_multiply(strength);
            sheet.text(rect.min, Align2::LEFT_TOP, &tie.mark, MARK_SIZE, ink);
            taken.take(rect.shrink(2.0));
        }
    }
}
