//! Starting from a shape, and openings of common sizes.

use egui::{Key, Modifiers};
use layout_core::elevation::{Shape, SideCondition};
use tiewright::document::heads::Head;
use tiewright_tests::window::Window;

#[test]
fn a_gable_by_its_sizes() {
    let mut w = Window::bare();
    w.click("Start from a gable, a semi…");
    w.click("Gable");
    w.enter("Wall: Width", "36b");
    w.enter("Wall: Height to the eaves", "70c");
    w.enter("Wall: Height to the ridge", "8.25 m");
    w.click("Draw this wall");
    let e = w.elevation();
    // 36 x 225 and 70 x 75; the ridge over the middle.
    let ring = vec![(0.0, 0.0), (8100.0, 0.0), (8100.0, 5250.0), (4050.0, 8250.0), (0.0, 5250.0)];
    assert_eq!(e.outline, ring);
    use SideCondition::{Base, Corner, Verge};
    assert_eq!(e.sides, [Base, Corner, Verge, Verge, Corner]);
    assert_eq!(w.h.state().document().history().undo_name(), Some("Draw the wall: Gable"));
    assert!(w.ties() > 0);
}

#[test]
fn sizes_that_do_not_go_together_are_said_in_the_dialog() {
    let mut w = Window::bare();
    w.click("Start from a shape…");
    w.click("Gable");
    w.enter("Wall: Height to the ridge", "5 m");
    assert!(w.says("the ridge has to be higher than the eaves"));
    w.click("Draw this wall");
    assert!(w.elevation().outline.is_empty(), "the button does nothing");
    w.click("Cancel");
    assert!(!w.shows("Draw this wall"));
}

#[test]
fn no_wall_is_drawn_while_a_size_is_refused() {
    let mut w = Window::bare();
    w.click("Start from a shape…");
    w.enter("Wall: Height", "70c + 2x");
    w.click("Draw this wall");
    assert!(w.elevation().outline.is_empty(), "a size in red is not passed over");
    w.enter("Wall: Height", "70c + 2");
    w.click("Draw this wall");
    // 70 x 75 and 2.
    assert_eq!(w.elevation().outline[2].1, 5252.0);
}

#[test]
fn a_wall_from_the_keyboard_alone() {
    let mut w = Window::bare();
    w.click("Start from a shape…");
    // The first size has the keyboard; a refused one keeps it.
    w.h.event(egui::Event::Text("31b + 1y".to_owned()));
    w.h.run();
    w.key(Key::Enter);
    assert!(w.elevation().outline.is_empty());
    w.keys(Modifiers::COMMAND, Key::A);
    w.h.event(egui::Event::Text("31b + 1".to_owned()));
    w.h.run();
    w.key(Key::Enter);
    assert!(w.elevation().outline.is_empty(), "the first Enter takes the size");
    w.key(Key::Enter);
    // 31 x 225 and 1.
    assert_eq!(w.elevation().outline[1], (6976.0, 0.0));
}

#[test]
fn every_shape_is_in_the_list() {
    let mut w = Window::bare();
    w.click("Start from a shape…");
    let shapes = tiewright::document::wall_shapes::WallShape::ALL;
    for shape in shapes {
        w.click(shape.words());
        assert!(w.says(shape.about()), "{shape:?} is told");
    }
    w.enter("Wall: Width", "8b");
    w.click("Draw this wall");
    use SideCondition::{Base, Eaves, FreeEnd};
    assert_eq!(w.elevation().sides, [Base, FreeEnd, Eaves, FreeEnd], "the last is the parapet");
    assert_eq!(w.elevation().outline[1], (1800.0, 0.0));
}

#[test]
fn a_window_of_a_common_size_is_placed_by_a_click() {
    let mut w = Window::front();
    w.click("Common sizes");
    w.click("Windows");
    w.click("Three lights, 8 bricks: 1810 × 1350");
    w.click_at((2700.0, 900.0));
    assert_eq!(w.elevation().openings[0].shape, Shape::Rect { x: 2700.0, y: 900.0, w: 1810.0, h: 1350.0 });
    w.key(Key::Escape);
    w.key(Key::Escape);
    w.click("Common sizes");
    w.click("Kept clear of");
    w.click("Air brick: 215 × 65");
    w.enter("New: Left", "6300");
    w.click("Add");
    let k = &w.elevation().keep_outs[0];
    assert_eq!((k.name.as_str(), k.clearance), ("Air brick", 50.0));
}

#[test]
fn heads_of_every_kind() {
    let mut w = Window::front();
    for (preset, head) in [
        ("Segmental window: 910 × 1350", Head::Segmental),
        ("Half-round window: 910 × 1505", Head::Semicircular),
        ("Pointed window: 685 × 1793", Head::Pointed),
        ("Round window: 900 across", Head::Round),
    ] {
        w.click("Common sizes");
        w.click("Arched and round");
        w.click(preset);
        w.click("Add");
        let e = w.elevation();
        assert_eq!(Head::of(&e.openings[e.openings.len() - 1].shape), head, "{preset}");
        w.key(Key::Escape);
        w.key(Key::Escape);
    }
    w.click("Pointed head");
    w.drag((6000.0, 900.0), (7000.0, 3150.0));
    let e = w.elevation();
    assert_eq!(Head::of(&e.openings[4].shape), Head::Pointed);
}
