//! The menu bar.

use egui::{Align, Button, Layout, MenuBar, RichText, Ui};

use crate::commands::Command;
use crate::document::Item;
use crate::document::arrange::Arrange;
use crate::session::{Context, Page, Request, Selection};
use crate::theme::{Palette, bold};
use crate::tools::Tool;

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    MenuBar::new().ui(ui, |ui| {
        menu(
            ui,
            cx,
            "File",
            &[
                &[Command::New, Command::Open, Command::Save, Command::SaveAs],
                &[Command::Preview, Command::Export],
                &[Command::Details, Command::Firm],
                &[Command::Quit],
            ],
        );
        menu(
            ui,
            cx,
            "Edit",
            &[
                &[Command::Undo, Command::Redo],
                &[Command::Cut, Command::Copy, Command::Paste, Command::Duplicate, Command::Delete],
                &[Command::SelectAll, Command::Cancel],
                &[Command::PinSelected, Command::StrikeOut],
                &[Command::Find],
            ],
        );
        let arrange: Vec<Command> = Arrange::ALL.into_iter().map(Command::Arrange).collect();
        menu(
            ui,
            cx,
            "Arrange",
            &[&[Command::Repeat], &arrange[..6], &arrange[6..8], &arrange[8..], &[Command::HalfBricks]],
        );
        let tools: Vec<Command> = Tool::ALL.into_iter().map(Command::Pick).collect();
        menu(
            ui,
            cx,
            "Draw",
            &[
                &[Command::StartShape, Command::PasteRows],
                &tools[..2],
                &tools[2..4],
                &tools[4..9],
                &tools[9..],
            ],
        );
        menu(
            ui,
            cx,
            "View",
            &[
                &[Command::Fit, Command::ZoomToSelection, Command::ZoomIn, Command::ZoomOut],
                &[
                    Command::Marks,
                    Command::BedJoints,
                    Command::Dimensions,
                    Command::OldTies,
                    Command::Served,
                    Command::Untied,
                ],
                &[Command::Table, Command::LeftPanel, Command::RightPanel],
                &Page::ALL.map(Command::Page),
                &[Command::Theme, Command::Contrast, Command::Feet],
            ],
        );
        menu(
            ui,
            cx,
            "Elevation",
            &[
                &[
                    Command::AddElevation,
                    Command::DuplicateElevation,
                    Command::MirrorElevation,
                    Command::RenameElevation,
                    Command::DeleteElevation,
                ],
                &[Command::RulesFromFile],
                &[Command::ElevationUp, Command::ElevationDown],
                &[Command::NextElevation, Command::PreviousElevation],
            ],
        );
        menu(
            ui,
            cx,
            "Help",
            &[&[Command::Find, Command::Shortcuts], &[Command::RulesExplained, Command::Cautions]],
        );
        ui.add_space(6.0);
        for command in [Command::Undo, Command::Redo] {
            let name = name(cx, command);
            let button = Button::new(command.spec().label).frame_when_inactive(false);
            let response = ui.add_enabled(enabled(cx, command), button);
            if response.on_hover_text(format!("{name}  ({})", command.keys_text(ui.ctx()))).clicked() {
                cx.run(command);
            }
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            panel_switch(ui, cx, Command::RightPanel, "◨");
            panel_switch(ui, cx, Command::LeftPanel, "◧");
            ui.add_space(6.0);
            theme_switch(ui, cx);
            ui.add_space(10.0);
            title(ui, cx);
        });
    });
}

/// Files opened and saved before.
fn recent(ui: &mut Ui, cx: &mut Context<'_>) {
    ui.separator();
    ui.add_enabled_ui(!cx.session.recent.is_empty(), |ui| {
        ui.menu_button("Recent files", |ui| {
            for path in cx.session.recent.clone() {
                let name = path
                    .file_name()
                    .map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned());
                if ui.button(name).on_hover_text(path.display().to_string()).clicked() {
                    cx.ask(Request::OpenFile(path));
                    ui.close();
                }
            }
        });
    });
}

fn title(ui: &mut Ui, cx: &Context<'_>) {
    let p = Palette::of(ui.ctx());
    let state = match (&cx.session.path, cx.document.is_changed()) {
        (None, false) => "not saved yet".to_owned(),
        (None, true) => "changed, not saved yet".to_owned(),
        (Some(_), false) => format!("{} · saved", cx.session.file_name()),
        (Some(_), true) => format!("{} · changed", cx.session.file_name()),
    };
    ui.label(RichText::new(state).color(p.ink_soft));
    ui.add_space(4.0);
    let text = RichText::new(&cx.project().title).font(egui::FontId::new(13.0, bold()));
    ui.add(egui::Label::new(text).truncate());
}

/// A small sign that shows or hides a panel, underlaid while it is shown.
fn panel_switch(ui: &mut Ui, cx: &mut Context<'_>, command: Command, sign: &str) {
    ui.spacing_mut().item_spacing.x = 2.0;
    let response = ui.selectable_label(ticked(cx, command), sign).on_hover_text(command.tip_text(ui.ctx()));
    let name = format!("Show {}", command.spec().label);
    if response.accessible_name(name).clicked() {
        cx.run(command);
    }
}

/// Two words, the one in force underlaid.
fn theme_switch(ui: &mut Ui, cx: &mut Context<'_>) {
    let dark = ui.ctx().theme() == egui::Theme::Dark;
    ui.spacing_mut().item_spacing.x = 2.0;
    for (word, is_dark) in [("Dark", true), ("Light", false)] {
        let tip = Command::Theme.tip_text(ui.ctx());
        if ui.selectable_label(dark == is_dark, word).on_hover_text(tip).clicked() && dark != is_dark {
            cx.run(Command::Theme);
        }
    }
}

fn menu(ui: &mut Ui, cx: &mut Context<'_>, title: &str, groups: &[&[Command]]) {
    ui.menu_button(title, |ui| {
        ui.set_min_width(250.0);
        for (i, group) in groups.iter().enumerate() {
            if title == "File" && i + 1 == groups.len() {
                recent(ui, cx);
            }
            if i > 0 {
                ui.separator();
            }
            for command in *group {
                entry(ui, cx, *command);
            }
        }
    });
}

/// A command in a menu, with its keys and its tooltip.
pub fn entry(ui: &mut Ui, cx: &mut Context<'_>, command: Command) {
    ui.spacing_mut().button_padding.x = TICK;
    let ticked = ticked(cx, command);
    let mut button = Button::new(name(cx, command)).shortcut_text(command.keys_text(ui.ctx()));
    button = button.selected(ticked);
    let response = ui.add_enabled(enabled(cx, command), button).on_hover_text(command.spec().tip);
    if ticked {
        let at = response.rect.left_center() + egui::vec2(TICK / 2.0, 0.0);
        let font = egui::TextStyle::Button.resolve(ui.style());
        ui.painter().text(at, egui::Align2::CENTER_CENTER, "✓", font, Palette::of(ui.ctx()).ink);
    }
    if response.clicked() {
        cx.run(command);
        ui.close();
    }
}

/// Room beside an entry of a menu, the tick of one that is on standing in it, points.
const TICK: f32 = 22.0;

/// What a command is called just now: undo and redo say what they take back or make again.
fn name(cx: &Context<'_>, command: Command) -> String {
    let lower = |name: &str| {
        let mut letters = name.chars();
        letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect())
    };
    let history = cx.document.history();
    let step = match command {
        Command::Undo => history.undo_name(),
        Command::Redo => history.redo_name(),
        _ => None,
    };
    let label = command.spec().label;
    step.map_or_else(|| label.to_owned(), |step| format!("{label} {}", lower(step)))
}

fn ticked(cx: &Context<'_>, command: Command) -> bool {
    match command {
        Command::Marks => cx.session.layers.marks,
        Command::HalfBricks => cx.session.half_bricks,
        Command::Dimensions => cx.session.layers.dimensions,
        Command::OldTies => cx.session.layers.old_ties,
        Command::Served => cx.session.layers.served,
        Command::Untied => cx.session.layers.untied,
        Command::Table => cx.session.table,
        Command::LeftPanel => cx.session.panels.left,
        Command::RightPanel => cx.session.panels.right,
        Command::Page(page) => cx.session.panels.right && cx.session.page == page,
        Command::Feet => cx.session.feet,
        Command::BedJoints => cx.session.layers.bed_joints,
        Command::Pick(tool) => cx.session.tool == tool,
        _ => false,
    }
}

/// Whether a command can do anything just now.
#[must_use]
pub fn enabled(cx: &Context<'_>, command: Command) -> bool {
    let item = cx.session.item();
    let count = cx.project().elevations.len();
    match command {
        Command::Undo => cx.document.history().undo_name().is_some(),
        Command::Redo => cx.document.history().redo_name().is_some(),
        // A tie that was set out is struck out.
        Command::Delete => {
            item.is_some_and(|i| !matches!(i, Item::Side(_)))
                || matches!(cx.session.selection, Some(Selection::Tie(_)))
        }
        Command::Duplicate => item.is_some_and(|i| !matches!(i, Item::Side(_) | Item::Corner(_))),
        Command::PinSelected | Command::StrikeOut => {
            matches!(cx.session.selection, Some(Selection::Tie(_) | Selection::Item(Item::Pinned(_))))
        }
        Command::Copy | Command::Cut | Command::Repeat => {
            item.is_some_and(|i| !matches!(i, Item::Side(_) | Item::Corner(_)))
        }
        Command::Arrange(how) => cx.session.items().len() >= how.needs(),
        Command::ZoomToSelection => cx.session.selection.is_some(),
        Command::DeleteElevation
        | Command::MirrorElevation
        | Command::DuplicateElevation
        | Command::RenameElevation
        | Command::RulesFromFile
        | Command::Fit => count > 0,
        Command::ElevationUp => cx.session.elevation > 0,
        Command::ElevationDown => cx.session.elevation + 1 < count,
        Command::NextElevation | Command::PreviousElevation => count > 1,
        Command::Export | Command::Preview | Command::StartShape | Command::PasteRows => count > 0,
        Command::Pick(tool) => count > 0 || matches!(tool, Tool::Select | Tool::Pan),
        _ => true,
    }
}
