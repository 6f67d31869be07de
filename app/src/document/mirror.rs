//! Mirror images: of shapes, of things, of whole elevations, about an upright line.

use layout_core::elevation::{Elevation, ExistingTie, MovementJoint, Point, Shape};
use layout_core::units::tidy_mm;

use super::item::Object;

/// A place mirrored about the upright line at `axis`, mm.
fn point(p: Point, axis: f64) -> Point {
    (tidy_mm(2.0 * axis - p.0), p.1)
}

/// A shape mirrored about the upright line at `axis`, mm.
#[must_use]
pub fn shape(s: &Shape, axis: f64) -> Shape {
    let far = |x: f64, w: f64| tidy_mm(2.0 * axis - x - w);
    match *s {
        Shape::Rect { x, y, w, h } => Shape::Rect { x: far(x, w), y, w, h },
        Shape::Arched { x, y, w, h, rise } => Shape::Arched { x: far(x, w), y, w, h, rise },
        Shape::Circle { x, y, r } => Shape::Circle { x: far(x, 0.0), y, r },
        Shape::Polygon(ref ring) => Shape::Polygon(turned(ring, axis)),
    }
}

/// A ring mirrored so that it keeps its winding: it begins with the mirror image of its second corner, as
/// a rectangle does that begins at its lower left.
fn turned(ring: &[Point], axis: f64) -> Vec<Point> {
    let n = ring.len();
    (0..n).map(|k| point(ring[(n + 1 - k) % n], axis)).collect()
}

/// A thing mirrored about the upright line at `axis`, mm.
#[must_use]
pub fn object(o: &Object, axis: f64) -> Object {
    match o {
        Object::Opening(_) | Object::KeepOut(_) => {
            o.shape().map_or_else(|| o.clone(), |s| o.with_shape(shape(s, axis)))
        }
        Object::Joint(j) => Object::Joint(MovementJoint { x: point((j.x, 0.0), axis).0, ..*j }),
        Object::OldTie(t) => Object::OldTie(ExistingTie { at: point(t.at, axis), ..*t }),
        Object::Pinned(p) => Object::Pinned(point(*p, axis)),
        // Its ties stand where they stand.
        Object::Locked(_) => o.clone(),
    }
}

/// What was surveyed and tested at places of the wall, which is `width` mm wide.
fn surveyed(e: &mut Elevation, axis: f64, width: f64) {
    if let Some(x) = &mut e.exposure
        && let Some(left) = x.left
    {
        let length = if x.length > 0.0 { x.length } else { width };
        x.left = Some(tidy_mm(2.0 * axis - left - length));
    }
    for reading in e.substrate.iter_mut().flat_map(|s| &mut s.cavities) {
        reading.at = point(reading.at, axis);
    }
    if let Some(tests) = &mut e.tests {
        for area in &mut tests.areas {
            area.x = tidy_mm(2.0 * axis - area.x - area.w);
        }
        for result in &mut tests.results {
            result.at = point(result.at, axis);
        }
    }
}

/// Mirrors an elevation about the middle of its outline: everything on it, the sides with it.
pub fn elevation(e: &mut Elevation) {
    let xs = e.outline.iter().map(|p| p.0).filter(|x| x.is_finite());
    let (l, r) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |b, x| (b.0.min(x), b.1.max(x)));
    if l > r {
        return;
    }
    let axis = (l + r) / 2.0;
    let n = e.outline.len();
    // Side k of the mirrored ring runs between the images of the corners n + 1 - k and n - k.
    if e.sides.len() == n {
        e.sides = (0..n).map(|k| e.sides[(2 * n - k) % n]).collect();
    }
    e.outline = turned(&e.outline, axis);
    for o in &mut e.openings {
        o.shape = shape(&o.shape, axis);
    }
    for k in &mut e.keep_outs {
        k.shape = shape(&k.shape, axis);
    }
    for j in &mut e.movement_joints {
        j.x = point((j.x, 0.0), axis).0;
    }
    for t in &mut e.existing_ties {
        t.at = point(t.at, axis);
    }
    surveyed(e, axis, r - l);
    for p in e.pinned.iter_mut().chain(e.locked.iter_mut().flat_map(|l| &mut l.ties)) {
        *p = point(*p, axis);
    }
    for l in &mut e.locked {
        l.shape = shape(&l.shape, axis);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::{KeepOut, Opening, SideCondition};

    /// A lean-to of 4 m, higher at the right, with something of each kind.
    fn lean_to() -> Elevation {
        let mut e = Elevation::new("Side", vec![(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 2000.0)]);
        use SideCondition::{Abutment, Base, FreeEnd, Verge};
        e.sides = vec![Base, Abutment, Verge, FreeEnd];
        e.openings.push(Opening {
            name: "W1".into(),
            shape: Shape::Rect { x: 500.0, y: 900.0, w: 1000.0, h: 900.0 },
        });
        e.keep_outs.push(KeepOut {
            name: String::new(),
            shape: Shape::Circle { x: 3500.0, y: 500.0, r: 100.0 },
            clearance: 50.0,
        });
        e.movement_joints.push(MovementJoint { x: 1750.0, from: 0.0, to: 2400.0 });
        e.pinned.push((100.0, 300.0));
        e
    }

    #[test]
    fn a_lean_to_by_hand() {
        let mut e = lean_to();
        elevation(&mut e);
        // About x = 2000; still from the lower left, anticlockwise.
        assert_eq!(e.outline, vec![(0.0, 0.0), (4000.0, 0.0), (4000.0, 2000.0), (0.0, 3000.0)]);
        use SideCondition::{Abutment, Base, FreeEnd, Verge};
        assert_eq!(e.sides, vec![Base, FreeEnd, Verge, Abutment]);
        assert_eq!(e.openings[0].shape, Shape::Rect { x: 2500.0, y: 900.0, w: 1000.0, h: 900.0 });
        assert_eq!(e.keep_outs[0].shape, Shape::Circle { x: 500.0, y: 500.0, r: 100.0 });
        assert_eq!(e.movement_joints[0].x, 2250.0);
        assert_eq!(e.pinned[0], (3900.0, 300.0));
    }

    #[test]
    fn twice_is_as_before() {
        let mut e = lean_to();
        elevation(&mut e);
        elevation(&mut e);
        assert_eq!(e, lean_to());
        let mut bare = Elevation::new("Bare", Vec::new());
        elevation(&mut bare);
        assert!(bare.outline.is_empty());
    }
}
