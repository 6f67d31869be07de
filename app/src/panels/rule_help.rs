//! What each rule means, with a small picture.

use egui::{Align2, FontId, Painter, Pos2, Rect, RichText, ScrollArea, Sense, Shape, Stroke, Ui, pos2, vec2};
use layout_core::Role;
use layout_core::check::Rule;

use super::dialogs::title;
use crate::canvas::{Symbol, paint_symbol};
use crate::theme::{Palette, bold};
use crate::widgets::quiet;

/// What a rule asks for and why.
#[must_use]
pub fn words(rule: Rule) -> &'static str {
    match rule {
        Rule::Coverage => {
            "Every part of the masonry lies within half the spacing of a tie, along the wall and up it, with masonry \
             all the way between. A part that no tie serves is free to bow or to be sucked off by the wind."
        }
        Rule::Density => {
            "There are so many ties to the square metre of masonry, openings left out. A wall cut up by openings can \
             need more than the spacing alone would give."
        }
        Rule::EdgeTies => {
            "Up the jambs of openings, along verges, movement joints and free ends the leaf is held on one side only: \
             there the ties stand near the edge and closer together."
        }
        Rule::EdgeDistance => {
            "A tie keeps clear of the edge of the masonry, so that drilling and load do not break a brick out."
        }
        Rule::KeepOut => {
            "Nothing is drilled in a keep-out, nor nearer to it than its clearance: cables, pipes, flues, fixings."
        }
        Rule::SpacingBetween => "Two holes stand so far apart that the masonry between them is not weakened.",
        Rule::ExistingTies => {
            "A new tie keeps clear of an old one: the brickwork round a rusted tie may be cracked, and drill and steel \
             do not go together."
        }
        Rule::Coursing => {
            "Ties stand on the courses: in the bed joint, or in the middle of a brick's face, as the fixing asks."
        }
        Rule::Wind => {
            "What the wind asks for in each zone can be carried by ties that stand no closer than can be drilled. \
             Corners are sucked hardest."
        }
        Rule::Fixing => {
            "The kind of fixing chosen suits both leaves as they were surveyed, and the exposure."
        }
        Rule::TieLength => {
            "A tie reaches far enough into both leaves across the cavity as measured, and does not come out at the \
             inner face."
        }
        Rule::SiteTests => {
            "Ties pulled on site hold their test load; where one does not, the work waits until the cause is known."
        }
    }
}

pub(super) fn show(ui: &mut Ui, rule: Rule, open: &mut bool) {
    title(ui, &heading(rule));
    one(ui, rule);
    ui.add_space(8.0);
    if ui.button("Close").clicked() {
        *open = false;
    }
}

/// Every rule, one below the other.
pub(super) fn all(ui: &mut Ui, open: &mut bool) {
    title(ui, "The rules explained");
    ScrollArea::vertical().max_height(super::dialogs::room(ui)).show(ui, |ui| {
        for rule in Rule::ALL {
            ui.label(RichText::new(heading(rule)).font(FontId::new(13.0, bold())));
            one(ui, rule);
            ui.add_space(8.0);
        }
    });
    if ui.button("Close").clicked() {
        *open = false;
    }
}

fn heading(rule: Rule) -> String {
    let mut letters = rule.words().chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

fn one(ui: &mut Ui, rule: Rule) {
    ui.horizontal_top(|ui| {
        let (rect, response) = ui.allocate_exact_size(vec2(170.0, 104.0), Sense::hover());
        let name = format!("Picture: {}", rule.words());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &name));
        picture(&ui.painter_at(rect), rect, rule);
        ui.vertical(|ui| {
            ui.set_width(ui.available_width());
            quiet(ui, words(rule));
        });
    });
}

/// The pictures are drawn on a wall of 17 x 10 parts.
struct Board<'a> {
    painter: &'a Painter,
    rect: Rect,
    p: Palette,
}

impl Board<'_> {
    fn at(&self, x: f32, y: f32) -> Pos2 {
        pos2(self.rect.left() + x * 10.0, self.rect.bottom() - y * 10.0 - 2.0)
    }
    fn area(&self, (l, b): (f32, f32), (r, t): (f32, f32)) -> Rect {
        Rect::from_two_pos(self.at(l, b), self.at(r, t))
    }
    fn tie(&self, x: f32, y: f32, role: Role) {
        let ink = self.p.role(role);
        paint_symbol(self.painter, Symbol::Tie(role, false), self.at(x, y), 5.0, self.p.paper, ink);
    }
    fn opening(&self, from: (f32, f32), to: (f32, f32)) {
        let stroke = Stroke::new(1.3, self.p.ink);
        self.painter.rect(self.area(from, to), 0.0, self.p.glass, stroke, egui::StrokeKind::Middle);
    }
    fn measure(&self, a: Pos2, b: Pos2, text: &str) {
        let ink = self.p.accent;
        self.painter.line_segment([a, b], Stroke::new(1.2, ink));
        for end in [a, b] {
            self.painter.line_segment([end - vec2(2.5, -2.5), end + vec2(2.5, -2.5)], Stroke::new(1.2, ink));
        }
        let middle = a + (b - a) * 0.5 - vec2(0.0, 2.0);
        self.painter.text(middle, Align2::CENTER_BOTTOM, text, FontId::proportional(10.0), ink);
    }
    fn cross(&self, c: Pos2) {
        let d = 7.0;
        for s in [1.0, -1.0] {
            let stroke = Stroke::new(2.0, self.p.breach);
            self.painter.line_segment([c + vec2(-d, -d * s), c + vec2(d, d * s)], stroke);
        }
    }
}

fn picture(painter: &Painter, rect: Rect, rule: Rule) {
    let p = Palette::of(painter.ctx());
    let b = Board { painter, rect, p };
    let wall = b.area((0.0, 0.0), (17.0, 10.0));
    painter.rect_filled(wall, 0.0, p.masonry);
    for y in 1..10 {
        let (l, r) = (b.at(0.0, y as f32), b.at(17.0, y as f32));
        painter.line_segment([l, r], Stroke::new(1.0, p.bed));
    }
    match rule {
        Rule::Coverage => coverage(&b),
        Rule::Density => {
            let square = b.area((4.5, 1.0), (12.5, 9.0));
            painter.rect_stroke(square, 0.0, Stroke::new(1.5, p.accent), egui::StrokeKind::Middle);
            painter.text(
                square.center(),
                Align2::CENTER_CENTER,
                "1 m²",
                FontId::proportional(12.0),
                p.accent,
            );
            for (x, y) in [(6.0, 3.0), (11.0, 3.0), (6.0, 7.0), (11.0, 7.0)] {
                b.tie(x, y, Role::Field);
            }
        }
        Rule::EdgeTies => {
            b.opening((8.0, 1.0), (15.0, 7.6));
            for y in [1.5, 3.5, 5.5, 7.5] {
                b.tie(6.5, y, Role::Jamb);
            }
            b.measure(b.at(6.5, 8.6), b.at(8.0, 8.6), "within");
            b.measure(b.at(3.5, 3.5), b.at(3.5, 5.5), "");
            painter.text(b.at(3.0, 4.5), Align2::RIGHT_CENTER, "apart", FontId::proportional(10.0), p.accent);
        }
        Rule::EdgeDistance => {
            b.opening((9.0, 0.0), (17.0, 10.0));
            b.tie(8.4, 3.0, Role::Jamb);
            b.cross(b.at(8.4, 3.0));
            b.tie(6.0, 7.0, Role::Jamb);
            b.measure(b.at(6.0, 7.9), b.at(9.0, 7.9), "at least");
        }
        Rule::KeepOut => {
            let area = b.area((7.0, 3.0), (11.0, 7.0));
            painter.rect_stroke(area, 0.0, Stroke::new(1.5, p.hazard), egui::StrokeKind::Middle);
            let dashed = area.expand(10.0);
            let ring = [
                dashed.left_top(),
                dashed.right_top(),
                dashed.right_bottom(),
                dashed.left_bottom(),
                dashed.left_top(),
            ];
            painter.extend(Shape::dashed_line(&ring, Stroke::new(1.0, p.hazard), 3.0, 3.0));
            b.tie(11.5, 5.0, Role::Field);
            b.cross(b.at(11.5, 5.0));
            b.tie(14.0, 5.0, Role::Field);
        }
        Rule::SpacingBetween => {
            b.tie(5.0, 5.0, Role::Field);
            b.tie(12.0, 5.0, Role::Field);
            b.measure(b.at(5.0, 6.2), b.at(12.0, 6.2), "at least");
        }
        Rule::ExistingTies => {
            paint_symbol(painter, Symbol::Old, b.at(5.0, 5.0), 5.0, p.paper, p.hazard);
            b.tie(12.0, 5.0, Role::Field);
            b.measure(b.at(5.0, 6.2), b.at(12.0, 6.2), "at least");
        }
        Rule::Coursing => {
            b.tie(4.0, 4.0, Role::Field);
            b.tie(8.0, 4.0, Role::Field);
            b.tie(12.5, 5.45, Role::Field);
            b.cross(b.at(12.5, 5.45));
        }
        Rule::Wind => {
            for x in [2.0, 4.0, 6.0, 11.0, 15.0] {
                b.tie(x, 5.0, Role::Field);
            }
            b.measure(b.at(2.0, 7.0), b.at(6.0, 7.0), "corner");
        }
        Rule::Fixing => b.tie(8.5, 5.0, Role::Field),
        Rule::TieLength => b.measure(b.at(3.0, 5.0), b.at(14.0, 5.0), "both leaves"),
        Rule::SiteTests => {
            b.tie(8.5, 5.0, Role::Field);
            painter.circle_stroke(b.at(8.5, 5.0), 9.0, Stroke::new(1.5, p.accent));
        }
    }
}

/// Four ties, what each serves, and a place between that none does.
fn coverage(b: &Board<'_>) {
    let wash = b.p.accent_wash.gamma_multiply(0.7);
    for (x, y) in [(3.0, 2.5), (9.0, 2.5), (3.0, 7.5)] {
        b.painter.rect_filled(b.area((x - 3.0, y - 2.5), (x + 3.0, y + 2.5)), 0.0, wash);
        let stroke = Stroke::new(1.0, b.p.accent);
        b.painter.rect_stroke(
            b.area((x - 3.0, y - 2.5), (x + 3.0, y + 2.5)),
            0.0,
            stroke,
            egui::StrokeKind::Inside,
        );
        b.tie(x, y, Role::Field);
    }
    b.painter.text(
        b.at(11.5, 7.5),
        Align2::CENTER_CENTER,
        "not served",
        FontId::proportional(11.0),
        b.p.breach,
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_is_told_in_words_of_its_own() {
        for (i, rule) in Rule::ALL.into_iter().enumerate() {
            assert!(words(rule).len() > 60, "{rule:?}");
            assert!(Rule::ALL[..i].iter().all(|other| words(*other) != words(rule)));
        }
    }
}
