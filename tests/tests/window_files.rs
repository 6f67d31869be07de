//! New, open, save, export, and the questions about unsaved changes.

use egui::{Key, Modifiers};
use tiewright_tests::window::{Window, front};

#[test]
fn saved_and_opened_again_is_the_same() {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("wall.ron");
    let mut w = Window::front();
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (2400.0, 2250.0));
    w.world.answer(&path);
    w.keys(Modifiers::COMMAND, Key::S);
    assert!(w.says("Saved to"));
    assert!(!w.h.state().document().is_changed());
    let project = w.project();
    w.key(Key::Delete);
    let mut again = Window::bare();
    again.world.answer(&path);
    again.keys(Modifiers::COMMAND, Key::O);
    assert_eq!(again.project(), project);
    assert!(again.says("wall.ron"));
}

#[test]
fn a_file_opens_where_one_last_looked() {
    let dir = tempfile::tempdir().expect("a folder");
    let mut project = front();
    project.elevations.push(project.elevations[0].clone());
    project.elevations[1].name = "Rear".to_owned();
    let mut w = Window::sized(project, 1280.0, 800.0);
    let (one, other) = (dir.path().join("one.ron"), dir.path().join("other.ron"));
    w.world.answer(&one);
    w.keys(Modifiers::COMMAND, Key::S);
    std::fs::copy(&one, &other).expect("a second file");
    w.keys(Modifiers::COMMAND, Key::PageDown);
    w.click("Zoom in");
    w.click("Zoom in");
    let seen = |w: &Window| (w.h.state().session().view.centre, w.h.state().session().view.scale);
    let near = seen(&w);
    w.world.answer(&other);
    w.keys(Modifiers::COMMAND, Key::O);
    assert!(
        w.h.state().session().fitted && w.h.state().session().elevation == 0,
        "another file is seen whole"
    );
    w.world.answer(&one);
    w.keys(Modifiers::COMMAND, Key::O);
    assert_eq!(w.h.state().session().elevation, 1);
    assert_eq!(seen(&w), near);
}

#[test]
fn without_a_dialog_a_path_is_typed() {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("typed.ron");
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    w.write("File path", "/nowhere at all/x.ron");
    w.click("Save file");
    assert!(w.says("there is no such folder"));
    w.write("File path", &path.display().to_string());
    w.click("Save file");
    assert!(path.is_file());
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    w.click("Save file");
    assert!(w.says("press again to replace it"), "a file that is there is not replaced unasked");
    w.click("Replace it");
    assert!(w.says("Saved to"));
}

#[test]
fn a_bad_file_is_said_and_changes_nothing() {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("bad.ron");
    std::fs::write(&path, "(format: 1, title: 3)").expect("written");
    let mut w = Window::front();
    w.world.answer(&path);
    w.keys(Modifiers::COMMAND, Key::O);
    assert!(w.says("Not opened."));
    assert!(w.says("bad.ron"));
    assert_eq!(w.project(), front());
    w.click("Dismiss");
    assert!(!w.says("Not opened."));
}

#[test]
fn changes_are_asked_about() {
    let mut w = Window::front();
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (2400.0, 2250.0));
    let changed = w.project();
    w.keys(Modifiers::COMMAND, Key::N);
    assert!(w.says("Save the changes"));
    w.click("Keep editing");
    assert_eq!(w.project(), changed);
    w.keys(Modifiers::COMMAND, Key::N);
    w.click("Discard changes");
    assert!(w.elevation().outline.is_empty());
    assert_eq!(w.project().title, "Untitled");
}

#[test]
fn saving_first_goes_on_afterwards() {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("first.ron");
    let mut w = Window::front();
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (2400.0, 2250.0));
    w.keys(Modifiers::COMMAND, Key::N);
    w.click("Save changes");
    // No dialog service: the path is typed, and the new project still follows.
    w.write("File path", &path.display().to_string());
    w.click("Save file");
    assert!(path.is_file());
    assert!(w.elevation().outline.is_empty());
    assert!(w.h.state().session().path.is_none());
}

#[test]
fn closing_asks_first() {
    let mut w = Window::front();
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (2400.0, 2250.0));
    w.keys(Modifiers::COMMAND, Key::Q);
    assert!(w.says("Save the changes"));
    w.key(Key::Escape);
    assert!(!w.says("Save the changes"));
    assert_eq!(w.elevation().openings.len(), 1);
}

#[test]
fn the_drawing_is_exported() {
    let mut w = Window::front();
    let path = std::path::Path::new("somewhere/wall.pdf");
    w.world.answer(path);
    w.keys(Modifiers::COMMAND, Key::E);
    let exported = w.world.exported.lock().expect("not poisoned").clone();
    assert_eq!(exported, [("Test wall".to_owned(), path.to_owned())]);
    assert!(w.says("Drawing written to"));
}

#[derive(Debug)]
struct Dropped(std::path::PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &std::path::Path {
        &self.0
    }
    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|e| e.to_string())
    }
}

#[test]
fn a_dropped_file_is_opened() {
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("dropped.ron");
    tiewright::document::file::write(&front(), &path).expect("written");
    let mut w = Window::bare();
    w.h.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(path)));
    w.h.run();
    assert_eq!(w.project(), front());
}

#[test]
fn the_example_opens() {
    let w = Window::on(tiewright::app::example());
    assert_eq!(w.elevation().name, "Front");
    assert!(w.ties() > 0);
}

#[test]
fn a_drawing_is_written_under_no_other_ending() {
    let dir = tempfile::tempdir().expect("a folder");
    let mut w = Window::front();
    w.world.answer(&dir.path().join("out.docx"));
    w.keys(Modifiers::COMMAND, Key::E);
    assert!(w.says("end the name in .pdf, .svg, .dxf or .png"));
    assert!(w.world.exported.lock().expect("exports").is_empty());
    *w.world.pick.lock().expect("answer") = None;
    w.keys(Modifiers::COMMAND, Key::E);
    assert!(w.says("DXF drawing, .dxf"), "the dialog names every kind");
    w.write("File path", &dir.path().join("out.docx").display().to_string());
    w.click("Write drawing");
    assert!(w.says("no drawing is written as .docx"));
    w.write("File path", &dir.path().join("out.dxf").display().to_string());
    w.click("Write drawing");
    assert_eq!(w.world.exported.lock().expect("exports").len(), 1);
}
