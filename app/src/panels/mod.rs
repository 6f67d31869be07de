//! Panels round the canvas. They read and ask; they change nothing themselves.

mod command_list;
mod coursing;
pub mod dialogs;
mod elevations;
mod engineering;
mod faults;
mod findings;
mod firm;
mod german;
mod items;
pub mod menu;
mod more_dialogs;
mod openings;
mod own_rules;
pub mod preview;
mod properties;
mod repeat_dialog;
mod rows_dialog;
mod rule_help;
mod rules;
mod status;
mod strip;
mod summary;
mod toolbox;
mod wall_dialog;

use std::ops::RangeInclusive;

use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

use crate::canvas;
use crate::ground;
use crate::session::{Context, Page, Panels};
use crate::theme::Palette;

/// Shows the whole window.
pub fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    let bar = |x, y| Frame::new().inner_margin(Margin::symmetric(x, y));
    ground::panel(ui, Panel::top("menu").frame(bar(8, 3)), p.board, |ui| menu::show(ui, cx));
    ground::panel(ui, Panel::bottom("status").frame(bar(10, 3)), p.board, |ui| status::show(ui, cx));
    let room = ui.available_width();
    if cx.session.panels.left {
        let panel = Panel::left("tools")
            .frame(bar(8, 4))
            .resizable(true)
            .default_size(cx.session.panels.left_width)
            .size_range(limits(Panels::LEFT, room * 0.25));
        let shown = ground::panel(ui, panel, p.board, |ui| left(ui, cx));
        cx.session.panels.left_width = shown.response.rect.width();
    }
    if cx.session.panels.right {
        let panel = Panel::right("sidebar")
            .frame(Frame::new().inner_margin(Margin { left: 10, right: 2, top: 2, bottom: 4 }))
            .resizable(true)
            .default_size(cx.session.panels.right_width)
            .size_range(limits(Panels::RIGHT, room * 0.4));
        let shown = ground::panel(ui, panel, p.board, |ui| right(ui, cx));
        cx.session.panels.right_width = shown.response.rect.width();
    }
    ground::panel(ui, Panel::top("strip").frame(bar(10, 5)), p.board_high, |ui| strip::show(ui, cx));
    if cx.session.table {
        let panel = Panel::bottom("openings")
            .frame(bar(10, 4))
            .resizable(true)
            .default_size(cx.session.panels.table)
            .size_range(Panels::TABLE);
        let shown = ground::panel(ui, panel, p.board, |ui| openings::show(ui, cx));
        cx.session.panels.table = shown.response.rect.height();
    }
    // The window is cleared with the colour of the sheet.
    CentralPanel::default().frame(Frame::new()).show(ui, |ui| {
        canvas::show(ui, cx);
        faults::show(ui, cx);
    });
}

/// Limits of a size, the greater no more than there is room for.
fn limits(all: RangeInclusive<f32>, room: f32) -> RangeInclusive<f32> {
    *all.start()..=all.end().min(room).max(*all.start())
}

fn left(ui: &mut Ui, cx: &mut Context<'_>) {
    toolbox::show(ui, cx);
    elevations::show(ui, cx);
    items::show(ui, cx);
}

fn right(ui: &mut Ui, cx: &mut Context<'_>) {
    let shown = Panel::bottom("findings")
        .frame(Frame::new().inner_margin(Margin { left: 0, right: 14, top: 0, bottom: 2 }))
        .resizable(true)
        .default_size(cx.session.panels.findings)
        .size_range(Panels::FINDINGS)
        .show(ui, |ui| findings::show(ui, cx));
    cx.session.panels.findings = shown.response.rect.height();
    engineering::pages(ui, cx);
    let page = cx.session.page;
    ScrollArea::vertical().id_salt(("sidebar", page)).auto_shrink([false, false]).show(ui, |ui| {
        ui.set_width(ui.available_width() - 8.0);
        if page != Page::Layout {
            engineering::show(ui, cx);
            ui.add_space(8.0);
            return;
        }
        properties::show(ui, cx);
        summary::show(ui, cx);
        rules::show(ui, cx);
        coursing::show(ui, cx);
        summary::totals(ui, cx);
        ui.add_space(8.0);
    });
}
