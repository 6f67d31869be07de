//! The print preview over the whole window: a list of the sheets, and the sheet that is picked.

use egui::{
    Align, Align2, CentralPanel, Color32, Frame, Key, Layout, Margin, Panel, Role, ScrollArea, Sense, Ui,
    WidgetInfo,
};

use crate::commands::Command;
use crate::ground;
use crate::preview::Preview;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::quiet;

/// Shows the preview that is open, if one is.
pub fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(mut preview) = cx.session.preview.take() else { return };
    preview.receive();
    let p = Palette::of(ui.ctx());
    let mut open = true;
    if cx.session.dialog.is_none() {
        keys(ui, &mut preview, &mut open);
    }
    let bar = |x, y| Frame::new().inner_margin(Margin::symmetric(x, y));
    let top = Panel::top("preview bar").frame(bar(10, 6));
    ground::panel(ui, top, p.board, |ui| buttons(ui, cx, &mut preview, &mut open));
    let left = Panel::left("preview sheets").frame(bar(8, 6)).resizable(false).exact_size(256.0);
    ground::panel(ui, left, p.board, |ui| sheets(ui, &mut preview));
    CentralPanel::default().frame(Frame::new()).show(ui, |ui| {
        ground::paint(ui.painter(), ui.max_rect(), p.board_high);
        paper(ui, &mut preview);
    });
    if open {
        cx.session.preview = Some(preview);
    }
}

fn keys(ui: &Ui, preview: &mut Preview, open: &mut bool) {
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    if pressed(Key::Escape) {
        *open = false;
    }
    if pressed(Key::PageDown) {
        preview.turn_to(preview.page + 1);
    }
    if pressed(Key::PageUp) {
        preview.turn_to(preview.page.saturating_sub(1));
    }
    if pressed(Key::F) {
        preview.fit = true;
    }
}

fn buttons(ui: &mut Ui, cx: &mut Context<'_>, preview: &mut Preview, open: &mut bool) {
    ui.horizontal(|ui| {
        if ui.button("Close preview").on_hover_text("Back to the drawing board  (Esc)").clicked() {
            *open = false;
        }
        ui.separator();
        for command in [Command::Export, Command::Firm] {
            if ui.button(command.spec().label).on_hover_text(command.tip_text(ui.ctx())).clicked() {
                cx.run(command);
            }
        }
        ui.separator();
        if ui.button("Whole sheet").on_hover_text("Show the whole sheet  (F)").clicked() {
            preview.fit = true;
        }
        let centre = ui.ctx().content_rect();
        for (word, tip, factor) in [("−", "Smaller", 0.8), ("+", "Larger", 1.25)] {
            if ui.button(word).on_hover_text(tip).clicked() {
                preview.zoom_about(factor, centre.center(), centre);
            }
        }
        ui.separator();
        if let Some(sheet) = preview.sheets().get(preview.page) {
            let said = format!("Sheet {} of {}, {}", preview.page + 1, preview.sheets().len(), sheet.paper);
            ui.label(said);
        }
    });
}

fn sheets(ui: &mut Ui, preview: &mut Preview) {
    ScrollArea::vertical().id_salt("sheets").auto_shrink([false, false]).show(ui, |ui| {
        let titles: Vec<(String, String)> = preview
            .sheets()
            .iter()
            .enumerate()
            .map(|(i, s)| (format!("{}  {}", i + 1, kind_first(&s.title)), s.title.clone()))
            .collect();
        ui.with_layout(Layout::top_down_justified(Align::Min), |ui| {
            ui.set_width(ui.available_width() - 8.0);
            for (i, (words, title)) in titles.into_iter().enumerate() {
                let entry = egui::Button::selectable(preview.page == i, words).truncate();
                if ui.add(entry).on_hover_text(title).clicked() {
                    preview.turn_to(i);
                }
            }
        });
        ui.add_space(8.0);
        if let Some(warning) = &preview.warning {
            let note = Palette::of(ui.ctx()).note;
            ui.add(egui::Label::new(egui::RichText::new(warning).color(note)).wrap());
        }
        quiet(ui, "This is the drawing as it is written to PDF, SVG and PNG. The wheel zooms; drag to move.");
    });
}

/// A title with the kind of sheet before the name of the elevation: the end of a long name may be cut.
fn kind_first(title: &str) -> String {
    let Some((name, kind)) = title.rsplit_once(": ") else { return title.to_owned() };
    let mut letters = kind.chars();
    let kind: String = letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
    format!("{kind}: {name}")
}

fn paper(ui: &mut Ui, preview: &mut Preview) {
    let (view, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    let name = preview.sheets().get(preview.page).map_or_else(String::new, |s| s.title.clone());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("Print preview: {name}")));
    if response.dragged() {
        preview.drag(response.drag_delta());
    }
    if let Some(at) = response.hover_pos() {
        let turn = ui.input(|i| i.smooth_scroll_delta().y);
        if turn.abs() > 0.01 {
            preview.zoom_about(f64::from(turn * 0.004).exp(), at, view);
        }
    }
    let words =
        if preview.waits() { Some("Drawing the sheets…".to_owned()) } else { preview.error.clone() };
    if let Some(words) = words {
        let p = Palette::of(ui.ctx());
        let font = egui::TextStyle::Body.resolve(ui.style());
        ui.painter().text(view.center(), Align2::CENTER_CENTER, words, font, p.ink);
    } else if let Some(texture) = preview.picture(view, &ui.ctx().clone()) {
        let whole = egui::Rect::from_min_max(egui::pos2(0.0, 0.0), egui::pos2(1.0, 1.0));
        ui.painter().image(texture.id(), view, whole, Color32::WHITE);
    }
}
