//! Over the canvas: what is wrong with a drawing that cannot be set out, hints on an empty sheet, notices.

use egui::{Align2, Button, FontId, Frame, Margin, RichText, Stroke, Ui, UiBuilder, vec2};
use layout_core::elevation::{Elevation, Fault, FaultKind};

use super::items::item_of;
use crate::session::{Context, Request, Selection};
use crate::theme::{Palette, bold};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    match cx.elevation().cloned() {
        None => middle(ui, cx, &p, "No elevation", "Add one in the list at the left."),
        Some(e) if e.outline.is_empty() && cx.session.draft.is_none() => middle(
            ui,
            cx,
            &p,
            "No wall drawn yet",
            "Drag a rectangle from corner to corner, or type the size above and press Draw wall.",
        ),
        Some(e) => faulty(ui, cx, &e, &p),
    }
    notice(ui, cx, &p);
}

fn middle(ui: &Ui, cx: &Context<'_>, p: &Palette, title: &str, text: &str) {
    let c = cx.session.view.rect.center();
    let painter = ui.painter();
    painter.text(c, Align2::CENTER_BOTTOM, title, FontId::new(20.0, bold()), p.ink_soft);
    painter.text(c + vec2(0.0, 8.0), Align2::CENTER_TOP, text, FontId::proportional(13.0), p.ink_soft);
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

fn notice(ui: &mut Ui, cx: &mut Context<'_>, p: &Palette) {
    let Some(notice) = cx.session.notice.clone() else { return };
    let rect = cx.session.view.rect;
    let width = (rect.width() - 80.0).clamp(120.0, 560.0);
    let galley = ui.painter().layout(notice.text.clone(), FontId::proportional(13.0), p.ink, width - 110.0);
    let height = galley.size().y.max(24.0) + 18.0;
    let room = egui::Rect::from_min_size(
        egui::pos2(rect.center().x - width / 2.0 + 16.0, rect.bottom() - height - 14.0),
        vec2(width, height),
    );
    let (ground, ink) = if notice.error { (p.breach_wash, p.breach) } else { (p.board_high, p.hairline) };
    ui.scope_builder(UiBuilder::new().max_rect(room), |ui| {
        Frame::new()
            .fill(ground)
            .stroke(Stroke::new(1.0, ink))
            .corner_radius(4.0)
            .inner_margin(Margin::symmetric(12, 8))
            .show(ui, |ui| {
                ui.horizontal(|ui| {
                    ui.set_width(width - 24.0);
                    let label = egui::Label::new(RichText::new(&notice.text).color(p.ink)).wrap();
                    ui.add_sized(vec2(width - 110.0, 0.0), label);
                    if ui.add(Button::new("Dismiss")).clicked() {
                        cx.session.notice = None;
                    }
                });
            });
    });
}
