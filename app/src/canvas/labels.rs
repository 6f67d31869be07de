//! Words and dimensions on the sheet.

use egui::{Align2, FontFamily, FontId, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};

use super::Sheet;
use crate::widgets::number::Habits;

/// Size of words on the sheet, points.
pub(super) const SIZE: f32 = 12.0;

fn font(size: f32) -> FontId {
    FontId::new(size, FontFamily::Proportional)
}

impl Sheet<'_> {
    /// A length as lengths are shown just now.
    pub(super) fn mm(&self, v: f64) -> String {
        Habits::in_force(self.painter.ctx()).show(v)
    }

    /// Words without a ground.
    pub(super) fn text(&self, at: Pos2, anchor: Align2, text: &str, size: f32, ink: egui::Color32) -> Rect {
        self.painter.text(at, anchor, text, font(size), ink)
    }

    /// Words cut to a width, with an ellipsis where they are cut.
    pub(super) fn cut(&self, text: &str, size: f32, width: f32) -> std::sync::Arc<egui::Galley> {
        let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font(size), self.palette.ink);
        job.wrap = egui::text::TextWrapping::truncate_at_width(width.max(8.0));
        self.painter.layout_job(job)
    }

    /// How much room words take.
    pub(super) fn text_size(&self, text: &str, size: f32) -> Vec2 {
        self.painter.layout_no_wrap(text.to_owned(), font(size), self.palette.ink).size()
    }

    /// Words on a ground of paper, so that lines behind do not cross them.
    pub(super) fn tag(&self, at: Pos2, anchor: Align2, text: &str, size: f32, ink: egui::Color32) -> Rect {
        let galley = self.painter.layout_no_wrap(text.to_owned(), font(size), ink);
        let rect = anchor.anchor_size(at, galley.size());
        let ground = rect.expand2(vec2(3.0, 0.5));
        self.painter.rect_filled(ground, 2.0, self.palette.paper.gamma_multiply(0.9));
        self.painter.galley(rect.min, galley, ink);
        ground
    }

    /// A dimension between two places of the screen, set off from them by `off`; slashes at its ends.
    pub(super) fn dimension(&self, a: Pos2, b: Pos2, off: Vec2, text: &str) {
        let ink = self.palette.accent;
        let (p, q) = (a + off, b + off);
        if p.distance(q) < 3.0 {
            return;
        }
        let hair = Stroke::new(1.0, ink.gamma_multiply(0.75));
        let past = off.normalized() * 4.0;
        self.painter.line_segment([a + off * 0.25, p + past], hair);
        self.painter.line_segment([b + off * 0.25, q + past], hair);
        self.painter.line_segment([p, q], hair);
        for end in [p, q] {
            let slash = vec2(3.5, -3.5);
            self.painter.line_segment([end - slash, end + slash], Stroke::new(1.5, ink));
        }
        let middle = p + (q - p) * 0.5;
        let upright = (p.x - q.x).abs() < (p.y - q.y).abs();
        let size = self.text_size(text, SIZE);
        let room = if upright { size.y } else { size.x } + 10.0;
        if p.distance(q) > room {
            self.tag(middle, Align2::CENTER_CENTER, text, SIZE, ink);
        } else {
            // Too short for its own figure: that stands beyond the line.
            let beyond = if upright {
                middle + vec2((size.x / 2.0 + 8.0) * off.x.signum(), 0.0)
            } else {
                middle + vec2(0.0, (size.y / 2.0 + 6.0) * off.y.signum())
            };
            self.tag(beyond, Align2::CENTER_CENTER, text, SIZE, ink);
        }
    }

    /// A broken line round a ring or along a stretch.
    pub(super) fn dashed(&self, points: &[Pos2], stroke: Stroke, dashes: &[f32], gaps: &[f32]) {
        // What runs far off the screen would make dashes without end.
        let near = self.view.rect.expand(40.0);
        for pair in points.windows(2) {
            if let Some([a, b]) = clipped(pair[0], pair[1], near) {
                self.painter.extend(Shape::dashed_line_with_offset(&[a, b], stroke, dashes, gaps, 0.0));
            }
        }
    }
}

/// The part of a stretch inside a rectangle, if there is one.
pub(super) fn clipped(a: Pos2, b: Pos2, rect: Rect) -> Option<[Pos2; 2]> {
    let d = b - a;
    let (mut from, mut to) = (0.0_f32, 1.0_f32);
    for (start, step, lo, hi) in
        [(a.x, d.x, rect.left(), rect.right()), (a.y, d.y, rect.top(), rect.bottom())]
    {
        if step.abs() < 1e-6 {
            if start < lo || start > hi {
                return None;
            }
            continue;
        }
        let (p, q) = ((lo - start) / step, (hi - start) / step);
        from = from.max(p.min(q));
        to = to.min(p.max(q));
    }
    (from <= to).then(|| [a + d * from, a + d * to])
}

/// A ring as a closed line.
pub(super) fn closed(mut points: Vec<Pos2>) -> Vec<Pos2> {
    if let Some(first) = points.first().copied() {
        points.push(first);
    }
    points
}

/// The middle of a rectangle's top edge, a little above.
pub(super) fn above(rect: Rect) -> Pos2 {
    pos2(rect.center().x, rect.top() - 6.0)
}
