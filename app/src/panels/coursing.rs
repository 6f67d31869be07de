//! Courses and bricks of the elevation, and the gauge worked out from a measured run of courses.

use egui::{Id, Ui};
use layout_core::elevation::Fix;
use layout_core::units::tidy_mm;

use crate::document::Change;
use crate::session::Context;
use crate::widgets::number::{self, Must};
use crate::widgets::{choose, heading, labelled, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(e) = cx.elevation() else { return };
    let mut new = e.coursing;
    heading(ui, "Coursing");
    let i = cx.session.elevation;
    // Told by the fields, not by comparing: a value that is no number differs from itself.
    let mut changed = false;
    let mut length = |ui: &mut Ui, label: &str, value: &mut f64, must: Must| {
        let id = Id::unique(("coursing", i, label));
        if let Some(v) = labelled(ui, label, |ui| number::field(ui, id, label, *value, must)) {
            *value = v;
            changed = true;
        }
    };
    length(ui, "Gauge", &mut new.gauge, Must::BeSize);
    length(ui, "A bed joint at", &mut new.first_bed, Must::BePlace);
    length(ui, "Brick and joint", &mut new.brick, Must::BeSize);
    if let Some(gauge) = measured(ui, cx) {
        new.gauge = gauge;
        changed = true;
    }
    let places: Vec<_> = Fix::ALL.into_iter().map(|f| (f, f.words())).collect();
    if let Some(fix) = labelled(ui, "Ties go in", |ui| choose(ui, "Ties go in", 150.0, new.fix, &places)) {
        new.fix = fix;
        changed = true;
    }
    if changed {
        cx.change(Change::Coursing(new));
    }
}

/// So many courses measure so much: the gauge, once it is taken.
fn measured(ui: &mut Ui, cx: &mut Context<'_>) -> Option<f64> {
    let (mut courses, mut length) = cx.session.measured;
    let mut taken = None;
    labelled(ui, "As measured", |ui| {
        let look =
            number::Look { name: "Courses measured", width: 34.0, right: true, ..number::Look::default() };
        if let Some(n) = number::count(ui, Id::unique("courses measured"), look, courses) {
            courses = n;
        }
        ui.label("courses:");
        let id = Id::unique("courses measure");
        if let Some(mm) = number::bare(ui, id, "Courses measure", length, Must::BeSize) {
            length = mm;
        }
    });
    cx.session.measured = (courses, length);
    let gauge = tidy_mm(length / f64::from(courses));
    let habits = number::Habits::in_force(ui.ctx());
    labelled(ui, "", |ui| {
        let words = format!("Take gauge {}", habits.with_unit(gauge));
        let tip = "From bed joint to bed joint over a good many courses: the more, the truer";
        if ui.button(words).on_hover_text(tip).accessible_name("Take the measured gauge").clicked() {
            taken = Some(gauge);
        }
    });
    if !(40.0..=400.0).contains(&gauge) {
        quiet(ui, "That is no gauge of bricks or blocks: count and measure again.");
    }
    taken
}
