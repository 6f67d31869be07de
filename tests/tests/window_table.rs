//! The table of openings beside the drawing, and rows pasted from a spreadsheet.

use egui::{Event, Key, Modifiers};
use layout_core::elevation::{Opening, Shape};
use tiewright::document::Item;
use tiewright::document::heads::Head;
use tiewright_tests::window::{Window, front};

fn ready() -> Window {
    let mut project = front();
    let rect = |name: &str, x: f64| Opening {
        name: name.to_owned(),
        shape: Shape::Rect { x, y: 900.0, w: 1200.0, h: 1350.0 },
    };
    project.elevations[0].openings = vec![rect("W1", 900.0), rect("W2", 3600.0), rect("W3", 6300.0)];
    let mut w = Window::sized(project, 1600.0, 1000.0);
    w.key(Key::F4);
    w
}

fn shape(w: &Window, i: usize) -> Shape {
    w.elevation().openings[i].shape.clone()
}

fn paste(w: &mut Window, text: &str) {
    w.h.event(Event::Paste(text.to_owned()));
    w.h.run();
}

#[test]
fn cells_are_edited_like_a_spreadsheet() {
    let mut w = ready();
    w.enter("W1 from left", "4b+10");
    w.enter("W1 sill", "11c");
    w.enter("W1 width", "6b + 10");
    w.enter("W1 height", "1.2 m");
    // 4 x 225 + 10; 11 x 75; 6 x 225 + 10.
    assert_eq!(shape(&w, 0), Shape::Rect { x: 910.0, y: 825.0, w: 1360.0, h: 1200.0 });
    w.enter("W1 name", "Kitchen");
    assert_eq!(w.elevation().openings[0].name, "Kitchen");
    w.enter("W2 width", "0");
    assert!(w.says("it must be more than 0"), "what is wrong is said in place");
    assert_eq!(shape(&w, 1), Shape::Rect { x: 3600.0, y: 900.0, w: 1200.0, h: 1350.0 });
}

#[test]
fn enter_goes_down_the_column() {
    let mut w = ready();
    w.write("W1 width", "1000");
    w.key(Key::Enter);
    // The next cell has the keyboard, all of it selected: what is typed goes there.
    for (i, text) in [(1, "1100"), (2, "1150")] {
        w.h.event(Event::Text(text.to_owned()));
        w.h.run();
        w.key(Key::Enter);
        let Shape::Rect { w: width, .. } = shape(&w, i) else { panic!("a rectangle") };
        assert_eq!(width.to_string(), text);
    }
    assert!(matches!(shape(&w, 0), Shape::Rect { w: 1000.0, .. }));
}

#[test]
fn table_and_sheet_stay_in_step() {
    let mut w = ready();
    w.drag((4200.0, 1500.0), (4200.0, 1950.0));
    use egui_kittest::kittest::{NodeT, Queryable};
    let value = |w: &Window, field: &str| w.h.get_by_label(field).accesskit_node().value();
    assert_eq!(value(&w, "W2 sill").as_deref(), Some("1350"), "dragged by 450 on the sheet");
    w.h.get_by_label("W3 width").focus();
    w.h.run();
    assert_eq!(w.h.state().session().item(), Some(Item::Opening(2)), "a cell selects its opening");
    w.choose("W3 head", "semicircular");
    assert_eq!(Head::of(&shape(&w, 2)), Head::Semicircular);
    w.click("Take out W1");
    assert_eq!(w.elevation().openings.len(), 2);
    w.click("Add a row");
    assert_eq!(w.elevation().openings.len(), 3);
    w.key(Key::F4);
    assert!(!w.shows("W2 sill"));
}

#[test]
fn rows_pasted_from_a_spreadsheet() {
    let mut w = ready();
    paste(
        &mut w,
        "name\tfrom left\tsill\twidth\theight\thead\nW2\t3510\t900\t1360\t1350\nD1\t7650\t0\t910\t28c\tsegmental\n",
    );
    let e = w.elevation();
    assert_eq!(e.openings.len(), 4, "W2 is replaced, D1 is new");
    assert_eq!(shape(&w, 1), Shape::Rect { x: 3510.0, y: 900.0, w: 1360.0, h: 1350.0 });
    assert_eq!(Head::of(&shape(&w, 3)), Head::Segmental);
    assert_eq!(w.h.state().document().history().undo_name(), Some("Paste 2 openings"));
    w.click("Undo");
    assert_eq!(w.elevation().openings.len(), 3);
}

#[test]
fn wrong_rows_can_be_put_right() {
    let mut w = ready();
    paste(&mut w, "W7,900,3000,1200,1200\nW8,2700,3000,wide,1200");
    assert!(w.says("row 2: width: 'wide' is not a number"));
    assert_eq!(w.elevation().openings.len(), 3);
    w.write("Rows of openings", "W7,900,3000,1200,1200\nW8,2700,3000,4b,1200");
    assert!(w.shows("2 to add, 0 to replace"));
    w.click("Draw these openings");
    assert_eq!(w.elevation().openings.len(), 5);
    assert!(matches!(shape(&w, 4), Shape::Rect { w: 900.0, .. }));
}

#[test]
fn a_click_beside_the_dialog_drops_no_rows() {
    let mut w = Window::front();
    w.keys(Modifiers::COMMAND | Modifiers::SHIFT, Key::V);
    w.h.event(Event::Text("W1, 900, 12c, 4b, 16c".to_owned()));
    w.h.run();
    w.click_at((200.0, 200.0));
    assert!(w.says("1 to add, 0 to replace"), "what was typed is still there");
    w.click("Draw these openings");
    // 12 x 75, 4 x 225 and 16 x 75.
    assert_eq!(w.elevation().openings[0].shape, Shape::Rect { x: 900.0, y: 900.0, w: 900.0, h: 1200.0 });
}

#[test]
fn a_refused_cell_says_why_on_its_own_elevation() {
    let mut project = front();
    let opening =
        Opening { name: "W1".to_owned(), shape: Shape::Rect { x: 900.0, y: 900.0, w: 1200.0, h: 1350.0 } };
    project.elevations[0].openings = vec![opening];
    let mut rear = project.elevations[0].clone();
    rear.name = "Rear".to_owned();
    project.elevations.push(rear);
    let mut w = Window::sized(project, 1600.0, 1000.0);
    w.key(Key::F4);
    w.enter("W1 width", "wide");
    use egui_kittest::kittest::{NodeT, Queryable};
    let cell = w.h.get_by_label("W1 width").rect();
    let said = w.h.get_by_label_contains("'wide' is not a number").rect();
    assert!(said.top() >= cell.bottom() && said.height() > 10.0, "in full, below the cell: {said:?}");
    w.keys(Modifiers::COMMAND, Key::PageDown);
    assert_eq!(w.h.get_by_label("W1 width").accesskit_node().value().as_deref(), Some("1200"));
    assert!(!w.says("'wide' is not a number"));
}
