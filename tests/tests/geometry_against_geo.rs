//! The core's own geometry against a general geometry library, and against areas worked by hand.

use geo::{
    Area, BooleanOps, Contains, Coord, Distance, Euclidean, Line, LineString, MultiLineString,
    Point as GeoPoint,
};
use layout_core::check::{Rule, check};
use layout_core::elevation::{Elevation, Opening, Point, Shape, shape_bounds};
use layout_core::masonry::Masonry;
use layout_core::plan;
use layout_core::rules::resolve;
use layout_core::units::{ARC_TOLERANCE, m2};
use tiewright_tests::served::{cut, thick_area, touches, uncut, unserved};
use tiewright_tests::walls::{Dice, FAMILIES, wall};

/// Corners are rounded to 1e-4 mm, so a boundary of 100 m may be off by 10 mm2.
const AREA: f64 = 10.0;

fn opening(shape: Shape) -> Opening {
    Opening { name: "W".to_owned(), shape }
}

/// Exact area of a shape and the length of its arc, mm2 and mm.
fn exact(shape: &Shape) -> (f64, f64) {
    match *shape {
        Shape::Rect { w, h, .. } => (w * h, 0.0),
        Shape::Circle { r, .. } => (std::f64::consts::PI * r * r, std::f64::consts::TAU * r),
        Shape::Arched { w, h, rise, .. } => {
            // Circular segment: r2 (t - sin t cos t), t half the angle of its arc.
            let r = (w * w / 4.0 + rise * rise) / (2.0 * rise);
            let t = ((r - rise) / r).acos();
            (w * h + r * r * (t - t.sin() * t.cos()), 2.0 * r * t)
        }
        Shape::Polygon(_) => panic!("no exact area is known"),
    }
}

#[track_caller]
fn net(e: &Elevation, expect_m2: f64, within_m2: f64) {
    let got = m2(Masonry::new(e).net_area);
    assert!((got - expect_m2).abs() <= within_m2, "{}: {got} m2 in place of {expect_m2}", e.name);
}

#[test]
fn areas_worked_by_hand() {
    // 6.0 x 3.0 and a triangle 6.0 wide and 2.0 high.
    let gable = vec![(0., 0.), (6000., 0.), (6000., 3000.), (2500., 5000.), (0., 3000.)];
    net(&Elevation::new("Gable", gable), 24.0, 1e-9);
    // 6.0 x 4.0 less 2.0 x 1.5.
    let l = vec![(0., 0.), (6000., 0.), (6000., 2500.), (4000., 2500.), (4000., 4000.), (0., 4000.)];
    net(&Elevation::new("L", l), 21.0, 1e-9);
    let mut e = Elevation::new("Plain", vec![(0., 0.), (5000., 0.), (5000., 4000.), (0., 4000.)]);
    // 20.0 less 1.2 x 0.9 and a segment of radius 0.75: 0.5625 (0.927295 - 0.6 x 0.8) = 0.251604.
    e.openings = vec![opening(Shape::Arched { x: 1000., y: 500., w: 1200., h: 900., rise: 300. })];
    // A chord strays by at most a quarter of a millimetre over an arc of 1391 mm: 232 mm2.
    net(&e, 18.668_396, 0.000_232);
    // 20.0 less pi 0.16; the arc is 2513 mm: 419 mm2.
    e.openings = vec![opening(Shape::Circle { x: 2500., y: 2000., r: 400. })];
    net(&e, 19.497_345, 0.000_419);
    // Two openings that overlap by 0.2 x 1.0 count the overlap once: 20.0 - 1.0 - 1.0 + 0.2.
    e.openings = [1000., 1800.].map(|x| opening(Shape::Rect { x, y: 500., w: 1000., h: 1000. })).into();
    net(&e, 18.2, 1e-9);
    // Half of a window off the wall: 20.0 - 0.5.
    e.openings = vec![opening(Shape::Rect { x: 4500., y: 500., w: 1000., h: 1000. })];
    net(&e, 19.5, 1e-9);
}

#[test]
fn areas_of_random_walls_are_the_outline_less_each_opening() {
    let mut openings = 0;
    for family in FAMILIES {
        for seed in 0..60 {
            let e = wall(family, seed);
            let masonry = Masonry::new(&e);
            let by_geo = uncut(&e).unsigned_area();
            assert!((masonry.net_area - by_geo).abs() < AREA, "{}: {} {by_geo}", e.name, masonry.net_area);
            // Openings of these walls lie apart, inside the outline.
            let (area, arcs) =
                e.openings.iter().map(|o| exact(&o.shape)).fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
            // Flattened arcs lie inside the openings, by two thirds of the sagitta on average.
            let over = masonry.net_area - (masonry.gross_area - area);
            let flattening = 2.0 / 3.0 * ARC_TOLERANCE / 4.0 * arcs;
            assert!((-AREA..=flattening + AREA).contains(&over), "{}: {over} mm2 over", e.name);
            openings += e.openings.len();
        }
    }
    assert!(openings > 500, "only {openings} openings");
}

/// A wall with openings of every shape that overlap each other and the outline.
fn tangle(seed: u64) -> Elevation {
    let mut d = Dice::new(seed);
    let mut e = Elevation::new(
        format!("Tangle {seed}"),
        vec![(0., 0.), (6000., 0.), (6000., 3000.), (2000., 5000.), (0., 3000.)],
    );
    for _ in 0..d.whole(2, 9) {
        let (x, y) = (d.step(-500., 6000., 1.3), d.step(-500., 4500., 1.7));
        let (w, h) = (d.step(200., 1500., 0.9), d.step(200., 1500., 0.7));
        e.openings.push(opening(match d.whole(0, 3) {
            0 => Shape::Rect { x, y, w, h },
            1 => Shape::Circle { x, y, r: h / 2.0 },
            2 => Shape::Arched { x, y, w, h, rise: w * 0.3 },
            _ => Shape::Polygon(vec![(x, y), (x + w, y + 10.), (x + w * 0.3, y + h)]),
        }));
    }
    e
}

#[test]
fn openings_that_overlap_each_other_and_the_outline_are_cut_once() {
    for seed in 0..200 {
        let e = tangle(seed);
        let (core, by_geo) = (Masonry::new(&e).net_area, uncut(&e).unsigned_area());
        assert!((core - by_geo).abs() < AREA, "{}: {core} and {by_geo} mm2", e.name);
    }
}

/// The boundary by the library: the rings of the masonry and its joints.
fn boundary(e: &Elevation) -> MultiLineString<f64> {
    let shape = uncut(e);
    let joints: Vec<LineString<f64>> =
        e.movement_joints.iter().map(|j| LineString::from(vec![(j.x, j.from), (j.x, j.to)])).collect();
    let mut lines = shape.clip(&MultiLineString::new(joints), false).0;
    for polygon in &shape {
        lines.push(polygon.exterior().clone());
        lines.extend(polygon.interiors().iter().cloned());
    }
    MultiLineString::new(lines)
}

fn anywhere(d: &mut Dice, e: &Elevation) -> Point {
    let (l, b, r, t) = shape_bounds(&Shape::Polygon(e.outline.clone()));
    (d.step(l - 200.0, r + 200.0, 0.37), d.step(b - 200.0, t + 200.0, 0.41))
}

/// Every kind of wall, and tangles.
fn walls(of_each: u64) -> impl Iterator<Item = Elevation> {
    let families = FAMILIES.into_iter().flat_map(move |f| (0..of_each).map(move |seed| wall(f, seed + 500)));
    families.chain((0..of_each).flat_map(|seed| [tangle(seed), slots(seed)]))
}

/// A wall with low, long slots, level and leaning: the way round one often leaves a tie's reach.
fn slots(seed: u64) -> Elevation {
    let mut d = Dice::new(seed + 300);
    let mut e =
        Elevation::new(format!("Slots {seed}"), vec![(0., 0.), (7000., 0.), (7000., 3000.), (0., 3000.)]);
    for _ in 0..d.whole(4, 10) {
        let (x, y) = (d.step(200., 5000., 1.3), d.step(200., 2600., 1.7));
        let (w, h) = (d.step(400., 1800., 0.9), d.step(30., 160., 0.7));
        let lean = if d.chance(40) { d.step(-300., 300., 0.7) } else { 0. };
        e.openings.push(opening(Shape::Polygon(vec![
            (x, y),
            (x + w, y + lean),
            (x + w, y + lean + h),
            (x, y + h),
        ])));
    }
    e
}

#[test]
fn distances_to_the_boundary() {
    let (mut near, mut far) = (0, 0);
    for (n, e) in walls(20).enumerate() {
        let (masonry, lines) = (Masonry::new(&e), boundary(&e));
        let mut d = Dice::new(n as u64);
        for _ in 0..60 {
            let p = anywhere(&mut d, &e);
            let by_geo = Euclidean.distance(&GeoPoint::from(p), &lines);
            let core = masonry.boundary.nearest_within(p, 1e5).map(|f| f.0);
            // Corners are rounded to 1e-4 mm.
            assert!(core.is_some_and(|c| (c - by_geo).abs() < 1e-3), "{} {p:?}: {core:?}, {by_geo}", e.name);
            for limit in [75.0, 150.0, 900.0] {
                if (by_geo - limit).abs() > 1e-3 {
                    let found = masonry.boundary.nearest_within(p, limit);
                    assert_eq!(found.is_some(), by_geo < limit, "{} {p:?} within {limit}: {by_geo}", e.name);
                    if found.is_some() { near += 1 } else { far += 1 }
                }
            }
        }
    }
    assert!(near > 2000 && far > 2000, "{near} near, {far} far");
}

#[test]
fn points_and_lines_of_sight() {
    let (mut seen, mut hidden, mut inside) = (0, 0, 0);
    for (n, e) in walls(20).enumerate() {
        let (masonry, shape) = (Masonry::new(&e), cut(&e));
        let mut d = Dice::new(n as u64 + 7000);
        for _ in 0..80 {
            let p = anywhere(&mut d, &e);
            let holds = shape.contains(&GeoPoint::from(p));
            if Euclidean.distance(&GeoPoint::from(p), &boundary_of(&shape)) > 0.01 {
                assert_eq!(masonry.contains(p), holds, "{} {p:?}", e.name);
            }
            let q = (p.0 + d.step(-3000., 3000., 0.31), p.1 + d.step(-3000., 3000., 0.29));
            if !holds || !shape.contains(&GeoPoint::from(q)) {
                continue;
            }
            inside += 1;
            let sees = shape.contains(&Line::new(Coord::from(p), Coord::from(q)));
            assert_eq!(masonry.sees(p, q), sees, "{} from {p:?} to {q:?}", e.name);
            assert_eq!(masonry.sees(q, p), sees, "{} from {q:?} to {p:?}", e.name);
            if sees { seen += 1 } else { hidden += 1 }
        }
    }
    assert!(seen > 2000 && hidden > 400, "{inside} pairs, {seen} in sight, {hidden} not");
}

#[test]
fn edges_seen_from_ties() {
    let (mut seen, mut hidden) = (0, 0);
    for (n, e) in walls(20).enumerate() {
        let (masonry, shape) = (Masonry::new(&e), cut(&e));
        let mut d = Dice::new(n as u64 + 5000);
        for _ in 0..60 {
            let p = anywhere(&mut d, &e);
            let segment =
                masonry.boundary.segments[d.whole(0, masonry.boundary.segments.len() as i64 - 1) as usize];
            let q = segment.nearest(p);
            let length = (p.0 - q.0).hypot(p.1 - q.1);
            // At the end of a joint the slit is wider than the joint: a line along it would end inside.
            let joint_end = (q == segment.a || q == segment.b)
                && e.movement_joints.iter().any(|j| (j.x - q.0).abs() < 0.1);
            if !shape.contains(&GeoPoint::from(p)) || length < 1.0 || joint_end {
                continue;
            }
            // The library's line stops short of the edge and of the slit that stands for a joint.
            let t = 1.0 - 0.01 / length;
            let short = (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t);
            let sees = shape.contains(&Line::new(Coord::from(p), Coord::from(short)));
            // Seen from behind, the two faces of a joint are one line: only its own side is asked about.
            let (dx, dy) = (segment.b.0 - segment.a.0, segment.b.1 - segment.a.1);
            if dx * (p.1 - segment.a.1) - dy * (p.0 - segment.a.0) > 0.0 {
                assert_eq!(masonry.sees(p, q), sees, "{} from {p:?} to {q:?}", e.name);
                if sees { seen += 1 } else { hidden += 1 }
            }
        }
    }
    assert!(seen > 1500 && hidden > 400, "{seen} in sight, {hidden} not");
}

fn boundary_of(shape: &geo::MultiPolygon<f64>) -> MultiLineString<f64> {
    MultiLineString::new(
        shape.iter().flat_map(|p| std::iter::once(p.exterior()).chain(p.interiors())).cloned().collect(),
    )
}

/// Some ties of the layout taken away, a few shifted, so that something is left unserved.
fn spoiled(d: &mut Dice, ties: &[Point]) -> Vec<Point> {
    let share = d.pick(&[3, 15, 60]);
    let kept: Vec<Point> = ties.iter().copied().filter(|_| !d.chance(share)).collect();
    kept.into_iter()
        .map(
            |p| if d.chance(10) { (p.0 + d.step(-200., 200., 0.7), p.1 + d.step(-80., 80., 0.9)) } else { p },
        )
        .collect()
}

#[test]
fn what_no_tie_serves() {
    let (mut alike, mut slivers, mut pieces) = (0, 0, 0);
    for (n, e) in walls(20).enumerate() {
        let rules = resolve(&e.rules).expect("known rules");
        let reach = (rules.horizontal.value / 2.0, rules.vertical.value / 2.0);
        let (masonry, shape) = (Masonry::new(&e), cut(&e));
        let mut d = Dice::new(n as u64 + 9000);
        let placed: Vec<Point> = plan(&e).expect("a usable wall").ties.iter().map(|t| t.at).collect();
        let ties = spoiled(&mut d, &placed);
        let holding: Vec<Point> = ties.iter().copied().filter(|&t| masonry.holds(t)).collect();
        let left = unserved(&shape, &shape, &holding, reach);
        let found: Vec<_> =
            check(&e, &masonry, &rules, &ties).into_iter().filter(|f| f.rule == Rule::Coverage).collect();
        let core: f64 = found.iter().filter_map(|f| f.measured).sum();
        let (all, thick) = (m2(left.unsigned_area()), m2(thick_area(&left)));
        // The checker leaves out what no square of 4 mm fits in; the rest agrees to a square centimetre.
        assert!(core < all + 1e-4, "{}: {core} m2 unserved, {all} by the library", e.name);
        assert!(core > thick - 1e-4, "{}: {core} m2 unserved, {thick} by the library", e.name);
        if (core - all).abs() < 1e-4 {
            alike += 1;
        } else {
            slivers += 1;
        }
        for f in &found {
            assert!(touches(&left, f.at), "{}: {:?} is served", e.name, f.at);
        }
        for piece in left {
            let piece = geo::MultiPolygon::new(vec![piece]);
            // Room for a square of 4 mm and then some.
            if thick_area(&piece) > 200.0 {
                pieces += 1;
                assert!(found.iter().any(|f| touches(&piece, f.at)), "{}: a piece has no finding", e.name);
            }
        }
    }
    assert!(pieces > 200 && alike > slivers * 4, "{pieces} pieces; {alike} alike, {slivers} with slivers");
}
