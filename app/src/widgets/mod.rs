//! Widgets of our own: fields that commit, icons, headings.

pub mod field;
pub mod icon;
pub mod number;

use egui::{Align, Layout, Response, RichText, Ui, vec2};

use crate::theme::{Palette, bold};

/// A heading of a part of a panel, over a hairline.
pub fn heading(ui: &mut Ui, text: &str) -> Response {
    ui.add_space(6.0);
    let p = Palette::of(ui.ctx());
    let response = ui.label(RichText::new(text).font(egui::FontId::new(13.0, bold())).color(p.ink));
    let y = response.rect.bottom() + 2.0;
    let x = ui.max_rect().x_range();
    ui.painter().hline(x, y, egui::Stroke::new(1.0, p.hairline));
    ui.add_space(4.0);
    response
}

/// A quiet line of words that wraps.
pub fn quiet(ui: &mut Ui, text: impl Into<String>) -> Response {
    let p = Palette::of(ui.ctx());
    ui.add(egui::Label::new(RichText::new(text).size(12.0).color(p.ink_soft)).wrap())
}

/// A hint in an empty field: it leans, that it is not taken for what was typed.
pub fn hint(text: &str) -> RichText {
    RichText::new(text).italics()
}

/// A row: words at the left, a value at the right edge.
pub fn row(ui: &mut Ui, label: &str, value: impl Into<String>) {
    let height = 18.0;
    ui.allocate_ui_with_layout(
        vec2(ui.available_width(), height),
        Layout::left_to_right(Align::Center),
        |ui| {
            ui.label(label);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.label(RichText::new(value).color(Palette::of(ui.ctx()).ink));
            });
        },
    );
}

/// The ground of a row of a list of our own, and the ring of one that has the keyboard.
pub fn row_ground(ui: &Ui, rect: egui::Rect, response: &Response, chosen: bool) {
    let p = Palette::of(ui.ctx());
    if chosen {
        ui.painter().rect_filled(rect, 3.0, p.accent_wash);
    } else if response.hovered() {
        ui.painter().rect_filled(rect, 3.0, p.hover());
    }
    if response.has_focus() {
        let stroke = egui::Stroke::new(1.5, p.accent);
        ui.painter().rect_stroke(rect, 3.0, stroke, egui::StrokeKind::Inside);
    }
}

/// One line of words cut to a width, with an ellipsis where it is cut.
pub fn elided(
    ui: &Ui,
    text: &str,
    font: egui::FontId,
    ink: egui::Color32,
    width: f32,
) -> std::sync::Arc<egui::Galley> {
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(width.max(10.0));
    ui.painter().layout_job(job)
}

/// A labelled row whose right part is laid out by the caller; the label has a fixed width.
pub fn labelled<R>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> R) -> R {
    labelled_wide(ui, label, 96.0, add)
}

/// A labelled row with a label of this width, points.
pub fn labelled_wide<R>(ui: &mut Ui, label: &str, width: f32, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(width, 24.0), egui::Sense::hover());
        let p = Palette::of(ui.ctx());
        let at = rect.left_center();
        let font = egui::TextStyle::Body.resolve(ui.style());
        ui.painter().text(at, egui::Align2::LEFT_CENTER, label, font, p.ink);
        add(ui)
    })
    .inner
}

/// A list to choose one from. Gives the choice if it is another than `current`.
pub fn choose<T: PartialEq + Copy>(
    ui: &mut Ui,
    name: &str,
    width: f32,
    current: T,
    options: &[(T, &str)],
) -> Option<T> {
    choose_told(ui, name, width, current, options, "")
}

/// The same, with what hovering tells; empty for nothing.
pub fn choose_told<T: PartialEq + Copy>(
    ui: &mut Ui,
    name: &str,
    width: f32,
    current: T,
    options: &[(T, &str)],
    tip: &str,
) -> Option<T> {
    let shown = options.iter().find(|(o, _)| *o == current).map_or("", |(_, words)| *words);
    let mut chosen = current;
    let response = egui::ComboBox::from_id_salt(name)
        .selected_text(shown)
        .width(width)
        // Room for every rule set at once.
        .height(460.0)
        .truncate()
        .show_ui(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            for (option, words) in options {
                if ui.selectable_value(&mut chosen, *option, *words).clicked() {
                    // By Enter too, not by the pointer alone.
                    ui.close();
                }
            }
        })
        .response
        .accessible_name(name);
    if !tip.is_empty() {
        response.on_hover_text(tip);
    }
    (chosen != current).then_some(chosen)
}
