//! Edits and undo: every step taken back restores the project exactly, and made again gives it again.

use std::sync::Arc;

use layout_core::elevation::{
    Coursing, CustomRules, Elevation, ExistingTie, Fix, KeepOut, Locked, MovementJoint, Opening, Project,
    RuleChoice, Shape, SideCondition, TieForm,
};
use proptest::prelude::*;
use tiewright::document::{Change, Details, Document, Edit, Item, Object};
use tiewright_tests::window::front;

fn opening() -> Object {
    Object::Opening(Opening {
        name: String::new(),
        shape: Shape::Rect { x: 1200.0, y: 900.0, w: 1200.0, h: 1350.0 },
    })
}

fn changes() -> impl Strategy<Value = Change> {
    let n = 0..4_usize;
    let mm = -2000..12_000_i32;
    let point = (mm.clone(), mm.clone()).prop_map(|(x, y)| (f64::from(x), f64::from(y)));
    let shape = prop_oneof![
        (point.clone(), 1..3000_i32, 1..3000_i32).prop_map(|(p, w, h)| Shape::Rect {
            x: p.0,
            y: p.1,
            w: f64::from(w),
            h: f64::from(h)
        }),
        (point.clone(), 1..900_i32).prop_map(|(p, r)| Shape::Circle { x: p.0, y: p.1, r: f64::from(r) }),
        prop::collection::vec(point.clone(), 3..6).prop_map(Shape::Polygon),
    ];
    let opening = shape.clone().prop_map(|shape| Object::Opening(Opening { name: String::new(), shape }));
    let object = prop_oneof![
        opening.clone(),
        shape.prop_map(|shape| Object::KeepOut(KeepOut { name: "Box".into(), shape, clearance: 50.0 })),
        point.clone().prop_map(|p| Object::Joint(MovementJoint { x: p.0, from: 0.0, to: p.1 })),
        point.clone().prop_map(|at| Object::OldTie(ExistingTie {
            at,
            form: TieForm::FlatStrip,
            ..ExistingTie::default()
        })),
        point.clone().prop_map(Object::Pinned),
        point.clone().prop_map(|(x, y)| {
            let shape = Shape::Rect { x, y, w: 300.0, h: 300.0 };
            Object::Locked(Locked { name: String::new(), shape, ties: vec![(x, y)] })
        }),
    ];
    let item = (0..8_usize, n.clone()).prop_map(|(kind, i)| match kind {
        0 => Item::Opening(i),
        1 => Item::KeepOut(i),
        2 => Item::Joint(i),
        3 => Item::OldTie(i),
        4 => Item::Pinned(i),
        5 => Item::Corner(i),
        6 => Item::Locked(i),
        _ => Item::Side(i),
    });
    prop_oneof![
        6 => object.clone().prop_map(Change::Add),
        2 => (item.clone(), object).prop_map(|(item, o)| Change::Replace(item, o)),
        2 => (n.clone(), opening).prop_map(|(i, o)| Change::Replace(Item::Opening(i), o)),
        2 => item.clone().prop_map(Change::Remove),
        1 => (item, point.clone()).prop_map(|(item, by)| Change::Duplicate(item, by)),
        1 => (n.clone(), point.clone()).prop_map(|(i, p)| Change::MoveCorner(i, p)),
        1 => (n.clone(), point.clone()).prop_map(|(i, p)| Change::SplitSide(i, p)),
        1 => (n.clone(), 0..7_usize).prop_map(|(i, c)| Change::Side(i, SideCondition::ALL[c])),
        1 => n.clone().prop_map(Change::RemoveCorner),
        1 => prop::collection::vec(point, 0..6).prop_map(Change::Outline),
        1 => any::<bool>().prop_map(Change::Automatic),
        1 => (60..90_i32).prop_map(|g| Change::Coursing(Coursing { gauge: f64::from(g), first_bed: 5.0, fix: Fix::BrickFace, ..Coursing::default() })),
        1 => Just(Change::Rules(RuleChoice::Custom(CustomRules::default()))),
        1 => "[A-Z]{1,4}".prop_map(Change::Rename),
    ]
}

fn edits() -> impl Strategy<Value = Edit> {
    let n = 0..3_usize;
    prop_oneof![
        12 => (n.clone(), changes()).prop_map(|(i, c)| Edit::In(i, c)),
        1 => n.clone().prop_map(Edit::DuplicateElevation),
        1 => n.clone().prop_map(Edit::RemoveElevation),
        1 => (n.clone(), n.clone()).prop_map(|(a, b)| Edit::MoveElevation(a, b)),
        1 => n.prop_map(|i| Edit::AddElevation(i, Box::new(Elevation::new("New", Vec::new())))),
        1 => "[a-z]{1,6}".prop_map(|site| Edit::Details(Box::new(Details { site, title: "T".into(), ..Details::default() }))),
    ]
}

proptest! {
    #[test]
    fn undo_restores_exactly_and_redo_makes_again(list in prop::collection::vec(edits(), 1..40)) {
        let mut document = Document::new(front());
        let mut states: Vec<Arc<Project>> = vec![Arc::clone(document.project())];
        for edit in &list {
            let before = Arc::clone(document.project());
            if document.apply(edit).is_err() {
                prop_assert_eq!(&before, document.project(), "a refused edit changes nothing");
            } else if before != *document.project() {
                states.push(Arc::clone(document.project()));
            }
        }
        for state in states.iter().rev().skip(1) {
            prop_assert!(document.undo().is_some());
            prop_assert_eq!(state, document.project());
        }
        prop_assert!(document.undo().is_none());
        prop_assert!(!document.is_changed(), "back where it was saved");
        for state in states.iter().skip(1) {
            prop_assert!(document.redo().is_some());
            prop_assert_eq!(state, document.project());
        }
        prop_assert!(document.redo().is_none());
    }

    #[test]
    fn every_edit_has_a_name(edit in edits()) {
        prop_assert!(edit.name(&front()).len() > 3);
    }
}

#[test]
fn a_gesture_is_one_step() {
    let mut d = Document::new(front());
    d.apply(&Edit::In(0, Change::Add(opening()))).expect("added");
    let before = Arc::clone(d.project());
    for x in [1300.0, 1400.0, 1500.0] {
        let moved = opening().moved(x - 1200.0, 0.0);
        let Object::Opening(mut o) = moved else { panic!("an opening stays an opening") };
        o.name = "W1".into();
        d.apply_in(&Edit::In(0, Change::Replace(Item::Opening(0), Object::Opening(o))), 7).expect("moved");
    }
    d.end_gesture(7);
    assert_eq!(d.history().undo_name(), Some("Move W1"));
    d.undo();
    assert_eq!(*d.project(), before);
    d.redo();
    assert_ne!(*d.project(), before);
}

#[test]
fn a_gesture_back_to_its_start_leaves_no_step() {
    let mut d = Document::new(front());
    d.apply(&Edit::In(0, Change::Add(Object::Pinned((450.0, 225.0))))).expect("added");
    let to = |x: f64| Edit::In(0, Change::Replace(Item::Pinned(0), Object::Pinned((x, 225.0))));
    d.apply_in(&to(500.0), 3).expect("moved");
    d.apply_in(&to(450.0), 3).expect("moved back");
    d.end_gesture(3);
    assert_eq!(d.history().undo_name(), Some("Pin a tie"));
}

#[test]
fn a_cancelled_gesture_never_was() {
    let mut d = Document::new(front());
    let before = Arc::clone(d.project());
    d.apply_in(&Edit::In(0, Change::Add(opening())), 1).expect("added");
    d.cancel_gesture(1);
    assert_eq!(*d.project(), before);
    assert_eq!(d.history().undo_name(), None);
    assert_eq!(d.history().redo_name(), None);
}

#[test]
fn saved_is_where_it_was_saved() {
    let mut d = Document::new(front());
    assert!(!d.is_changed());
    d.apply(&Edit::In(0, Change::Add(opening()))).expect("added");
    assert!(d.is_changed());
    let saved = Arc::clone(d.project());
    d.mark_saved(&saved);
    assert!(!d.is_changed());
    d.undo();
    assert!(d.is_changed());
    d.redo();
    assert!(!d.is_changed());
}

#[test]
fn sides_keep_their_conditions() {
    let mut d = Document::new(front());
    let side = |i| Edit::In(0, Change::Side(i, SideCondition::FreeEnd));
    d.apply(&side(1)).expect("set");
    d.apply(&Edit::In(0, Change::SplitSide(1, (9000.0, 2000.0)))).expect("split");
    use SideCondition::{Base, Corner, Eaves, FreeEnd};
    assert_eq!(d.project().elevations[0].sides, [Base, FreeEnd, FreeEnd, Eaves, Corner]);
    d.apply(&Edit::In(0, Change::RemoveCorner(2))).expect("removed");
    assert_eq!(d.project().elevations[0].sides, [Base, FreeEnd, Eaves, Corner]);
    assert!(d.apply(&Edit::In(9, Change::Automatic(false))).is_err());
}

#[test]
fn names_are_given() {
    let mut d = Document::new(front());
    for _ in 0..2 {
        d.apply(&Edit::In(0, Change::Add(opening()))).expect("added");
    }
    let door = Shape::Arched { x: 4000.0, y: 0.0, w: 1000.0, h: 2100.0, rise: 150.0 };
    let door = Object::Opening(Opening { name: String::new(), shape: door });
    d.apply(&Edit::In(0, Change::Add(door))).expect("added");
    assert_eq!(d.history().undo_name(), Some("Add D1"));
    d.apply(&Edit::In(0, Change::Duplicate(Item::Opening(0), (2400.0, 0.0)))).expect("copied");
    let names: Vec<_> = d.project().elevations[0].openings.iter().map(|o| o.name.clone()).collect();
    assert_eq!(names, ["W1", "W2", "D1", "W3"]);
}
