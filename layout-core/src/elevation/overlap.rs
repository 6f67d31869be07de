//! Openings that lie over one another.

use super::faults::Faults;
use super::validate::named;
use super::{Opening, Place, Point, Shape, shape_bounds, shape_ring};
use crate::many::gather;
use crate::units::DISTANCE_TOLERANCE;

/// Level lines along which two shapes that are no rectangles are compared.
const LEVELS: usize = 96;

/// Of openings over one, so many are looked for.
const MOST: usize = 8;

/// Notes each opening that lies over one before it in the list, once, however many it lies over. Openings that only
/// touch are not noted: a door with a window beside it is often drawn so.
///
/// All openings are usable. What shapes share between two of [`LEVELS`] may go unnoted, and so may some of more than
/// [`MOST`] over one.
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
        return Some(((l + r) / 2.0, (lo + hi) / 2.0));
    }
    let (a, b) = (shape_ring(a), shape_ring(b));
    let mut widest: Option<(f64, Point)> = None;
    for k in 0..LEVELS {
        let y = lo + (hi - lo) * (k as f64 + 0.5) / LEVELS as f64;
        for (from, to) in both(&spans(&a, y), &spans(&b, y)) {
            let width = to - from;
            if width > DISTANCE_TOLERANCE && widest.is_none_or(|w| width > w.0) {
                widest = Some((width, ((from + to) / 2.0, y)));
            }
        }
    }
    widest.map(|w| w.1)
}

/// The parts of a level line inside a ring (even-odd), from the left, mm.
fn spans(ring: &[Point], y: f64) -> Vec<(f64, f64)> {
    let n = ring.len();
    let sides = (0..n).map(|i| (ring[i], ring[(i + 1) % n])).filter(|(a, b)| (a.1 > y) != (b.1 > y));
    let mut xs: Vec<f64> = sides.map(|(a, b)| a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0)).collect();
    xs.sort_by(f64::total_cmp);
    xs.chunks_exact(2).map(|c| (c[0], c[1])).collect()
}

/// What two rows of stretches, each from the left, have in common.
fn both(a: &[(f64, f64)], b: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let (mut i, mut j, mut out) = (0, 0, Vec::new());
    while let (Some(p), Some(q)) = (a.get(i), b.get(j)) {
        let (from, to) = (p.0.max(q.0), p.1.min(q.1));
        if to > from {
            out.push((from, to));
        }
        if p.1 < q.1 {
            i += 1;
        } else {
            j += 1;
        }
    }
    out
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
    fn the_same_shape_twice_and_one_in_another_are_noted() {
        let circle = Shape::Circle { x: 1600.0, y: 1600.0, r: 400.0 };
        assert_eq!(found(&[opening("", circle.clone()), opening("", circle.clone())]).len(), 1);
        let around = Shape::Polygon(vec![(0.0, 0.0), (4000.0, 0.0), (4000.0, 4000.0), (0.0, 4000.0)]);
        assert_eq!(found(&[opening("", around), opening("", circle)]).len(), 1);
    }
}
