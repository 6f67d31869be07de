//! Is this drawing usable? Every fault is returned, each with its place and how to mend it.

use super::faults::{Fault, FaultKind, Faults, Place};
use super::outside::outside;
use super::overlap::overlaps;
use super::validate_rules::rule_choice;
use super::{Elevation, Fix, Point, Shape, outline_sides, shape_ring};
use crate::many::gather;
use crate::masonry::Outline;
use crate::rules;
use crate::units::{ANYWHERE_STEP, DISTANCE_TOLERANCE, EPSILON};

/// Gauges outside this range are refused, mm: no course is thinner or thicker.
const GAUGE: std::ops::RangeInclusive<f64> = 20.0..=2000.0;

/// An elevation that would need more ties than this is refused: the unit is wrong.
const MOST_TIES: f64 = 2.5e6;

/// An elevation wider than this is refused likewise, mm.
const WIDEST: f64 = 5e6;

/// An elevation with more heights to try than this is refused likewise.
const MOST_ROWS: f64 = 40_000.0;

/// Everything wrong with an elevation, in the order of the file's fields.
///
/// An elevation with no [`FaultKind::Unusable`] fault can be set out and checked.
#[must_use]
pub fn validate(elevation: &Elevation) -> Vec<Fault> {
    let mut faults = Faults(Vec::new());
    let outline_ok = outline(&mut faults, elevation);
    if !elevation.sides.is_empty() && elevation.sides.len() != elevation.outline.len() {
        faults.unusable(
            Place::of("sides"),
            format!(
                "{} sides are given for an outline of {} points; give one for each side, or none",
                elevation.sides.len(),
                elevation.outline.len()
            ),
        );
    }
    let ring = outline_ok.then_some(elevation.outline.as_slice());
    let outline = ring.map(Outline::new);
    faults.0.extend(gather(elevation.openings.len(), |some| {
        let mut found = Faults(Vec::new());
        for i in some {
            let (place, o) = (Place::item("openings", i), &elevation.openings[i].shape);
            if shape(&mut found, place, o) {
                let what = named("the opening", &elevation.openings[i].name);
                outside(&mut found, place, o, outline.as_ref(), &what);
            }
        }
        found.0
    }));
    // What no shape is cannot be compared.
    if !faults.0.iter().any(|f| f.kind == FaultKind::Unusable) {
        overlaps(&mut faults, &elevation.openings);
    }
    for (i, k) in elevation.keep_outs.iter().enumerate() {
        let place = Place::item("keep_outs", i);
        faults.distance(place.part("clearance"), "clearance", k.clearance);
        if shape(&mut faults, place, &k.shape) {
            outside(&mut faults, place, &k.shape, outline.as_ref(), &named("the keep-out", &k.name));
        }
    }
    joints(&mut faults, elevation, ring);
    for (i, t) in elevation.existing_ties.iter().enumerate() {
        point(&mut faults, Place::item("existing_ties", i).part("at"), t.at);
    }
    for (i, &p) in elevation.pinned.iter().enumerate() {
        point(&mut faults, Place::item("pinned", i), p);
    }
    locked(&mut faults, elevation, outline.as_ref());
    coursing(&mut faults, elevation);
    rule_choice(&mut faults, elevation);
    if !faults.0.iter().any(|f| f.kind == FaultKind::Unusable) {
        extent(&mut faults, elevation);
    }
    faults.0
}

/// A thing by its name, if it has one.
pub(super) fn named(what: &str, name: &str) -> String {
    if name.is_empty() { what.to_owned() } else { format!("{what} '{name}'") }
}

fn point(faults: &mut Faults, place: Place, p: Point) -> bool {
    faults.coordinate(place, "x", p.0) & faults.coordinate(place, "y", p.1)
}

fn locked(faults: &mut Faults, elevation: &Elevation, outline: Option<&Outline>) {
    for (i, l) in elevation.locked.iter().enumerate() {
        let place = Place::item("locked", i);
        let usable = shape(faults, place, &l.shape);
        if usable {
            outside(faults, place, &l.shape, outline, &named("the locked area", &l.name));
        }
        if !l.ties.iter().all(|&p| point(faults, place.part("ties"), p)) || !usable {
            continue;
        }
        let ring = shape_ring(&l.shape);
        let area = Outline::new(&ring);
        for (n, &p) in l.ties.iter().enumerate() {
            if !area.holds(p) && !area.is_near(p, DISTANCE_TOLERANCE) {
                let what = named("the locked area", &l.name);
                let message = format!("tie {} of {what} stands outside it; it stays all the same", n + 1);
                faults.note(place, message, p);
            }
        }
    }
}

fn outline(faults: &mut Faults, elevation: &Elevation) -> bool {
    let place = Place::of("outline");
    let ring = &elevation.outline;
    for (i, p) in ring.iter().enumerate() {
        if !faults.coordinate(Place::item("outline", i), "x", p.0)
            || !faults.coordinate(Place::item("outline", i), "y", p.1)
        {
            return false;
        }
    }
    if ring.len() < 3 {
        faults.unusable(place, format!("the outline has {} points; it needs 3 or more", ring.len()));
        return false;
    }
    ring_fault(ring, "the outline").is_none_or(|message| {
        faults.unusable(place, message);
        false
    })
}

fn ring_fault(ring: &[Point], what: &str) -> Option<String> {
    if let Some(((ax, ay), (bx, by))) = crossing(ring) {
        return Some(format!(
            "{what} crosses or touches itself: the side from ({ax}, {ay}) meets the side from ({bx}, {by}); \
             give the corners in order round it"
        ));
    }
    (signed_area(ring).abs() < 1.0).then(|| format!("{what} encloses no area; check its corners"))
}

fn signed_area(ring: &[Point]) -> f64 {
    let n = ring.len();
    (0..n).map(|i| (ring[i], ring[(i + 1) % n])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0
}

/// The starts of two sides that meet other than as neighbours do, if there are any.
fn crossing(ring: &[Point]) -> Option<(Point, Point)> {
    let distinct: Vec<Point> = {
        let mut v: Vec<Point> = Vec::with_capacity(ring.len());
        for &p in ring {
            if v.last() != Some(&p) {
                v.push(p);
            }
        }
        while v.len() > 1 && v.first() == v.last() {
            v.pop();
        }
        v
    };
    let n = distinct.len();
    if n < 3 {
        return None;
    }
    let side = |i: usize| (distinct[i], distinct[(i + 1) % n]);
    let mut order: Vec<usize> = (0..n).collect();
    let low = |i: usize| side(i).0.0.min(side(i).1.0);
    order.sort_by(|&a, &b| low(a).total_cmp(&low(b)).then(a.cmp(&b)));
    for (at, &i) in order.iter().enumerate() {
        let (a, b) = side(i);
        let right = a.0.max(b.0);
        for &j in order[at + 1..].iter().take_while(|&&j| low(j) <= right) {
            let (c, d) = side(j);
            let neighbours = (i + 1) % n == j || (j + 1) % n == i;
            let meet = if neighbours {
                let (before, corner, after) = if (i + 1) % n == j { (a, b, d) } else { (c, d, b) };
                n > 2 && doubles_back(before, corner, after)
            } else {
                segments_meet(a, b, c, d)
            };
            if meet {
                return Some(if i < j { (a, c) } else { (c, a) });
            }
        }
    }
    None
}

pub(super) fn cross(o: Point, a: Point, b: Point) -> f64 {
    (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0)
}

fn doubles_back(a: Point, corner: Point, b: Point) -> bool {
    let along = (a.0 - corner.0) * (b.0 - corner.0) + (a.1 - corner.1) * (b.1 - corner.1);
    cross(corner, a, b) == 0.0 && along > 0.0
}

fn segments_meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let on = |p: Point, q: Point, r: Point| {
        r.0 >= p.0.min(q.0) && r.0 <= p.0.max(q.0) && r.1 >= p.1.min(q.1) && r.1 <= p.1.max(q.1)
    };
    let (d1, d2, d3, d4) = (cross(c, d, a), cross(c, d, b), cross(a, b, c), cross(a, b, d));
    (d1 * d2 < 0.0 && d3 * d4 < 0.0)
        || (d1 == 0.0 && on(c, d, a))
        || (d2 == 0.0 && on(c, d, b))
        || (d3 == 0.0 && on(a, b, c))
        || (d4 == 0.0 && on(a, b, d))
}

fn shape(faults: &mut Faults, place: Place, shape: &Shape) -> bool {
    let place = place.part("shape");
    let ok = match *shape {
        Shape::Rect { x, y, w, h } => {
            faults.coordinate(place, "x", x)
                & faults.coordinate(place, "y", y)
                & faults.size(place, "w", w)
                & faults.size(place, "h", h)
        }
        Shape::Arched { x, y, w, h, rise } => {
            let ok = faults.coordinate(place, "x", x)
                & faults.coordinate(place, "y", y)
                & faults.size(place, "w", w)
                & faults.distance(place, "h", h)
                & faults.distance(place, "rise", rise);
            if ok && h + rise <= EPSILON {
                faults.unusable(place, "h and rise are both 0; the opening has no height");
                return false;
            }
            ok
        }
        Shape::Circle { x, y, r } => {
            faults.coordinate(place, "x", x) & faults.coordinate(place, "y", y) & faults.size(place, "r", r)
        }
        Shape::Polygon(ref points) => {
            if points.len() < 3 {
                faults
                    .unusable(place, format!("the polygon has {} points; it needs 3 or more", points.len()));
                return false;
            }
            points.iter().all(|&p| point(faults, place, p))
        }
    };
    if !ok {
        return false;
    }
    if let Shape::Polygon(points) = shape
        && let Some(message) = ring_fault(points, "the polygon")
    {
        faults.unusable(place, message);
        return false;
    }
    true
}

fn joints(faults: &mut Faults, elevation: &Elevation, ring: Option<&[Point]>) {
    for (i, j) in elevation.movement_joints.iter().enumerate() {
        let place = Place::item("movement_joints", i);
        let finite = faults.coordinate(place.part("x"), "x", j.x)
            & faults.coordinate(place.part("from"), "from", j.from)
            & faults.coordinate(place.part("to"), "to", j.to);
        if !finite {
            continue;
        }
        if j.to <= j.from {
            faults.unusable(
                place.part("to"),
                format!(
                    "the joint runs from {} to {} mm; its upper end must be above its lower",
                    j.from, j.to
                ),
            );
        } else if let Some(ring) = ring {
            let reach = upright_reach(ring, j.x);
            let within = reach.iter().any(|&(lo, hi)| lo.max(j.from) < hi.min(j.to));
            if !within {
                let at = (j.x, (j.from + j.to) / 2.0);
                faults.note(
                    place,
                    "the movement joint lies off the wall and is left out; move it onto the wall",
                    at,
                );
            }
        }
    }
}

/// The parts of the upright line at x strictly inside the ring.
fn upright_reach(ring: &[Point], x: f64) -> Vec<(f64, f64)> {
    let n = ring.len();
    let at = |x: f64| {
        let mut ys: Vec<f64> = (0..n)
            .filter_map(|i| {
                let (a, b) = (ring[i], ring[(i + 1) % n]);
                ((a.0 > x) != (b.0 > x)).then(|| a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1))
            })
            .collect();
        ys.sort_by(f64::total_cmp);
        ys.chunks_exact(2).map(|c| (c[0], c[1])).collect::<Vec<_>>()
    };
    // On the line of an outline side the wall has to be on both sides of the joint.
    let (l, r) = (at(x - 2.0 * EPSILON), at(x + 2.0 * EPSILON));
    l.iter()
        .flat_map(|&(a, b)| r.iter().map(move |&(c, d)| (a.max(c), b.min(d))))
        .filter(|(a, b)| b - a > EPSILON)
        .collect()
}

fn coursing(faults: &mut Faults, elevation: &Elevation) {
    let place = Place::of("coursing");
    let c = elevation.coursing;
    if faults.size(place.part("gauge"), "gauge", c.gauge) && !GAUGE.contains(&c.gauge) {
        faults.unusable(
            place.part("gauge"),
            format!(
                "gauge is {} mm; a course with its joint is {} to {} mm",
                c.gauge,
                GAUGE.start(),
                GAUGE.end()
            ),
        );
    }
    faults.coordinate(place.part("first_bed"), "first_bed", c.first_bed);
    faults.size(place.part("brick"), "brick", c.brick);
}

/// Refuses a wall no building has: the unit is wrong.
fn extent(faults: &mut Faults, elevation: &Elevation) {
    let Ok(rules) = rules::resolve(&elevation.rules) else { return };
    let area = signed_area(&elevation.outline).abs();
    let cell = rules.horizontal.value * rules.vertical.value;
    let mut ties = (area / cell).max(area / 1e6 * rules.density.value.per_m2());
    if let Some(edge) = &rules.edges {
        let n = elevation.outline.len();
        let run: f64 = (0..n)
            .zip(outline_sides(elevation))
            .map(|(i, _)| {
                let (a, b) = (elevation.outline[i], elevation.outline[(i + 1) % n]);
                (a.0 - b.0).hypot(a.1 - b.1)
            })
            .sum();
        ties += run / edge.spacing.value;
    }
    let height = {
        let ys = elevation.outline.iter().map(|p| p.1);
        ys.clone().fold(f64::MIN, f64::max) - ys.fold(f64::MAX, f64::min)
    };
    let width = {
        let xs = elevation.outline.iter().map(|p| p.0);
        xs.clone().fold(f64::MIN, f64::max) - xs.fold(f64::MAX, f64::min)
    };
    if width > WIDEST {
        faults.unusable(
            Place::of("outline"),
            format!("the elevation is {width} mm wide, more than any wall is; check that sizes are in mm"),
        );
    }
    let pitch =
        if elevation.coursing.fix == Fix::Anywhere { ANYWHERE_STEP } else { elevation.coursing.gauge };
    if height / pitch > MOST_ROWS {
        faults.unusable(
            Place::of("outline"),
            format!("the elevation is {height} mm high, more courses than any wall has; check that sizes are in mm"),
        );
    }
    if ties > MOST_TIES {
        faults.unusable(
            Place::of("outline"),
            format!("at this spacing the elevation needs about {ties:.0} ties; check that sizes are in mm"),
        );
    }
}
