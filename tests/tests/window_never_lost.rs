//! Never losing work: copies of what is not saved, files changed by another program, undo to the beginning.

use egui::{Event, Key, Modifiers};
use std::fs;
use tiewright::recovery::{LeftBehind, left_behind};
use tiewright::session::Dialog;
use tiewright_tests::window::Window;

fn saved(folder: &std::path::Path) -> Window {
    let mut w = Window::front();
    if let Ok(mut place) = w.world.recovery.lock() {
        *place = Some(folder.join("copies"));
    }
    w.world.answer(&folder.join("semi.ron"));
    w.keys(Modifiers::COMMAND, Key::S);
    w
}

fn copies(folder: &std::path::Path) -> usize {
    fs::read_dir(folder.join("copies")).map_or(0, Iterator::count)
}

#[test]
fn a_copy_is_kept_after_twenty_seconds_of_change() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut w = saved(folder.path());
    w.wait(60.0);
    assert_eq!(copies(folder.path()), 0, "nothing has changed");
    w.enter("Elevation name", "Street side");
    w.wait(10.0);
    assert_eq!(copies(folder.path()), 0, "not yet");
    w.wait(15.0);
    assert_eq!(copies(folder.path()), 1);
    w.enter("Elevation name", "Garden side");
    w.wait(25.0);
    assert_eq!(copies(folder.path()), 1, "the same copy, made anew");
    w.keys(Modifiers::COMMAND, Key::S);
    assert_eq!(copies(folder.path()), 0, "what is saved needs no copy");
}

#[test]
fn a_copy_left_behind_is_offered_and_opened() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut w = saved(folder.path());
    w.enter("Elevation name", "Street side");
    w.wait(25.0);
    // As after a crash: another process's copy, its window gone. No process has this number.
    let copies = folder.path().join("copies");
    let ours = fs::read_dir(&copies).expect("copies").next().expect("one").expect("an entry").path();
    fs::rename(ours, copies.join("unsaved-99999999-1.ron")).expect("renamed");
    let found = left_behind(&copies);
    assert_eq!(found.iter().map(LeftBehind::name).collect::<Vec<_>>(), ["semi.ron"]);
    let mut again = Window::front();
    if let Ok(mut place) = again.world.recovery.lock() {
        *place = Some(copies.clone());
    }
    again.h.state_mut().look_for_copies();
    again.h.run();
    assert!(again.says("Work that was not saved"));
    again.click("Open the copy");
    assert_eq!(again.elevation().name, "Street side");
    assert_eq!(again.h.state().session().path, Some(folder.path().join("semi.ron")));
    assert!(again.h.state().document().is_changed(), "it is not in the file yet");
    assert!(left_behind(&copies).is_empty());
}

#[test]
fn of_two_copies_left_behind_neither_is_lost() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut w = saved(folder.path());
    w.enter("Elevation name", "Street side");
    w.wait(25.0);
    let all = folder.path().join("copies");
    let ours = fs::read_dir(&all).expect("copies").next().expect("one").expect("an entry").path();
    let text = fs::read_to_string(&ours).expect("the copy");
    fs::rename(ours, all.join("unsaved-99999998-1.ron")).expect("renamed");
    fs::write(all.join("unsaved-99999999-1.ron"), text.replace("Street side", "Yard side")).expect("another");
    let mut again = Window::front();
    if let Ok(mut place) = again.world.recovery.lock() {
        *place = Some(all.clone());
    }
    again.h.state_mut().look_for_copies();
    again.h.run();
    again.click("Open the copy");
    assert_eq!(again.elevation().name, "Street side");
    assert!(
        !again.says("Work that was not saved"),
        "what was opened is not saved: nothing may take its place"
    );
    assert_eq!(left_behind(&all).len(), 1, "the other waits for the next start");
    assert_eq!(copies(folder.path()), 2, "what was opened still has a copy");
    again.keys(Modifiers::COMMAND, Key::S);
    assert_eq!(copies(folder.path()), 1, "until it is saved");
}

#[test]
fn a_file_changed_by_another_program_is_noticed() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut w = saved(folder.path());
    let path = folder.path().join("semi.ron");
    let text = fs::read_to_string(&path).expect("the file").replace("\"Front\"", "\"Street front\"");
    fs::write(&path, text).expect("written by somebody else");
    let focus = |w: &mut Window, on: bool| {
        w.h.input_mut().focused = on;
        w.h.event(Event::WindowFocused(on));
        w.h.run();
    };
    focus(&mut w, false);
    assert!(w.h.state().session().dialog.is_none());
    focus(&mut w, true);
    assert_eq!(w.h.state().session().dialog, Some(Dialog::ChangedOutside));
    w.click("Read it again");
    assert_eq!(w.elevation().name, "Street front");
    // Put away and fetched back, with no frame shown meanwhile.
    fs::write(&path, fs::read_to_string(&path).expect("the file").replace("Street front", "Yard"))
        .expect("again");
    w.h.event(Event::WindowFocused(true));
    w.h.run();
    w.click("Read it again");
    assert_eq!(w.elevation().name, "Yard");
    // Another time what is here is kept: saving asks no more.
    fs::write(&path, "(format: 1, title: \"Other\", elevations: [])").expect("written again");
    w.enter("Elevation name", "Mine");
    w.keys(Modifiers::COMMAND, Key::S);
    assert!(w.says("changed by another program"), "saving over it is asked about");
    w.click("Keep what is here");
    w.keys(Modifiers::COMMAND, Key::S);
    assert!(fs::read_to_string(&path).expect("the file").contains("Mine"));
}

#[test]
fn undo_goes_back_to_the_beginning() {
    let mut w = Window::front();
    let before = w.project();
    w.click_at((4500.0, 5250.0));
    w.click("Rectangle");
    w.click("Add");
    w.key(Key::Escape);
    // More steps than any list of a few hundred would keep.
    for _ in 0..640 {
        w.h.key_press(Key::ArrowRight);
        w.h.step();
    }
    w.h.run();
    let mut steps = 0;
    while w.h.state().document().history().undo_name().is_some() {
        w.h.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        w.h.step();
        steps += 1;
    }
    w.h.run();
    assert_eq!(steps, 641, "one window, 640 nudges");
    assert_eq!(w.project(), before);
}

#[test]
fn escape_throws_no_long_work_away() {
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND, Key::I);
    w.key(Key::Escape);
    assert!(!w.shows("Apply details"), "nothing was typed yet");
    w.keys(Modifiers::COMMAND, Key::I);
    w.write("Client", "M. Ashdown");
    w.key(Key::Escape);
    w.key(Key::Escape);
    assert!(w.shows("Apply details") && w.says("Cancel does"));
    w.click("Apply details");
    assert_eq!(w.project().client, "M. Ashdown");
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::V);
    w.write("Rows of openings", "W1, 900, 12c, 4b, 16c");
    w.key(Key::Escape);
    w.click("Draw these openings");
    assert_eq!(w.elevation().openings.len(), 1);
}
