//! Whether a shape lies on the wall, or outside the outline in part or wholly.

use super::faults::Faults;
use super::validate::cross;
use super::{Place, Point, Shape, shape_bounds, shape_ring};
use crate::masonry::Outline;
use crate::units::DISTANCE_TOLERANCE;

/// Notes a shape that lies outside the outline, wholly or in part.
pub(super) fn outside(
    faults: &mut Faults,
    place: Place,
    shape: &Shape,
    outline: Option<&Outline>,
    what: &str,
) {
    let Some(outline) = outline else { return };
    let b = shape_bounds(shape);
    let (lo, hi) = ((b.0, b.1), (b.2, b.3));
    if outline.holds_box((lo, hi)) {
        return;
    }
    let ring = shape_ring(shape);
    let centre = ((b.0 + b.2) / 2.0, (b.1 + b.3) / 2.0);
    // Only sides that come into its bounds can cross it or have a corner in it.
    let near: Vec<(Point, Point)> = outline.sides_near(lo, hi).map(|s| (s.a, s.b)).collect();
    let meets = crosses(&ring, &near);
    let wholly = outline.apart_from(lo, hi)
        || (!ring.iter().any(|&p| outline.holds(p))
            && !near.iter().any(|&(p, _)| inside(&ring, p))
            && !outline.holds(centre)
            && !meets);
    if wholly {
        faults.note(
            place,
            format!("{what} lies outside the outline and is left out; move it onto the wall"),
            centre,
        );
        return;
    }
    let beyond = ring.iter().any(|&p| !outline.holds(p) && !outline.is_near(p, DISTANCE_TOLERANCE));
    if beyond || meets {
        faults.note(place, format!("{what} reaches beyond the outline; the part outside is cut off"), centre);
    }
}

fn inside(ring: &[Point], (x, y): Point) -> bool {
    let n = ring.len();
    (0..n)
        .filter(|&i| {
            let (a, b) = (ring[i], ring[(i + 1) % n]);
            (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0)
        })
        .count()
        % 2
        == 1
}

/// Whether a side of a ring crosses one of some others.
fn crosses(ring: &[Point], others: &[(Point, Point)]) -> bool {
    let n = ring.len();
    (0..n).map(|i| (ring[i], ring[(i + 1) % n])).any(|(p, q)| {
        others
            .iter()
            .any(|&(r, s)| cross(r, s, p) * cross(r, s, q) < 0.0 && cross(p, q, r) * cross(p, q, s) < 0.0)
    })
}
