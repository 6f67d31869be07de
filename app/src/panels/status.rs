//! The status bar: where the pointer is, what to do, how the layout stands.

use egui::{Align, Label, Layout, RichText, Ui, vec2};
use layout_core::elevation::{Elevation, Fix};

use crate::derived::breaches;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::Habits;

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    ui.horizontal(|ui| {
        let place = match (cx.session.cursor, cx.elevation()) {
            (Some((x, y)), Some(e)) => {
                let habits = Habits::in_force(ui.ctx());
                let unit = if habits.feet { "" } else { " mm" };
                let (x, y_shown) = (habits.show(x.round()), habits.show(y.round()));
                format!("{x}, {y_shown}{unit}  ·  {}", course(e, y))
            }
            _ => "outside the sheet".to_owned(),
        };
        // A fixed width, so that what follows does not jump about with the figures.
        ui.allocate_ui_with_layout(vec2(226.0, 20.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(226.0);
            ui.add(Label::new(RichText::new(place).color(p.ink)).truncate());
        });
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let (words, ink) = state(cx, &p);
            ui.label(RichText::new(words).color(ink));
            ui.separator();
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.separator();
                let hint = cx.session.tool.hint(cx.session.draft.is_some());
                ui.add(Label::new(RichText::new(hint).color(p.ink_soft)).truncate());
            });
        });
    });
}

/// Which bed joint or course a height is at, in words.
pub(super) fn course(e: &Elevation, y: f64) -> String {
    let c = e.coursing;
    if !c.gauge.is_finite() || c.gauge < 1.0 {
        return "no courses".to_owned();
    }
    let k = c.nearest(y);
    match c.fix {
        Fix::BrickFace => format!("course {}", k.saturating_add(1)),
        Fix::BedJoint | Fix::Anywhere => format!("bed joint {k}"),
    }
}

fn state(cx: &Context<'_>, p: &Palette) -> (String, egui::Color32) {
    let i = cx.session.elevation;
    let Some(e) = cx.elevation() else { return ("no elevation".to_owned(), p.ink_soft) };
    if cx.derived.is_late(i) {
        return ("setting out…".to_owned(), p.note);
    }
    match cx.derived.plan(i) {
        None if e.outline.is_empty() => ("no wall yet".to_owned(), p.ink_soft),
        None => ("cannot be set out".to_owned(), p.breach),
        Some(plan) => match breaches(plan) {
            0 => (format!("{} ties, every rule kept", plan.ties.len()), p.good),
            1 => (format!("{} ties, 1 breach", plan.ties.len()), p.breach),
            n => (format!("{} ties, {n} breaches", plan.ties.len()), p.breach),
        },
    }
}
