//! Drawing with snapping, guides, typed lengths, corners put in, and dimensions typed anew.

use egui::{Event, Key};
use layout_core::check::Severity;
use layout_core::elevation::{Opening, Shape, shape_bounds};
use tiewright::document::Item;
use tiewright::tools::snap::Pull;
use tiewright_tests::window::{Window, front};

fn ready() -> Window {
    let mut project = front();
    let rect = |name: &str, x: f64, y: f64| Opening {
        name: name.to_owned(),
        shape: Shape::Rect { x, y, w: 1200.0, h: 1350.0 },
    };
    project.elevations[0].openings = vec![rect("W1", 900.0, 900.0), rect("W2", 6000.0, 900.0)];
    Window::sized(project, 1400.0, 900.0)
}

fn bounds(w: &Window, i: usize) -> (f64, f64, f64, f64) {
    shape_bounds(&w.elevation().openings[i].shape)
}

fn type_text(w: &mut Window, text: &str) {
    for c in text.chars() {
        w.h.event(Event::Text(c.to_string()));
        w.h.step();
    }
    w.h.run();
}

#[test]
fn sizes_typed_while_a_window_is_dragged() {
    let mut w = ready();
    w.click("Rectangle");
    w.drag_and_hold((3000.0, 3300.0), (3900.0, 4050.0));
    type_text(&mut w, "6b+10");
    w.key(Key::Tab);
    type_text(&mut w, "16c");
    w.key(Key::Enter);
    // 6 x 225 + 10 wide, 16 x 75 high, from where the drag began.
    assert_eq!(bounds(&w, 2), (3000.0, 3300.0, 4360.0, 4500.0));
}

#[test]
fn corners_by_pointing_and_typing_how_far() {
    let mut w = Window::bare();
    w.click("Wall by corners");
    w.click_at((0.0, 0.0));
    for (towards, length) in [((3000.0, 0.0), "27b"), ((6075.0, 1500.0), "2.7m"), ((2000.0, 2700.0), "27b")] {
        let at = w.h.state().world_to_screen(towards);
        w.h.hover_at(at);
        w.h.run();
        type_text(&mut w, length);
        w.key(Key::Enter);
    }
    w.click("Close shape");
    // 27 x 225 = 6075.
    assert_eq!(w.elevation().outline, vec![(0.0, 0.0), (6075.0, 0.0), (6075.0, 2700.0), (0.0, 2700.0)]);
}

#[test]
fn a_wrong_length_is_said_and_can_be_put_right() {
    let mut w = ready();
    w.click("Rectangle");
    w.drag_and_hold((3000.0, 3300.0), (3900.0, 4050.0));
    type_text(&mut w, "0");
    w.key(Key::Enter);
    assert_eq!(w.elevation().openings.len(), 2);
    w.key(Key::Backspace);
    type_text(&mut w, "900");
    w.key(Key::Enter);
    assert_eq!(bounds(&w, 2), (3000.0, 3300.0, 3900.0, 4050.0), "the height is the one that was dragged");
}

#[test]
fn what_is_dragged_snaps_and_shows_its_guide() {
    let mut w = ready();
    // W1 is taken under the middle of the wall: its middle 1500 goes to 4500.
    w.drag_and_hold((1500.0, 1500.0), (4530.0, 1500.0));
    let guides = w.h.state().session().guides.clone();
    assert!(
        guides.iter().any(|g| g.upright && g.pull == Pull::Middle && (g.at - 4500.0).abs() < 0.01),
        "{guides:?}"
    );
    assert_eq!(bounds(&w, 0).0, 3900.0);
    w.key(Key::Escape);
    assert_eq!(bounds(&w, 0).0, 900.0);
}

#[test]
fn a_double_click_puts_a_corner_in_and_delete_takes_it_out() {
    let mut w = Window::front();
    // A frame of the test lasts longer than a quick hand.
    w.h.ctx.options_mut(|o| o.input_options.max_double_click_delay = 5.0);
    let at = w.h.state().world_to_screen((3000.0, 5250.0));
    w.h.hover_at(at);
    w.h.step();
    for _ in 0..2 {
        w.h.drag_at(at);
        w.h.step();
        w.h.drop_at(at);
        w.h.step();
    }
    w.h.run();
    let outline = w.elevation().outline;
    assert_eq!(outline.len(), 5);
    assert!((outline[3].0 - 3000.0).abs() < 12.0 && outline[3].1 == 5250.0, "{outline:?}");
    assert_eq!(w.h.state().session().item(), Some(Item::Corner(3)), "ready to be moved or typed");
    w.key(Key::Escape);
    w.click_at(outline[3]);
    w.key(Key::Delete);
    assert_eq!(w.elevation().outline.len(), 4);
}

#[test]
fn what_is_typed_over_a_dimension_takes_the_place_of_its_figure() {
    let mut w = ready();
    w.click("Dimension up to W2 from the left: 3900 mm");
    type_text(&mut w, "4000");
    w.key(Key::Enter);
    // From W1's right jamb at 2100.
    assert_eq!(bounds(&w, 1), (6100.0, 900.0, 7300.0, 2250.0));
}

#[test]
fn a_dimension_is_clicked_and_typed_anew() {
    let mut w = ready();
    w.click("Dimension up to W2 from the left: 3900 mm");
    w.enter("Dimension", "17b");
    // From W1's right jamb at 2100: 17 x 225 = 3825.
    assert_eq!(bounds(&w, 1), (5925.0, 900.0, 7125.0, 2250.0));
    assert!(!w.shows("Dimension"), "the field is gone");
    w.click("Dimension width of W1: 1200 mm");
    w.enter("Dimension", "1360");
    assert_eq!(bounds(&w, 0), (900.0, 900.0, 2260.0, 2250.0));
    w.click("Dimension width of the wall: 9000 mm");
    w.enter("Dimension", "nine");
    assert!(w.says("'nine' is not a number"));
    w.enter("Dimension", "9.9 m");
    assert_eq!(w.elevation().outline[1], (9900.0, 0.0));
    w.key(Key::D);
    assert!(!w.says("Dimension width"), "the layer is off");
}

#[test]
fn eaves_and_steps_are_dimensioned_and_typed_anew() {
    let mut project = tiewright_tests::window::front();
    // A gable on the left, a lower wall at the right of it.
    project.elevations[0].outline = vec![
        (0.0, 0.0),
        (9000.0, 0.0),
        (9000.0, 2700.0),
        (6000.0, 2700.0),
        (6000.0, 5250.0),
        (3000.0, 7500.0),
        (0.0, 5250.0),
    ];
    let mut w = Window::on(project);
    w.click("Dimension part 2 of the wall up: 2550 mm");
    w.enter("Dimension", "2700");
    let e = w.elevation();
    assert_eq!(
        (e.outline[4], e.outline[6]),
        ((6000.0, 5400.0), (0.0, 5400.0)),
        "both ends of the eaves are higher"
    );
    assert_eq!(e.outline[5], (3000.0, 7500.0), "the ridge stays");
    w.click("Dimension part 2 of the wall along: 3000 mm");
    w.enter("Dimension", "16b");
    // 3000 + 16 x 225.
    let e = w.elevation();
    assert_eq!(
        (e.outline[3], e.outline[4]),
        ((6600.0, 2700.0), (6600.0, 5400.0)),
        "the step is further right"
    );
    assert!(w.shows("Dimension width of the wall: 9000 mm"));
}

#[test]
fn openings_over_one_another_are_noted() {
    let mut project = tiewright_tests::window::front();
    let shape = |x: f64| Shape::Rect { x, y: 900.0, w: 1200.0, h: 1350.0 };
    project.elevations[0].openings = [("W1", 1000.0), ("W2", 2000.0)]
        .map(|(n, x)| Opening { name: n.to_owned(), shape: shape(x) })
        .to_vec();
    let mut w = Window::on(project);
    w.click("Finding: the opening 'W2' overlaps 'W1'; both are taken as one");
    assert!(w.h.state().session().finding.is_some(), "its place is ringed");
    assert!(
        w.h.state().derived().plan(0).expect("set out").findings.iter().all(|f| f.severity == Severity::Note)
    );
    w.click("Item W2");
    w.enter("Left", "2200");
    assert!(!w.says("overlaps"), "side by side they are two");
}
