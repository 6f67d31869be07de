//! What ties serve and leave unserved, worked out by a general geometry library alone.

use crate::feasible::ring;
use geo::buffer::{BufferStyle, LineJoin};
use geo::{
    Area, BooleanOps, Buffer, Contains, Coord, Intersects, MultiPolygon, Point as GeoPoint, Rect, unary_union,
};
use layout_core::elevation::{Elevation, Point, shape_ring};
use layout_core::units::SLIVER;

/// Half the width of the slit that stands for a movement joint, mm: no area to speak of, and well above
/// the 1e-5 mm to which the library rounds on a wall of 12 m.
const SLIT: f64 = 0.001;

/// The masonry, openings taken out one by one, joints not cut.
#[must_use]
pub fn uncut(e: &Elevation) -> MultiPolygon<f64> {
    let start = MultiPolygon::new(vec![ring(&e.outline)]);
    e.openings.iter().fold(start, |shape, o| shape.difference(&ring(&shape_ring(&o.shape))))
}

/// The masonry, its joints as thin slits.
#[must_use]
pub fn cut(e: &Elevation) -> MultiPolygon<f64> {
    e.movement_joints.iter().fold(uncut(e), |shape, j| {
        let (lo, hi) = ((j.x - SLIT, j.from - SLIT), (j.x + SLIT, j.to + SLIT));
        shape.difference(&Rect::new(Coord::from(lo), Coord::from(hi)).to_polygon())
    })
}

/// The piece of the masonry that a tie at `p` serves, reaching `h` and `v` mm each way.
#[must_use]
pub fn served_by(shape: &MultiPolygon<f64>, p: Point, (h, v): (f64, f64)) -> MultiPolygon<f64> {
    let (lo, hi) = ((p.0 - h, p.1 - v), (p.0 + h, p.1 + v));
    let window = Rect::new(Coord::from(lo), Coord::from(hi)).to_polygon();
    let pieces = shape.intersection(&window);
    MultiPolygon::new(pieces.into_iter().filter(|piece| piece.contains(&GeoPoint::from(p))).collect())
}

/// What of `whole` no tie serves; `shape` is the masonry.
#[must_use]
pub fn unserved(
    whole: &MultiPolygon<f64>,
    shape: &MultiPolygon<f64>,
    ties: &[Point],
    reach: (f64, f64),
) -> MultiPolygon<f64> {
    let served: Vec<_> = ties.iter().flat_map(|&p| served_by(shape, p, reach)).collect();
    whole.difference(&unary_union(&served))
}

/// Area of what remains when all that is thinner than a square of [`SLIVER`] is taken off, mm2.
#[must_use]
pub fn thick_area(pieces: &MultiPolygon<f64>) -> f64 {
    let by = |d: f64| BufferStyle::new(d).line_join(LineJoin::Miter(1.0));
    let half = SLIVER / 2.0;
    pieces.buffer_with_style(by(-half)).buffer_with_style(by(half)).intersection(pieces).unsigned_area()
}

/// Whether a point lies in one of the pieces or on its rim.
#[must_use]
pub fn touches(pieces: &MultiPolygon<f64>, p: Point) -> bool {
    pieces.intersects(&GeoPoint::from(p))
}
