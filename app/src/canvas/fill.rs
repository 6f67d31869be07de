//! Filling and hatching rings of any form.

use egui::{Color32, Mesh, Pos2, Shape, Stroke, pos2};
use layout_core::elevation::Point;

use super::View;

/// The parts of the level line at `y` inside a ring (even-odd), from the left, mm.
#[must_use]
pub fn spans(ring: &[Point], y: f64) -> Vec<(f64, f64)> {
    let n = ring.len();
    let mut xs: Vec<f64> = (0..n)
        .filter_map(|i| {
            let (a, b) = (ring[i], ring[(i + 1) % n]);
            ((a.1 > y) != (b.1 > y)).then(|| a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0))
        })
        .collect();
    xs.sort_by(f64::total_cmp);
    xs.chunks_exact(2).map(|c| (c[0], c[1])).collect()
}

/// A ring cut into trapezoids with level sides: lower left, lower right, upper right, upper left.
/// Even-odd, so a ring that crosses itself is filled as its parts.
#[must_use]
pub fn trapezoids(ring: &[Point]) -> Vec<[Point; 4]> {
    if !ring.iter().all(|p| p.0.is_finite() && p.1.is_finite()) {
        return Vec::new();
    }
    let n = ring.len();
    let mut ys: Vec<f64> = ring.iter().map(|p| p.1).collect();
    ys.sort_by(f64::total_cmp);
    ys.dedup();
    let mut out = Vec::new();
    for band in ys.windows(2) {
        let (lo, hi) = (band[0], band[1]);
        let middle = (lo + hi) / 2.0;
        let x_at = |i: usize, y: f64| {
            let (a, b) = (ring[i], ring[(i + 1) % n]);
            a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0)
        };
        let mut crossing: Vec<usize> =
            (0..n).filter(|&i| (ring[i].1 > middle) != (ring[(i + 1) % n].1 > middle)).collect();
        crossing.sort_by(|&i, &j| x_at(i, middle).total_cmp(&x_at(j, middle)));
        for pair in crossing.chunks_exact(2) {
            let (l, r) = (pair[0], pair[1]);
            out.push([(x_at(l, lo), lo), (x_at(r, lo), lo), (x_at(r, hi), hi), (x_at(l, hi), hi)]);
        }
    }
    out
}

/// The opaque colour so far from one to another, 0 to 1.
#[must_use]
pub fn between(from: Color32, to: Color32, far: f32) -> Color32 {
    let part = |a: u8, b: u8| (f32::from(a) + (f32::from(b) - f32::from(a)) * far).round() as u8;
    Color32::from_rgb(part(from.r(), to.r()), part(from.g(), to.g()), part(from.b(), to.b()))
}

/// A ring filled with a colour.
pub fn filled(ring: &[Point], view: &View, colour: Color32) -> Shape {
    let mut mesh = Mesh::default();
    for corners in trapezoids(ring) {
        trapezoid(&mut mesh, &corners, view, colour);
    }
    Shape::mesh(mesh)
}

/// Adds four corners, in order round about, to a mesh.
pub fn trapezoid(mesh: &mut Mesh, corners: &[Point; 4], view: &View, colour: Color32) {
    let first = mesh.vertices.len() as u32;
    for p in corners {
        mesh.colored_vertex(view.to_screen(*p), colour);
    }
    mesh.add_triangle(first, first + 1, first + 2);
    mesh.add_triangle(first, first + 2, first + 3);
}

/// Diagonal hatching of a ring on the screen, `gap` points apart.
#[must_use]
pub fn hatched(ring: &[Pos2], within: egui::Rect, gap: f32, stroke: Stroke) -> Vec<Shape> {
    let n = ring.len();
    // A hatch line is x + y = c: in the slanted coordinates c = x + y it is level.
    let sum = |p: Pos2| p.x + p.y;
    let (lo, hi) =
        ring.iter().fold((f32::INFINITY, f32::NEG_INFINITY), |b, p| (b.0.min(sum(*p)), b.1.max(sum(*p))));
    let (lo, hi) = (lo.max(sum(within.min)), hi.min(sum(within.max)));
    let mut out = Vec::new();
    if !(lo.is_finite() && hi.is_finite()) {
        return out;
    }
    let mut c = (lo / gap).ceil() * gap;
    while c < hi && out.len() < 2000 {
        let mut xs: Vec<f32> = (0..n)
            .filter_map(|i| {
                let (a, b) = (ring[i], ring[(i + 1) % n]);
                ((sum(a) > c) != (sum(b) > c)).then(|| a.x + (c - sum(a)) / (sum(b) - sum(a)) * (b.x - a.x))
            })
            .collect();
        xs.sort_by(f32::total_cmp);
        for x in xs.chunks_exact(2) {
            out.push(Shape::line_segment([pos2(x[0], c - x[0]), pos2(x[1], c - x[1])], stroke));
        }
        c += gap;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(parts: &[[Point; 4]]) -> f64 {
        parts.iter().map(|p| ((p[1].0 - p[0].0) + (p[2].0 - p[3].0)) / 2.0 * (p[2].1 - p[1].1)).sum()
    }

    #[test]
    fn trapezoids_have_the_area_of_the_ring() {
        // An L: 4 x 4 less 2 x 2 is 12.
        let l = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)];
        assert!((area(&trapezoids(&l)) - 12.0).abs() < 1e-9);
        // A gable: 6 x 2 and a triangle of 6 x 3 on it, 12 + 9.
        let gable = [(0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (3.0, 5.0), (0.0, 2.0)];
        assert!((area(&trapezoids(&gable)) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn a_ring_that_is_no_ring_gives_nothing() {
        assert!(trapezoids(&[]).is_empty());
        assert!(trapezoids(&[(0.0, 0.0), (f64::NAN, 1.0), (2.0, 2.0)]).is_empty());
    }

    #[test]
    fn spans_skip_the_notch() {
        let u =
            [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (4.0, 4.0), (4.0, 1.0), (2.0, 1.0), (2.0, 4.0), (0.0, 4.0)];
        assert_eq!(spans(&u, 2.0), vec![(0.0, 2.0), (4.0, 6.0)]);
    }
}
