//! Openings that stand alone in the wall: holes as drawn, with no need to cut one shape out of another.

use crate::elevation::{Elevation, Point, Shape, shape_bounds};
use crate::fields::Fields;
use crate::masonry::{Boundary, BoundaryKind, BoundarySegment};

/// Walls with fewer openings are left to the general way.
const MANY: usize = 64;

/// An opening stands alone if it is further than this from any other and from the outline, mm.
const APART: f64 = 1.0;

/// For each opening whether it stands alone in the wall, clear of all the rest; `None` where there are so
/// few of them that it does not matter.
pub(super) fn alone(elevation: &Elevation) -> Option<Vec<bool>> {
    let openings = &elevation.openings;
    if openings.len() < MANY {
        return None;
    }
    let bounds: Vec<(Point, Point)> = openings
        .iter()
        .map(|o| {
            let b = shape_bounds(&o.shape);
            ((b.0 - APART, b.1 - APART), (b.2 + APART, b.3 + APART))
        })
        .collect();
    let others = Fields::new(bounds.len(), 500.0, |i| bounds[i], |_, _, _| true);
    let outline = Outline::new(&elevation.outline);
    let clear_of_others = |i: usize| {
        let (lo, hi) = bounds[i];
        others.near(lo, hi).all(|j| {
            let (a, b) = bounds[j as usize];
            j as usize == i || b.0 < lo.0 || hi.0 < a.0 || b.1 < lo.1 || hi.1 < a.1
        })
    };
    let plain = |shape: &Shape| !matches!(shape, Shape::Polygon(_));
    Some(
        (0..openings.len())
            .map(|i| plain(&openings[i].shape) && outline.holds_box(bounds[i]) && clear_of_others(i))
            .collect(),
    )
}

/// Whether shapes are rectangles, no two of which come near each other: they need not be put together first.
pub(super) fn are_apart(shapes: &[&Shape]) -> bool {
    if !shapes.iter().all(|s| matches!(s, Shape::Rect { .. })) {
        return false;
    }
    let mut bounds: Vec<(f64, f64, f64, f64)> = shapes.iter().map(|s| shape_bounds(s)).collect();
    bounds.sort_by(|a, b| a.0.total_cmp(&b.0));
    bounds.iter().enumerate().all(|(i, a)| {
        let mut beside = bounds[i + 1..].iter().take_while(|b| b.0 <= a.2 + APART);
        beside.all(|b| a.3 + APART < b.1 || b.3 + APART < a.1)
    })
}

/// An outline, to be asked whether things lie inside it.
pub(crate) struct Outline {
    boundary: Boundary,
    bounds: (Point, Point),
    /// Height of a band, mm.
    height: f64,
    /// Level bands of one height, each with the sides that come into it.
    bands: Vec<Vec<u32>>,
}

impl Outline {
    /// From a closed ring, either way round.
    pub(crate) fn new(ring: &[Point]) -> Self {
        let n = ring.len();
        let sides: Vec<BoundarySegment> = (0..n)
            .map(|i| BoundarySegment { a: ring[i], b: ring[(i + 1) % n], kind: BoundaryKind::Side(i) })
            .collect();
        let boundary = Boundary::new(sides);
        let bounds = boundary.bounds().unwrap_or_default();
        // So many that neither the bands nor what stands in one grow with the square of the sides.
        let count = ((n as f64).sqrt() as usize).max(1);
        let height = ((bounds.1.1 - bounds.0.1) / count as f64).max(1e-3);
        let mut this = Self { boundary, bounds, height, bands: vec![Vec::new(); count] };
        for i in 0..n {
            let (a, b) = this.boundary.segments[i].bounds();
            for band in this.band(a.1)..=this.band(b.1) {
                this.bands[band].push(i as u32);
            }
        }
        this
    }

    fn band(&self, y: f64) -> usize {
        (((y - self.bounds.0.1) / self.height).max(0.0) as usize).min(self.bands.len() - 1)
    }

    /// Whether a point lies inside, by the even-odd rule.
    pub(crate) fn holds(&self, (x, y): Point) -> bool {
        let crossed = |&&i: &&u32| {
            let s = &self.boundary.segments[i as usize];
            (s.a.1 > y) != (s.b.1 > y) && x < s.a.0 + (y - s.a.1) / (s.b.1 - s.a.1) * (s.b.0 - s.a.0)
        };
        self.bands[self.band(y)].iter().filter(crossed).count() % 2 == 1
    }

    /// Whether a box lies inside, clear of every side.
    pub(crate) fn holds_box(&self, (lo, hi): (Point, Point)) -> bool {
        self.sides_near(lo, hi).next().is_none()
            && self.holds((f64::midpoint(lo.0, hi.0), f64::midpoint(lo.1, hi.1)))
    }

    /// Whether a box lies beyond all bounds of it, or no more than touches those.
    pub(crate) fn apart_from(&self, lo: Point, hi: Point) -> bool {
        let (a, b) = self.bounds;
        hi.0 <= a.0 || lo.0 >= b.0 || hi.1 <= a.1 || lo.1 >= b.1
    }

    /// The sides whose bounds meet a box, its edge among it; some twice.
    pub(crate) fn sides_near(&self, lo: Point, hi: Point) -> impl Iterator<Item = &BoundarySegment> + '_ {
        self.boundary.near(lo, hi).map(|i| &self.boundary.segments[i as usize]).filter(move |s| {
            let (a, b) = s.bounds();
            a.0 <= hi.0 && lo.0 <= b.0 && a.1 <= hi.1 && lo.1 <= b.1
        })
    }

    /// Whether a point lies no further than `limit` from some side, mm.
    pub(crate) fn is_near(&self, p: Point, limit: f64) -> bool {
        // A hair over, so that the limit itself is within.
        self.boundary.nearest_within(p, limit * (1.0 + 1e-12) + f64::MIN_POSITIVE).is_some()
    }
}
