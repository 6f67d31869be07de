//! What lies under the pointer.

use layout_core::Plan;
use layout_core::elevation::{Elevation, Point, shape_ring};

use crate::document::{Item, item::side};
use crate::session::Selection;

fn near(a: Point, b: Point, reach: f64) -> bool {
    (a.0 - b.0).hypot(a.1 - b.1) <= reach
}

/// Distance of a point from a stretch, mm.
#[must_use]
pub fn distance_to_stretch(p: Point, (a, b): (Point, Point)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let len2 = dx * dx + dy * dy;
    let t = if len2 > 0.0 { (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / len2).clamp(0.0, 1.0) } else { 0.0 };
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

/// Whether a ring holds a point (even-odd).
#[must_use]
pub fn holds(ring: &[Point], p: Point) -> bool {
    let n = ring.len();
    (0..n)
        .filter(|&i| {
            let (a, b) = (ring[i], ring[(i + 1) % n]);
            (a.1 > p.1) != (b.1 > p.1) && p.0 < a.0 + (p.1 - a.1) / (b.1 - a.1) * (b.0 - a.0)
        })
        .count()
        % 2
        == 1
}

/// The tie of a layout nearest to a point, within reach; whether it is pinned.
#[must_use]
pub fn tie_at(plan: &Plan, p: Point, reach: f64) -> Option<(Point, bool)> {
    let off = |t: Point| (t.0 - p.0).hypot(t.1 - p.1);
    plan.ties
        .iter()
        .filter(|t| off(t.at) <= reach)
        .min_by(|a, b| off(a.at).total_cmp(&off(b.at)))
        .map(|t| (t.at, t.pinned))
}

/// The nearest of the things that are points: ties, old ties, corners of the outline.
fn point_at(elevation: &Elevation, plan: Option<&Plan>, p: Point, reach: f64) -> Option<Selection> {
    let item = |i: Item| Selection::Item(i);
    let pinned = elevation.pinned.iter().enumerate().map(|(i, &t)| (t, item(Item::Pinned(i))));
    let old = elevation.existing_ties.iter().enumerate().map(|(i, t)| (t.at, item(Item::OldTie(i))));
    let ties = plan.and_then(|plan| tie_at(plan, p, reach)).map(|(at, _)| (at, Selection::Tie(at)));
    let corners = elevation.outline.iter().enumerate().map(|(i, &c)| (c, item(Item::Corner(i))));
    pinned
        .chain(old)
        .chain(ties)
        .chain(corners)
        .filter(|(at, _)| near(*at, p, reach))
        .min_by(|a, b| {
            let off = |t: Point| (t.0 - p.0).hypot(t.1 - p.1);
            off(a.0).total_cmp(&off(b.0))
        })
        .map(|(_, what)| what)
}

/// The topmost thing at a point: small things before large ones. `reach` is in mm.
#[must_use]
pub fn at(elevation: &Elevation, plan: Option<&Plan>, p: Point, reach: f64) -> Option<Selection> {
    let item = |i: Item| Some(Selection::Item(i));
    if let Some(found) = point_at(elevation, plan, p, reach) {
        return Some(found);
    }
    if let Some(i) = elevation
        .movement_joints
        .iter()
        .rposition(|j| distance_to_stretch(p, ((j.x, j.from), (j.x, j.to))) <= reach)
    {
        return item(Item::Joint(i));
    }
    let ring = &elevation.outline;
    if let Some(i) =
        (0..ring.len()).find(|&i| side(ring, i).is_some_and(|s| distance_to_stretch(p, s) <= reach))
    {
        return item(Item::Side(i));
    }
    let on_line = |shape| {
        let ring = shape_ring(shape);
        (0..ring.len()).any(|i| side(&ring, i).is_some_and(|s| distance_to_stretch(p, s) <= reach))
    };
    if let Some(i) = elevation.locked.iter().rposition(|l| on_line(&l.shape)) {
        return item(Item::Locked(i));
    }
    if let Some(i) = elevation.keep_outs.iter().rposition(|k| holds(&shape_ring(&k.shape), p)) {
        return item(Item::KeepOut(i));
    }
    elevation
        .openings
        .iter()
        .rposition(|o| holds(&shape_ring(&o.shape), p))
        .and_then(|i| item(Item::Opening(i)))
}
