//! Handles: the points by which a selected thing is resized.

use layout_core::elevation::{Elevation, Point, Shape, shape_bounds};
use layout_core::units::tidy_mm;

use crate::document::{Change, Item, Object};

/// Which point of a thing is dragged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handle {
    /// The thing as a whole.
    Body,
    /// An edge or a corner of its bounds: -1, 0 or 1 along and up the wall.
    Edge(i8, i8),
    /// The springing of an arched head.
    Springing,
    /// A corner of a ring.
    Corner(usize),
    /// The lower end of a joint.
    Foot,
    /// The upper end of a joint.
    Head,
}

const EDGES: [(i8, i8); 8] = [(-1, -1), (0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0)];

/// The handles of a thing, with their places, mm.
#[must_use]
pub fn handles(item: Item, elevation: &Elevation) -> Vec<(Handle, Point)> {
    if let Item::Side(_) | Item::Corner(_) = item {
        return elevation.outline.iter().enumerate().map(|(i, p)| (Handle::Corner(i), *p)).collect();
    }
    let Some(object) = item.object(elevation) else { return Vec::new() };
    // A locked area keeps the ties it was locked with, and so its shape.
    if matches!(object, Object::Locked(_)) {
        return Vec::new();
    }
    if let Object::Joint(j) = object {
        return vec![(Handle::Foot, (j.x, j.from)), (Handle::Head, (j.x, j.to))];
    }
    let Some(shape) = object.shape() else { return Vec::new() };
    let (l, b, r, t) = shape_bounds(shape);
    let place = |(i, j): (i8, i8)| {
        let along = |lo: f64, hi: f64, k: i8| (lo + hi) / 2.0 + (hi - lo) / 2.0 * f64::from(k);
        (Handle::Edge(i, j), (along(l, r, i), along(b, t, j)))
    };
    match *shape {
        Shape::Rect { .. } => EDGES.into_iter().map(place).collect(),
        Shape::Circle { .. } => {
            EDGES.into_iter().filter(|(i, j)| (*i == 0) != (*j == 0)).map(place).collect()
        }
        Shape::Arched { x, y, w, h, .. } => {
            let mut all: Vec<_> = EDGES.into_iter().map(place).collect();
            all.push((Handle::Springing, (x + w / 2.0, y + h)));
            all
        }
        Shape::Polygon(ref points) => {
            points.iter().enumerate().map(|(i, p)| (Handle::Corner(i), *p)).collect()
        }
    }
}

/// Smallest size a handle leaves, mm.
const LEAST: f64 = 25.0;

/// The change that dragging a handle of a thing to a place makes; `None` if the handle is not one of its.
#[must_use]
pub fn dragged(item: Item, original: &Elevation, handle: Handle, to: Point) -> Option<Change> {
    let to = (tidy_mm(to.0), tidy_mm(to.1));
    if let (Item::Side(_) | Item::Corner(_), Handle::Corner(i)) = (item, handle) {
        return Some(Change::MoveCorner(i, to));
    }
    let object = item.object(original)?;
    let new = match (&object, handle) {
        (Object::Joint(j), Handle::Foot) => {
            let mut j = *j;
            j.from = to.1.min(j.to - LEAST);
            Object::Joint(j)
        }
        (Object::Joint(j), Handle::Head) => {
            let mut j = *j;
            j.to = to.1.max(j.from + LEAST);
            Object::Joint(j)
        }
        _ => object.with_shape(resized(object.shape()?, handle, to)?),
    };
    Some(Change::Replace(item, new))
}

fn resized(shape: &Shape, handle: Handle, to: Point) -> Option<Shape> {
    Some(match (shape, handle) {
        (&Shape::Rect { x, y, w, h }, Handle::Edge(i, j)) => {
            let (x, w) = stretched(x, w, i, to.0);
            let (y, h) = stretched(y, h, j, to.1);
            Shape::Rect { x, y, w, h }
        }
        (&Shape::Arched { x, y, w, h, rise }, Handle::Edge(i, j)) => {
            let (x, w) = stretched(x, w, i, to.0);
            let (y, whole) = stretched(y, h + rise, j, to.1);
            // The rise keeps; the height to the springing gives way, down to nothing.
            let h = (whole - rise).max(0.0);
            Shape::Arched { x, y, w, h: tidy_mm(h), rise: tidy_mm(whole - h) }
        }
        (&Shape::Arched { x, y, w, h, rise }, Handle::Springing) => {
            let spring = (to.1 - y).clamp(0.0, (h + rise - 1.0).max(0.0));
            Shape::Arched { x, y, w, h: tidy_mm(spring), rise: tidy_mm(h + rise - spring) }
        }
        (&Shape::Circle { x, y, .. }, Handle::Edge(i, _)) => {
            let r = if i == 0 { (to.1 - y).abs() } else { (to.0 - x).abs() };
            Shape::Circle { x, y, r: tidy_mm(r.max(LEAST)) }
        }
        (Shape::Polygon(points), Handle::Corner(i)) => {
            let mut points = points.clone();
            *points.get_mut(i)? = to;
            Shape::Polygon(points)
        }
        _ => return None,
    })
}

/// A start and a length with one end (`side` -1 or 1) dragged to a place; the other end keeps.
fn stretched(start: f64, length: f64, side: i8, to: f64) -> (f64, f64) {
    let end = start + length;
    match side {
        -1 => {
            let start = to.min(end - LEAST);
            (start, tidy_mm(end - start))
        }
        1 => (start, tidy_mm((to - start).max(LEAST))),
        _ => (start, length),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_far_edge_keeps() {
        let window = Shape::Rect { x: 1200.0, y: 900.0, w: 1200.0, h: 1350.0 };
        let got = resized(&window, Handle::Edge(-1, 1), (1000.0, 2400.0));
        assert_eq!(got, Some(Shape::Rect { x: 1000.0, y: 900.0, w: 1400.0, h: 1500.0 }));
    }

    #[test]
    fn no_size_falls_to_nothing() {
        let window = Shape::Rect { x: 1200.0, y: 900.0, w: 1200.0, h: 1350.0 };
        let got = resized(&window, Handle::Edge(1, 0), (0.0, 0.0));
        assert_eq!(got, Some(Shape::Rect { x: 1200.0, y: 900.0, w: 25.0, h: 1350.0 }));
    }

    #[test]
    fn the_springing_moves_under_a_fixed_crown() {
        let door = Shape::Arched { x: 0.0, y: 0.0, w: 1000.0, h: 2100.0, rise: 150.0 };
        let got = resized(&door, Handle::Springing, (500.0, 1800.0));
        assert_eq!(got, Some(Shape::Arched { x: 0.0, y: 0.0, w: 1000.0, h: 1800.0, rise: 450.0 }));
    }
}
