//! Which masonry each tie serves, and what no tie does: washes under the drawing.

use egui::Mesh;
use layout_core::Plan;
use layout_core::elevation::{Elevation, Point};

use super::{Sheet, fill};
use crate::session::{Context, Selection};

/// Ties whose areas are washed at most: with more they are too small to see.
const MOST: usize = 4000;

/// Paints the washes that are wanted, over the masonry and under the openings.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let Some(plan) = cx.derived.plan(cx.session.elevation) else { return };
    let layers = cx.session.layers;
    let p = &sheet.palette;
    let half = (plan.rules.horizontal.value / 2.0, plan.rules.vertical.value / 2.0);
    if layers.untied {
        // All of the masonry is marked, then each served part is painted over.
        sheet.painter.add(fill::filled(&e.outline, &sheet.view, p.breach_wash));
        rectangles(sheet, plan, e, half, |_| p.masonry);
    }
    if layers.served {
        let wash = p.accent_wash.gamma_multiply(0.55);
        rectangles(sheet, plan, e, half, |_| wash);
    }
    if let Some(Selection::Tie(at)) = cx.session.selection.filter(|_| !layers.served) {
        one(sheet, e, at, half);
    }
}

/// The area that one tie serves.
pub(super) fn one(sheet: &Sheet<'_>, e: &Elevation, at: Point, half: Point) {
    let ring = clipped(&e.outline, around(at, half));
    sheet.painter.add(fill::filled(&ring, &sheet.view, sheet.palette.accent_wash.gamma_multiply(0.6)));
}

type Bounds = (f64, f64, f64, f64);

fn around(at: Point, half: Point) -> Bounds {
    (at.0 - half.0, at.1 - half.1, at.0 + half.0, at.1 + half.1)
}

fn rectangles(
    sheet: &Sheet<'_>,
    plan: &Plan,
    e: &Elevation,
    half: Point,
    colour: impl Fn(usize) -> egui::Color32,
) {
    let mut mesh = Mesh::default();
    let seen = plan.ties.iter().enumerate().filter(|(_, t)| sheet.sees(around(t.at, half)));
    for (i, tie) in seen.take(MOST) {
        let ring = clipped(&e.outline, around(tie.at, half));
        for corners in fill::trapezoids(&ring) {
            let first = mesh.vertices.len() as u32;
            for p in corners {
                mesh.colored_vertex(sheet.view.to_screen(p), colour(i));
            }
            mesh.add_triangle(first, first + 1, first + 2);
            mesh.add_triangle(first, first + 2, first + 3);
        }
    }
    sheet.painter.add(mesh);
}

/// The part of a ring inside bounds: cut along each of their four lines in turn.
fn clipped(ring: &[Point], (l, b, r, t): Bounds) -> Vec<Point> {
    let mut ring = ring.to_vec();
    // Each line as a, b, c: a x + b y >= c inside.
    for (a, d, c) in [(1.0, 0.0, l), (-1.0, 0.0, -r), (0.0, 1.0, b), (0.0, -1.0, -t)] {
        let over = |p: &Point| a * p.0 + d * p.1 - c;
        let n = ring.len();
        let mut kept = Vec::with_capacity(n + 4);
        for i in 0..n {
            let (p, q) = (ring[i], ring[(i + 1) % n]);
            let (u, v) = (over(&p), over(&q));
            if u >= 0.0 {
                kept.push(p);
            }
            if (u > 0.0 && v < 0.0) || (u < 0.0 && v > 0.0) {
                let k = u / (u - v);
                kept.push((p.0 + (q.0 - p.0) * k, p.1 + (q.1 - p.1) * k));
            }
        }
        ring = kept;
    }
    ring
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_corner_is_cut_out_of_a_gable() {
        let gable = [(0.0, 0.0), (8.0, 0.0), (8.0, 4.0), (4.0, 8.0), (0.0, 4.0)];
        let got = clipped(&gable, (3.0, 6.0, 9.0, 10.0));
        // Above 6 and right of 3: the verge leaves 6 at x = 6, and passes x = 3 at 7.
        let area: f64 = (0..got.len())
            .map(|i| (got[i], got[(i + 1) % got.len()]))
            .map(|(a, b)| (a.0 * b.1 - b.0 * a.1) / 2.0)
            .sum();
        // Triangle (2, 6), (6, 6), (4, 8) of 4, less the part left of 3: 1 x 1 / 2.
        assert!((area - 3.5).abs() < 1e-9);
        assert!(clipped(&gable, (20.0, 0.0, 30.0, 10.0)).len() < 3);
    }
}
