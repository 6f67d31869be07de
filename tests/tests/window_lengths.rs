//! Sizes as the trade says them, typed into the fields of the window.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use layout_core::elevation::Shape;
use tiewright_tests::window::Window;

fn rect(w: &Window) -> (f64, f64, f64, f64) {
    match w.elevation().openings[0].shape {
        Shape::Rect { x, y, w, h } => (x, y, w, h),
        ref other => panic!("a rectangle was drawn, not {other:?}"),
    }
}

fn value(w: &Window, field: &str) -> Option<String> {
    w.h.get_by_label(field).accesskit_node().value()
}

/// A front with one window, typed in four ways.
fn typed() -> Window {
    let mut w = Window::front();
    w.click("Rectangle");
    w.enter("New: Left", "4b + 10");
    w.enter("New: Sill", "12c");
    w.enter("New: Width", "3'11 1/4\"");
    w.enter("New: Height", "1.35 m");
    w.key(Key::Escape);
    w
}

#[test]
fn every_way_of_writing_a_length_in_the_fields() {
    let w = typed();
    // 4 bricks of 225 and a joint; 12 courses of 75; 3 ft of 304.8 and 11.25 in of 25.4.
    assert_eq!(rect(&w), (910.0, 900.0, 1200.15, 1350.0));
}

#[test]
fn the_result_is_shown_while_it_is_typed() {
    let mut w = typed();
    w.click("Item W1");
    w.write("Width", "28c");
    assert!(w.shows("= 2100 mm · 28 courses, 9.33 bricks"));
    assert_eq!(rect(&w).2, 1200.15, "nothing is changed before it is committed");
    w.write("Width", "28 yards");
    assert!(w.says("'yards' is no unit"), "what is wrong is said while it is typed");
    w.key(Key::Enter);
    assert!(w.says("'yards' is no unit"), "and stays when it is refused");
    w.enter("Width", "28c - 10");
    assert_eq!(rect(&w).2, 2090.0);
    assert!(!w.says("yards"));
}

#[test]
fn heights_in_courses_stand_on_a_bed_joint() {
    let mut w = typed();
    w.enter("A bed joint at", "15");
    w.click("Item W1");
    w.enter("Sill", "12c");
    assert_eq!(rect(&w).1, 915.0, "twelve courses up from the bed joint at 15");
    w.enter("Height", "12c");
    assert_eq!(rect(&w).3, 900.0, "a size counts from nowhere");
}

#[test]
fn the_gauge_of_so_many_courses() {
    let mut w = Window::sized(tiewright_tests::window::front(), 1280.0, 1400.0);
    w.enter("Courses measured", "8");
    w.enter("Courses measure", "610");
    w.click("Take the measured gauge");
    assert_eq!(w.elevation().coursing.gauge, 76.25, "610 / 8");
    w.enter("Courses measured", "none");
    assert!(w.says("whole number"));
}

#[test]
fn a_brick_of_another_length() {
    let mut w = Window::front();
    w.enter("Brick and joint", "203.2");
    w.click("Rectangle");
    w.enter("New: Width", "5b");
    w.click("Add");
    assert_eq!(rect(&w).2, 1016.0, "5 x 203.2");
}

#[test]
fn feet_and_inches_shown() {
    let mut w = typed();
    w.click("Item W1");
    w.keys(Modifiers::COMMAND, Key::U);
    let shown = |w: &mut Window, field: &str| {
        use egui_kittest::kittest::{NodeT, Queryable};
        w.h.get_by_label(field).accesskit_node().value()
    };
    assert_eq!(shown(&mut w, "Width").as_deref(), Some("3'11 1/4\""));
    // A bare number is mm all the same.
    w.enter("Width", "1219.2");
    assert_eq!(rect(&w).2, 1219.2);
    assert_eq!(shown(&mut w, "Width").as_deref(), Some("4'0\""));
    w.keys(Modifiers::COMMAND, Key::U);
    assert_eq!(shown(&mut w, "Width").as_deref(), Some("1219.2"));
}

#[test]
fn undo_is_for_the_drawing_where_a_field_holds_nothing_new() {
    let mut w = Window::front();
    w.click("Rectangle");
    w.drag((1200.0, 900.0), (2400.0, 2250.0));
    w.key(Key::Escape);
    w.enter("Width", "1360");
    w.h.get_by_label("Width").focus();
    w.h.run();
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(value(&w, "Width").as_deref(), Some("1200"), "the step is taken back");
    assert!(w.h.get_by_label("Width").is_focused(), "and the keyboard stays in the field");
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(value(&w, "Width").as_deref(), Some("1360"));
    // What is typed and not committed is the field's own.
    w.write("Width", "900");
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.elevation().openings.len(), 1);
    assert_eq!(w.h.state().document().history().undo_name(), Some("Resize W1"));
}

#[test]
fn what_is_in_feet_has_room() {
    let mut w = typed();
    let narrow = w.h.get_by_label("Width").rect().width();
    w.click("Item W1");
    w.keys(Modifiers::COMMAND, Key::U);
    assert!(w.h.get_by_label("Width").rect().width() > narrow, "sixteenths take more room than mm");
    // The height of the whole wall is read in full beside the panel.
    let sheet = w.h.state().session().view.rect;
    let figure = w.h.get_by_label_contains("Dimension height of the wall").rect();
    assert!(figure.right() < sheet.right(), "{figure:?} in {sheet:?}");
}
