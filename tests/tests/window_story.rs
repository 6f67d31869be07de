//! A notebook page typed in: the front of a semi with nine openings, a gable over it, a joint, two keep-outs.

use egui::{Key, Modifiers};
use layout_core::Role;
use layout_core::elevation::{Shape, SideCondition, shape_bounds};
use tiewright_tests::window::Window;

/// The window with every act of the hand counted: a click, a field filled, a key, a text pasted.
struct Story {
    w: Window,
    acts: usize,
}

impl Story {
    fn click(&mut self, label: &str) {
        self.acts += 1;
        self.w.click(label);
    }
    fn enter(&mut self, field: &str, text: &str) {
        self.acts += 1;
        self.w.enter(field, text);
    }
    fn key(&mut self, modifiers: Modifiers, key: Key) {
        self.acts += 1;
        self.w.keys(modifiers, key);
    }
    fn choose(&mut self, list: &str, option: &str) {
        self.acts += 2;
        self.w.choose(list, option);
    }
}

/// The openings as the notebook has them, counted in bricks and courses where they were counted.
const PAGE: &str = "\
name, from left, sill, width, height, head
D1, 3b, 0, 4b+10, 28c, segmental
W1, 9b+10, 12c, 8b+10, 18c
W2, 20b, 12c, 6b+10, 18c
W3, 3b, 46c, 4b+10, 16c
W4, 9b+10, 46c, 8b+10, 16c
W5, 20b, 46c, 6b+10, 16c
W6, 16b, 33c, 3b+10, 8c, semicircular
O1, 13.5b, 84c, 600, 600, round
V1, 4.2 m, 19'0\", 1b, 3c";

#[test]
fn the_front_of_a_semi_from_a_notebook() {
    let mut s = Story { w: Window::sized(bare(), 1600.0, 1000.0), acts: 0 };
    // The wall: a gable 30 bricks wide, eaves at 70 courses, ridge at 104.
    s.click("Start from a gable, a semi…");
    s.click("Gable");
    s.enter("Wall: Width", "30b");
    s.enter("Wall: Height to the eaves", "70c");
    s.enter("Wall: Height to the ridge", "104c");
    s.click("Draw this wall");
    // At the right the wall runs on at the party line.
    s.click("Item side 2");
    s.choose("Condition of the side", SideCondition::Abutment.words());
    // Nine openings as rows.
    s.key(Modifiers::NONE, Key::F4);
    s.click("Openings from rows…");
    s.acts += 1;
    s.w.write("Rows of openings", PAGE);
    s.click("Draw these openings");
    s.key(Modifiers::NONE, Key::F4);
    // A movement joint, a meter box and a flue.
    s.click("Movement joint");
    s.enter("New: x", "27.5b");
    s.enter("New: To", "70c");
    s.click("Add");
    s.click("Common sizes");
    s.click("Kept clear of");
    s.click("Meter box: 450 × 600");
    s.enter("New: Left", "21b");
    s.enter("New: Foot", "1c");
    s.click("Add");
    s.key(Modifiers::NONE, Key::O);
    s.enter("New: Centre x", "22b");
    s.enter("New: Centre y", "38c");
    s.enter("New: Radius", "63");
    s.click("Add");
    s.key(Modifiers::NONE, Key::Escape);
    s.enter("Elevation name", "Front");
    assert!(s.acts <= 120, "{} acts", s.acts);

    let e = s.w.elevation();
    assert_eq!((e.openings.len(), e.keep_outs.len(), e.movement_joints.len()), (9, 2, 1));
    // 30 x 225 = 6750; 70 x 75 = 5250; 104 x 75 = 7800.
    assert_eq!(e.outline[2..], [(6750.0, 5250.0), (3375.0, 7800.0), (0.0, 5250.0)]);
    // W2: 20 x 225 from the left, 12 x 75 up, 6 x 225 + 10 wide, 18 x 75 high.
    assert_eq!(shape_bounds(&e.openings[2].shape), (4500.0, 900.0, 5860.0, 2250.0));
    assert_eq!(e.openings[7].shape, Shape::Circle { x: 3337.5, y: 6600.0, r: 300.0 });
    // 27.5 x 225; from the foot to the height of the eaves.
    let j = e.movement_joints[0];
    assert_eq!((j.x, j.from, j.to), (6187.5, 0.0, 5250.0));

    let planner = s.w.h.state();
    let plan = planner.derived().plan(0).expect("it is set out");
    assert!(!plan.has_breach(), "{:?}", plan.findings);
    assert!(plan.count(Role::Verge) > 0 && plan.count(Role::Joint) > 0 && plan.count(Role::Jamb) > 0);
    // The ties end as the rules ask, told by the core alone on a drawing of the same sizes.
    let again = layout_core::plan(&e).expect("a usable drawing");
    assert_eq!(plan.ties, again.ties);
    // Up each verge of hypot(3375, 2550) = 4230 mm a tie at least every 300 mm of height: 2550 / 300 = 8.5, so nine.
    assert!(plan.count(Role::Verge) >= 18, "{}", plan.count(Role::Verge));
}

fn bare() -> layout_core::elevation::Project {
    let mut project = layout_core::elevation::Project::default();
    project.elevations.push(layout_core::elevation::Elevation::new("Elevation", Vec::new()));
    project
}
