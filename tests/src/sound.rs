//! What holds for every plan of every wall, measured here anew: rules 4 to 8 by distances to what was drawn,
//! what is unserved by a general geometry library, and what a plan says of itself.

use std::collections::BTreeSet;

use geo::Area;
use layout_core::Plan;
use layout_core::check::{Rule, Severity};
use layout_core::elevation::{Elevation, Fix, Point, Shape, shape_ring};
use layout_core::units::m2;

use crate::served::{cut, served_by, thick_area, touches, unserved};

/// Distances pass if they measure short by a millimetre; the rest is rounding of corners.
const SHORT: f64 = 1.0 + 1e-3;

/// Ties on one wall up to which everything is compared by the geometry library, which is slow.
const BY_LIBRARY: usize = 80;

/// How many times over ties may serve a wall for that: where they overlap more, the library takes minutes.
const TIMES_OVER: f64 = 20.0;

/// Everything about a plan that should not be, in words; nothing where it is sound.
#[must_use]
pub fn faults(e: &Elevation, plan: &Plan) -> Vec<String> {
    let mut out = Vec::new();
    itself(e, plan, &mut out);
    pinned(e, plan, &mut out);
    for tie in plan.ties.iter().filter(|t| !t.pinned) {
        if let Some(fault) = stands_badly(e, plan, tie.at) {
            out.push(format!("{} at {:?} {fault}", tie.mark, tie.at));
        }
    }
    crowded(plan, &mut out);
    blamed(plan, &mut out);
    let each = m2(plan.rules.horizontal.value * plan.rules.vertical.value);
    if plan.ties.len() <= BY_LIBRARY && plan.ties.len() as f64 * each <= TIMES_OVER * plan.net_area {
        coverage(e, plan, &mut out);
    }
    out
}

/// What a plan says of itself.
fn itself(e: &Elevation, plan: &Plan, out: &mut Vec<String>) {
    let marks: BTreeSet<&str> = plan.ties.iter().map(|t| t.mark.as_str()).collect();
    if marks.len() != plan.ties.len() {
        out.push("two ties have one mark".to_owned());
    }
    if plan.ties.iter().any(|t| !t.mark.starts_with(t.role.letter())) {
        out.push("a mark has the letter of another role".to_owned());
    }
    if !plan.ties.is_sorted_by(|a, b| (a.at.1, a.at.0) <= (b.at.1, b.at.0)) {
        out.push("the ties are not row by row from the left".to_owned());
    }
    if !plan.has_breach() && plan.lower_bound > plan.ties.len() {
        out.push(format!("{} ties, fewer than the bound of {}", plan.ties.len(), plan.lower_bound));
    }
    if plan.net_area > plan.gross_area + 1e-4 || plan.net_area < -1e-9 {
        out.push(format!("{} m2 of masonry inside {} m2", plan.net_area, plan.gross_area));
    }
    if plan.net_area < 1e-12 && e.automatic && plan.ties.iter().any(|t| !t.pinned) {
        out.push("ties without masonry".to_owned());
    }
    for f in &plan.findings {
        let finite = [f.at.0, f.at.1, f.measured.unwrap_or(0.0), f.required.unwrap_or(0.0)];
        if f.message.is_empty() || f.message.contains("NaN") || !finite.iter().all(|v| v.is_finite()) {
            out.push(format!("a finding says nothing: {f:?}"));
        }
    }
}

fn pinned(e: &Elevation, plan: &Plan, out: &mut Vec<String>) {
    let sorted = |mut points: Vec<Point>| {
        points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        points
    };
    let kept = sorted(plan.ties.iter().filter(|t| t.pinned).map(|t| t.at).collect());
    if kept != sorted(e.pinned.clone()) {
        out.push(format!("pinned at {:?}, standing at {kept:?}", e.pinned));
    }
    if !e.automatic && plan.ties.len() != e.pinned.len() {
        out.push("ties were placed on a wall set out by hand".to_owned());
    }
}

/// Which of the rules for single ties one breaks, measured from what was drawn.
fn stands_badly(e: &Elevation, plan: &Plan, p: Point) -> Option<String> {
    let c = e.coursing;
    let off = match c.fix {
        Fix::Anywhere => 0.0,
        Fix::BedJoint => (p.1 - c.first_bed) / c.gauge,
        Fix::BrickFace => (p.1 - c.first_bed) / c.gauge - 0.5,
    };
    if (off - off.round()).abs() * c.gauge > 0.51 {
        return Some("is off its course".to_owned());
    }
    if !holds(&plan.masonry, p) {
        return Some("stands off the masonry".to_owned());
    }
    let edge = plan.masonry.iter().map(|r| to_ring(r, p)).fold(f64::INFINITY, f64::min);
    if edge < plan.rules.edge_distance.value - SHORT {
        return Some(format!("is {edge} from a side"));
    }
    for j in &e.movement_joints {
        let q = nearest((j.x, j.from), (j.x, j.to), p);
        if off_by(p, q) < plan.rules.edge_distance.value - SHORT && holds(&plan.masonry, q) {
            return Some(format!("is {} from a joint", off_by(p, q)));
        }
    }
    for k in &e.keep_outs {
        if outside(&k.shape, p) < k.clearance - SHORT {
            return Some(format!("is {} from the keep-out {}", outside(&k.shape, p), k.name));
        }
    }
    let old = e.existing_ties.iter().map(|t| off_by(t.at, p)).fold(f64::INFINITY, f64::min);
    (old < plan.rules.existing_clearance.value - SHORT).then(|| format!("is {old} from an old tie"))
}

/// Ties too close to each other, but for two that are pinned.
fn crowded(plan: &Plan, out: &mut Vec<String>) {
    let least = plan.rules.between.value - SHORT;
    for (i, a) in plan.ties.iter().enumerate() {
        // They come row by row from below.
        for b in plan.ties[i + 1..].iter().take_while(|b| b.at.1 - a.at.1 < least) {
            if off_by(a.at, b.at) < least && !(a.pinned && b.pinned) {
                out.push(format!("{} and {} are {} apart", a.mark, b.mark, off_by(a.at, b.at)));
            }
        }
    }
}

/// The checker blames no tie that was placed, and blames pinned ones for what they break.
fn blamed(plan: &Plan, out: &mut Vec<String>) {
    for f in plan.findings.iter().filter(|f| f.severity == Severity::Breach) {
        if matches!(f.rule, Rule::Coverage | Rule::Density | Rule::EdgeTies) {
            continue;
        }
        if !plan.ties.iter().any(|t| t.pinned && off_by(t.at, f.at) < plan.rules.between.value + 1.0) {
            out.push(format!("the checker blames a placed tie: {}", f.message));
        }
    }
}

/// What is unserved, by the geometry library.
fn coverage(e: &Elevation, plan: &Plan, out: &mut Vec<String>) {
    let reach = (plan.rules.horizontal.value / 2.0, plan.rules.vertical.value / 2.0);
    let ties: Vec<Point> = plan.ties.iter().map(|t| t.at).filter(|&p| holds(&plan.masonry, p)).collect();
    let found: Vec<_> =
        plan.findings.iter().filter(|f| f.rule == Rule::Coverage && f.severity == Severity::Breach).collect();
    let core: f64 = found.iter().filter_map(|f| f.measured).sum();
    // Drawn about the origin, where the library rounds least.
    let by = e.outline.first().map_or((0.0, 0.0), |p| (-p.0, -p.1));
    let mut near = e.clone();
    crate::from_bytes::moved(&mut near, by);
    let ties: Vec<Point> = ties.iter().map(|p| (p.0 + by.0, p.1 + by.1)).collect();
    let shape = cut(&near);
    let left = unserved(&shape, &shape, &ties, reach);
    let (all, thick) = (m2(left.unsigned_area()), m2(thick_area(&left)));
    // A square centimetre, as corners are rounded.
    if core > all + 1e-4 || core < thick - 1e-4 {
        out.push(format!("{core} m2 unserved, {thick} to {all} by the library"));
    }
    for f in &found {
        let at = (f.at.0 + by.0, f.at.1 + by.1);
        if !touches(&left, at) && ties.iter().any(|&t| touches(&served_by(&shape, t, reach), at)) {
            out.push(format!("{:?} is served: {}", f.at, f.message));
        }
    }
}

/// Whether rings hold a point (even-odd).
fn holds(rings: &[Vec<Point>], p: Point) -> bool {
    let crossed = |ring: &[Point]| {
        sides(ring)
            .filter(|(a, b)| {
                (a.1 > p.1) != (b.1 > p.1) && p.0 < a.0 + (p.1 - a.1) / (b.1 - a.1) * (b.0 - a.0)
            })
            .count()
    };
    rings.iter().map(|r| crossed(r)).sum::<usize>() % 2 == 1
}

fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&a, &b)| (a, b))
}

fn off_by(p: Point, q: Point) -> f64 {
    (p.0 - q.0).hypot(p.1 - q.1)
}

fn nearest(a: Point, b: Point, p: Point) -> Point {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let along = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy);
    let t = if along.is_finite() { along.clamp(0.0, 1.0) } else { 0.0 };
    (a.0 + t * dx, a.1 + t * dy)
}

fn to_ring(ring: &[Point], p: Point) -> f64 {
    sides(ring).map(|(a, b)| off_by(p, nearest(a, b, p))).fold(f64::INFINITY, f64::min)
}

/// How far outside a shape a point is, below 0 inside; round shapes by their own measure.
fn outside(shape: &Shape, p: Point) -> f64 {
    match *shape {
        Shape::Circle { x, y, r } => off_by((x, y), p) - r,
        _ => {
            let ring = shape_ring(shape);
            let d = to_ring(&ring, p);
            if holds(&[ring], p) { -d } else { d }
        }
    }
}
