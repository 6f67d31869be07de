//! The elevations of the project, in drawing order.

use egui::{Align, Align2, Layout, ScrollArea, Sense, Ui, WidgetInfo, vec2};

use crate::commands::Command;
use crate::derived::breaches;
use crate::session::{Context, Request};
use crate::theme::Palette;
use crate::widgets::{elided, heading, row_ground};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    heading(ui, "Elevations");
    let count = cx.project().elevations.len();
    let height = (count as f32 * 25.0).clamp(25.0, 128.0);
    ScrollArea::vertical().id_salt("elevations").max_height(height).auto_shrink([false, true]).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            for i in 0..count {
                entry(ui, cx, i);
            }
        },
    );
    ui.add_space(2.0);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        for (word, command) in [("Add", Command::AddElevation), ("Copy", Command::DuplicateElevation)] {
            button(ui, cx, word, command);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            button(ui, cx, "↓", Command::ElevationDown);
            button(ui, cx, "↑", Command::ElevationUp);
        });
    });
}

fn button(ui: &mut Ui, cx: &mut Context<'_>, word: &str, command: Command) {
    let enabled = super::menu::enabled(cx, command);
    let response = ui.add_enabled(enabled, egui::Button::new(word));
    let response = response.on_hover_text(command.tip_text(ui.ctx())).accessible_name(command.spec().label);
    if response.clicked() {
        cx.run(command);
    }
}

fn entry(ui: &mut Ui, cx: &mut Context<'_>, i: usize) {
    let count = cx.project().elevations.len();
    let Some(elevation) = cx.project().elevations.get(i) else { return };
    let p = Palette::of(ui.ctx());
    let name = if elevation.name.trim().is_empty() { "(no name)" } else { elevation.name.as_str() };
    let (state, ink) = match cx.derived.outcome(i) {
        None => ("…".to_owned(), p.ink_soft),
        Some(o) => match &o.plan {
            None if elevation.outline.is_empty() => ("empty".to_owned(), p.ink_soft),
            None => ("faulty".to_owned(), p.breach),
            Some(plan) if breaches(plan) > 0 => (format!("{} !", plan.ties.len()), p.breach),
            Some(plan) => (plan.ties.len().to_string(), p.ink_soft),
        },
    };
    let chosen = cx.session.elevation == i;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 24.0), Sense::click());
    let spoken = format!("Elevation {name}");
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, chosen, &spoken));
    row_ground(ui, rect, &response, chosen);
    let font = egui::TextStyle::Body.resolve(ui.style());
    let right = rect.right_center() - vec2(8.0, 0.0);
    let used = ui.painter().text(right, Align2::RIGHT_CENTER, &state, font.clone(), ink);
    let left = rect.left() + 8.0;
    let galley = elided(ui, name, font, p.ink, used.left() - 8.0 - left);
    let at = egui::pos2(left, rect.center().y - galley.size().y / 2.0);
    ui.painter().galley(at, galley, p.ink);
    // One that has just come to be shown is brought into view.
    let kept = egui::Id::unique("elevation in view");
    if chosen && ui.data(|d| d.get_temp(kept)) != Some((i, count)) {
        ui.data_mut(|d| d.insert_temp(kept, (i, count)));
        response.scroll_to_me(None);
    }
    let tip = format!("{name}: {}", told(cx, i));
    if response.on_hover_text(tip).clicked() {
        cx.ask(Request::Show(i));
    }
}

fn told(cx: &Context<'_>, i: usize) -> String {
    match cx.derived.outcome(i).map(|o| &o.plan) {
        None => "being set out".to_owned(),
        Some(None) => "cannot be set out yet".to_owned(),
        Some(Some(plan)) => {
            format!("{} ties on {:.2} m², {} breaches", plan.ties.len(), plan.net_area, breaches(plan))
        }
    }
}
