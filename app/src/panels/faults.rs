//! Over the canvas: what is wrong with a drawing that cannot be set out, hints on an empty sheet, notices.

use egui::{Align, Align2, Button, FontId, Frame, Layout, Margin, RichText, Stroke, Ui, UiBuilder, vec2};
use layout_core::elevation::{Elevation, Fault, FaultKind};

use super::items::item_of;
use crate::commands::Command;
use crate::session::{Context, Request, Selection};
use crate::theme::{Palette, bold};
use crate::tools::Tool;

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    match cx.elevation().cloned() {
        None => middle(ui, cx, &p, "No elevation", "Add one in the list at the left."),
        Some(e) if e.outline.is_empty() => {
            if cx.session.draft.is_none() {
                let how = match cx.session.tool {
                    Tool::Wall => "Drag a rectangle from corner to corner, or type its size above.",
                    Tool::WallCorners => "Click each corner in turn, or type corners above.",
                    _ => "Take the wall tool (W), or start from a shape.",
                };
                middle(ui, cx, &p, "No wall drawn yet", how);
                begin(ui, cx);
            }
        }
        Some(e) => faulty(ui, cx, &e, &p),
    }
    notice(ui, cx, &p);
    if ui.input(|i| !i.raw.hovered_files.is_empty()) {
        drop_here(ui, cx, &p);
    }
}

/// While a file is held over the window.
fn drop_here(ui: &Ui, cx: &Context<'_>, p: &Palette) {
    let rect = cx.session.view.rect.shrink(40.0);
    let ground = p.board_high.gamma_multiply(0.95);
    ui.painter().rect(rect, 6.0, ground, Stroke::new(2.0, p.accent), egui::StrokeKind::Inside);
    let words = "Drop the project file to open it";
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, words, FontId::new(18.0, bold()), p.accent);
}

fn middle(ui: &Ui, cx: &Context<'_>, p: &Palette, title: &str, text: &str) {
    let c = cx.session.view.rect.center();
    let painter = ui.painter();
    painter.text(c, Align2::CENTER_BOTTOM, title, FontId::new(20.0, bold()), p.ink_soft);
    painter.text(c + vec2(0.0, 8.0), Align2::CENTER_TOP, text, FontId::proportional(13.0), p.ink_soft);
}

/// Ways to begin, on a bare sheet.
fn begin(ui: &mut Ui, cx: &mut Context<'_>) {
    let at = cx.session.view.rect.center() + vec2(-100.0, 40.0);
    let room = egui::Rect::from_min_size(at, vec2(200.0, 28.0));
    let command = Command::StartShape;
    let button = Button::new("Start from a gable, a semi…");
    if ui.put(room, button).on_hover_text(command.tip_text(ui.ctx())).clicked() {
        cx.run(command);
    }
}

fn faulty(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation, p: &Palette) {
    let i = cx.session.elevation;
    let Some(outcome) = cx.derived.outcome(i).filter(|o| o.plan.is_none()).cloned() else { return };
    let faults: Vec<&Fault> = outcome.faults.iter().filter(|f| f.kind == FaultKind::Unusable).collect();
    let rect = cx.session.view.rect;
    let room = egui::Rect::from_min_size(
        rect.min + vec2(46.0, 32.0),
        vec2((rect.width() - 70.0).clamp(120.0, 520.0), rect.height() - 60.0),
    );
    ui.scope_builder(UiBuilder::new().max_rect(room), |ui| {
        Frame::new()
            .fill(p.breach_wash)
            .stroke(Stroke::new(1.0, p.breach))
            .corner_radius(4.0)
            .inner_margin(Margin::symmetric(12, 8))
            .show(ui, |ui| {
                ui.set_width(room.width() - 24.0);
                let title = RichText::new("This drawing cannot be set out yet");
                ui.label(title.font(FontId::new(14.0, bold())).color(p.breach));
                for fault in faults.iter().take(8) {
                    one(ui, cx, e, fault, p);
                }
                if faults.len() > 8 {
                    ui.label(format!("and {} more, listed under Findings", faults.len() - 8));
                }
            });
    });
}

fn one(ui: &mut Ui, cx: &mut Context<'_>, e: &Elevation, fault: &Fault, p: &Palette) {
    ui.horizontal_wrapped(|ui| {
        let text = RichText::new(format!("{}: {}", place(fault, e), fault.message)).color(p.ink);
        ui.add(egui::Label::new(text).wrap());
    });
    if let Some(item) = item_of(fault.place)
        && ui.button(format!("Select {}", item.label(e))).clicked()
    {
        cx.ask(Request::Select(Some(Selection::Item(item))));
    }
}

/// The place of a fault in a person's words.
fn place(fault: &Fault, e: &Elevation) -> String {
    let what = item_of(fault.place).map_or_else(|| fault.place.field.replace('_', " "), |i| i.label(e));
    let mut letters = what.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// Seconds that a good word stays; what went wrong stays until it is dismissed.
const STAYS: f64 = 8.0;

fn notice(ui: &mut Ui, cx: &mut Context<'_>, p: &Palette) {
    let now = ui.input(|i| i.time);
    let Some(notice) = &mut cx.session.notice else { return };
    let since = *notice.since.get_or_insert(now);
    if !notice.error {
        let left = since + STAYS - now;
        if left <= 0.0 {
            cx.session.notice = None;
            return;
        }
        ui.ctx().request_repaint_after(std::time::Duration::from_secs_f64(left));
    }
    let (text, error) = (notice.text.clone(), notice.error);
    let rect = cx.session.view.rect;
    let most = (rect.width() - 200.0).clamp(120.0, 560.0);
    let galley = ui.painter().layout(text.clone(), FontId::proportional(13.0), p.ink, most);
    let size = vec2(galley.size().x + 116.0, galley.size().y.max(24.0) + 18.0);
    let corner = egui::pos2(rect.center().x - size.x / 2.0 + 16.0, rect.bottom() - size.y - 14.0);
    let (ground, ink) = if error { (p.breach_wash, p.breach) } else { (p.board_high, p.accent) };
    let room = egui::Rect::from_min_size(corner, size);
    ui.painter().rect(room, 4.0, ground, Stroke::new(1.0, ink), egui::StrokeKind::Inside);
    ui.painter().rect_filled(room.with_max_x(room.left() + 4.0), 2.0, ink);
    let inside = UiBuilder::new().max_rect(room.shrink2(vec2(14.0, 9.0)));
    ui.scope_builder(inside.layout(Layout::right_to_left(Align::Center)), |ui| {
        if ui.add(Button::new("Dismiss")).clicked() {
            cx.session.notice = None;
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.add(egui::Label::new(RichText::new(&text).color(p.ink)).wrap());
        });
    });
}
