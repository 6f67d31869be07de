//! Sides of the outline, each condition drawn in its own way.

use egui::{Pos2, Stroke, Vec2, vec2};
use layout_core::elevation::{Elevation, Point, SideCondition, outline_sides};

use super::Sheet;
use super::labels::clipped;

pub(super) fn paint(sheet: &Sheet<'_>, e: &Elevation) {
    let ring = &e.outline;
    let n = ring.len();
    let turn = if area(ring) < 0.0 { -1.0 } else { 1.0 };
    let near = sheet.view.rect.expand(40.0);
    for (i, condition) in outline_sides(e).into_iter().enumerate().take(n) {
        let (a, b) = (sheet.view.to_screen(ring[i]), sheet.view.to_screen(ring[(i + 1) % n]));
        let Some([a, b]) = clipped(a, b, near) else { continue };
        let along = (b - a).normalized();
        if !along.is_finite() || a.distance(b) < 0.5 {
            continue;
        }
        // Anticlockwise rings have their outside on the right of each side; y turns over on the screen.
        let out = vec2(-along.y, along.x) * turn;
        Side { sheet, a, b, along, out }.paint(condition);
    }
}

fn area(ring: &[Point]) -> f64 {
    let n = ring.len();
    (0..n).map(|i| (ring[i], ring[(i + 1) % n])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum()
}

struct Side<'a> {
    sheet: &'a Sheet<'a>,
    a: Pos2,
    b: Pos2,
    along: Vec2,
    out: Vec2,
}

impl Side<'_> {
    fn paint(&self, condition: SideCondition) {
        let p = &self.sheet.palette;
        let ink = p.ink;
        match condition {
            SideCondition::Base => {
                self.line(0.0, Stroke::new(2.5, ink));
                self.ticks(9.0, self.out * 7.0 - self.along * 7.0, Stroke::new(1.0, p.ink_soft));
            }
            SideCondition::Corner => {
                self.line(0.0, Stroke::new(2.0, ink));
                self.line(5.0, Stroke::new(1.0, p.ink_soft));
            }
            SideCondition::FreeEnd => {
                let red = p.role(layout_core::Role::FreeEnd);
                self.line(0.0, Stroke::new(2.5, red));
                self.ticks(12.0, self.out * 6.0, Stroke::new(1.5, red));
            }
            SideCondition::Joint => {
                let ink = p.role(layout_core::Role::Joint);
                let stroke = Stroke::new(2.5, ink);
                self.sheet.dashed(&[self.a, self.b], stroke, &[12.0, 2.0], &[3.0, 3.0]);
            }
            SideCondition::Abutment => {
                self.line(0.0, Stroke::new(1.0, ink));
                self.sheet.dashed(
                    &[self.a + self.out * 6.0, self.b + self.out * 6.0],
                    Stroke::new(1.0, p.ink_soft),
                    &[8.0],
                    &[5.0],
                );
                self.ticks(26.0, self.out * 14.0, Stroke::new(1.0, p.ink_soft));
            }
            SideCondition::Verge => {
                let green = p.role(layout_core::Role::Verge);
                self.line(0.0, Stroke::new(2.0, green));
                self.line(4.0, Stroke::new(1.5, green));
            }
            SideCondition::Eaves => {
                self.line(0.0, Stroke::new(2.0, ink));
                self.ticks(18.0, self.out * 5.0, Stroke::new(1.0, p.ink_soft));
            }
        }
    }

    /// A line beside the side, `off` points outwards.
    fn line(&self, off: f32, stroke: Stroke) {
        self.sheet.painter.line_segment([self.a + self.out * off, self.b + self.out * off], stroke);
    }

    /// Ticks from the side, `gap` points apart.
    fn ticks(&self, gap: f32, tick: Vec2, stroke: Stroke) {
        let n = (self.a.distance(self.b) / gap).floor() as usize;
        let start = self.a + self.along * ((self.a.distance(self.b) - gap * n as f32) / 2.0);
        for i in 0..=n.min(600) {
            let p = start + self.along * (gap * i as f32);
            self.sheet.painter.line_segment([p, p + tick], stroke);
        }
    }
}
