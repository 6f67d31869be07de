//! The wall and its ties as a picture, while the sheet is moved and nothing on it changes.
//!
//! Thousands of symbols and lines are some ten thousand triangles a frame, each of which costs where the processor
//! draws the window. So what only moves is drawn into a picture once, and the picture is moved.

use std::sync::Arc;

use egui::{Id, LayerId, Mesh, Order, Painter, Pos2, Rect, TextureHandle, TextureOptions, pos2};
use layout_core::elevation::{Elevation, Point, Project};

use super::raster::Picture;
use super::{Sheet, View, ties, wall};
use crate::derived::Outcome;
use crate::session::{Context, Layers, Selection};
use crate::theme::Palette;

/// Pixels of a picture at most; a larger part of the screen is drawn anew each frame.
const MOST: f32 = 6e6;

/// What is drawn round the outline at most, points: ticks, and the second lines of its sides.
const ROUND: f32 = 24.0;

/// Everything a picture depends on but the place it is looked at from.
#[derive(Clone)]
struct Key {
    project: Arc<Project>,
    elevation: usize,
    outcome: Option<Arc<Outcome>>,
    is_late: bool,
    layers: Layers,
    palette: Palette,
    selection: Option<Selection>,
    hovered: Option<usize>,
    scale: f64,
    size: egui::Vec2,
    per_point: f32,
}

impl Key {
    fn is(&self, other: &Self) -> bool {
        let outcome = match (&self.outcome, &other.outcome) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        outcome
            && Arc::ptr_eq(&self.project, &other.project)
            && self.selection == other.selection
            && (self.elevation, self.is_late, self.layers, self.palette, self.hovered)
                == (other.elevation, other.is_late, other.layers, other.palette, other.hovered)
            && (self.scale, self.size, self.per_point) == (other.scale, other.size, other.per_point)
    }
}

/// What was drawn last.
#[derive(Clone)]
struct Still {
    key: Key,
    centre: Point,
    picture: Option<Shown>,
}

#[derive(Clone)]
struct Shown {
    texture: TextureHandle,
    /// The upper left corner, mm.
    corner: Point,
    /// What could be seen of the wall while it lies within this, mm from the centre of the view.
    seen_from: Rect,
}

/// Paints the wall and its ties: anew, or as the picture that was made when the sheet began to move.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation, hovered: Option<usize>) {
    let ctx = sheet.painter.ctx();
    let id = Id::unique("still picture of the wall");
    let key = Key {
        project: Arc::clone(cx.document.project()),
        elevation: cx.session.elevation,
        outcome: cx.derived.outcome(cx.session.elevation).cloned(),
        is_late: cx.derived.is_late(cx.session.elevation),
        layers: cx.session.layers,
        palette: sheet.palette,
        selection: cx.session.selection,
        hovered,
        scale: sheet.view.scale,
        size: sheet.view.rect.size(),
        per_point: ctx.pixels_per_point(),
    };
    let centre = sheet.view.centre;
    let mut picture = None;
    if let Some(before) = ctx.data(|d| d.get_temp::<Still>(id)).filter(|s| s.key.is(&key)) {
        let from = pos2(centre.0 as f32, centre.1 as f32);
        picture = before.picture.filter(|p| p.seen_from.contains(from));
        if picture.is_none() && before.centre != centre {
            picture = drawn(sheet, cx, e, hovered);
        }
    }
    match &picture {
        Some(shown) => show(sheet, shown),
        None => {
            wall::paint(sheet, cx, e, hovered);
            ties::paint(sheet, cx, e);
        }
    }
    ctx.data_mut(|d| d.insert_temp(id, Still { key, centre, picture }));
}

fn show(sheet: &Sheet<'_>, shown: &Shown) {
    let per_point = sheet.painter.ctx().pixels_per_point();
    let whole = |v: f32| (v * per_point).round() / per_point;
    let corner = sheet.view.to_screen(shown.corner);
    let [w, h] = shown.texture.size();
    let size = egui::vec2(w as f32, h as f32) / per_point;
    let rect = Rect::from_min_size(pos2(whole(corner.x), whole(corner.y)), size);
    let mut mesh = Mesh::with_texture(shown.texture.id());
    mesh.add_rect_with_uv(rect, Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0)), egui::Color32::WHITE);
    sheet.painter.add(mesh);
}

/// Draws the wall as far as it is seen, and half as far again each way.
fn drawn(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation, hovered: Option<usize>) -> Option<Shown> {
    let ctx = sheet.painter.ctx();
    let per_point = ctx.pixels_per_point();
    let view = sheet.view;
    let area = view.rect.expand2(view.rect.size() / 2.0);
    // On paper as large as that, at the same scale, in the same place.
    let wide = View { rect: area, ..view };
    let layer = LayerId::new(Order::Background, Id::unique("still picture of the wall"));
    let painter = Painter::new(ctx.clone(), layer, area);
    wall::paint(&Sheet { painter: &painter, view: wide, palette: sheet.palette }, cx, e, hovered);
    let list = ctx.graphics_mut(|g| std::mem::take(g.entry(layer)));
    let shapes = list.all_entries().cloned().collect();
    let meshes: Vec<Mesh> = ctx
        .tessellate(shapes, per_point)
        .into_iter()
        .filter_map(|p| match p.primitive {
            egui::epaint::Primitive::Mesh(mesh) => Some(mesh),
            egui::epaint::Primitive::Callback(_) => None,
        })
        .collect();
    let drawn = meshes.iter().fold(Rect::NOTHING, |all, mesh| all | mesh.calc_bounds());
    let part = drawn.expand(ROUND).intersect(area);
    let size = part.size() * per_point;
    if !part.is_positive()
        || size.x * size.y > MOST
        || size.max_elem() > ctx.input(|i| i.max_texture_side) as f32
    {
        return None;
    }
    let corner = [part.left(), part.top()].map(|v| (v * per_point).floor() as i32);
    let mut picture = Picture::new(corner, [size.x, size.y].map(|v| v.ceil() as usize + 1), per_point);
    meshes.iter().for_each(|mesh| picture.mesh(mesh));
    let atlas = ties::symbols(sheet);
    ties::each(&wide, cx, e, |symbol, at, strength| atlas.put(&mut picture, symbol, at, strength));
    let at = pos2(corner[0] as f32, corner[1] as f32) / per_point;
    let reach = (view.rect.size() / 2.0 / view.scale as f32).max(egui::Vec2::ZERO);
    let middle = pos2(view.centre.0 as f32, view.centre.1 as f32);
    Some(Shown {
        texture: ctx.load_texture("still picture of the wall", picture.image, TextureOptions::NEAREST),
        corner: view.to_world(at),
        seen_from: Rect::from_center_size(middle, reach * 2.0),
    })
}
