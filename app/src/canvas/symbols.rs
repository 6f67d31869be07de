//! Symbols of ties: one shape for each role, as on the drawing, rasterised once into a texture.

use std::sync::Arc;

use egui::{Color32, ColorImage, Mesh, Painter, Pos2, Rect, TextureHandle, TextureOptions, pos2, vec2};
use layout_core::Role;

use super::raster::Picture;
use crate::theme::Palette;

/// What a symbol stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Symbol {
    /// A new tie of a role: circle, square, full triangle on its point, diamond, triangle; pinned or not.
    Tie(Role, bool),
    /// An old tie: a cross.
    Old,
}

const ROLES: [Role; 5] = [Role::Field, Role::Jamb, Role::FreeEnd, Role::Joint, Role::Verge];

/// Rows of the texture: plain, and with a dot.
const ROWS: usize = 2;
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
        usize::from(matches!(self, Self::Tie(_, true)))
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

/// What symbols are drawn in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Inks {
    /// Ground inside the line.
    ground: Color32,
    /// Line of each column.
    lines: [Color32; COLUMNS],
}

impl Inks {
    /// Those of the sheet: a line for each role, and that of old ties.
    pub(super) fn of(palette: &Palette) -> Self {
        let mut lines = [palette.hazard; COLUMNS];
        for (line, role) in lines.iter_mut().zip(ROLES) {
            *line = palette.role(role);
        }
        Self { ground: palette.paper, lines }
    }
}

/// The symbols at one size, ground and line in one, so that each tie takes one small picture.
#[derive(Clone)]
pub(super) struct Atlas {
    texture: TextureHandle,
    /// What the texture shows.
    image: Arc<ColorImage>,
    /// Side of a cell, pixels.
    cell: usize,
    /// How far what is drawn in each column reaches from its middle, pixels: no more of the cell is painted.
    reach: [usize; COLUMNS],
    per_point: f32,
}

impl Atlas {
    /// The symbols with a radius in points of the screen; made anew only when the size or an ink changes.
    pub(super) fn of(painter: &Painter, radius: f32, inks: &Inks) -> Self {
        let ctx = painter.ctx();
        let per_point = ctx.pixels_per_point();
        let steps = (radius * per_point * 2.0).round().clamp(2.0, 80.0) as u32;
        let id = egui::Id::unique(("tie symbols", steps, per_point.to_bits(), inks));
        if let Some(atlas) = ctx.data(|d| d.get_temp::<Self>(id)) {
            return atlas;
        }
        let r = steps as f32 / 2.0;
        let cell = (r.ceil() as usize + 3) * 2;
        let image = image(cell, r, inks);
        let reach = std::array::from_fn(|column| reach(&image, cell, column));
        let image = Arc::new(image);
        let texture = ctx.load_texture("tie symbols", Arc::clone(&image), TextureOptions::NEAREST);
        let atlas = Self { texture, image, cell, reach, per_point };
        ctx.data_mut(|d| d.insert_temp(id, atlas.clone()));
        atlas
    }

    /// An empty mesh to add symbols to.
    pub(super) fn mesh(&self) -> Mesh {
        Mesh::with_texture(self.texture.id())
    }

    /// Draws a symbol on a picture where [`Self::add`] would put it.
    pub(super) fn put(&self, picture: &mut Picture, symbol: Symbol, at: Pos2, strength: f32) {
        let middle = [symbol.column(), symbol.row()].map(|n| n * self.cell + self.cell / 2);
        picture.square(&self.image, middle, self.reach[symbol.column()], at, strength);
    }

    /// Adds a symbol; a strength below 1 lets through what is behind it.
    pub(super) fn add(&self, mesh: &mut Mesh, symbol: Symbol, at: Pos2, strength: f32) {
        // On whole pixels, where the lines are as sharp as they were rasterised.
        let whole = |v: f32| (v * self.per_point).round() / self.per_point;
        let (column, row) = (symbol.column(), symbol.row());
        let reach = self.reach[column];
        let side = reach as f32 * 2.0 / self.per_point;
        let rect = Rect::from_center_size(pos2(whole(at.x), whole(at.y)), vec2(side, side));
        let (w, h) = ((self.cell * COLUMNS) as f32, (self.cell * ROWS) as f32);
        let middle = |n: usize| n * self.cell + self.cell / 2;
        let uv = |x: usize, y: usize| pos2(x as f32 / w, y as f32 / h);
        let from = uv(middle(column) - reach, middle(row) - reach);
        let to = uv(middle(column) + reach, middle(row) + reach);
        mesh.add_rect_with_uv(rect, Rect::from_min_max(from, to), Color32::WHITE.gamma_multiply(strength));
    }
}

/// Every symbol at a radius in pixels, in cells of a size in pixels.
fn image(cell: usize, r: f32, inks: &Inks) -> ColorImage {
    let (w, h) = (cell * COLUMNS, cell * ROWS);
    let mut pixels = vec![Color32::TRANSPARENT; w * h];
    let line = (r * 0.24).clamp(1.1, 2.6);
    for (i, pixel) in pixels.iter_mut().enumerate() {
        let (px, py) = (i % w, i / w);
        let (column, dotted) = (px / cell, py / cell == 1);
        let centre = cell as f32 / 2.0;
        let x = (px % cell) as f32 + 0.5 - centre;
        let y = centre - ((py % cell) as f32 + 0.5);
        let edge = distance(column, x / r, y / r) * r;
        let dot = 0.5 + (r * 0.38).max(1.0) - x.hypot(y);
        let mut ink = 0.5 + line / 2.0 - edge.abs();
        if dotted {
            ink = ink.max(dot);
        }
        if column == FREE_END {
            // Full, so its dot is left open.
            ink = 0.5 + line / 2.0 - edge;
            if dotted {
                ink = ink.min(1.0 - dot);
            }
        }
        if column == OLD {
            let cross = (x - y).abs().min((x + y).abs()) / 2.0_f32.sqrt();
            ink = (0.8 + line / 2.0 - cross).min(0.5 - edge);
        }
        let ground = inks.ground.gamma_multiply((0.5 - edge).clamp(0.0, 1.0));
        *pixel = ground.blend(inks.lines[column].gamma_multiply(ink.clamp(0.0, 1.0)));
    }
    ColorImage::new([w, h], pixels)
}

/// How far what is drawn in a column reaches from the middle of its cell, in pixels.
fn reach(image: &ColorImage, cell: usize, column: usize) -> usize {
    let off = |n: usize| {
        let n = n % cell;
        if n < cell / 2 { cell / 2 - n } else { n + 1 - cell / 2 }
    };
    let drawn = |&(i, pixel): &(usize, &Color32)| {
        i % image.size[0] / cell == column && *pixel != Color32::TRANSPARENT
    };
    let pixels = image.pixels.iter().enumerate().filter(drawn);
    pixels.map(|(i, _)| off(i % image.size[0]).max(off(i / image.size[0]))).max().unwrap_or(0)
}

/// Paints one symbol, for keys and lists.
pub fn paint_symbol(painter: &Painter, symbol: Symbol, at: Pos2, radius: f32, ground: Color32, ink: Color32) {
    let atlas = Atlas::of(painter, radius, &Inks { ground, lines: [ink; COLUMNS] });
    let mut mesh = atlas.mesh();
    atlas.add(&mut mesh, symbol, at, 1.0);
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
        let inks = Inks { ground: Color32::WHITE, lines: [Color32::BLACK; COLUMNS] };
        let image = image(cell, 8.0, &inks);
        let middle = |row: usize| image.pixels[(row * cell + cell / 2) * image.size[0] + cell / 2];
        assert_eq!((middle(0), middle(1)), (Color32::WHITE, Color32::BLACK));
    }

    #[test]
    fn no_more_is_painted_than_is_drawn() {
        let inks = Inks { ground: Color32::WHITE, lines: [Color32::BLACK; COLUMNS] };
        // A circle of 0.9 x 8 with a line of 0.24 x 8 and half a pixel of softness: 7.2 + 0.96 + 0.5 = 8.66.
        let all = image(24, 8.0, &inks);
        assert_eq!(reach(&all, 24, 0), 9);
        assert!((0..COLUMNS).all(|c| reach(&all, 24, c) <= 12), "within its cell");
        // The smallest: 0.9 x 1.5 + 0.55 + 0.5 = 2.4; the third pixel's middle is 2.55 off.
        assert_eq!(reach(&image(10, 1.5, &inks), 10, 0), 2);
    }
}
