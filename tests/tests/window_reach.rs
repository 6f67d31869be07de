//! Everything in reach: the command list, help, themes, recent files, what a screen reader is told.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::check::Rule;
use tiewright::commands::Command;
use tiewright::theme::{LIGHT_CONTRAST, Palette};
use tiewright_tests::window::{Window, front};

#[test]
fn a_command_by_a_few_letters() {
    let mut w = Window::front();
    w.click("Rectangle");
    w.click("Add");
    w.key(Key::Escape);
    w.keys(Modifiers::COMMAND, Key::J);
    w.write("Find a command", "served");
    assert!(w.shows("Run: Served areas"));
    w.key(Key::Enter);
    assert!(w.h.state().session().layers.served);
    w.keys(Modifiers::COMMAND, Key::J);
    w.write("Find a command", "mirror elev");
    w.click("Run: Mirror elevation");
    assert_eq!(w.h.state().document().history().undo_name(), Some("Mirror Front"));
    w.keys(Modifiers::COMMAND, Key::J);
    w.write("Find a command", "no such thing");
    assert!(w.shows("Nothing is called so."));
}

#[test]
fn every_command_is_in_a_menu_with_its_keys() {
    let mut w = Window::sized(tiewright_tests::window::front(), 1600.0, 1100.0);
    let mut seen = std::collections::HashSet::new();
    for menu in ["File", "Edit", "Arrange", "Draw", "View", "Elevation", "Help"] {
        w.h.get_by_role_and_label(egui::Role::Button, menu).click();
        w.h.run();
        for command in Command::ALL {
            if w.says(command.spec().label) {
                seen.insert(command);
            }
        }
        w.key(Key::Escape);
        w.key(Key::Escape);
    }
    let missing: Vec<_> = Command::ALL.into_iter().filter(|c| !seen.contains(c)).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn every_rule_is_explained_with_a_picture() {
    let mut w = Window::sized(tiewright_tests::window::front(), 1600.0, 1100.0);
    w.keys(Modifiers::COMMAND, Key::F1);
    for rule in Rule::ALL {
        assert!(w.shows(&format!("Picture: {}", rule.words())), "{rule:?}");
    }
    w.click("Close");
}

#[test]
fn high_contrast() {
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::T);
    assert_eq!(Palette::of(&w.h.ctx), LIGHT_CONTRAST);
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::T);
    assert_ne!(Palette::of(&w.h.ctx), LIGHT_CONTRAST);
}

#[test]
fn a_bare_sheet_says_how_to_begin() {
    let w = Window::bare();
    assert!(w.shows("Start from a gable, a semi…"));
}

#[test]
fn recent_files_are_in_the_menu() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut w = Window::front();
    for name in ["one.ron", "two.ron"] {
        w.world.answer(&folder.path().join(name));
        w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    }
    w.click("File");
    w.click("Recent files");
    w.click("one.ron");
    assert_eq!(w.h.state().session().path, Some(folder.path().join("one.ron")));
}

#[test]
fn a_list_is_opened_chosen_from_and_closed_by_the_keyboard() {
    let mut w = Window::sized(front(), 1280.0, 1000.0);
    w.h.get_by_label("Rows").focus();
    w.h.run();
    w.key(Key::Enter);
    w.h.get_by_role_and_label(egui::Role::Button, "one above the other").focus();
    w.h.run();
    w.key(Key::Enter);
    assert_eq!(w.elevation().pattern, layout_core::elevation::Pattern::Stacked);
    let entries = w.h.query_all_by_role_and_label(egui::Role::Button, "staggered");
    assert_eq!(entries.count(), 0, "the list is closed");
}

#[test]
fn menus_show_keys_as_they_are_and_leave_at_the_end() {
    let mut w = Window::front();
    assert_eq!(Command::ZoomIn.keys_text(&w.h.ctx), "Ctrl+=");
    assert_eq!(Command::ZoomOut.keys_text(&w.h.ctx), "Ctrl+-");
    w.click("File");
    let foot = |w: &Window, label: &str| w.h.get_by_label_contains(label).rect().bottom();
    assert!(foot(&w, "Recent files") < foot(&w, "Quit"));
}
