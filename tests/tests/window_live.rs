//! A wall so large that its layout takes longer than a frame: a layout is shown at every moment of a drag, and in
//! the end it is that of the drawing as it stands.

use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::{Key, Modifiers};
use layout_core::elevation::{Elevation, Project, Shape, shape_bounds};
use layout_core::plan;
use tiewright_tests::expect::{rect, rectangle, with};
use tiewright_tests::window::Window;

/// Longer than this is a hang, however busy the machine.
const HANG: Duration = Duration::from_secs(120);

/// A block of 12 x 6 bays of 6.0 x 5.4 m, each with a window so large that its middle is far from any tie: some
/// 5,000 ties.
fn block() -> Elevation {
    let windows = (0..12 * 6).map(|i| {
        let (bay, storey) = (f64::from(i % 12), f64::from(i / 12));
        rect(1500.0 + 6000.0 * bay, 1200.0 + 5400.0 * storey, 3000.0, 3000.0)
    });
    with(rectangle(72_000.0, 32_400.0), windows)
}

/// A window that waits for no layout.
fn window(elevations: Vec<Elevation>) -> Window {
    Window::waiting(Project { elevations, ..Project::default() }, Duration::ZERO)
}

/// Steps until the layout shown is that of the drawing.
#[track_caller]
fn settle(w: &mut Window) {
    let end = Instant::now() + HANG;
    while !w.h.state().derived().is_current(w.h.state().session().elevation) {
        assert!(Instant::now() < end, "the layout never came");
        std::thread::sleep(Duration::from_millis(5));
        w.h.step();
    }
}

fn left(e: &Elevation, opening: usize) -> f64 {
    shape_bounds(&e.openings[opening].shape).0
}

#[test]
fn a_drag_shows_a_layout_at_every_moment_and_ends_with_its_own() {
    let mut w = window(vec![block()]);
    settle(&mut w);
    let ties = w.ties();
    assert!(ties > 3000, "{ties}");
    // The third window of the second storey, dragged by a place off its middle.
    let opening = 12 + 2;
    let (l, b, ..) = shape_bounds(&w.elevation().openings[opening].shape);
    let (from, to) = ((l + 1600.0, b + 1600.0), (l + 4600.0, b + 1600.0));
    let (a, z) = (w.h.state().world_to_screen(from), w.h.state().world_to_screen(to));
    w.h.hover_at(a);
    w.h.step();
    w.h.drag_at(a);
    w.h.step();
    let (mut behind, steps) = (0, 12);
    for i in 1..=steps {
        w.h.hover_at(a + (z - a) * (i as f32 / steps as f32));
        w.h.step();
        let planner = w.h.state();
        let shown = planner.derived().plan(0).expect("a layout is shown while dragging");
        assert!(shown.ties.len() > 3000, "{} ties are shown", shown.ties.len());
        behind += usize::from(!planner.derived().is_current(0));
    }
    assert!(behind > 0, "no layout took longer than its frame: the wall is too small for this test");
    w.h.drop_at(z);
    w.h.step();
    settle(&mut w);
    let e = w.elevation();
    assert!(left(&e, opening) > l + 2000.0, "the window was dragged");
    let outcome = w.h.state().derived().outcome(0).cloned().expect("a layout");
    assert_eq!(outcome.plan.as_ref(), plan(&e).ok().as_ref(), "the layout is that of the drawing");
    // Nothing older comes after it.
    for _ in 0..20 {
        std::thread::sleep(Duration::from_millis(10));
        w.h.step();
    }
    let later = w.h.state().derived().outcome(0).cloned().expect("a layout");
    assert!(Arc::ptr_eq(&outcome, &later), "an older layout took its place");
    assert_eq!(w.h.state().document().history().undo_name().map(|n| n.contains("Move")), Some(true));
}

#[test]
fn a_layout_of_an_elevation_that_is_gone_is_dropped() {
    let mut small = rectangle(3000.0, 2700.0);
    small.name = "Small".to_owned();
    let mut w = window(vec![block(), small.clone()]);
    settle(&mut w);
    // The block is changed, so its layout is being worked out, and taken away at once.
    let middle = match w.elevation().openings[30].shape {
        Shape::Rect { x, y, w, h } => (x + w / 2.0, y + h / 2.0),
        _ => panic!("a window of the block"),
    };
    w.click_at(middle);
    w.h.key_press(Key::Delete);
    // One step and no more: the layout may be there with the next.
    w.h.step();
    assert!(!w.h.state().derived().is_current(0), "the block is to be set out");
    w.h.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Delete);
    w.h.step();
    w.h.step();
    assert_eq!(w.project().elevations.len(), 1, "the block is gone");
    let expected = plan(&small).map(|p| p.ties.len()).ok();
    for _ in 0..60 {
        let shown = w.h.state().derived().plan(0).map(|p| p.ties.len());
        assert!(shown.is_none() || shown == expected, "{shown:?} ties are shown of a wall of {expected:?}");
        std::thread::sleep(Duration::from_millis(20));
        w.h.step();
    }
    assert_eq!(w.h.state().derived().plan(0).map(|p| p.ties.len()), expected);
}
