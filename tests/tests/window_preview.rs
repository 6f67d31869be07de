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
    let mut kinds = all.clone();
    // Schedule and record may take more than one sheet.
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
