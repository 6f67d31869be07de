//! Repeating what is selected at a spacing: a row of windows, the floors of a block.

use egui::{Id, RichText, Ui};

use super::dialogs::{accept, focus_first, title};
use crate::document::arrange::{Repeat, named, repeated};
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::{self, Look, Must};
use crate::widgets::{labelled_wide, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>, r: &mut Repeat, open: &mut bool) {
    let Some(e) = cx.elevation().cloned() else { return };
    let items = cx.session.items();
    title(ui, &format!("Repeat {}", named(&e, &items)));
    quiet(ui, "How many there are in the end, what is there already counted with them.");
    ui.add_space(4.0);
    let id = |name: &str| Id::unique(("repeat", name));
    focus_first(ui, id("Along the wall"));
    for (label, n) in [("Along the wall", &mut r.along), ("Floors", &mut r.floors)] {
        labelled_wide(ui, label, 170.0, |ui| {
            let name = format!("Repeat: {label}");
            let look = Look { name: &name, width: 50.0, right: true, ..Look::default() };
            if let Some(new) = number::count(ui, id(label), look, *n) {
                *n = new;
            }
        });
    }
    for (label, v) in [("From one to the next", &mut r.every), ("From floor to floor", &mut r.floor)] {
        labelled_wide(ui, label, 170.0, |ui| {
            if let Some(new) = number::field(ui, id(label), &format!("Repeat: {label}"), *v, Must::BePlace) {
                *v = new;
            }
        });
    }
    let change = repeated(&e, &items, *r);
    if let Err(message) = &change {
        ui.label(RichText::new(message).color(Palette::of(ui.ctx()).breach));
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        if accept(ui, "Repeat it", change.is_ok())
            && let Ok(change) = change
        {
            cx.change(change);
            *open = false;
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}
