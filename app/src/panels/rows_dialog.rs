//! Openings from rows of a spreadsheet or a list: pasted or typed, with what is wrong said row by row.

use egui::{Button, RichText, ScrollArea, TextEdit, Ui};

use super::dialogs::title;
use crate::document::rows;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::quiet;

/// Wrong rows shown at most.
const MOST: usize = 6;

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>, text: &mut String, open: &mut bool) {
    title(ui, "Openings from rows");
    quiet(
        ui,
        "One opening a line: name, from left, sill, width, height, head. Parted by tabs, commas or semicolons; \
         a first line of column names puts them in any order. Lengths as in every field: 910, 4b+10, 12c. A name \
         that is on the elevation already replaces that opening.",
    );
    ui.add_space(4.0);
    ScrollArea::vertical().max_height(220.0).show(ui, |ui| {
        let hint = "W1, 910, 12c, 1360, 16c\nD1, 4b+10, 0, 910, 2100, segmental";
        let edit = TextEdit::multiline(text)
            .desired_rows(8)
            .desired_width(f32::INFINITY)
            .hint_text(crate::widgets::hint(hint));
        let response = ui.add(edit).accessible_name("Rows of openings");
        if ui.memory(|m| m.focused().is_none()) {
            response.request_focus();
        }
    });
    let Some(e) = cx.elevation().cloned() else { return };
    let read = if text.trim().is_empty() { None } else { Some(rows::read(text, &e)) };
    let p = Palette::of(ui.ctx());
    match &read {
        None => {}
        Some(Ok(rows)) => {
            let added = rows::change(rows, &e).1;
            let replaced = rows.len() - added;
            let words = format!("{added} to add, {replaced} to replace");
            ui.label(RichText::new(words).color(p.good));
        }
        Some(Err(wrong)) => {
            for line in wrong.iter().take(MOST) {
                ui.add(egui::Label::new(RichText::new(line).color(p.breach)).wrap());
            }
            if wrong.len() > MOST {
                ui.label(format!("and {} more", wrong.len() - MOST));
            }
        }
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let ready = matches!(read, Some(Ok(_)));
        if ui.add_enabled(ready, Button::new("Draw these openings")).clicked()
            && let Some(Ok(rows)) = read
        {
            cx.change(rows::change(&rows, &e).0);
            *open = false;
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}
