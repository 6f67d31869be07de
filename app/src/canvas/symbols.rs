//! Symbols of ties: one shape for each role, as on the drawing, rasterised once into a texture.

use egui::{Color32, ColorImage, Mesh, Painter, Pos2, Rect, TextureHandle, TextureOptions, pos2, vec2};
use layout_core::Role;

/// What a symbol stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Symbol {
    /// A new tie of a role: circle, square, full triangle on its point, diamond, triangle; pinned or not.
    Tie(Role, bool),
    /// An old tie: a cross.
    Old,
}

const ROLES: [Role; 5] = [Role::Field, Role::Jamb, Role::FreeEnd, Role::Joint, Role::Verge];

/// Rows of the texture: ground, line, line with a dot.
const ROWS: usize = 3;
const COLUMNS: usize = 6;

/// Columns that are not drawn as a line round a ground.
const FREE_END: usize = 2;
const OLD: usize = 5;

impl Symbol {
    fn column(self) -> usize {
        match self {
            Self::Tie(role, _) => ROLES.iter().position(|r| *r == role).unwrap_or(0),
            Self::Old => ROLES.len(),
        }
    }

    fn row(self) -> usize {
        if matches!(self, Self::Tie(_, true)) { 2 } else { 1 }
    }
}

/// Signed distance to the edge of the shape of a column, of radius 1, at a place with y up; below 0 inside.
fn distance(column: usize, x: f32, y: f32) -> f32 {
    let polygon = |sides: &[f32], reach: f32| {
        sides
            .iter()
            .map(|a| {
                let a = a.to_radians();
                x * a.cos() + y * a.sin() - reach
            })
            .fold(f32::NEG_INFINITY, f32::max)
    };
    match column {
        1 => polygon(&[0.0, 90.0, 180.0, 270.0], 0.84),
        FREE_END => polygon(&[90.0, 210.0, 330.0], 0.58),
        3 => polygon(&[45.0, 135.0, 225.0, 315.0], 0.78),
        4 => polygon(&[30.0, 150.0, 270.0], 0.58),
        OLD => x.hypot(y) - 0.95,
        _ => x.hypot(y) - 0.9,
    }
}

/// The symbols at one size.
#[derive(Clone)]
pub(super) struct Atlas {
    texture: TextureHandle,
    /// Half the side of a cell, points of the screen.
    half: f32,
    per_point: f32,
}

impl Atlas {
    /// The symbols with a radius in points of the screen; made anew only when the size changes.
    pub(super) fn of(painter: &Painter, radius: f32) -> Self {
        let ctx = painter.ctx();
        let per_point = ctx.pixels_per_point();
        let steps = (radius * per_point * 2.0).round().clamp(2.0, 80.0) as u32;
        let id = egui::Id::unique(("tie symbols", steps, per_point.to_bits()));
        if let Some(atlas) = ctx.data(|d| d.get_temp::<Self>(id)) {
            return atlas;
        }
        let r = steps as f32 / 2.0;
        let cell = (r.ceil() as usize + 3) * 2;
        let texture = ctx.load_texture("tie symbols", image(cell, r), TextureOptions::NEAREST);
        let atlas = Self { texture, half: cell as f32 / 2.0 / per_point, per_point };
        ctx.data_mut(|d| d.insert_temp(id, atlas.clone()));
        atlas
    }

    /// An empty mesh to add symbols to.
    pub(super) fn mesh(&self) -> Mesh {
        Mesh::with_texture(self.texture.id())
    }

    /// Adds a symbol: its ground, then its line.
    pub(super) fn add(&self, mesh: &mut Mesh, symbol: Symbol, at: Pos2, ground: Color32, ink: Color32) {
        // On whole pixels, where the lines are as sharp as they were rasterised.
        let whole = |v: f32| (v * self.per_point).round() / self.per_point;
        let at = pos2(whole(at.x), whole(at.y));
        let rect = Rect::from_center_size(at, vec2(self.half * 2.0, self.half * 2.0));
        for (row, colour) in [(0, ground), (symbol.row(), ink)] {
            let uv = |c: usize, r: usize| pos2(c as f32 / COLUMNS as f32, r as f32 / ROWS as f32);
            let column = symbol.column();
            mesh.add_rect_with_uv(rect, Rect::from_min_max(uv(column, row), uv(column + 1, row + 1)), colour);
        }
    }
}

/// Every symbol at a radius in pixels, white, in cells of a size in pixels.
fn image(cell: usize, r: f32) -> ColorImage {
    let (w, h) = (cell * COLUMNS, cell * ROWS);
    let mut pixels = vec![Color32::TRANSPARENT; w * h];
    let line = (r * 0.24).clamp(1.1, 2.6);
    for (i, pixel) in pixels.iter_mut().enumerate() {
        let (px, py) = (i % w, i / w);
        let (column, row) = (px / cell, py / cell);
        let centre = cell as f32 / 2.0;
        let x = (px % cell) as f32 + 0.5 - centre;
        let y = centre - ((py % cell) as f32 + 0.5);
        let edge = distance(column, x / r, y / r) * r;
        let mut ink = if row == 0 { 0.5 - edge } else { 0.5 + line / 2.0 - edge.abs() };
        let dot = 0.5 + (r * 0.38).max(1.0) - x.hypot(y);
        if row == 2 {
            ink = ink.max(dot);
        }
        if column == FREE_END && row > 0 {
            // Full, so its dot is left open.
            ink = 0.5 + line / 2.0 - edge;
            if row == 2 {
                ink = ink.min(1.0 - dot);
            }
        }
        if column == OLD && row > 0 {
            let cross = (x - y).abs().min((x + y).abs()) / 2.0_f32.sqrt();
            ink = (0.8 + line / 2.0 - cross).min(0.5 - edge);
        }
        *pixel = Color32::from_white_alpha((ink.clamp(0.0, 1.0) * 255.0) as u8);
    }
    ColorImage::new([w, h], pixels)
}

/// Paints one symbol, for keys and lists.
pub fn paint_symbol(painter: &Painter, symbol: Symbol, at: Pos2, radius: f32, ground: Color32, ink: Color32) {
    let atlas = Atlas::of(painter, radius);
    let mut mesh = atlas.mesh();
    atlas.add(&mut mesh, symbol, at, ground, ink);
    painter.add(mesh);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_role_has_a_shape_of_its_own() {
        // Sampled round the middle at two thirds of the radius to one and a bit, the shapes differ.
        let print = |column: usize| -> Vec<bool> {
            (0..48)
                .flat_map(|k| {
                    let a = (k as f32 * 7.5).to_radians();
                    [0.7, 0.9, 1.05].map(|r| distance(column, r * a.cos(), r * a.sin()) < 0.0)
                })
                .collect()
        };
        for a in 0..5 {
            for b in 0..a {
                assert_ne!(print(a), print(b), "{a} and {b}");
            }
        }
    }

    #[test]
    fn a_pinned_tie_has_a_dot() {
        let cell = 24;
        let image = image(cell, 8.0);
        let middle = |row: usize| image.pixels[(row * cell + cell / 2) * image.size[0] + cell / 2].a();
        assert_eq!((middle(1), middle(2)), (0, 255));
    }
}
