//! Dialogs over the window.

use std::mem::{Discriminant, discriminant};
use std::path::PathBuf;

use egui::text::{CCursor, CCursorRange};
use egui::{Button, Grid, Id, Key, Modal, RichText, ScrollArea, TextEdit, Ui};

use super::{more_dialogs, rule_help};
use crate::commands::Command;
use crate::document::{Details, Edit};
use crate::export::drawing::Format;
use crate::services::FileFor;
use crate::session::{Context, Dialog, Request, Then};
use crate::theme::{Palette, bold};
use crate::widgets::{labelled, quiet};

/// Shows the dialog that is open, if one is.
pub fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(mut dialog) = cx.session.dialog.take() else { return };
    let mut open = true;
    note_opening(ui, &dialog);
    let begun = holds_work(ui, &dialog);
    let frame = egui::Frame::popup(ui.style()).inner_margin(egui::Margin::same(18));
    // Held at its upper edge, it stays where it is while it grows and shrinks.
    let id = Id::unique("dialog");
    let down = ui.ctx().content_rect().height() * 0.12;
    let area = Modal::default_area(id).anchor(egui::Align2::CENTER_TOP, egui::vec2(0.0, down));
    let modal = Modal::new(id).area(area).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(match dialog {
            Dialog::Shortcuts
            | Dialog::Shape(_)
            | Dialog::Rows(_)
            | Dialog::Commands(..)
            | Dialog::Rule(_)
            | Dialog::Rules => 560.0,
            _ => 440.0,
        });
        match &mut dialog {
            Dialog::Unsaved(then) => unsaved(ui, cx, then, &mut open),
            Dialog::Path { what, text, error, replace } => {
                path(ui, cx, *what, text, error, replace, &mut open);
            }
            Dialog::Details(details) => project_details(ui, cx, details, &mut open),
            Dialog::Shape(draft) => super::wall_dialog::show(ui, cx, draft, &mut open),
            Dialog::StrikeOut(struck) => more_dialogs::strike_out(ui, cx, struck, &mut open),
            Dialog::Recover(found) => more_dialogs::recover(ui, cx, found, &mut open),
            Dialog::ChangedOutside => more_dialogs::changed_outside(ui, cx, &mut open),
            Dialog::Commands(text, at) => super::command_list::show(ui, cx, text, at, &mut open),
            Dialog::Rule(rule) => rule_help::show(ui, *rule, &mut open),
            Dialog::Rules => rule_help::all(ui, &mut open),
            Dialog::Repeat(repeat) => super::repeat_dialog::show(ui, cx, repeat, &mut open),
            Dialog::Rows(text) => super::rows_dialog::show(ui, cx, text, &mut open),
            Dialog::Firm(firm, fault) => {
                title(ui, "Firm settings");
                super::firm::show(ui, cx, firm, fault, &mut open);
            }
            Dialog::Shortcuts => shortcuts(ui, &mut open),
            Dialog::Cautions => cautions(ui, &mut open),
        }
        if begun && kept(ui) {
            quiet(ui, "Esc does not throw away what is typed here: Cancel does.");
        }
    });
    // A click beside a dialog closes it only where nothing typed or asked would be lost.
    let reads_only = matches!(
        dialog,
        Dialog::Shortcuts | Dialog::Cautions | Dialog::Rule(_) | Dialog::Rules | Dialog::Commands(..)
    );
    let beside = modal.backdrop_response.clicked();
    if (reads_only || !beside) && modal.should_close() {
        if begun {
            ui.data_mut(|d| d.insert_temp(Id::unique("work kept from Esc"), true));
        } else {
            open = false;
        }
    }
    // A button may have opened another dialog meanwhile.
    if open && cx.session.dialog.is_none() {
        cx.session.dialog = Some(dialog);
    } else if !open {
        cx.session.then = None;
    }
}

/// Whether what was typed into a dialog is more than a line, and not yet taken over.
fn holds_work(ui: &Ui, dialog: &Dialog) -> bool {
    let opened = ui.data(|d| d.get_temp::<Dialog>(Id::unique("dialog as it opened")));
    matches!(dialog, Dialog::Details(_) | Dialog::Rows(_) | Dialog::Firm(..))
        && opened.as_ref() != Some(dialog)
}

/// Whether this dialog has kept what was typed from Esc.
fn kept(ui: &Ui) -> bool {
    ui.data(|d| d.get_temp(Id::unique("work kept from Esc"))).unwrap_or(false)
}

/// What a dialog has to know of the pass it is shown in.
#[derive(Clone, Copy, Debug)]
struct Shown {
    which: Discriminant<Dialog>,
    pass: u64,
    opened: u64,
    enter: bool,
}

/// Notes when a dialog opened, and whether Enter is pressed while no field has the keyboard.
fn note_opening(ui: &Ui, dialog: &Dialog) {
    let which = discriminant(dialog);
    let pass = ui.ctx().cumulative_pass_nr();
    let before = shown(ui).filter(|l| l.pass + 1 >= pass && l.which == which);
    if before.is_none() {
        ui.data_mut(|d| {
            d.insert_temp(Id::unique("dialog as it opened"), dialog.clone());
            d.remove_temp::<bool>(Id::unique("work kept from Esc"));
        });
    }
    let enter =
        before.is_some() && ui.memory(|m| m.focused().is_none()) && ui.input(|i| i.key_pressed(Key::Enter));
    let now = Shown { which, pass, opened: before.map_or(pass, |l| l.opened), enter };
    ui.data_mut(|d| d.insert_temp(Id::unique("dialog shown"), now));
}

fn shown(ui: &Ui) -> Option<Shown> {
    ui.data(|d| d.get_temp(Id::unique("dialog shown")))
}

/// Gives a field the keyboard as its dialog opens, and says so; the first pass only measures the dialog and lets
/// go of the keyboard.
pub(super) fn focus_first(ui: &Ui, id: Id) -> bool {
    let opens = shown(ui).is_some_and(|s| s.pass <= s.opened + 1);
    if opens {
        ui.memory_mut(|m| m.request_focus(id));
    }
    opens
}

/// The button that does what the dialog is for: Enter presses it too, once no field has the keyboard, and it
/// waits until sizes that were refused are put right.
pub(super) fn accept(ui: &mut Ui, word: &str, ready: bool) -> bool {
    let refused = crate::widgets::field::any_refused(ui);
    let can = ready && !refused;
    let response = ui.add_enabled(can, Button::new(word)).on_hover_text(format!("{word}  (Enter)"));
    let response = if refused {
        response.on_disabled_hover_text("Put right first what is marked in red")
    } else {
        response
    };
    response.clicked() || (can && shown(ui).is_some_and(|s| s.enter))
}

/// Height for what scrolls in a dialog: as much as the window has to give.
pub(super) fn room(ui: &Ui) -> f32 {
    (ui.ctx().content_rect().height() - 260.0).max(300.0)
}

pub(super) fn title(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).font(egui::FontId::new(16.0, bold())));
    ui.add_space(6.0);
}

fn unsaved(ui: &mut Ui, cx: &mut Context<'_>, then: &Then, open: &mut bool) {
    title(ui, &format!("Save the changes to {}?", cx.session.file_name()));
    quiet(ui, "Without saving, what you changed since the last save is lost.");
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        if ui.button("Save changes").clicked() {
            *open = false;
            cx.ask(Request::Unsaved(true, then.clone()));
        }
        if ui.button("Discard changes").clicked() {
            *open = false;
            cx.ask(Request::Unsaved(false, then.clone()));
        }
        if ui.button("Keep editing").clicked() {
            *open = false;
        }
    });
}

fn path(
    ui: &mut Ui,
    cx: &mut Context<'_>,
    what: FileFor,
    text: &mut String,
    error: &mut Option<String>,
    replace: &mut Option<PathBuf>,
    open: &mut bool,
) {
    title(ui, what.title());
    let kinds = what.kinds().iter().map(|(kind, ending)| format!("{kind}, .{ending}"));
    let kinds = kinds.collect::<Vec<_>>().join("; ");
    let what_to_type = match what {
        FileFor::Open => "Type the path of the file to open",
        FileFor::Rules | FileFor::Logo => "Type the path of the file",
        FileFor::Save | FileFor::Drawing => "Type the path of the file to write",
    };
    quiet(ui, format!("No file dialog of the desktop answered. {what_to_type} ({kinds})."));
    ui.add_space(4.0);
    let id = Id::unique("path");
    let edit = TextEdit::singleline(text).desired_width(f32::INFINITY).id(id);
    let response = ui.add(edit).accessible_name("File path");
    if response.changed() {
        *error = None;
        *replace = None;
    }
    if focus_first(ui, id) {
        select_name(ui, id, text);
    }
    let p = Palette::of(ui.ctx());
    if let Some(error) = error {
        ui.add(egui::Label::new(RichText::new(error.as_str()).color(p.breach)).wrap());
    }
    ui.add_space(10.0);
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let word = match (what, replace.is_some()) {
        (_, true) => "Replace it",
        (FileFor::Open, _) => "Open file",
        (FileFor::Rules, _) => "Use these rules",
        (FileFor::Logo, _) => "Use this logo",
        (FileFor::Save, _) => "Save file",
        (FileFor::Drawing, _) => "Write drawing",
    };
    ui.horizontal(|ui| {
        if ui.button(word).clicked() || enter {
            match typed(what, text, replace.as_ref()) {
                Ok(path) => {
                    *open = false;
                    // What follows a save still has to follow it.
                    let then = cx.session.then.clone();
                    cx.ask(Request::PathTyped(what, path, then));
                }
                Err((message, there)) => {
                    *error = Some(message);
                    *replace = there;
                    ui.memory_mut(|m| m.request_focus(id));
                }
            }
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}

/// Selects the name of the file, without its folder and ending, for the next letter to replace.
fn select_name(ui: &Ui, id: Id, path: &str) {
    let chars: Vec<char> = path.chars().collect();
    let from = chars.iter().rposition(|c| matches!(c, '/' | '\\')).map_or(0, |i| i + 1);
    let to = chars.iter().rposition(|c| *c == '.').filter(|i| *i > from).unwrap_or(chars.len());
    let mut state = TextEdit::load_state(ui.ctx(), id).unwrap_or_default();
    let range = CCursorRange::two(CCursor::new(from), CCursor::new(to));
    state.cursor.set_char_range(Some(range));
    TextEdit::store_state(ui.ctx(), id, state);
}

/// The typed path, if it can be used: an ending is added where there is none, and a file that is there
/// already has to be confirmed once.
fn typed(
    what: FileFor,
    text: &str,
    confirmed: Option<&PathBuf>,
) -> Result<PathBuf, (String, Option<PathBuf>)> {
    let text = text.trim();
    if text.is_empty() {
        return Err(("type a path".to_owned(), None));
    }
    let mut path = PathBuf::from(text);
    if what.is_read() {
        return if path.is_file() { Ok(path) } else { Err(("there is no such file".to_owned(), None)) };
    }
    if path.extension().is_none() {
        path.set_extension(what.ending());
    }
    if what == FileFor::Drawing
        && let Err(message) = Format::of(&path)
    {
        return Err((message, None));
    }
    if path.is_dir() {
        return Err(("that is a folder; add a file name".to_owned(), None));
    }
    if path.parent().is_some_and(|f| !f.as_os_str().is_empty() && !f.is_dir()) {
        return Err(("there is no such folder".to_owned(), None));
    }
    if path.exists() && confirmed != Some(&path) {
        return Err((
            "a file of that name is there already; press again to replace it".to_owned(),
            Some(path),
        ));
    }
    Ok(path)
}

fn project_details(ui: &mut Ui, cx: &mut Context<'_>, d: &mut Details, open: &mut bool) {
    title(ui, "Project details");
    quiet(ui, "Shown in the title block of every sheet.");
    ui.add_space(4.0);
    let fields: [(&str, &mut String); 6] = [
        ("Title", &mut d.title),
        ("Reference", &mut d.reference),
        ("Site", &mut d.site),
        ("Client", &mut d.client),
        ("Drawn by", &mut d.drawn_by),
        ("Revision", &mut d.revision),
    ];
    for (label, text) in fields {
        labelled(ui, label, |ui| {
            let id = Id::unique(("detail", label));
            let edit = TextEdit::singleline(text).id(id).desired_width(320.0);
            ui.add(edit.margin(egui::Margin::symmetric(6, 3))).accessible_name(label);
        });
    }
    focus_first(ui, Id::unique(("detail", "Title")));
    ui.label("Notes on the summary sheet, one a line");
    let mut notes = d.notes.join("\n");
    let edit = TextEdit::multiline(&mut notes).desired_width(f32::INFINITY).desired_rows(4);
    if ui.add(edit).accessible_name("Notes").changed() {
        d.notes = notes.split('\n').map(str::to_owned).collect();
    }
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        let named = !d.title.trim().is_empty();
        let response = ui.add_enabled(named, Button::new("Apply details"));
        if response.on_disabled_hover_text("A project needs a title").clicked() {
            let mut details = d.clone();
            details.notes.retain(|n| !n.trim().is_empty());
            cx.ask(Request::Edit(Edit::Details(Box::new(details))));
            *open = false;
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}

fn shortcuts(ui: &mut Ui, open: &mut bool) {
    title(ui, "Keyboard shortcuts");
    ScrollArea::vertical().max_height(room(ui) - 40.0).show(ui, |ui| {
        Grid::new("shortcuts").num_columns(3).spacing([18.0, 4.0]).show(ui, |ui| {
            for command in Command::ALL {
                let keys = command.keys_text(ui.ctx());
                if keys.is_empty() {
                    continue;
                }
                ui.label(RichText::new(keys).font(egui::FontId::new(13.0, bold())));
                ui.label(command.spec().label);
                ui.label(RichText::new(command.spec().tip).color(Palette::of(ui.ctx()).ink_soft));
                ui.end_row();
            }
        });
    });
    ui.add_space(6.0);
    quiet(
        ui,
        "On the sheet: the wheel zooms; the middle button, or Space and the main one, moves the sheet; a frame \
         dragged round things selects them, Shift adds to them; Alt drags without snapping; arrow keys move what is \
         selected by 25 mm, with Shift by 1 mm, with Ctrl by a course or half a brick; a double click on an edge \
         puts a corner in; while something is drawn, its sizes can be typed; Enter closes a shape.",
    );
    ui.add_space(8.0);
    if ui.button("Close").clicked() {
        *open = false;
    }
}

/// What to mind on site; in general words that give way to local codes and an engineer.
const CAUTIONS: [(&str, &str); 6] = [
    (
        "Loose leaves",
        "A leaf that bulges, rocks or has lost its ties can fall while it is drilled. Have it propped \
                      or taken down first where an engineer says so.",
    ),
    ("Work at height", "Scaffold, guard rails and loads on them follow the local rules for work at height."),
    (
        "Dust",
        "Drilling brick, block and stone frees silica dust: extract it at the bit and wear a fitted mask.",
    ),
    (
        "Resin",
        "Resins burn skin and eyes and may sensitise: gloves, goggles, and the maker's data sheet at hand.",
    ),
    (
        "Hidden services",
        "Scan for cables, gas and water before every hole; the drawing shows only what was found.",
    ),
    (
        "Asbestos",
        "Soffits, boards, cavity trays and old fire stops may hold asbestos: stop and have it looked at.",
    ),
];

fn cautions(ui: &mut Ui, open: &mut bool) {
    title(ui, "Before you drill");
    for (head, text) in CAUTIONS {
        ui.label(RichText::new(head).font(egui::FontId::new(13.0, bold())));
        quiet(ui, text);
        ui.add_space(2.0);
    }
    ui.add_space(4.0);
    quiet(
        ui,
        "These are reminders, not instructions. Local codes and the judgement of a competent engineer come first.",
    );
    ui.add_space(8.0);
    if ui.button("Close").clicked() {
        *open = false;
    }
}
