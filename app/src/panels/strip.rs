//! The strip over the canvas: sizes typed for the tool in hand.

use egui::{Button, ComboBox, Key, RichText, Ui};
use layout_core::elevation::TieForm;

use crate::commands::Command;
use crate::session::{Context, Request};
use crate::theme::Palette;
use crate::tools::entry::{Entry, Field};
use crate::tools::presets::PRESETS;
use crate::tools::{self, Draft, Tool};
use crate::widgets::choose;
use crate::widgets::number::{self, Look, Must};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    let tool = cx.session.tool;
    // In a narrow window what does not fit goes onto a second line.
    ui.horizontal_wrapped(|ui| {
        ui.set_min_height(26.0);
        if matches!(tool, Tool::Select | Tool::Pan) {
            view_buttons(ui, cx);
            return;
        }
        let heading = egui::FontId::new(13.0, crate::theme::bold());
        ui.label(RichText::new(title(tool)).color(p.accent).font(heading));
        ui.add_space(4.0);
        if tool.draws_keep_outs() {
            keep_out_shape(ui, cx);
        }
        let fields = Entry::fields(tool);
        let mut done = false;
        for field in fields {
            done = number_field(ui, cx, *field);
        }
        // Enter after the last of them adds the thing, and the next begins with the first.
        if let (true, Some(first)) = (done, fields.first()) {
            add(cx);
            ui.memory_mut(|m| m.request_focus(field_id(tool, *first)));
        }
        if tool == Tool::OldTie {
            form(ui, cx);
        }
        if !Entry::fields(tool).is_empty() {
            buttons(ui, cx);
        }
        if !matches!(tool, Tool::Wall | Tool::WallCorners | Tool::Lock) {
            ui.add_space(6.0);
            presets(ui, cx);
        }
    });
}

fn title(tool: Tool) -> &'static str {
    match tool {
        Tool::Wall => "Wall, from the left end of the datum",
        Tool::WallCorners => "Corner of the wall",
        Tool::Rectangle => "Opening",
        Tool::Arched => "Arched opening",
        Tool::Pointed => "Pointed opening",
        Tool::Circle => "Round opening",
        Tool::Polygon => "Corner of the opening",
        Tool::KeepOut | Tool::RoundKeepOut | Tool::KeepOutCorners => "Keep-out",
        Tool::Joint => "Movement joint",
        Tool::OldTie => "Old tie",
        Tool::Pin => "Pinned tie",
        Tool::Lock => "Locked area: drag about the ties that are to stay",
        Tool::Select | Tool::Pan => "",
    }
}

fn view_buttons(ui: &mut Ui, cx: &mut Context<'_>) {
    let commands = [
        Command::Fit,
        Command::ZoomIn,
        Command::ZoomOut,
        Command::Duplicate,
        Command::Delete,
        Command::PinSelected,
    ];
    for (i, command) in commands.into_iter().enumerate() {
        if i == 3 {
            ui.separator();
        }
        let enabled = super::menu::enabled(cx, command);
        let response = ui.add_enabled(enabled, Button::new(command.spec().label));
        if response.on_hover_text(command.tip_text(ui.ctx())).clicked() {
            cx.run(command);
        }
    }
    ui.separator();
    presets(ui, cx);
}

/// Openings and keep-outs of common sizes: one is taken in hand and placed by a click.
fn presets(ui: &mut Ui, cx: &mut Context<'_>) {
    let tip = "Take a window, a door or what is kept clear of in hand; then click where it goes";
    let menu = ui.menu_button("Common sizes ▾", |ui| {
        ui.set_min_width(170.0);
        for (group, (title, list)) in PRESETS.into_iter().enumerate() {
            ui.menu_button(title, |ui| {
                ui.set_min_width(280.0);
                for (i, preset) in list.iter().enumerate() {
                    if ui.button(preset.words()).clicked() {
                        cx.ask(Request::Preset(group, i));
                        ui.close();
                    }
                }
            });
        }
    });
    menu.response.on_hover_text(tip).accessible_name("Common sizes");
}

fn field_id(tool: Tool, field: Field) -> egui::Id {
    egui::Id::unique(("entry", tool, field))
}

/// Shows the field for a number; whether Enter was pressed in it and what it holds was taken.
fn number_field(ui: &mut Ui, cx: &mut Context<'_>, field: Field) -> bool {
    let tool = cx.session.tool;
    let label = field.label(tool);
    let must = match field {
        Field::Clearance => Must::BeDistance,
        Field::Y | Field::From | Field::To => Must::BeHeight,
        f if f.is_size() => Must::BeSize,
        _ => Must::BePlace,
    };
    let value = cx.session.entry.get(tool, field, cx.elevation());
    let id = field_id(tool, field);
    let had = ui.memory(|m| m.has_focus(id));
    let feet = number::Habits::in_force(ui.ctx()).feet;
    let width = if feet { number::FEET_WIDTH } else { 58.0 };
    let name = format!("New: {label}");
    let font = egui::TextStyle::Body.resolve(ui.style());
    let words = ui.painter().layout_no_wrap(label.to_owned(), font, Palette::of(ui.ctx()).ink).size().x;
    let room = egui::vec2(words + width + 12.0 + 8.0, 26.0);
    let new = ui.allocate_ui(room, |ui| {
        ui.horizontal(|ui| {
            ui.label(label);
            let look = Look { name: &name, width, right: true, tip: number::WAYS, ..Look::default() };
            number::length(ui, id, look, value, must)
        })
        .inner
    });
    if let Some(v) = new.inner {
        cx.session.entry.set(tool, field, v);
    }
    // A field that refuses what it holds keeps the keyboard.
    had && !ui.memory(|m| m.has_focus(id)) && ui.input(|i| i.key_pressed(Key::Enter))
}

/// Adds what is typed: a corner, or the whole thing.
fn add(cx: &mut Context<'_>) {
    if cx.session.tool.by_corners() {
        tools::typed_corner(cx);
    } else {
        tools::typed(cx);
    }
}

fn keep_out_shape(ui: &mut Ui, cx: &mut Context<'_>) {
    let name = "New: shape of the keep-out";
    if let Some(tool) = choose(ui, name, 96.0, cx.session.tool, &Tool::KEEP_OUTS) {
        cx.run(Command::Pick(tool));
    }
}

fn form(ui: &mut Ui, cx: &mut Context<'_>) {
    let chosen = cx.session.entry.form;
    let response = ComboBox::from_id_salt("new old tie")
        .selected_text(chosen.words())
        .width(150.0)
        .show_ui(ui, |ui| {
            for form in TieForm::ALL {
                if ui.selectable_value(&mut cx.session.entry.form, form, form.words()).clicked() {
                    ui.close();
                }
            }
        })
        .response;
    response.accessible_name("New: form of the old tie");
}

fn buttons(ui: &mut Ui, cx: &mut Context<'_>) {
    let tool = cx.session.tool;
    if tool.by_corners() {
        if ui.button("Add corner").on_hover_text("Add a corner at the typed place").clicked() {
            add(cx);
        }
        let count = match &cx.session.draft {
            Some(Draft::Corners(points)) => points.len(),
            _ => 0,
        };
        let close = Button::new("Close shape");
        let tip = "Join the last corner to the first  (Enter)";
        if ui.add_enabled(count >= 3, close).on_hover_text(tip).clicked() {
            tools::close_corners(cx);
        }
        let p = Palette::of(ui.ctx());
        ui.label(RichText::new(format!("{count} corners")).color(p.ink_soft));
        return;
    }
    if tool == Tool::Wall {
        let command = Command::StartShape;
        if ui.button(command.spec().label).on_hover_text(command.tip_text(ui.ctx())).clicked() {
            cx.run(command);
        }
    }
    let word = if tool == Tool::Wall { "Draw wall" } else { "Add" };
    let tip = "Draw it at the typed place and size  (Enter in the last field)";
    if ui.button(word).on_hover_text(tip).clicked() {
        add(cx);
    }
}
