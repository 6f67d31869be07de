//! Pages of the sidebar beyond the layout: wind, fixing, tests, old ties, price. Each has what was surveyed above and
//! what follows from it below, in words.

mod fixing;
mod form;
mod old_ties;
mod price;
mod tests;
mod wind;

use egui::{RichText, Ui};

use crate::commands::Command;
use crate::engineering::Section;
use crate::session::{Context, Page};
use crate::theme::{Palette, bold};
use crate::widgets::{heading, quiet};

/// Shows the row of pages.
pub(super) fn pages(ui: &mut Ui, cx: &mut Context<'_>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 1.0;
        ui.spacing_mut().button_padding.x = 4.5;
        for page in Page::ALL {
            let response = ui
                .selectable_label(cx.session.page == page, page.label())
                .on_hover_text(Command::Page(page).tip_text(ui.ctx()));
            if response.clicked() {
                cx.session.page = page;
            }
        }
    });
}

/// Shows a page; not the layout's own.
pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    if cx.elevation().is_none() {
        heading(ui, cx.session.page.label());
        quiet(ui, "This project has no elevation yet.");
        return;
    }
    match cx.session.page {
        Page::Layout => {}
        Page::Wind => wind::show(ui, cx),
        Page::Fixing => fixing::show(ui, cx),
        Page::Tests => tests::show(ui, cx),
        Page::OldTies => old_ties::show(ui, cx),
        Page::Price => price::show(ui, cx),
    }
}

/// A short account that should catch the eye: a head, words, and a bar at the left.
fn told(ui: &mut Ui, ink: egui::Color32, head: &str, words: &str) {
    let p = Palette::of(ui.ctx());
    let frame = egui::Frame::new().fill(p.board_high).inner_margin(egui::Margin { left: 10, ..6.into() });
    let shown = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.label(RichText::new(head).font(egui::FontId::new(13.0, bold())).color(ink));
        ui.add(egui::Label::new(RichText::new(words).size(12.5).color(p.ink)).wrap());
    });
    let rect = shown.response.rect;
    ui.painter().rect_filled(rect.with_max_x(rect.left() + 3.0), 1.0, ink);
}

/// A section of the account: each line with how it was found below it.
fn section(ui: &mut Ui, s: &Section) {
    heading(ui, &s.title);
    body(ui, s);
}

fn body(ui: &mut Ui, s: &Section) {
    let p = Palette::of(ui.ctx());
    for l in &s.lines {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            ui.label(&l.label);
            let value = RichText::new(&l.value).font(egui::FontId::new(13.0, bold())).color(p.ink);
            ui.label(value);
        });
        if !l.how.is_empty() {
            quiet(ui, &l.how);
        }
        ui.add_space(3.0);
    }
    for note in &s.notes {
        quiet(ui, format!("• {note}"));
    }
}
