//! The print preview and the firm's settings in the window.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use std::time::Duration;
use tiewright::preview::Preview;
use tiewright_tests::window::Window;

/// Waits for the sheets, which are drawn on another thread.
#[track_caller]
fn drawn(w: &mut Window) {
    for _ in 0..600 {
        w.h.step();
        if !w.h.state().session().preview.as_ref().is_some_and(Preview::waits) {
            w.h.run();
            return;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    panic!("the sheets are not drawn");
}

fn titles(w: &Window) -> Vec<String> {
    let preview = w.h.state().session().preview.as_ref().expect("a preview is open");
    preview.sheets().iter().map(|s| s.title.clone()).collect()
}

#[test]
fn the_sheets_are_leafed_through() {
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::E);
    drawn(&mut w);
    let all = titles(&w);
    // Schedule and record may take more than one sheet, each then with its number.
    let kind = |title: &String| title.split(',').next().unwrap_or(title).to_owned();
    let mut kinds: Vec<String> = all.iter().map(kind).collect();
    kinds.dedup();
    assert_eq!(
        kinds,
        ["Cover", "Front", "Front: setting-out schedule", "Front: as-installed record", "Pull tests"]
    );
    let page = |w: &Window| w.h.state().session().preview.as_ref().map(|p| p.page);
    w.click("2  Front");
    assert_eq!(page(&w), Some(1));
    assert!(w.says(&format!("Sheet 2 of {}, A3", all.len())));
    w.h.get_by_label("Print preview: Front");
    w.keys(Modifiers::NONE, Key::PageDown);
    assert_eq!(page(&w), Some(2));
    // The last sheet is the end.
    for _ in 0..all.len() {
        w.keys(Modifiers::NONE, Key::PageDown);
    }
    assert_eq!(page(&w), Some(all.len() - 1));
    w.click("+");
    assert!(!w.h.state().session().preview.as_ref().expect("open").fit);
    w.click("Whole sheet");
    assert!(w.h.state().session().preview.as_ref().expect("open").fit);
    // Keys of the board do nothing to the project meanwhile.
    let before = w.project();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Delete);
    assert_eq!(w.project(), before);
    w.keys(Modifiers::NONE, Key::Escape);
    assert_eq!(page(&w), None);
}

#[test]
fn firm_settings_are_kept_and_drawn() {
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::E);
    drawn(&mut w);
    w.click("Firm settings…");
    w.click("As-installed record");
    w.click("Pull-test sheet");
    w.click("Keep settings");
    drawn(&mut w);
    let mut kinds = titles(&w);
    kinds.dedup();
    assert_eq!(kinds, ["Cover", "Front", "Front: setting-out schedule"]);
    let kept = w.world.firm.lock().expect("settings").clone();
    assert!(!kept.include.record && !kept.include.tests && kept.include.schedule);
}

#[test]
fn a_logo_is_looked_at_before_it_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("sign.png");
    let bytes = tiewright::export::png::grey(2, 1, &[0, 200], None).expect("a picture");
    std::fs::write(&path, bytes).expect("a file");
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::I);
    w.write("Logo", "/nowhere at all/sign.png");
    w.click("Keep settings");
    assert!(w.says("cannot be read"), "what is wrong is said at the field");
    assert!(w.world.firm.lock().expect("settings").logo.is_empty(), "nothing is kept");
    w.world.answer(&path);
    w.click("Browse for the logo");
    w.click("Keep settings");
    assert!(!w.shows("Keep settings"));
    assert_eq!(w.world.firm.lock().expect("settings").logo, path.display().to_string());
    // Moved since, it is left out of the drawing, and that is said.
    std::fs::remove_file(&path).expect("it was there");
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::E);
    drawn(&mut w);
    assert!(titles(&w).len() > 1);
    assert!(w.says("Without the logo of Firm settings"));
    w.keys(Modifiers::NONE, Key::Escape);
    w.world.answer(&folder.path().join("wall.pdf"));
    w.keys(Modifiers::COMMAND, Key::E);
    assert!(w.says("Drawing written to") && w.says("Without the logo of Firm settings"));
}
