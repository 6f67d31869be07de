//! Drawing an elevation in the window, by mouse and by typing.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::elevation::{Opening, Shape, SideCondition};
use tiewright::document::Item;
use tiewright::session::Selection;
use tiewright::tools::Tool;
use tiewright_tests::window::{Window, front};

fn rect(w: &Window, i: usize) -> (f64, f64, f64, f64) {
    match w.elevation().openings[i].shape {
        Shape::Rect { x, y, w, h } => (x, y, w, h),
        ref other => panic!("a rectangle was drawn, not {other:?}"),
    }
}

/// A front drawn as a new user would: wall and two windows typed, a window and a door by mouse.
fn drawn() -> Window {
    let mut w = Window::bare();
    assert_eq!(w.h.state().session().tool, Tool::Wall, "a bare sheet begins with the wall");
    w.enter("New: Width", "9000");
    w.enter("New: Height", "5.25 m");
    w.click("Rectangle");
    for (x, y) in [("900", "900"), ("6600", "900")] {
        w.enter("New: Left", x);
        w.enter("New: Sill", y);
        w.enter("New: Width", "1200");
        w.enter("New: Height", "1350");
    }
    w.drag((3600.0, 3300.0), (5400.0, 4500.0));
    w.click("Arched head");
    w.drag((4000.0, 0.0), (5000.0, 2250.0));
    w.key(Key::Escape);
    w
}

/// The same front, ready drawn.
fn ready() -> Window {
    let mut project = tiewright_tests::window::front();
    let rect = |x: f64, y: f64, w: f64, h: f64| Shape::Rect { x, y, w, h };
    project.elevations[0].openings = [
        ("W1", rect(900.0, 900.0, 1200.0, 1350.0)),
        ("W2", rect(6600.0, 900.0, 1200.0, 1350.0)),
        ("W3", rect(3600.0, 3300.0, 1800.0, 1200.0)),
        ("D1", Shape::Arched { x: 4000.0, y: 0.0, w: 1000.0, h: 2100.0, rise: 150.0 }),
    ]
    .into_iter()
    .map(|(name, shape)| Opening { name: name.to_owned(), shape })
    .collect();
    Window::on(project)
}

#[test]
fn a_front_with_three_windows_and_a_door() {
    let w = drawn();
    let e = w.elevation();
    assert_eq!(e, ready().elevation());
    assert_eq!(e.outline, vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
    let names: Vec<&str> = e.openings.iter().map(|o| o.name.as_str()).collect();
    assert_eq!(names, ["W1", "W2", "W3", "D1"]);
    assert_eq!(rect(&w, 0), (900.0, 900.0, 1200.0, 1350.0));
    assert_eq!(rect(&w, 1), (6600.0, 900.0, 1200.0, 1350.0));
    assert_eq!(rect(&w, 2), (3600.0, 3300.0, 1800.0, 1200.0));
    assert_eq!(e.openings[3].shape, Shape::Arched { x: 4000.0, y: 0.0, w: 1000.0, h: 2100.0, rise: 150.0 });
}

#[test]
fn ties_are_set_out_again_with_every_edit() {
    let mut w = Window::front();
    let plain = w.ties();
    assert!(plain > 0);
    assert!(w.shows(&plain.to_string()), "the number of ties is shown");
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (4200.0, 3300.0));
    let with_window = w.ties();
    assert_ne!(plain, with_window);
    assert!(w.shows(&with_window.to_string()), "the number of ties is shown anew");
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.ties(), plain);
}

#[test]
fn undo_everything_then_redo_everything() {
    let mut w = drawn();
    let full = w.project();
    let mut undone = 0;
    while w.h.state().document().history().undo_name().is_some() {
        w.keys(Modifiers::COMMAND, Key::Z);
        undone += 1;
    }
    assert_eq!(undone, 5, "a wall and four openings, each drag one step");
    assert!(w.elevation().outline.is_empty());
    assert_eq!(w.h.state().session().tool, Tool::Wall, "a bare sheet wants its wall again");
    for _ in 0..undone {
        w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    }
    assert_eq!(w.project(), full);
    assert_eq!(w.h.state().session().tool, Tool::Select);
}

#[test]
fn a_drag_is_one_step_with_a_name() {
    let mut w = ready();
    let before = w.project();
    w.drag((1500.0, 1500.0), (2100.0, 1800.0));
    assert_eq!(rect(&w, 0), (1500.0, 1200.0, 1200.0, 1350.0));
    assert_eq!(w.h.state().document().history().undo_name(), Some("Move W1"));
    assert_eq!(w.h.state().session().item(), Some(Item::Opening(0)));
    w.click("Edit");
    assert!(w.says("Undo move W1"));
    w.key(Key::Escape);
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.project(), before);
}

#[test]
fn escape_takes_a_drag_back() {
    let mut w = ready();
    let before = w.project();
    w.drag_and_hold((1500.0, 1500.0), (2100.0, 1800.0));
    assert_ne!(w.project(), before);
    w.key(Key::Escape);
    assert_eq!(w.project(), before);
    assert_ne!(w.h.state().document().history().undo_name(), Some("Move W1"));
}

#[test]
fn handles_resize() {
    let mut w = ready();
    w.click_at((1500.0, 1500.0));
    assert_eq!(w.h.state().session().item(), Some(Item::Opening(0)));
    w.drag((2100.0, 2250.0), (2400.0, 2400.0));
    assert_eq!(rect(&w, 0), (900.0, 900.0, 1500.0, 1500.0));
    assert_eq!(w.h.state().document().history().undo_name(), Some("Resize W1"));
}

#[test]
fn sizes_are_typed() {
    let mut w = ready();
    w.click("Item W1");
    w.enter("Width", "1500+75");
    assert_eq!(rect(&w, 0).2, 1575.0);
    w.enter("Sill", "825");
    assert_eq!(rect(&w, 0).1, 825.0);
    w.enter("Name", "Kitchen");
    assert_eq!(w.elevation().openings[0].name, "Kitchen");
}

#[test]
fn a_bad_size_is_said_in_place_and_changes_nothing() {
    let mut w = ready();
    let before = w.project();
    w.click("Item W1");
    w.enter("Width", "wide");
    assert!(w.says("'wide' is not a number"));
    w.enter("Width", "-5");
    assert!(w.says("it must be more than 0"));
    assert_eq!(w.project(), before);
    w.enter("Width", "1250");
    assert!(!w.says("it must be more than 0"));
    assert_eq!(rect(&w, 0).2, 1250.0);
}

#[test]
fn what_is_typed_is_kept_when_a_command_comes_first() {
    let mut w = ready();
    w.click("Item W1");
    w.write("Width", "1500");
    // No Enter: the field still has the keyboard when the shortcut comes.
    w.keys(Modifiers::COMMAND, Key::D);
    assert_eq!(rect(&w, 0).2, 1500.0);
    assert_eq!(w.elevation().openings.len(), 5);
    assert_eq!(rect(&w, 4).2, 1500.0, "the copy has the width typed before");
}

#[test]
fn duplicate_and_delete() {
    let mut w = ready();
    w.click("Item W1");
    w.keys(Modifiers::COMMAND, Key::D);
    let e = w.elevation();
    assert_eq!(e.openings.len(), 5);
    assert_eq!(e.openings[4].name, "W4");
    assert_eq!(rect(&w, 4).1, 900.0, "the copy keeps its sill");
    w.key(Key::Delete);
    assert_eq!(w.elevation().openings.len(), 4);
    w.key(Key::Delete);
    assert_eq!(w.elevation().openings.len(), 4, "nothing is selected any more");
}

#[test]
fn arrow_keys_nudge() {
    let mut w = ready();
    w.click("Item W1");
    w.key(Key::ArrowRight);
    w.key(Key::ArrowUp);
    w.keys(Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!(rect(&w, 0), (924.0, 925.0, 1200.0, 1350.0));
}

#[test]
fn openings_of_every_shape() {
    let mut w = Window::front();
    w.click("Circle");
    w.drag((2000.0, 3450.0), (2400.0, 3450.0));
    w.click("Polygon");
    for p in [(5000.0, 3000.0), (6000.0, 3000.0), (5500.0, 4000.0)] {
        w.click_at(p);
    }
    w.key(Key::Enter);
    let shapes: Vec<Shape> = w.elevation().openings.into_iter().map(|o| o.shape).collect();
    assert_eq!(shapes[0], Shape::Circle { x: 2000.0, y: 3450.0, r: 400.0 });
    let Shape::Polygon(points) = &shapes[1] else { panic!("a polygon was drawn") };
    assert_eq!(points.len(), 3);
    w.click("Item O1");
    w.choose("Shape", "rectangle");
    assert_eq!(rect(&w, 0), (1600.0, 3050.0, 800.0, 800.0));
}

#[test]
fn an_outline_corner_by_corner() {
    let mut w = Window::bare();
    w.click("Wall by corners");
    for (x, y) in [("0", "0"), ("6000", "0"), ("6000", "2400"), ("3000", "5400"), ("0", "2400")] {
        w.enter("New: x", x);
        w.enter("New: y", y);
    }
    w.click("Close shape");
    assert_eq!(w.elevation().outline.len(), 5);
    assert!(w.ties() > 0);
}

#[test]
fn the_condition_of_a_side() {
    let mut w = Window::front();
    w.click("Item side 2");
    w.choose("Condition of the side", "free end");
    use SideCondition::{Base, Corner, Eaves, FreeEnd};
    assert_eq!(w.elevation().sides, [Base, FreeEnd, Eaves, Corner]);
    w.keys(Modifiers::COMMAND, Key::Z);
    assert!(w.elevation().sides.is_empty());
}

#[test]
fn sides_and_corners_are_dragged() {
    let mut w = Window::front();
    w.drag((9000.0, 2600.0), (9500.0, 2600.0));
    assert_eq!(w.elevation().outline[1..3], [(9500.0, 0.0), (9500.0, 5250.0)]);
    w.drag((0.0, 5250.0), (0.0, 4500.0));
    assert_eq!(w.elevation().outline[3], (0.0, 4500.0));
}

#[test]
fn a_joint_ends_at_the_verge() {
    let mut project = front();
    project.elevations[0].outline =
        vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (3000.0, 6000.0), (0.0, 3000.0)];
    let mut w = Window::on(project);
    w.click("Movement joint");
    w.click_at((1500.0, 2000.0));
    // Half way up a verge that rises from 3000 to 6000.
    let joint = w.elevation().movement_joints[0];
    assert_eq!((joint.x, joint.from, joint.to), (1500.0, 0.0, 4500.0));
}

#[test]
fn keep_outs_of_every_shape() {
    let mut w = Window::front();
    w.click("Keep-out");
    w.choose("New: shape of the keep-out", "circle");
    assert_eq!(w.h.state().session().tool, Tool::RoundKeepOut);
    w.write("New: Clearance", "75");
    w.key(Key::Tab);
    w.drag((3000.0, 3000.0), (3300.0, 3000.0));
    w.key(Key::Y);
    assert_eq!(w.h.state().session().tool, Tool::KeepOutCorners);
    for p in [(6000.0, 1500.0), (6900.0, 1500.0), (6450.0, 2250.0)] {
        w.click_at(p);
    }
    w.key(Key::Enter);
    let e = w.elevation();
    assert_eq!(e.keep_outs[0].shape, Shape::Circle { x: 3000.0, y: 3000.0, r: 300.0 });
    assert_eq!(e.keep_outs[0].clearance, 75.0);
    let corners = vec![(6000.0, 1500.0), (6900.0, 1500.0), (6450.0, 2250.0)];
    assert_eq!(e.keep_outs[1].shape, Shape::Polygon(corners));
    assert!(e.openings.is_empty());
    w.keys(Modifiers::COMMAND, Key::Z);
    w.keys(Modifiers::COMMAND, Key::Z);
    assert!(w.elevation().keep_outs.is_empty());
}

#[test]
fn joints_keep_outs_and_old_ties() {
    let mut w = Window::front();
    w.click("Movement joint");
    w.click_at((4500.0, 2000.0));
    w.click("Keep-out");
    w.drag((1500.0, 450.0), (1950.0, 1050.0));
    w.click("Old tie");
    w.choose("New: form of the old tie", "flat strip");
    w.click_at((7000.0, 2025.0));
    let e = w.elevation();
    let j = e.movement_joints[0];
    assert_eq!((j.x, j.from, j.to), (4500.0, 0.0, 5250.0));
    assert_eq!(e.keep_outs[0].shape, Shape::Rect { x: 1500.0, y: 450.0, w: 450.0, h: 600.0 });
    assert_eq!(e.existing_ties[0].form, layout_core::elevation::TieForm::FlatStrip);
    w.key(Key::Escape);
    w.click("Item keep-out 1");
    w.enter("Clearance", "100");
    assert_eq!(w.elevation().keep_outs[0].clearance, 100.0);
}

#[test]
fn ties_are_pinned_and_let_go() {
    let mut w = Window::front();
    let at = w.h.state().derived().plan(0).expect("a layout").ties[3].at;
    w.click("Pin tie");
    w.click_at(at);
    assert_eq!(w.elevation().pinned, [at]);
    w.click_at(at);
    assert!(w.elevation().pinned.is_empty(), "a second click lets go");
    w.key(Key::Escape);
    w.click_at(at);
    assert_eq!(w.h.state().session().selection, Some(Selection::Tie(at)));
    w.click("Pin it here");
    assert_eq!(w.elevation().pinned, [at]);
}

#[test]
fn openings_are_typed_one_after_the_other_by_the_keyboard() {
    let mut w = Window::front();
    w.key(Key::R);
    w.h.get_by_label("New: Left").focus();
    w.h.run();
    for sizes in [["900", "900", "1200", "1350"], ["3600", "900", "910", "2100"]] {
        for (i, size) in sizes.into_iter().enumerate() {
            w.h.event(egui::Event::Text(size.to_owned()));
            w.h.run();
            w.key(if i == 3 { Key::Enter } else { Key::Tab });
        }
    }
    let shapes: Vec<Shape> = w.elevation().openings.iter().map(|o| o.shape.clone()).collect();
    let rect = |x, w, h| Shape::Rect { x, y: 900.0, w, h };
    assert_eq!(shapes, [rect(900.0, 1200.0, 1350.0), rect(3600.0, 910.0, 2100.0)]);
    assert!(w.h.get_by_label("New: Left").is_focused(), "ready for the next");
    // What is refused adds nothing.
    w.enter("New: Height", "0");
    assert_eq!(w.elevation().openings.len(), 2);
}

#[test]
fn the_wall_tool_begins_with_the_size_of_the_wall() {
    use egui_kittest::kittest::NodeT;
    let mut w = Window::front();
    w.click("Dimension width of the wall: 9000 mm");
    w.enter("Dimension", "7200");
    w.key(Key::W);
    let value = |w: &Window, field: &str| w.h.get_by_label(field).accesskit_node().value();
    assert_eq!(value(&w, "New: Width").as_deref(), Some("7200"));
    assert_eq!(value(&w, "New: Height").as_deref(), Some("5250"));
}
