//! Several things at once: selected, moved, aligned, spaced, mirrored, repeated, copied to other elevations.

use egui::{Event, Key, Modifiers};
use layout_core::elevation::{Opening, Shape, SideCondition, shape_bounds};
use tiewright::document::Item;
use tiewright_tests::window::{Window, front};

/// Three windows and a meter box on the front, a bare rear.
fn ready() -> Window {
    let mut project = front();
    let rect = |name: &str, x: f64, y: f64| Opening {
        name: name.to_owned(),
        shape: Shape::Rect { x, y, w: 1200.0, h: 1350.0 },
    };
    project.elevations[0].openings =
        vec![rect("W1", 900.0, 900.0), rect("W2", 3000.0, 1050.0), rect("W3", 6900.0, 900.0)];
    let mut rear = project.elevations[0].clone();
    rear.name = "Rear".to_owned();
    rear.openings.clear();
    project.elevations.push(rear);
    Window::sized(project, 1400.0, 900.0)
}

fn place(w: &Window, i: usize) -> (f64, f64) {
    let b = shape_bounds(&w.elevation().openings[i].shape);
    (b.0, b.1)
}

fn undo_name(w: &Window) -> String {
    w.h.state().document().history().undo_name().unwrap_or_default().to_owned()
}

fn run(w: &mut Window, command: &str) {
    w.keys(Modifiers::COMMAND, Key::J);
    w.write("Find a command", command);
    w.click(&format!("Run: {command}"));
}

#[test]
fn shift_and_a_frame_select_several() {
    let mut w = ready();
    w.click_at((1500.0, 1500.0));
    w.click_at_with((3600.0, 1500.0), Modifiers::SHIFT);
    assert_eq!(w.h.state().session().items(), [Item::Opening(0), Item::Opening(1)]);
    w.click_at_with((1500.0, 1500.0), Modifiers::SHIFT);
    assert_eq!(w.h.state().session().items(), [Item::Opening(1)]);
    // A frame round the first two, begun and ended on masonry.
    w.drag((600.0, 600.0), (4800.0, 3000.0));
    assert_eq!(w.h.state().session().items(), [Item::Opening(0), Item::Opening(1)]);
    // One dragged takes the other with it, in one step.
    w.drag((1500.0, 1500.0), (1500.0, 1800.0));
    assert_eq!((place(&w, 0), place(&w, 1)), ((900.0, 1200.0), (3000.0, 1350.0)));
    assert_eq!(undo_name(&w), "Move 2 things");
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(place(&w, 1), (3000.0, 1050.0));
    w.keys(Modifiers::COMMAND, Key::A);
    w.key(Key::Delete);
    assert!(w.elevation().openings.is_empty());
    assert_eq!(undo_name(&w), "Delete 3 things");
}

#[test]
fn aligned_spaced_and_mirrored_from_the_menu() {
    let mut w = ready();
    w.keys(Modifiers::COMMAND, Key::A);
    run(&mut w, "Align sills");
    assert_eq!(place(&w, 1), (3000.0, 900.0));
    run(&mut w, "Space evenly along");
    // From 2100 to 6900 less 1200: two piers of 1800.
    assert_eq!(place(&w, 1), (3900.0, 900.0));
    w.click("Item W1");
    run(&mut w, "Mirror to the other side");
    assert_eq!(place(&w, 3), (6900.0, 900.0), "9000 - 900 - 1200");
}

#[test]
fn a_row_of_windows_on_two_floors() {
    let mut w = ready();
    w.click("Item W1");
    w.keys(Modifiers::COMMAND, Key::R);
    w.enter("Repeat: Along the wall", "3");
    w.enter("Repeat: From one to the next", "12b");
    w.enter("Repeat: Floors", "2");
    w.enter("Repeat: From floor to floor", "35c");
    w.click("Repeat it");
    assert_eq!(w.elevation().openings.len(), 8, "five copies");
    // 12 x 225 along, 35 x 75 up.
    assert_eq!(place(&w, 4), (900.0 + 2.0 * 2700.0, 900.0));
    assert_eq!(place(&w, 7), (900.0 + 2.0 * 2700.0, 900.0 + 2625.0));
    assert_eq!(undo_name(&w), "Repeat W1");
}

#[test]
fn nudged_by_a_course_and_half_a_brick() {
    let mut w = ready();
    w.click("Item W1");
    w.keys(Modifiers::COMMAND, Key::ArrowUp);
    w.keys(Modifiers::COMMAND, Key::ArrowRight);
    assert_eq!(place(&w, 0), (1012.5, 975.0));
    w.keys(Modifiers::SHIFT, Key::ArrowLeft);
    w.key(Key::ArrowDown);
    assert_eq!(place(&w, 0), (1011.5, 950.0));
}

#[test]
fn copied_to_another_elevation() {
    let mut w = ready();
    w.click_at((1500.0, 1500.0));
    w.click_at_with((3600.0, 1500.0), Modifiers::SHIFT);
    // As the desktop tells it.
    w.h.event(Event::Copy);
    w.h.run();
    w.click("Elevation Rear");
    w.keys(Modifiers::COMMAND, Key::V);
    assert_eq!(w.elevation().name, "Rear");
    assert_eq!((place(&w, 0), place(&w, 1)), ((900.0, 900.0), (3000.0, 1050.0)));
    assert_eq!(w.elevation().openings[1].name, "W2", "the names are free there");
    w.keys(Modifiers::COMMAND, Key::V);
    // Both are 3300 wide: 450 beyond that nothing stands.
    assert_eq!(place(&w, 2), (4650.0, 900.0), "clear of what stands there already");
    assert_eq!(w.elevation().openings[2].name, "W3");
    run(&mut w, "Cut");
    assert_eq!(w.elevation().openings.len(), 2);
}

#[test]
fn an_elevation_is_mirrored() {
    let mut w = ready();
    w.click("Item side 2");
    w.choose("Condition of the side", SideCondition::FreeEnd.words());
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::D);
    run(&mut w, "Mirror elevation");
    let e = w.elevation();
    assert_eq!(place(&w, 0), (6900.0, 900.0));
    assert_eq!(e.sides[3], SideCondition::FreeEnd, "the free end is at the left now");
    assert_eq!(undo_name(&w), format!("Mirror {}", e.name));
}

#[test]
fn arrows_with_ctrl_and_shift_align() {
    let mut w = ready();
    w.click_at((1500.0, 1500.0));
    w.click_at_with((3600.0, 1500.0), Modifiers::SHIFT);
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::ArrowDown);
    // On the sill of the one that was selected first; along nothing moves.
    assert_eq!((place(&w, 0), place(&w, 1)), ((900.0, 900.0), (3000.0, 900.0)));
    assert_eq!(w.h.state().document().history().undo_name(), Some("Align sills"));
}

#[test]
fn a_copy_is_pasted_at_the_pointer() {
    let mut w = ready();
    w.click_at((1500.0, 1500.0));
    w.h.event(Event::Copy);
    w.h.run();
    // Over the original there is no room: beside it there is, but for W2 at 3000.
    w.keys(Modifiers::COMMAND, Key::V);
    assert_eq!(place(&w, 3), (4200.0, 900.0));
    let at = w.h.state().world_to_screen((3000.0, 4200.0));
    w.h.hover_at(at);
    w.h.run();
    w.keys(Modifiers::COMMAND, Key::V);
    // Its middle there: 3000 - 600 along; up by whole courses of 75 from 900, 4200 - 675 = 3525 = 900 + 35 x 75.
    assert_eq!(place(&w, 4), (2400.0, 3525.0));
}
