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

/// Places of the ties, whole mm, from below and from the left.
fn places(w: &Window) -> Vec<(i64, i64)> {
    let plan = w.h.state().derived().plan(0).expect("it is set out");
    let mut all: Vec<(i64, i64)> =
        plan.ties.iter().map(|t| (t.at.1.round() as i64, t.at.0.round() as i64)).collect();
    all.sort_unstable();
    all.into_iter().map(|(y, x)| (x, y)).collect()
}

/// A plain wall of a size, set out with the fewest ties, from a bare sheet.
fn plain(width: &str, height: &str) -> Story {
    let mut s = Story { w: Window::sized(bare(), 1600.0, 1000.0), acts: 0 };
    s.click("Start from a gable, a semi…");
    s.click("Plain wall");
    s.enter("Wall: Width", width);
    s.enter("Wall: Height", height);
    s.click("Draw this wall");
    s.choose("Layout", "fewest ties");
    assert!(s.acts <= 8, "{} acts", s.acts);
    s
}

#[test]
fn a_plain_wall_counted_by_hand() {
    // 16 bricks are 3600 mm, 12 courses 900. Corners at both ends, so no edge asks for ties; a tie serves 900 x 450 at
    // most. 3600 x 900 / (900 x 450) = 8, and eight only do if their areas tile the wall: four across, two up, each
    // in the middle of its own. 225 and 675 are bed joints, 3 and 9 courses up.
    let s = plain("16b", "12c");
    let middles = |y: i64| [450, 1350, 2250, 3150].map(|x| (x, y));
    assert_eq!(places(&s.w), [middles(225), middles(675)].concat());
    // One course more, 975: along any upright line two ties serve 2 x 450 = 900 at most, so three are needed, and four
    // such lines more than 900 apart have no tie in common: 12.
    assert_eq!(plain("16b", "13c").w.ties(), 12);
}

#[test]
fn the_jambs_of_a_window_counted_by_hand() {
    let mut s = plain("24b", "36c");
    s.click("Rectangle");
    // 2250 from the left, sill at 900, 910 wide, 900 high.
    for (field, size) in [("Left", "10b"), ("Sill", "12c"), ("Width", "4b+10"), ("Height", "12c")] {
        s.enter(&format!("New: {field}"), size);
    }
    s.click("Add");
    // Each jamb is 900 high, and a tie holds 150 of it up and down: three at least, and three only do at 150, 450 and
    // 750 above the sill. 1050, 1350 and 1650 are bed joints, 14, 18 and 22 courses up. They stand 75 to 225 mm off
    // the jamb: 2025 to 2175 at the left, 3235 to 3385 at the right.
    let beside = |l: i64, r: i64| {
        let at = places(&s.w).into_iter();
        at.filter(|(x, y)| (l..=r).contains(x) && (900..=1800).contains(y))
            .map(|(_, y)| y)
            .collect::<Vec<_>>()
    };
    assert_eq!(beside(2025, 2175), [1050, 1350, 1650]);
    assert_eq!(beside(3235, 3385), [1050, 1350, 1650]);
    let plan = s.w.h.state().derived().plan(0).expect("it is set out");
    assert!(!plan.has_breach(), "{:?}", plan.findings);
}

fn bare() -> layout_core::elevation::Project {
    let mut project = layout_core::elevation::Project::default();
    project.elevations.push(layout_core::elevation::Elevation::new("Elevation", Vec::new()));
    project
}
