//! Where the canvas looks: between mm on the elevation, y up, and points on the screen, y down.

use egui::{Pos2, Rect, pos2};
use layout_core::elevation::Point;

/// Points of the screen in one mm, least and most.
const SCALES: (f64, f64) = (0.0005, 8.0);

/// A place and a scale. All in `f64`; only the last step to the screen rounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// What is in the middle, mm.
    pub centre: Point,
    /// Points of the screen in one mm.
    pub scale: f64,
    /// The part of the screen it fills.
    pub rect: Rect,
}

impl Default for View {
    fn default() -> Self {
        Self {
            centre: (4500.0, 2600.0),
            scale: 0.08,
            rect: Rect::from_min_size(Pos2::ZERO, egui::vec2(800.0, 600.0)),
        }
    }
}

impl View {
    /// Where a place of the elevation is on the screen.
    #[must_use]
    pub fn to_screen(&self, p: Point) -> Pos2 {
        let c = self.rect.center();
        pos2(
            (f64::from(c.x) + (p.0 - self.centre.0) * self.scale) as f32,
            (f64::from(c.y) - (p.1 - self.centre.1) * self.scale) as f32,
        )
    }

    /// Which place of the elevation is at a place of the screen, mm.
    #[must_use]
    pub fn to_world(&self, p: Pos2) -> Point {
        let c = self.rect.center();
        (self.centre.0 + f64::from(p.x - c.x) / self.scale, self.centre.1 - f64::from(p.y - c.y) / self.scale)
    }

    /// A length on the screen as mm.
    #[must_use]
    pub fn mm(&self, points: f32) -> f64 {
        f64::from(points) / self.scale
    }

    /// Left, lower, right and upper bound of what is seen, mm.
    #[must_use]
    pub fn seen(&self) -> (f64, f64, f64, f64) {
        let (a, b) = (self.to_world(self.rect.left_bottom()), self.to_world(self.rect.right_top()));
        (a.0, a.1, b.0, b.1)
    }

    /// Moves the sheet with the pointer.
    pub fn pan(&mut self, by: egui::Vec2) {
        self.centre.0 -= f64::from(by.x) / self.scale;
        self.centre.1 += f64::from(by.y) / self.scale;
        self.tame();
    }

    /// Zooms so that the place under `at` stays there.
    pub fn zoom(&mut self, by: f64, at: Pos2) {
        let before = self.to_world(at);
        self.scale = (self.scale * by).clamp(SCALES.0, SCALES.1);
        let after = self.to_world(at);
        self.centre.0 += before.0 - after.0;
        self.centre.1 += before.1 - after.1;
        self.tame();
    }

    /// Shows bounds (left, lower, right, upper, mm) with some room about them.
    pub fn show(&mut self, bounds: (f64, f64, f64, f64)) {
        self.show_with_room(bounds, (0.0, 0.0));
    }

    /// The same with more room at the right and below, points of the screen.
    pub fn show_with_room(&mut self, (l, b, r, t): (f64, f64, f64, f64), (right, below): (f64, f64)) {
        if ![l, b, r, t].iter().all(|v| v.is_finite()) {
            return;
        }
        // Room for the rulers at the left and top, for the ground below, and for dimensions below and at the right.
        let (w, h) =
            (f64::from(self.rect.width()) - 160.0 - right, f64::from(self.rect.height()) - 130.0 - below);
        let scale = (w.max(50.0) / (r - l).max(1.0)).min(h.max(50.0) / (t - b).max(1.0));
        self.scale = scale.clamp(SCALES.0, SCALES.1);
        self.centre =
            ((l + r) / 2.0 + (12.0 + right / 2.0) / self.scale, (b + t) / 2.0 - below / 2.0 / self.scale);
        self.tame();
    }

    /// Shows a place in the middle, mm, at a scale, points of the screen in one mm.
    pub fn look(&mut self, centre: Point, scale: f64) {
        self.centre = centre;
        self.scale = if scale.is_finite() { scale.clamp(SCALES.0, SCALES.1) } else { self.scale };
        self.tame();
    }

    /// Keeps the middle where numbers still make sense.
    fn tame(&mut self) {
        for v in [&mut self.centre.0, &mut self.centre.1] {
            *v = if v.is_finite() { v.clamp(-2e7, 2e7) } else { 0.0 };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view() -> View {
        View {
            centre: (4500.0, 2625.0),
            scale: 0.1,
            rect: Rect::from_min_max(pos2(100.0, 50.0), pos2(900.0, 650.0)),
        }
    }

    #[test]
    fn up_on_the_wall_is_up_on_the_screen() {
        let v = view();
        // The middle of the screen is (500, 350); 1000 mm at 0.1 are 100 points.
        assert_eq!(v.to_screen((5500.0, 3625.0)), pos2(600.0, 250.0));
        assert_eq!(v.to_world(pos2(600.0, 250.0)), (5500.0, 3625.0));
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        let mut v = view();
        let at = pos2(200.0, 600.0);
        let before = v.to_world(at);
        v.zoom(3.0, at);
        let after = v.to_world(at);
        assert!((before.0 - after.0).abs() < 1e-6 && (before.1 - after.1).abs() < 1e-6);
    }

    #[test]
    fn bounds_that_are_no_numbers_change_nothing() {
        let mut v = view();
        v.show((f64::INFINITY, 0.0, f64::NEG_INFINITY, 0.0));
        assert_eq!(v, view());
    }
}
