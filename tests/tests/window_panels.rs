//! Panels hidden, shown and resized, and what of them is remembered; washes of what ties serve.

use egui::{Event, Key, Modifiers, PointerButton, pos2};
use layout_core::elevation::{MovementJoint, Opening, Shape};
use tiewright::session::{Page, Panels};
use tiewright::settings::Settings;
use tiewright_tests::window::{Window, front};

fn panels(w: &Window) -> Panels {
    w.h.state().session().panels
}

#[test]
fn panels_are_hidden_and_shown() {
    let mut w = Window::front();
    let canvas = |w: &Window| w.h.state().session().view.rect.width();
    let before = canvas(&w);
    assert!(w.shows("Rectangle") && w.shows("Elevation name"));
    w.key(Key::F7);
    assert!(!w.shows("Rectangle"), "the tools are gone");
    w.key(Key::F8);
    assert!(!w.shows("Elevation name"), "the sidebar is gone");
    // 188 and 320 points, as they open.
    assert!((canvas(&w) - before - 508.0).abs() < 3.0, "{} after {before}", canvas(&w));
    w.click("Show Tools and lists");
    w.click("Show Sidebar");
    assert!(w.shows("Rectangle") && w.shows("Elevation name"));
    // Going to the name of the elevation brings its field back, from any page.
    w.click("Wind");
    w.key(Key::F8);
    w.key(Key::F2);
    assert!(w.shows("Elevation name") && w.h.state().session().page == Page::Layout);
}

#[test]
fn every_page_is_reached_by_keys() {
    let mut w = Window::front();
    w.key(Key::F8);
    let keys = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6];
    for (page, key) in Page::ALL.into_iter().zip(keys) {
        w.keys(Modifiers::ALT, key);
        assert_eq!(w.h.state().session().page, page);
        assert!(panels(&w).right, "the sidebar is brought back");
    }
    w.keys(Modifiers::COMMAND, Key::J);
    w.write("Find a command", "wind");
    w.click("Run: Page: wind");
    assert_eq!(w.h.state().session().page, Page::Wind);
}

#[test]
fn a_panel_is_dragged_wider_and_stays_so() {
    let mut w = Window::front();
    let edge = w.h.state().session().view.rect.right();
    for (x, pressed) in [(edge, Some(true)), (edge - 80.0, None), (edge - 80.0, Some(false))] {
        let at = pos2(x + 1.0, 400.0);
        w.h.event(Event::PointerMoved(at));
        w.h.step();
        if let Some(pressed) = pressed {
            let (button, modifiers) = (PointerButton::Primary, Modifiers::NONE);
            w.h.event(Event::PointerButton { pos: at, button, pressed, modifiers });
            w.h.step();
        }
    }
    w.h.run();
    assert!((panels(&w).right_width - 400.0).abs() < 4.0, "{:?}", panels(&w));
    // What is remembered goes into the next window.
    let kept = Settings::default().seen(&w.h.ctx, w.h.state().session());
    assert_eq!(kept.panels, panels(&w));
}

/// Area of trapezoids, m2.
fn m2(all: &[layout_core::check::Trapezoid]) -> f64 {
    all.iter().map(|t| (t[1].0 - t[0].0 + t[2].0 - t[3].0) / 2.0 * (t[2].1 - t[1].1)).sum::<f64>() / 1e6
}

#[test]
fn what_is_washed_is_what_the_checker_counts() {
    let mut project = front();
    let e = &mut project.elevations[0];
    e.automatic = false;
    // One tie by hand at (450, 225) on a 9 m x 5.25 m front, with a joint at 800 and a slot from 200 to 300 that is
    // 300 high.
    e.pinned.push((450.0, 225.0));
    e.movement_joints.push(MovementJoint { x: 800.0, from: 0.0, to: 5250.0 });
    let shape = Shape::Rect { x: 200.0, y: 0.0, w: 100.0, h: 300.0 };
    e.openings.push(Opening { name: "Slot".to_owned(), shape });
    let mut w = Window::sized(project, 1280.0, 800.0);
    w.key(Key::E);
    w.key(Key::U);
    let session = w.h.state().session();
    assert!(session.layers.served && session.layers.untied);
    let areas = w.h.state().derived().outcome(0).expect("set out").areas();
    // 0 to 800 and 0 to 450, less the slot's 100 x 300: left of the slot it is reached over its head at 300.
    assert!((m2(&areas.served[0]) - (0.8 * 0.45 - 0.1 * 0.3)).abs() < 1e-9);
    assert!((m2(&areas.unserved) - (9.0 * 5.25 - 0.8 * 0.45)).abs() < 1e-9);
}
