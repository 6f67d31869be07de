//! Everything drawn on the elevation, as a list.

use egui::{Align2, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use layout_core::elevation::{Elevation, Fault, FaultKind, Place, Shape, outline_sides};

use crate::document::{Item, item::side};
use crate::session::{Context, Request, Selection};
use crate::theme::Palette;
use crate::widgets::number::Habits;
use crate::widgets::{elided, heading, quiet};

/// Which item a place in a drawing is about.
pub(super) fn item_of(place: Place) -> Option<Item> {
    let i = place.index?;
    match place.field {
        "openings" => Some(Item::Opening(i)),
        "keep_outs" => Some(Item::KeepOut(i)),
        "movement_joints" => Some(Item::Joint(i)),
        "existing_ties" => Some(Item::OldTie(i)),
        "pinned" => Some(Item::Pinned(i)),
        "locked" => Some(Item::Locked(i)),
        "outline" => Some(Item::Corner(i)),
        _ => None,
    }
}

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    heading(ui, "On this elevation");
    let Some(e) = cx.elevation() else {
        quiet(ui, "Add an elevation to begin.");
        return;
    };
    let rows = rows(e, Habits::in_force(ui.ctx()));
    let faults: Vec<Fault> =
        cx.derived.outcome(cx.session.elevation).map(|o| o.faults.clone()).unwrap_or_default();
    if rows.is_empty() {
        quiet(ui, "Nothing drawn yet.");
    }
    ScrollArea::vertical().id_salt("items").min_scrolled_height(0.0).auto_shrink([false, false]).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            for (item, name, detail) in rows {
                let fault = faults.iter().find(|f| item_of(f.place) == Some(item));
                row(ui, cx, item, &name, &detail, fault);
            }
        },
    );
}

fn rows(e: &Elevation, habits: Habits) -> Vec<(Item, String, String)> {
    let mm = |v: f64| habits.show(v);
    let mut out = Vec::new();
    let mut add = |item: Item, detail: String| out.push((item, item.label(e), detail));
    for (i, o) in e.openings.iter().enumerate() {
        let detail = match o.shape {
            Shape::Rect { w, h, .. } => format!("{} × {}", mm(w), mm(h)),
            Shape::Arched { w, h, rise, .. } => format!("{} × {}", mm(w), mm(h + rise)),
            Shape::Circle { r, .. } => format!("⌀ {}", mm(2.0 * r)),
            Shape::Polygon(ref points) => format!("{} corners", points.len()),
        };
        add(Item::Opening(i), detail);
    }
    for i in 0..e.keep_outs.len() {
        add(Item::KeepOut(i), "keep-out".to_owned());
    }
    for (i, j) in e.movement_joints.iter().enumerate() {
        add(Item::Joint(i), format!("at {}", mm(j.x)));
    }
    for (i, t) in e.existing_ties.iter().enumerate() {
        add(Item::OldTie(i), t.form.words().to_owned());
    }
    for (i, p) in e.pinned.iter().enumerate() {
        add(Item::Pinned(i), format!("{}, {}", mm(p.0), mm(p.1)));
    }
    for (i, l) in e.locked.iter().enumerate() {
        add(Item::Locked(i), format!("{} ties", l.ties.len()));
    }
    let sides = outline_sides(e);
    for (i, condition) in sides.iter().enumerate() {
        if side(&e.outline, i).is_some() {
            let word = condition.words().split(" (").next().unwrap_or_default();
            add(Item::Side(i), word.to_owned());
        }
    }
    out
}

fn row(ui: &mut Ui, cx: &mut Context<'_>, item: Item, name: &str, detail: &str, fault: Option<&Fault>) {
    let p = Palette::of(ui.ctx());
    let chosen = cx.session.item() == Some(item) || cx.session.others.contains(&item);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 22.0), Sense::click());
    let spoken = format!("Item {name}");
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, &spoken));
    if ui.is_rect_visible(rect) {
        let ground = match (chosen, response.hovered()) {
            (true, _) => p.accent_wash,
            (false, true) => p.board_high,
            _ => p.board,
        };
        ui.painter().rect_filled(rect, 3.0, ground);
        let font = egui::TextStyle::Body.resolve(ui.style());
        let small = egui::FontId::new(11.5, egui::FontFamily::Proportional);
        let right = rect.right_center() - vec2(8.0, 0.0);
        let (words, ink) = match fault.map(|f| f.kind) {
            Some(FaultKind::Unusable) => ("faulty", p.breach),
            Some(FaultKind::Note) => ("see note", p.note),
            None => (detail, p.ink_soft),
        };
        let used = ui.painter().text(right, Align2::RIGHT_CENTER, words, small, ink);
        let left = rect.left() + 8.0;
        let galley = elided(ui, name, font, p.ink, used.left() - 8.0 - left);
        let at = egui::pos2(left, rect.center().y - galley.size().y / 2.0);
        ui.painter().galley(at, galley, p.ink);
    }
    let response = match fault {
        Some(f) => response.on_hover_text(&f.message),
        None => response,
    };
    if response.clicked() {
        cx.ask(Request::Select(Some(Selection::Item(item))));
        if response.double_clicked()
            && let Some(bounds) = cx.elevation().and_then(|e| item.bounds(e))
        {
            cx.ask(Request::ZoomTo(bounds));
        }
    }
}
