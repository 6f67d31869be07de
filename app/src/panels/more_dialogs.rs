//! Dialogs about work that could be lost, and about ties that are struck out.

use egui::{Button, RichText, TextEdit, Ui};

use super::dialogs::title;
use crate::asked::Struck;
use crate::document::{Change, Object};
use crate::recovery::{LeftBehind, answer};
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::quiet;

pub(super) fn recover(ui: &mut Ui, cx: &mut Context<'_>, found: &LeftBehind, open: &mut bool) {
    title(ui, "Work that was not saved");
    let words = format!("The window ended without saving {}. A copy was kept.", found.name());
    ui.add(egui::Label::new(words).wrap());
    quiet(ui, "Opening it changes no file: save it once you have seen that it is right.");
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        if ui.button("Open the copy").clicked() {
            cx.ask(answer(Some(found), true));
            *open = false;
        }
        if ui.button("Throw the copy away").clicked() {
            cx.ask(answer(Some(found), false));
            *open = false;
        }
        if ui.button("Ask me again").on_hover_text("The copy stays for the next start").clicked() {
            *open = false;
        }
    });
}

pub(super) fn changed_outside(ui: &mut Ui, cx: &mut Context<'_>, open: &mut bool) {
    title(ui, &format!("{} was changed by another program", cx.session.file_name()));
    let lost = if cx.document.is_changed() {
        "Reading it again drops what you changed here since the last save."
    } else {
        "Nothing was changed here since the last save."
    };
    ui.label(lost);
    quiet(ui, "Keeping what is here leaves the file as it is until you save over it.");
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        if ui.button("Read it again").clicked() {
            cx.ask(answer(None, true));
            *open = false;
        }
        if ui.button("Keep what is here").clicked() {
            cx.ask(answer(None, false));
            *open = false;
        }
    });
}

pub(super) fn strike_out(ui: &mut Ui, cx: &mut Context<'_>, struck: &mut Struck, open: &mut bool) {
    title(ui, &format!("Strike out tie {}", struck.mark));
    quiet(
        ui,
        "No tie is set out there again; the others close up where the rules ask for it. The reason is kept and drawn.",
    );
    ui.add_space(4.0);
    let edit = TextEdit::singleline(&mut struck.reason).desired_width(f32::INFINITY);
    let response =
        ui.add(edit.hint_text(crate::widgets::hint("hit a cable, cracked brick…"))).accessible_name("Reason");
    if struck.fresh {
        struck.fresh = false;
        response.request_focus();
    }
    let reason = struck.reason.trim().to_owned();
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
    if reason.is_empty() {
        ui.label(RichText::new("It needs a reason.").color(Palette::of(ui.ctx()).note));
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let strike = ui.add_enabled(!reason.is_empty(), Button::new("Strike it out")).clicked();
        if (strike || enter) && !reason.is_empty() {
            let object = crate::document::struck::out(struck.at, &reason);
            cx.add(match struck.pinned {
                None => Change::Add(Object::KeepOut(object)),
                Some(i) => Change::Group(
                    format!("Strike out tie {}", struck.mark),
                    vec![
                        Change::Remove(crate::document::Item::Pinned(i)),
                        Change::Add(Object::KeepOut(object)),
                    ],
                ),
            });
            *open = false;
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}
