//! Ties by hand: dragged, added, struck out, released; what each is there for; layers.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::elevation::{Opening, Point, Shape};
use tiewright::document::struck;
use tiewright::session::Selection;
use tiewright_tests::window::{Window, front};

fn ready() -> Window {
    let mut project = front();
    project.elevations[0].openings = vec![Opening {
        name: "W1".to_owned(),
        shape: Shape::Rect { x: 3600.0, y: 1500.0, w: 1200.0, h: 1350.0 },
    }];
    Window::sized(project, 1400.0, 900.0)
}

fn ties(w: &Window) -> Vec<Point> {
    let planner = w.h.state();
    planner.derived().plan(0).map(|p| p.ties.iter().map(|t| t.at).collect()).unwrap_or_default()
}

/// A field tie with nothing but masonry about it.
fn lonely(w: &Window) -> Point {
    let clear = |p: &&Point| p.0 > 6000.0 && p.0 < 8000.0 && p.1 > 1500.0 && p.1 < 3500.0;
    *ties(w).iter().find(clear).expect("a field tie at the right")
}

#[test]
fn a_tie_is_pinned_by_dragging_it() {
    let mut w = ready();
    let at = lonely(&w);
    w.drag(at, (at.0 + 100.0, at.1));
    let e = w.elevation();
    assert_eq!(e.pinned.len(), 1);
    assert!(
        (e.pinned[0].0 - at.0 - 100.0).abs() < 26.0 && (e.pinned[0].1 - at.1).abs() < 1.0,
        "{:?}",
        e.pinned
    );
    assert!(ties(&w).contains(&e.pinned[0]), "it stands where it was put");
    w.keys(Modifiers::COMMAND, Key::Z);
    assert!(w.elevation().pinned.is_empty(), "the drag is one step");
}

#[test]
fn added_and_released() {
    let mut w = ready();
    w.click("Pin tie");
    w.click_at((6150.0, 2250.0));
    let pinned = w.elevation().pinned;
    assert_eq!(pinned.len(), 1);
    w.click_at(pinned[0]);
    assert!(w.elevation().pinned.is_empty(), "a second click lets it go");
}

#[test]
fn struck_out_with_the_reason_kept() {
    let mut w = ready();
    let at = lonely(&w);
    w.click_at(at);
    assert_eq!(w.h.state().session().selection, Some(Selection::Tie(at)));
    w.key(Key::Delete);
    w.click("Strike it out");
    assert!(w.elevation().keep_outs.is_empty(), "not without a reason");
    w.write("Reason", "hit a cable");
    w.click("Strike it out");
    let e = w.elevation();
    assert_eq!(e.keep_outs.first().and_then(struck::reason), Some("hit a cable"));
    let near = |p: &Point| (p.0 - at.0).hypot(p.1 - at.1) < 74.0;
    assert!(!ties(&w).iter().any(near), "none stands there any more");
    assert!(w.says("hit a cable"), "it is in the list");
    w.key(Key::Delete);
    assert!(w.elevation().keep_outs.is_empty(), "released");
}

#[test]
fn what_a_hand_edit_breaks_is_shown_at_once() {
    let mut w = ready();
    assert!(w.says("every rule kept"));
    w.click("Pin tie");
    // 30 mm from the jamb of W1 where 75 is asked for, and off the snapping of edges.
    w.enter("New: x", "3570");
    w.enter("New: y", "2250");
    assert!(w.says("breach"));
    w.click("What is asked for: edge distance");
    assert!(w.shows("Picture: edge distance"));
    w.click("Close");
}

#[test]
fn findings_stand_one_below_the_other() {
    let mut w = ready();
    // Both 30 mm from the jamb of W1 where 75 is asked for.
    for y in ["2250", "2400"] {
        w.click("Pin tie");
        w.enter("New: x", "3570");
        w.enter("New: y", y);
    }
    let mut rows: Vec<egui::Rect> = w.h.query_all_by_label_contains("Finding: ").map(|n| n.rect()).collect();
    assert!(rows.len() >= 2, "{rows:?}");
    rows.sort_by(|a, b| a.top().total_cmp(&b.top()));
    for pair in rows.windows(2) {
        assert!(pair[1].top() >= pair[0].bottom(), "one covers the other: {pair:?}");
    }
}

#[test]
fn a_tie_says_why_it_is_there() {
    let mut w = ready();
    let at = lonely(&w);
    let screen = w.h.state().world_to_screen(at);
    w.h.hover_at(screen);
    w.wait(1.0);
    assert!(w.says("Serves the field"));
    assert!(w.says("To the next tie"));
    w.click_at(at);
    assert!(w.says("To the edge of the masonry"), "the panel says it too");
    assert!(w.says("Tie F1: field"), "every tie is told to a screen reader");
    assert!(w.says("Opening W1: 1200 wide, 1350 high, 3600 from the left, sill at 1500"));
}

#[test]
fn layers_go_on_and_off() {
    let mut w = ready();
    let before = w.h.state().session().layers;
    for name in ["Tie marks", "Bed joints", "Dimensions", "Old ties", "Served areas", "Untied areas"] {
        w.keys(Modifiers::COMMAND, Key::J);
        w.write("Find a command", name);
        w.click(&format!("Run: {name}"));
    }
    let l = w.h.state().session().layers;
    assert_eq!(
        (l.marks, l.bed_joints, l.dimensions, l.old_ties, l.served, l.untied),
        (
            !before.marks,
            !before.bed_joints,
            !before.dimensions,
            !before.old_ties,
            !before.served,
            !before.untied
        )
    );
}

#[test]
fn the_button_deletes_a_tie_as_the_key_does() {
    let mut w = Window::front();
    let at = w.h.state().derived().plan(0).expect("a plan").ties[0].at;
    w.click_at(at);
    w.click("Delete");
    assert!(w.says("Strike out"), "a tie that was set out is struck out, for a reason");
}
