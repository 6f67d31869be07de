//! Shapes and outlines as rings of points.

use super::{Elevation, Point, Shape, SideCondition};
use crate::units::{ARC_TOLERANCE, EPSILON};

/// A shape as a closed ring of points, last point not repeated.
///
/// Arcs are flattened to a quarter of [`ARC_TOLERANCE`], their ends exact. The winding of a polygon is
/// left as drawn; other shapes run anticlockwise.
#[must_use]
pub fn shape_ring(shape: &Shape) -> Vec<Point> {
    match *shape {
        Shape::Rect { x, y, w, h } => vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)],
        Shape::Arched { x, y, w, h, rise } => {
            let mut ring = vec![(x, y), (x + w, y)];
            if h <= EPSILON {
                ring.clear();
            }
            let spring = y + h;
            ring.push((x + w, spring));
            if rise > EPSILON && w > EPSILON {
                // The circle through both springings and the crown.
                let r = (w * w / 4.0 + rise * rise) / (2.0 * rise);
                let (cx, cy) = (x + w / 2.0, spring + rise - r);
                let start = (spring - cy).atan2(w / 2.0);
                let sweep = std::f64::consts::PI - 2.0 * start;
                arc_points(&mut ring, (cx, cy), r, start, sweep);
            }
            ring.push((x, spring));
            ring
        }
        Shape::Circle { x, y, r } => {
            let mut ring = vec![(x + r, y)];
            arc_points(&mut ring, (x, y), r, 0.0, std::f64::consts::TAU);
            ring
        }
        Shape::Polygon(ref points) => points.clone(),
    }
}

/// Appends the inner points of an arc, both ends left out; an even number of chords, so that the
/// crown is a point.
fn arc_points(ring: &mut Vec<Point>, (cx, cy): Point, r: f64, start: f64, sweep: f64) {
    let sagitta = (ARC_TOLERANCE / 4.0).min(r);
    let step = 2.0 * (1.0 - sagitta / r).clamp(-1.0, 1.0).acos();
    let quarters = (sweep.abs() / step.max(1e-3) / 4.0).ceil().clamp(2.0, 500.0);
    let n = (quarters * 4.0) as usize;
    for i in 1..n {
        let a = start + sweep * (i as f64) / (n as f64);
        ring.push((cx + r * a.cos(), cy + r * a.sin()));
    }
}

/// Left, lower, right and upper bound of a shape, mm.
#[must_use]
pub fn shape_bounds(shape: &Shape) -> (f64, f64, f64, f64) {
    if let Shape::Rect { x, y, w, h } = *shape {
        return (x.min(x + w), y.min(y + h), x.max(x + w), y.max(y + h));
    }
    let mut b = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    for (x, y) in shape_ring(shape) {
        b = (b.0.min(x), b.1.min(y), b.2.max(x), b.3.max(y));
    }
    b
}

/// The condition of each side of the outline: as drawn, or worked out where none is given.
///
/// Level sides at the lowest height are base, other level sides eaves, upright sides bonded corners,
/// sloping sides verges.
#[must_use]
pub fn outline_sides(elevation: &Elevation) -> Vec<SideCondition> {
    let ring = &elevation.outline;
    if elevation.sides.len() == ring.len() {
        return elevation.sides.clone();
    }
    let lowest = ring.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    (0..ring.len())
        .map(|i| {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if (a.1 - b.1).abs() <= EPSILON {
                if a.1 - lowest <= EPSILON { SideCondition::Base } else { SideCondition::Eaves }
            } else if (a.0 - b.0).abs() <= EPSILON {
                SideCondition::Corner
            } else {
                SideCondition::Verge
            }
        })
        .collect()
}
