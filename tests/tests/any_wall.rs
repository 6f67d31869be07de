//! Walls of every odd form: each is set out soundly, and no breach stands where a place for a tie would mend it.

use layout_core::elevation::{Elevation, FaultKind, MovementJoint, Point, Shape, SideCondition, validate};
use layout_core::{Plan, Role};
use tiewright_tests::expect::{best, kept, rect, rectangle, sound, with};
use tiewright_tests::from_bytes::moved;
use tiewright_tests::walls::{Dice, FAMILIES, wall};

#[test]
fn curved_tops_and_leaning_ends() {
    // A top that swells by 600 over 7200, in 48 chords.
    let swell = (0..=48).map(|i| {
        let t = f64::from(i) / 48.0;
        (7200.0 * (1.0 - t), 2400.0 + 600.0 * (t * std::f64::consts::PI).sin())
    });
    let mut curved = Elevation::new("Curved", vec![(0.0, 0.0), (7200.0, 0.0)]);
    curved.outline.extend(swell);
    // Swells are no verges.
    curved.sides = vec![SideCondition::Eaves; curved.outline.len()];
    kept(&with(curved.clone(), [rect(1200.0, 900.0, 1200.0, 900.0)]));
    // The same as a free edge all round: every chord is an edge of its own.
    curved.sides = vec![SideCondition::Verge; curved.outline.len()];
    best(&curved);
    let leaning =
        Elevation::new("Leaning", vec![(0.0, 0.0), (4500.0, 0.0), (5400.0, 3000.0), (600.0, 3000.0)]);
    for side in SideCondition::ALL {
        let mut e = leaning.clone();
        e.sides = vec![SideCondition::Base, side, SideCondition::Eaves, side];
        kept(&e);
    }
    // A round wall, and one with a hole as round.
    let turn = |i: i32| f64::from(i) * std::f64::consts::TAU / 90.0;
    let round = (0..90).map(|i| (3000.0 + 2500.0 * turn(i).cos(), 2500.0 + 2500.0 * turn(i).sin()));
    let mut e = Elevation::new("Round", round.collect());
    e.sides = vec![SideCondition::Corner; 90];
    best(&e);
    best(&with(e, [Shape::Circle { x: 3000.0, y: 2500.0, r: 900.0 }]));
}

#[test]
fn openings_that_touch_and_overlap() {
    let wall = || rectangle(6000.0, 3600.0);
    // Side by side: one opening of 1200 x 900.
    let apart = kept(&with(wall(), [rect(1200.0, 900.0, 600.0, 900.0), rect(1800.0, 900.0, 600.0, 900.0)]));
    let one = kept(&with(wall(), [rect(1200.0, 900.0, 1200.0, 900.0)]));
    let at = |p: &Plan| p.ties.iter().map(|t| t.at).collect::<Vec<_>>();
    assert_eq!(at(&apart), at(&one), "two halves are one opening");
    // Twice the same, and one inside another.
    let twice = [
        rect(1200.0, 900.0, 1200.0, 900.0),
        rect(1200.0, 900.0, 1200.0, 900.0),
        rect(1500.0, 1200.0, 300.0, 300.0),
    ];
    assert_eq!(at(&kept(&with(wall(), twice))), at(&one), "what lies inside an opening changes nothing");
    // A cross, corner to corner, edges that overlap by a hair, a window under an arch.
    best(&with(wall(), [rect(1200.0, 1500.0, 1500.0, 300.0), rect(1800.0, 900.0, 300.0, 1500.0)]));
    best(&with(wall(), [rect(1200.0, 900.0, 600.0, 600.0), rect(1800.0, 1500.0, 600.0, 600.0)]));
    best(&with(wall(), [rect(1200.0, 900.0, 600.0, 900.0), rect(1799.9999, 900.0, 600.0, 900.0)]));
    best(&with(
        wall(),
        [rect(1200.0, 900.0, 900.0, 900.0), Shape::Circle { x: 1650.0, y: 1800.0, r: 450.0 }],
    ));
    for seed in 0..40 {
        let mut d = Dice::new(seed + 900);
        let shapes: Vec<Shape> = (0..d.whole(2, 8))
            .map(|_| {
                let (x, y) = (d.step(300.0, 4500.0, 75.0), d.step(300.0, 2400.0, 75.0));
                rect(x, y, d.step(75.0, 1500.0, 75.0), d.step(75.0, 1200.0, 75.0))
            })
            .collect();
        sound(&with(wall(), shapes));
    }
}

#[test]
fn islands_nibs_and_walls_in_pieces() {
    // Four openings round an island of 900 x 900: it hangs on nothing, and has its own ties.
    let frame = [
        rect(1500.0, 900.0, 1500.0, 300.0),
        rect(1500.0, 2100.0, 1500.0, 300.0),
        rect(1500.0, 900.0, 300.0, 1500.0),
        rect(2700.0, 900.0, 300.0, 1500.0),
    ];
    let plan = kept(&with(rectangle(4500.0, 3300.0), frame));
    let on_island =
        plan.ties.iter().filter(|t| (1800.0..2700.0).contains(&t.at.0) && (1200.0..2100.0).contains(&t.at.1));
    // Three each side at 300 of 900, and a tie within 225 of one side is over 225 from the other: 450 apart.
    assert!(on_island.count() >= 6);
    // A doorway to the top leaves two walls, a joint as well; a third piece beside a slot.
    let pieces = with(
        rectangle(6000.0, 2700.0),
        [rect(2000.0, 0.0, 1000.0, 2700.0), rect(4500.0, 0.0, 150.0, 2700.0)],
    );
    let plan = kept(&pieces);
    assert_eq!(plan.masonry.len(), 3, "three pieces");
    let mut jointed = pieces;
    jointed.movement_joints.push(MovementJoint { x: 1000.0, from: 0.0, to: 2700.0 });
    assert!(kept(&jointed).ties.iter().any(|t| t.role == Role::Joint));
    // A nib of 600 x 300 above the wall, one of 75 x 300, and one hanging down.
    let nib = |w: f64| {
        vec![
            (0.0, 0.0),
            (3000.0, 0.0),
            (3000.0, 1800.0),
            (1000.0 + w, 1800.0),
            (1000.0 + w, 2100.0),
            (1000.0, 2100.0),
            (1000.0, 1800.0),
            (0.0, 1800.0),
        ]
    };
    kept(&Elevation::new("Nib", nib(600.0)));
    best(&Elevation::new("Narrow nib", nib(75.0)));
    let hanging = vec![
        (0.0, 600.0),
        (1000.0, 600.0),
        (1000.0, 0.0),
        (1450.0, 0.0),
        (1450.0, 600.0),
        (3000.0, 600.0),
        (3000.0, 1800.0),
        (0.0, 1800.0),
    ];
    kept(&Elevation::new("Hanging", hanging));
}

#[test]
fn slivers_are_nothing() {
    // 2 mm between an opening and the side of the wall, between two openings, and above one. What is left of
    // the wall there is not missed, but a jamb there is a jamb still, and no tie can serve it.
    let wall = rectangle(4500.0, 2700.0);
    best(&with(wall.clone(), [rect(2.0, 900.0, 900.0, 900.0)]));
    best(&with(wall.clone(), [rect(1500.0, 900.0, 600.0, 900.0), rect(2102.0, 900.0, 600.0, 900.0)]));
    kept(&with(wall.clone(), [rect(1500.0, 1798.0, 900.0, 900.0)]));
    // A spike of 2 mm on the outline, and a slit of 2 mm into it.
    let spike = vec![
        (0.0, 0.0),
        (4500.0, 0.0),
        (4500.0, 2700.0),
        (2001.0, 2700.0),
        (2000.0, 3600.0),
        (1999.0, 2700.0),
        (0.0, 2700.0),
    ];
    let mut e = Elevation::new("Spike", spike);
    e.sides = vec![SideCondition::Eaves; 7];
    kept(&e);
    let slit = vec![
        (0.0, 0.0),
        (1999.0, 0.0),
        (2000.0, 1800.0),
        (2001.0, 0.0),
        (4500.0, 0.0),
        (4500.0, 2700.0),
        (0.0, 2700.0),
    ];
    best(&Elevation::new("Slit", slit));
}

#[test]
fn far_from_the_datum_a_wall_needs_as_many_ties() {
    for family in FAMILIES {
        let near = wall(family, 3);
        let here = sound(&near);
        for by in [(9e6, -9e6), (-5e5, 250.0)] {
            let mut far = near.clone();
            moved(&mut far, by);
            let there = sound(&far);
            assert_eq!(there.ties.len(), here.ties.len(), "{}", near.name);
        }
    }
}

#[test]
fn tiny_and_long_walls() {
    for (w, h) in [(2.0, 2.0), (10.0, 900.0), (100.0, 100.0), (149.0, 600.0), (900.0, 149.0), (151.0, 151.0)]
    {
        best(&rectangle(w, h));
    }
    // A garden wall of 250 m; a plinth of 225 high and as long; a chimney of 40 m.
    kept(&rectangle(250_000.0, 1800.0));
    kept(&rectangle(250_000.0, 225.0));
    kept(&rectangle(900.0, 40_000.0));
}

#[test]
fn outlines_of_ten_thousand_corners() {
    // A top edge that waves by 5 mm, a corner each 2 mm.
    let n = 9_996;
    let mut e = Elevation::new("Waves", vec![(0.0, 0.0), (20_000.0, 0.0)]);
    e.outline.extend((0..n).map(|i| {
        let t = f64::from(i) / f64::from(n - 1);
        (20_000.0 * (1.0 - t), 2700.0 + 5.0 * (t * 900.0).sin())
    }));
    e.sides = vec![SideCondition::Eaves; e.outline.len()];
    assert!(kept(&e).ties.len() >= 130);
    // A saw of 10,000 corners down one side.
    let mut saw = vec![(0.0, 0.0)];
    saw.extend((0..9_998).map(|i| (3000.0 + f64::from(i % 2) * 20.0, f64::from(i) * 0.6)));
    saw.push((0.0, 5998.2));
    let mut e = Elevation::new("Saw", saw);
    e.sides = vec![SideCondition::Corner; e.outline.len()];
    kept(&e);
}

#[test]
fn thousands_of_openings_on_each_other() {
    let mut d = Dice::new(41);
    let mut e = rectangle(30_000.0, 9000.0);
    for _ in 0..2000 {
        let (x, y) = (d.step(0.0, 29_000.0, 1.0), d.step(0.0, 8000.0, 1.0));
        let (w, h) = (d.step(50.0, 900.0, 1.0), d.step(50.0, 900.0, 1.0));
        e = with(
            e,
            [match d.whole(0, 2) {
                0 => rect(x, y, w, h),
                1 => Shape::Circle { x, y, r: h / 2.0 },
                _ => Shape::Arched { x, y, w, h, rise: w / 4.0 },
            }],
        );
    }
    let plan = sound(&e);
    assert!(plan.net_area > 10.0 && plan.net_area < 200.0, "{} m2 are left", plan.net_area);
}

#[test]
fn holes_that_touch_the_outline() {
    let wall = || rectangle(5400.0, 2700.0);
    for shape in [
        rect(0.0, 900.0, 900.0, 900.0),
        rect(2000.0, 0.0, 900.0, 2100.0),
        rect(2000.0, 1800.0, 900.0, 900.0),
        rect(4500.0, 1800.0, 900.0, 900.0),
        rect(-300.0, 900.0, 900.0, 900.0),
        // One corner on the base, and a circle against the side.
        Shape::Polygon(vec![(2700.0, 0.0), (3300.0, 600.0), (2700.0, 1200.0), (2100.0, 600.0)]),
        Shape::Circle { x: 450.0, y: 1350.0, r: 450.0 },
        Shape::Arched { x: 1200.0, y: 0.0, w: 1200.0, h: 2100.0, rise: 600.0 },
    ] {
        best(&with(wall(), [shape]));
    }
    // From end to end, and the whole wall.
    best(&with(wall(), [rect(0.0, 900.0, 5400.0, 900.0)]));
    let nothing = sound(&with(wall(), [rect(-100.0, -100.0, 6000.0, 3000.0)]));
    assert!(nothing.ties.is_empty() && nothing.lower_bound == 0 && !nothing.has_breach());
}

#[test]
fn joints_on_jambs_sides_and_each_other() {
    let wall = || with(rectangle(6000.0, 2700.0), [rect(2000.0, 900.0, 1200.0, 900.0)]);
    let joint = |x: f64, from: f64, to: f64| MovementJoint { x, from, to };
    for joints in [
        vec![joint(2000.0, 0.0, 2700.0)],
        vec![joint(2000.0, 0.0, 900.0), joint(2000.0, 1800.0, 2700.0)],
        vec![joint(2600.0, 0.0, 2700.0)],
        vec![joint(2600.0, 1000.0, 1500.0)],
        vec![joint(0.0, 0.0, 2700.0), joint(6000.0, 0.0, 2700.0)],
        vec![joint(4500.0, -900.0, 9000.0), joint(4500.0, 0.0, 1500.0), joint(4500.0, 900.0, 2700.0)],
        vec![joint(4500.0, 600.0, 1200.0)],
        vec![joint(4500.0, 0.0, 2700.0), joint(4600.0, 0.0, 2700.0)],
    ] {
        let mut e = wall();
        e.movement_joints = joints;
        best(&e);
    }
}

#[test]
fn walls_that_are_no_walls_are_refused_with_the_place() {
    let refused = |outline: Vec<Point>, words: &str| {
        let found = validate(&Elevation::new("Wall", outline));
        assert!(
            found.iter().any(|f| f.kind == FaultKind::Unusable && f.message.contains(words)),
            "{found:?}"
        );
    };
    refused(vec![(0.0, 0.0), (3000.0, 0.0), (0.0, 2000.0), (3000.0, 2000.0)], "crosses or touches itself");
    refused(vec![(0.0, 0.0), (3000.0, 0.0), (6000.0, 0.0)], "itself");
    refused(vec![(0.0, 0.0), (0.5, 0.0), (0.5, 0.5)], "encloses no area");
    refused(vec![(0.0, 0.0), (f64::NAN, 0.0), (0.0, 900.0)], "not a finite number");
    refused(vec![(0.0, 0.0), (2e7, 0.0), (0.0, 900.0)], "more than 10 km");
    refused(vec![(0.0, 0.0), (9e6, 0.0), (9e6, 9e6), (0.0, 9e6)], "check that sizes are in mm");
    // A ring that touches itself in one corner is two walls: each is an elevation of its own.
    refused(
        vec![
            (0.0, 0.0),
            (900.0, 0.0),
            (900.0, 900.0),
            (1800.0, 900.0),
            (1800.0, 1800.0),
            (900.0, 1800.0),
            (900.0, 900.0),
            (0.0, 900.0),
        ],
        "touches itself",
    );
}
