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

use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Ui};

use crate::canvas;
use crate::session::{Context, Page};
use crate::theme::Palette;

/// Shows the whole window.
pub fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    let bar = Frame::new().fill(p.board);
    Panel::top("menu").frame(bar.inner_margin(Margin::symmetric(8, 3))).show(ui, |ui| menu::show(ui, cx));
    Panel::bottom("status")
        .frame(bar.inner_margin(Margin::symmetric(10, 3)))
        .show(ui, |ui| status::show(ui, cx));
    Panel::left("tools")
        .frame(bar.inner_margin(Margin::symmetric(8, 4)))
        .resizable(false)
        .exact_size(188.0)
        .show(ui, |ui| left(ui, cx));
    Panel::right("sidebar")
        .frame(bar.inner_margin(Margin { left: 10, right: 2, top: 2, bottom: 4 }))
        .resizable(false)
        .exact_size(320.0)
        .show(ui, |ui| right(ui, cx));
    Panel::top("strip")
        .frame(Frame::new().fill(p.board_high).inner_margin(Margin::symmetric(10, 5)))
        .show(ui, |ui| strip::show(ui, cx));
    if cx.session.table {
        Panel::bottom("openings")
            .frame(bar.inner_margin(Margin::symmetric(10, 4)))
            .resizable(true)
            .default_size(190.0)
            .size_range(96.0..=420.0)
            .show(ui, |ui| openings::show(ui, cx));
    }
    CentralPanel::default().frame(Frame::new().fill(p.paper)).show(ui, |ui| {
        canvas::show(ui, cx);
        faults::show(ui, cx);
    });
}

fn left(ui: &mut Ui, cx: &mut Context<'_>) {
    toolbox::show(ui, cx);
    elevations::show(ui, cx);
    items::show(ui, cx);
}

fn right(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    Panel::bottom("findings")
        .frame(Frame::new().fill(p.board).inner_margin(Margin { left: 0, right: 14, top: 0, bottom: 2 }))
        .resizable(true)
        .default_size(160.0)
        .size_range(90.0..=420.0)
        .show(ui, |ui| findings::show(ui, cx));
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
