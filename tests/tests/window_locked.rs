//! Locking an area in the window: drawn, undone, saved, released.

use egui::{Key, Modifiers};
use layout_core::elevation::Point;
use tiewright::document::file;
use tiewright::tools::Tool;
use tiewright_tests::window::Window;

fn ties_in(w: &Window, (l, b, r, t): (f64, f64, f64, f64)) -> Vec<Point> {
    let planner = w.h.state();
    let plan = planner.derived().plan(0).expect("a plan");
    let inside = |p: &Point| p.0 >= l && p.0 <= r && p.1 >= b && p.1 <= t;
    plan.ties.iter().map(|t| t.at).filter(inside).collect()
}

const AREA: (f64, f64, f64, f64) = (3000.0, 900.0, 6000.0, 3300.0);

#[test]
fn an_area_is_locked_and_released() {
    let mut w = Window::sized(tiewright_tests::window::front(), 1280.0, 1500.0);
    w.key(Key::Q);
    assert_eq!(w.h.state().session().tool, Tool::Lock);
    w.drag((3000.0, 900.0), (6000.0, 3300.0));
    let e = w.elevation();
    assert_eq!(e.locked.len(), 1);
    let ties = e.locked[0].ties.clone();
    assert!(ties.len() >= 12, "{} ties", ties.len());
    assert_eq!(ties_in(&w, AREA), ties);
    assert!(w.says("Of these, in locked areas") && w.says("locked area 1"));
    // Rules and rows change about it.
    w.choose("Rows", "one above the other");
    w.choose_rules("uk-older-wide-cavity");
    assert_eq!(ties_in(&w, AREA), ties);
    // It is selected: it has a name, and is released by its button.
    w.enter("Name", "sound brickwork");
    assert_eq!(w.elevation().locked[0].name, "sound brickwork");
    let text = file::to_text(&w.project());
    assert_eq!(file::parse(&text, "p.ron").map(|p| p.elevations[0].locked.clone()), Ok(w.elevation().locked));
    w.click("Release selected");
    assert_eq!(w.elevation().locked, []);
    assert_eq!(w.h.state().document().history().undo_name(), Some("Release sound brickwork"));
    w.keys(Modifiers::COMMAND, Key::Z);
    assert_eq!(ties_in(&w, AREA), ties);
    // A click on its line with the tool releases it too; one in it does not.
    w.key(Key::Q);
    w.click_at((4500.0, 2000.0));
    assert_eq!(w.elevation().locked.len(), 1);
    w.click_at((3000.0, 2000.0));
    assert_eq!(w.elevation().locked, []);
    // It neither moves nor is it copied.
    w.keys(Modifiers::COMMAND, Key::Z);
    w.key(Key::V);
    w.click_at((3000.0, 2000.0));
    w.drag((3000.0, 2000.0), (3500.0, 2500.0));
    w.keys(Modifiers::COMMAND, Key::D);
    assert_eq!(w.elevation().locked.len(), 1);
    assert_eq!(w.elevation().locked[0].ties, ties);
    assert_eq!(ties_in(&w, AREA), ties);
}
