//! Choosing a wall to start from: shapes with their pictures, sizes to type, the wall as it will be.

use egui::{Id, RichText, Sense, Ui, WidgetInfo, vec2};

use super::dialogs::{accept, focus_first, title};
use crate::asked::ShapeDraft;
use crate::canvas::wall_picture;
use crate::document::Change;
use crate::document::wall_shapes::WallShape;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::{self, Look, Must};
use crate::widgets::{labelled_wide, quiet, row_ground};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>, draft: &mut ShapeDraft, open: &mut bool) {
    title(ui, "Start from a shape");
    ui.horizontal_top(|ui| {
        ui.vertical(|ui| {
            ui.set_width(200.0);
            ui.spacing_mut().item_spacing.y = 2.0;
            for shape in WallShape::ALL {
                entry(ui, draft, shape);
            }
        });
        ui.add_space(8.0);
        ui.vertical(|ui| {
            ui.set_width(340.0);
            quiet(ui, draft.shape.about());
            ui.add_space(4.0);
            sizes(ui, draft);
            ui.add_space(6.0);
            let wall = draft.shape.wall(&draft.sizes);
            let (rect, _) = ui.allocate_exact_size(vec2(330.0, 150.0), Sense::hover());
            match &wall {
                Ok((ring, sides)) => wall_picture(ui.painter(), rect.shrink(6.0), ring, sides),
                Err(message) => {
                    let p = Palette::of(ui.ctx());
                    ui.label(RichText::new(message).color(p.breach));
                }
            }
        });
    });
    if cx.elevation().is_some_and(|e| !e.outline.is_empty()) {
        quiet(ui, "It takes the place of the outline drawn so far; openings and all else stay.");
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let wall = draft.shape.wall(&draft.sizes);
        if accept(ui, "Draw this wall", wall.is_ok())
            && let Ok((ring, sides)) = wall
        {
            let name = format!("Draw the wall: {}", draft.shape.words());
            let changes = vec![Change::Outline(ring), Change::Sides(sides)];
            cx.add(Change::Group(name, changes));
            *open = false;
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}

fn entry(ui: &mut Ui, draft: &mut ShapeDraft, shape: WallShape) {
    let chosen = draft.shape == shape;
    let (rect, response) = ui.allocate_exact_size(vec2(200.0, 34.0), Sense::click());
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, shape.words()));
    let p = Palette::of(ui.ctx());
    row_ground(ui, rect, &response, chosen);
    if chosen {
        ui.painter().rect_filled(rect.with_max_x(rect.left() + 3.0), 1.0, p.accent);
    }
    let picture = egui::Rect::from_min_size(rect.min + vec2(6.0, 4.0), vec2(44.0, 26.0));
    if let Ok((ring, sides)) = shape.wall(&shape.usual()) {
        wall_picture(ui.painter(), picture, &ring, &sides);
    }
    let font = egui::TextStyle::Body.resolve(ui.style());
    let at = rect.left_center() + vec2(60.0, 0.0);
    ui.painter().text(at, egui::Align2::LEFT_CENTER, shape.words(), font, p.ink);
    if response.clicked() && !chosen {
        *draft = ShapeDraft { shape, sizes: shape.usual() };
    }
}

fn sizes(ui: &mut Ui, draft: &mut ShapeDraft) {
    let shape = draft.shape;
    focus_first(ui, Id::unique(("wall to start from", shape.words(), 0_usize)));
    for (i, size) in shape.sizes().iter().enumerate() {
        let Some(value) = draft.sizes.get_mut(i) else { continue };
        let id = Id::unique(("wall to start from", shape.words(), i));
        let name = format!("Wall: {}", size.label);
        labelled_wide(ui, size.label, 170.0, |ui| {
            let look = Look { name: &name, width: 76.0, right: true, ..Look::default() };
            if size.count {
                if let Some(n) = number::count(ui, id, look, value.max(1.0) as u32) {
                    *value = f64::from(n);
                }
            } else if let Some(v) = number::field(ui, id, &name, *value, Must::BeSize) {
                *value = v;
            }
        });
    }
}
