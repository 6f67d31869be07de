//! Layouts that can be worked out by hand.

use layout_core::check::Severity;
use layout_core::elevation::{
    CustomEdges, CustomRules, Elevation, MovementJoint, Opening, Pattern, RuleChoice, Shape, SideCondition,
    Style,
};
use layout_core::rules::EdgeScope;
use layout_core::setting_out::is_set_back;
use layout_core::{Plan, Role, plan};
use tiewright_tests::walls::{FAMILIES, wall};

fn rectangle(w: f64, h: f64) -> Elevation {
    Elevation::new("Wall", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
}

fn window(e: &mut Elevation, x: f64, y: f64, w: f64, h: f64) {
    e.openings.push(Opening { name: "W".to_owned(), shape: Shape::Rect { x, y, w, h } });
}

#[track_caller]
fn laid_out(e: &Elevation) -> Plan {
    let plan = plan(e).expect("a usable drawing");
    let breaches: Vec<_> = plan.findings.iter().filter(|f| f.severity == Severity::Breach).collect();
    assert!(breaches.is_empty(), "{breaches:#?}");
    plan
}

#[test]
fn a_plain_wall_stacked_has_the_plain_grid() {
    // 9000 / 900 = 10 ties a row; 5250 / 450 = 11.67, so 12 rows: 120 ties, and no layout has fewer,
    // for 10 x 12 points a hair over 900 and 450 apart each need a tie of their own.
    let mut e = rectangle(9000.0, 5250.0);
    e.pattern = Pattern::Stacked;
    let plan = laid_out(&e);
    assert_eq!(plan.ties.len(), 120);
    assert_eq!(plan.row_heights().len(), 12);
    let first: Vec<f64> = plan.ties.iter().filter(|t| t.at.1 == 225.0).map(|t| t.at.0).collect();
    let by_hand: Vec<f64> = (0..10).map(|i| 450.0 + 900.0 * f64::from(i)).collect();
    assert_eq!(first, by_hand);
}

#[test]
fn a_plain_wall_is_staggered_for_a_twentieth_more() {
    // Every other of the 12 rows is set back by 450 and has one tie more: 120 + 6.
    let plan = laid_out(&rectangle(9000.0, 5250.0));
    assert_eq!(plan.ties.len(), 126);
    let row = |y: f64| plan.ties.iter().filter(|t| t.at.1 == y).map(|t| t.at.0).collect::<Vec<f64>>();
    assert_eq!(row(225.0)[1], 1350.0);
    assert_eq!(row(675.0)[1], 900.0);
}

#[test]
fn slack_staggers_for_nothing() {
    // 4 x 900 = 3600 serve 3300 with 300 to spare: the rows shift by that, 4 ties in each of 2.
    let plan = laid_out(&rectangle(3300.0, 900.0));
    assert_eq!(plan.ties.len(), 8);
    let row = |y: f64| plan.ties.iter().filter(|t| t.at.1 == y).map(|t| t.at.0).collect::<Vec<f64>>();
    assert_ne!(row(225.0), row(675.0));
}

#[test]
fn one_column_serves_both_jambs_of_a_pier() {
    // A pier of 440 between two windows 1200 high, from sill to head: 1200 / 300 = 4 ties, no more.
    let mut e = rectangle(4840.0, 3000.0);
    window(&mut e, 1000.0, 900.0, 1200.0, 1200.0);
    window(&mut e, 2640.0, 900.0, 1200.0, 1200.0);
    let plan = laid_out(&e);
    let in_pier = |t: &&layout_core::Tie| {
        (2200.0..2640.0).contains(&t.at.0) && (900.0..2100.0).contains(&t.at.1) && t.role == Role::Jamb
    };
    let on_axis = plan.ties.iter().filter(in_pier).filter(|t| t.at.0 == 2420.0).count();
    assert_eq!(on_axis, 4);
    // Where the fewest are wanted the field needs none of its own there.
    e.style = Style::Fewest;
    assert_eq!(laid_out(&e).ties.iter().filter(in_pier).count(), 4);
}

/// Places mirrored about the middle of a wall so wide, in row order.
fn mirrored(plan: &Plan, width: f64) -> Vec<(f64, f64)> {
    let mut all: Vec<(f64, f64)> = plan.ties.iter().map(|t| (width - t.at.0, t.at.1)).collect();
    all.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    all
}

// Two windows a storey over each other, the same distance from either end: each half is the image of the other. 8400 at 900
// takes ten ties on a full row, the outer two 150 from the ends.
#[test]
fn both_halves_of_a_front_are_marked_out_alike() {
    let mut e = rectangle(8400.0, 5250.0);
    for (x, y) in [(1500.0, 900.0), (5400.0, 900.0), (1500.0, 3300.0), (5400.0, 3300.0)] {
        window(&mut e, x, y, 1500.0, 1200.0);
    }
    let plan = laid_out(&e);
    assert_eq!(plan.marking.mirrored, Some(plan.ties.len()));
    let row: Vec<f64> = plan.ties.iter().filter(|t| t.at.1 == 225.0).map(|t| t.at.0).collect();
    let by_hand: Vec<f64> = (0..10).map(|i| 150.0 + 900.0 * f64::from(i)).collect();
    assert_eq!(row, by_hand);
    // Ten ties may be set back on every other row; nine, up to 9 x 900, may not.
    assert!(is_set_back(8400.0, 900.0) && !is_set_back(8100.0, 900.0));
}

#[test]
fn the_mirror_image_of_a_wall_has_the_mirror_image_of_its_layout() {
    let (mut e, mut image) = (rectangle(8400.0, 2700.0), rectangle(8400.0, 2700.0));
    for (x, w) in [(900.0, 1200.0), (3600.0, 900.0)] {
        window(&mut e, x, 900.0, w, 1050.0);
        window(&mut image, 8400.0 - x - w, 900.0, w, 1050.0);
    }
    let at: Vec<(f64, f64)> = laid_out(&e).ties.iter().map(|t| t.at).collect();
    assert_eq!(mirrored(&laid_out(&image), 8400.0), at);
}

#[test]
fn a_free_end_needs_a_tie_for_each_300() {
    // 2400 / 300 = 8 within 225 of the free end.
    let mut e = rectangle(2000.0, 2400.0);
    e.sides = vec![SideCondition::Base, SideCondition::FreeEnd, SideCondition::Eaves, SideCondition::Corner];
    let plan = laid_out(&e);
    assert_eq!(plan.count(Role::FreeEnd), 8);
    assert!(plan.ties.iter().filter(|t| t.role == Role::FreeEnd).all(|t| t.at.0 >= 1775.0));
}

#[test]
fn a_joint_needs_them_on_either_side() {
    let mut e = rectangle(4000.0, 2400.0);
    e.movement_joints.push(MovementJoint { x: 2000.0, from: 0.0, to: 2400.0 });
    let plan = laid_out(&e);
    assert_eq!(plan.count(Role::Joint), 16);
}

#[test]
fn imperial_courses_bring_the_rows_to_five_courses() {
    // Check value 23: five courses of 76.2 are 381; six would be 457, over 450.
    let mut e = rectangle(1800.0, 3810.0);
    e.coursing.gauge = 76.2;
    let rows = laid_out(&e).row_heights();
    assert!(rows.windows(2).all(|r| r[1] - r[0] <= 381.0 + 1e-6), "{rows:?}");
}

#[test]
fn a_number_per_m2_is_met_exactly_where_spacing_needs_fewer() {
    // 20 m2 at 5 per m2 are 100 ties; 900 x 450 alone needs 5 x 10 = 50 here.
    let mut e = rectangle(4500.0, 4444.0);
    e.rules = RuleChoice::Custom(CustomRules { per_m2: 5.0, edges: None, ..CustomRules::default() });
    let plan = laid_out(&e);
    assert_eq!(plan.ties.len(), 100);
}

#[test]
fn the_fewest_are_no_more_than_the_even_ones() {
    for family in FAMILIES {
        for seed in [3, 71, 150] {
            let mut e = wall(family, seed);
            let even = plan(&e).expect("a usable drawing");
            e.style = Style::Fewest;
            let fewest = plan(&e).expect("a usable drawing");
            assert!(fewest.ties.len() <= even.ties.len(), "{family:?} {seed}");
            assert!(!fewest.has_breach() || even.has_breach(), "{family:?} {seed}: {:#?}", fewest.findings);
        }
    }
}

#[test]
fn the_same_wall_gives_the_same_layout() {
    for family in FAMILIES {
        let e = wall(family, 42);
        assert_eq!(plan(&e), plan(&e.clone()));
    }
}

#[test]
fn pinned_ties_stay_and_alone_where_set_out_by_hand() {
    let mut e = rectangle(3600.0, 2700.0);
    e.pinned = vec![(1234.5, 675.0), (2000.0, 1350.0)];
    let plan = laid_out(&e);
    for p in &e.pinned {
        assert!(plan.ties.iter().any(|t| t.pinned && t.at == *p));
    }
    e.automatic = false;
    let by_hand = layout_core::plan(&e).expect("a usable drawing");
    assert_eq!(by_hand.ties.len(), 2);
    assert!(by_hand.has_breach());
}

#[test]
fn ties_round_an_opening_and_along_the_top_stand_on_rows_of_the_field() {
    // Rows of the field at 225 + 450 k. 675 is 225 below the sill at 900, 2025 is 75 above the head at 1950,
    // 2475 is 225 below the top: all near enough, so the rows the field has anyhow serve them too.
    let mut e = rectangle(5400.0, 2700.0);
    e.sides = vec![SideCondition::Base, SideCondition::Corner, SideCondition::Eaves, SideCondition::Corner];
    window(&mut e, 1800.0, 900.0, 1800.0, 1050.0);
    e.rules = RuleChoice::Custom(CustomRules {
        horizontal: 900.0,
        vertical: 450.0,
        edges: Some(CustomEdges {
            within: 225.0,
            spacing: 300.0,
            top: Some(450.0),
            scope: EdgeScope::EveryFreeEdge { corners: false },
        }),
        ..CustomRules::default()
    });
    let plan = laid_out(&e);
    let heights = |from: f64, to: f64| {
        let mut ys: Vec<f64> =
            plan.ties.iter().filter(|t| from < t.at.0 && t.at.0 < to).map(|t| t.at.1).collect();
        ys.dedup();
        ys
    };
    assert_eq!(heights(1800.0, 3600.0), [225.0, 675.0, 2025.0, 2475.0]);
    let top: Vec<f64> = plan.ties.iter().filter(|t| t.at.1 == 2475.0).map(|t| t.at.0).collect();
    let by_hand: Vec<f64> = (0..12).map(|i| 225.0 + 450.0 * f64::from(i)).collect();
    assert_eq!(top, by_hand);
}
