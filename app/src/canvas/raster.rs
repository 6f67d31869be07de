//! Triangles and symbols put into a picture by the program itself.

use egui::{Color32, ColorImage, Mesh, Pos2};

/// A picture under way, and where it lies: `per_point` pixels in a point of the screen, its first pixel at `corner`,
/// in pixels of the screen.
pub(super) struct Picture {
    pub(super) image: ColorImage,
    corner: [i32; 2],
    per_point: f32,
}

impl Picture {
    /// An empty picture of a size in pixels; nothing is drawn on it.
    pub(super) fn new(corner: [i32; 2], size: [usize; 2], per_point: f32) -> Self {
        Self { image: ColorImage::filled(size, Color32::TRANSPARENT), corner, per_point }
    }

    /// Where a place of the screen is, pixels from the corner.
    fn place(&self, p: Pos2) -> [f32; 2] {
        [p.x * self.per_point - self.corner[0] as f32, p.y * self.per_point - self.corner[1] as f32]
    }

    /// Draws a mesh by the colours of its corners alone; whatever texture it has is passed over.
    pub(super) fn mesh(&mut self, mesh: &Mesh) {
        for corners in mesh.indices.as_chunks::<3>().0 {
            let corner = |i: u32| mesh.vertices.get(i as usize).map(|v| (self.place(v.pos), v.color));
            if let [Some(a), Some(b), Some(c)] = corners.map(corner) {
                self.triangle([a, b, c]);
            }
        }
    }

    /// A pixel belongs to the triangle its middle is in; one on a side that two share to the one at its right.
    fn triangle(&mut self, mut corners: [([f32; 2], Color32); 3]) {
        corners.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]).then(a.0[0].total_cmp(&b.0[0])));
        let [(a, ink_a), (b, ink_b), (c, ink_c)] = corners;
        if !corners.iter().all(|(p, _)| p[0].is_finite() && p[1].is_finite()) {
            return;
        }
        let [width, height] = self.image.size;
        // The first pixel whose middle is not before a place.
        let first = |v: f32, most: usize| ((v - 0.5).ceil().max(0.0) as usize).min(most);
        let cross = |p: [f32; 2], q: [f32; 2]| p[0] * q[1] - p[1] * q[0];
        let [ab, ac] = [b, c].map(|p| [p[0] - a[0], p[1] - a[1]]);
        let area = cross(ab, ac);
        if area == 0.0 {
            return;
        }
        let on = |p: [f32; 2], q: [f32; 2], y: f32| p[0] + (y - p[1]) * ((q[0] - p[0]) / (q[1] - p[1]));
        let plain = ink_a == ink_b && ink_b == ink_c;
        for row in first(a[1], height)..first(c[1], height) {
            let y = row as f32 + 0.5;
            let long = on(a, c, y);
            let short = if y < b[1] { on(a, b, y) } else { on(b, c, y) };
            let from = first(long.min(short), width);
            let to = first(long.max(short), width);
            let line = &mut self.image.pixels[row * width..][from..to.max(from)];
            if plain && ink_a.is_opaque() {
                line.fill(ink_a);
                continue;
            }
            for (i, pixel) in line.iter_mut().enumerate() {
                let ink = if plain {
                    ink_a
                } else {
                    let at = [(from + i) as f32 + 0.5 - a[0], y - a[1]];
                    let (v, w) = (cross(at, ac) / area, cross(ab, at) / area);
                    mixed([ink_a, ink_b, ink_c], [1.0 - v - w, v, w])
                };
                *pixel = pixel.blend(ink);
            }
        }
    }

    /// Draws a square cut out of another picture, its middle at a place of the screen on a whole pixel: `reach`
    /// pixels each way from a pixel of that picture, so strong, 0 to 1.
    pub(super) fn square(
        &mut self,
        from: &ColorImage,
        middle: [usize; 2],
        reach: usize,
        at: Pos2,
        strength: f32,
    ) {
        let [x, y] = self.place(at).map(|v| v.round() as i64 - reach as i64);
        let [width, height] = self.image.size;
        let side = 2 * reach as i64;
        let (left, right) = (x.clamp(0, width as i64), (x + side).clamp(0, width as i64));
        for row in y.clamp(0, height as i64)..(y + side).clamp(0, height as i64) {
            let source = (middle[1] - reach + (row - y) as usize) * from.size[0] + middle[0] - reach;
            for column in left..right {
                let ink = from.pixels[source + (column - x) as usize];
                if ink != Color32::TRANSPARENT {
                    let pixel = &mut self.image.pixels[row as usize * width + column as usize];
                    *pixel = pixel.blend(ink.gamma_multiply(strength));
                }
            }
        }
    }
}

/// Three colours in shares that make 1.
fn mixed(inks: [Color32; 3], shares: [f32; 3]) -> Color32 {
    let parts = inks.map(|c| c.to_array());
    let [r, g, b, a] = std::array::from_fn(|k| {
        let sum: f32 = (0..3).map(|i| f32::from(parts[i][k]) * shares[i]).sum();
        (sum + 0.5).clamp(0.0, 255.0) as u8
    });
    Color32::from_rgba_premultiplied(r, g, b, a)
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    fn quad(mesh: &mut Mesh, corners: [Pos2; 4], ink: Color32) {
        let first = mesh.vertices.len() as u32;
        corners.into_iter().for_each(|p| mesh.colored_vertex(p, ink));
        mesh.add_triangle(first, first + 1, first + 2);
        mesh.add_triangle(first, first + 2, first + 3);
    }

    #[test]
    fn each_pixel_of_a_shape_is_painted_once() {
        // Half see-through, so that one painted twice would be darker; two quads that share a leaning side.
        let ink = Color32::from_black_alpha(128);
        let mut mesh = Mesh::default();
        let (foot, head) = (pos2(14.3, 12.0), pos2(17.9, 4.0));
        quad(&mut mesh, [pos2(11.0, 4.0), head, foot, pos2(11.0, 12.0)], ink);
        quad(&mut mesh, [head, pos2(20.0, 4.0), pos2(20.0, 12.0), foot], ink);
        // The corner of the picture is at 10, 2 of the screen: the shape is 9 x 8 pixels from 1, 2 on.
        let mut picture = Picture::new([10, 2], [16, 16], 1.0);
        picture.mesh(&mesh);
        for (i, pixel) in picture.image.pixels.iter().enumerate() {
            let inside = (1..10).contains(&(i % 16)) && (2..10).contains(&(i / 16));
            assert_eq!(*pixel, if inside { ink } else { Color32::TRANSPARENT }, "pixel {i}");
        }
    }

    #[test]
    fn colours_run_from_corner_to_corner() {
        // From clear at 0 to full at 4 along: the middles of the pixels are at 1/8, 3/8, 5/8, 7/8 of 255.
        let mut mesh = Mesh::default();
        quad(
            &mut mesh,
            [pos2(0.0, 0.0), pos2(4.0, 0.0), pos2(4.0, 1.0), pos2(0.0, 1.0)],
            Color32::TRANSPARENT,
        );
        for i in [1, 2] {
            mesh.vertices[i].color = Color32::BLACK;
        }
        let mut picture = Picture::new([0, 0], [4, 1], 1.0);
        picture.mesh(&mesh);
        assert_eq!(picture.image.pixels.iter().map(Color32::a).collect::<Vec<_>>(), [32, 96, 159, 223]);
    }

    #[test]
    fn what_lies_outside_is_cut_off() {
        let mut picture = Picture::new([0, 0], [4, 4], 2.0);
        let mut mesh = Mesh::default();
        quad(&mut mesh, [pos2(-1e9, -9.0), pos2(9.0, -9.0), pos2(9.0, 1e9), pos2(-1e9, 1e9)], Color32::WHITE);
        quad(
            &mut mesh,
            [pos2(f32::NAN, 0.0), pos2(1.0, 0.0), pos2(1.0, 1.0), pos2(0.0, 1.0)],
            Color32::BLACK,
        );
        picture.mesh(&mesh);
        let stamp = ColorImage::filled([6, 6], Color32::RED);
        for at in [pos2(0.0, 0.0), pos2(-50.0, 1e7)] {
            picture.square(&stamp, [3, 3], 2, at, 1.0);
        }
        let red = picture.image.pixels.iter().filter(|p| **p == Color32::RED).count();
        assert_eq!(red, 4, "a quarter of a square of 4 x 4 pixels");
    }
}
