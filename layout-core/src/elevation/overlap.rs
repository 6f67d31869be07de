//! Openings that lie over one another.

use geo::{Area, BooleanOps, BoundingRect, InteriorPoint, LineString, Polygon};

use super::faults::Faults;
use super::validate::named;
use super::{Opening, Place, Point, Shape, shape_bounds, shape_ring};
use crate::many::gather;
use crate::units::DISTANCE_TOLERANCE;

/// Of openings over one, so many are looked for.
const MOST: usize = 8;

/// Notes each opening that lies over one before it in the list, once, however many it lies over. Openings that only
/// touch are not noted: a door with a window beside it is often drawn so.
///
/// All openings are usable. Of more than [`MOST`] over one, some may go unnoted.
pub(super) fn overlaps(faults: &mut Faults, openings: &[Opening]) {
    let bounds: Vec<_> = openings.iter().map(|o| shape_bounds(&o.shape)).collect();
    let mut order: Vec<usize> = (0..openings.len()).collect();
    order.sort_by(|&a, &b| bounds[a].0.total_cmp(&bounds[b].0).then(a.cmp(&b)));
    let mut found: Vec<(usize, usize, Point)> = gather(order.len(), |some| {
        let (openings, bounds, order) = (&openings, &bounds, &order);
        some.flat_map(|k| {
            let i = order[k];
            let after = order[k + 1..].iter().take_while(move |&&j| bounds[j].0 < bounds[i].2);
            let over = after.filter(move |&&j| bounds[j].1 < bounds[i].3 && bounds[i].1 < bounds[j].3);
            over.filter_map(move |&j| shared(&openings[i].shape, &openings[j].shape).map(|at| (j, at)))
                .map(move |(j, at)| (i.max(j), i.min(j), at))
                .take(MOST)
        })
        .collect()
    });
    found.sort_by_key(|f| (f.0, f.1));
    found.dedup_by_key(|f| f.0);
    for (later, earlier, at) in found {
        let what = named("the opening", &openings[later].name);
        let other = match &openings[earlier].name {
            name if name.is_empty() => format!("opening {}", earlier + 1),
            name => format!("'{name}'"),
        };
        let message = format!("{what} overlaps {other}; both are taken as one");
        faults.note(Place::item("openings", later), message, at);
    }
}

/// A place that two shapes share, if they do by more than the tolerance, mm.
fn shared(a: &Shape, b: &Shape) -> Option<Point> {
    let (p, q) = (shape_bounds(a), shape_bounds(b));
    let (l, r) = (p.0.max(q.0), p.2.min(q.2));
    let (lo, hi) = (p.1.max(q.1), p.3.min(q.3));
    if r - l <= DISTANCE_TOLERANCE || hi - lo <= DISTANCE_TOLERANCE {
        return None;
    }
    if matches!((a, b), (Shape::Rect { .. }, Shape::Rect { .. })) {
        return Some((f64::midpoint(l, r), f64::midpoint(lo, hi)));
    }
    let polygon = |shape: &Shape| Polygon::new(LineString::from(shape_ring(shape)), vec![]);
    let both = polygon(a).intersection(&polygon(b));
    let largest = both.iter().max_by(|p, q| p.unsigned_area().total_cmp(&q.unsigned_area()))?;
    let extent = largest.bounding_rect()?;
    // A sliver as long as this is no wider than the tolerance.
    if largest.unsigned_area() <= DISTANCE_TOLERANCE * extent.width().max(extent.height()) {
        return None;
    }
    largest.interior_point().map(|at| (at.x(), at.y()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn opening(name: &str, shape: Shape) -> Opening {
        Opening { name: name.to_owned(), shape }
    }

    fn found(openings: &[Opening]) -> Vec<(usize, Point)> {
        let mut faults = Faults(Vec::new());
        overlaps(&mut faults, openings);
        faults.0.into_iter().map(|f| (f.place.index.unwrap_or(99), f.at.unwrap_or((0.0, 0.0)))).collect()
    }

    #[test]
    fn two_windows_over_one_another_are_noted_once() {
        let rect = |x: f64, y: f64| Shape::Rect { x, y, w: 1200.0, h: 1350.0 };
        // They share x from 1700 to 2100 and y from 1000 to 2250.
        let two = [opening("W1", rect(900.0, 900.0)), opening("W2", rect(1700.0, 1000.0))];
        assert_eq!(found(&two), [(1, (1900.0, 1625.0))]);
        // The one at the left is the later one here.
        let turned = [opening("W1", rect(1700.0, 1000.0)), opening("W2", rect(900.0, 900.0))];
        assert_eq!(found(&turned), [(1, (1900.0, 1625.0))]);
    }

    #[test]
    fn openings_that_touch_or_pass_each_other_are_not_noted() {
        let rect = |x: f64, w: f64| Shape::Rect { x, y: 0.0, w, h: 2100.0 };
        let touch = [opening("D1", rect(0.0, 900.0)), opening("S1", rect(900.5, 450.0))];
        assert_eq!(found(&touch), []);
        // A circle in the open corner of a triangle: the bounds overlap, the shapes do not.
        let triangle = Shape::Polygon(vec![(0.0, 0.0), (2000.0, 0.0), (0.0, 2000.0)]);
        let apart =
            [opening("P1", triangle), opening("O1", Shape::Circle { x: 1600.0, y: 1600.0, r: 400.0 })];
        assert_eq!(found(&apart), []);
    }

    #[test]
    fn the_place_is_in_both() {
        // The circle reaches 100 into the triangle: along x = y it comes to 1600 - 400 / sqrt 2 = 1317, the long side
        // of the triangle to 1417 where it is 2834 wide and high.
        let triangle = Shape::Polygon(vec![(0.0, 0.0), (2834.0, 0.0), (0.0, 2834.0)]);
        let two = [opening("P1", triangle), opening("O1", Shape::Circle { x: 1600.0, y: 1600.0, r: 400.0 })];
        let [(1, (x, y))] = found(&two)[..] else { panic!("noted once, of the later one") };
        assert!(x + y < 2834.0 && (x - 1600.0).hypot(y - 1600.0) < 400.0, "({x}, {y})");
    }

    #[test]
    fn the_same_shape_twice_and_one_in_another_are_noted() {
        let circle = Shape::Circle { x: 1600.0, y: 1600.0, r: 400.0 };
        assert_eq!(found(&[opening("", circle.clone()), opening("", circle.clone())]).len(), 1);
        let around = Shape::Polygon(vec![(0.0, 0.0), (4000.0, 0.0), (4000.0, 4000.0), (0.0, 4000.0)]);
        assert_eq!(found(&[opening("", around), opening("", circle)]).len(), 1);
    }
}
