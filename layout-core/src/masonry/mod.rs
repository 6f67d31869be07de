//! From a drawn elevation to what can be tied: the masonry, its boundary, its edges.
//!
//! Masonry is the inside of the outline less all openings, cut along its movement joints. The
//! setting out and the checker both start here; what each makes of it is written apart.

mod bays;
mod boundary;
mod build;
mod edges;
mod few;
mod fewest;
mod intervals;
mod joints;
mod openings;
mod sight;
mod strips;

pub use bays::Bays;
pub use boundary::{Boundary, BoundaryKind, BoundarySegment};
pub use edges::{Edge, EdgeKind, Measure, Service, edges, service};
pub use few::Few;
pub use fewest::{edge_ties_on_top, fewest_ties};
pub use intervals::{Intervals, Spans};
pub(crate) use openings::Outline;
pub use strips::{Cell, Strip, Strips};

use crate::elevation::Point;

/// The masonry of an elevation.
#[derive(Clone, Debug)]
pub struct Masonry {
    /// Area inside the outline, mm2.
    pub gross_area: f64,
    /// Area of masonry, mm2.
    pub net_area: f64,
    /// Outer rings anticlockwise, holes clockwise; masonry lies on the left of every side.
    pub rings: Vec<Vec<Point>>,
    /// Every side of every ring and both faces of every joint.
    pub boundary: Boundary,
    /// The masonry in upright bays, each cut into strips at the heights of its own corners.
    pub bays: Bays,
}

impl Masonry {
    /// A tie closer to the boundary than this is on it, mm.
    pub(crate) const ON_BOUNDARY: f64 = 1e-3;

    /// Lowest and highest point, mm; `None` where there is no masonry.
    #[must_use]
    pub fn height_range(&self) -> Option<(f64, f64)> {
        self.bays.height_range()
    }

    /// Whether a point lies in the masonry or on its boundary.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.bays.contains(p)
    }

    /// Whether a joint ends at a point.
    #[must_use]
    pub fn ends_joint(&self, p: Point) -> bool {
        const AT: f64 = 1e-3;
        let near = |q: Point| (q.0 - p.0).abs() < AT && (q.1 - p.1).abs() < AT;
        self.boundary.near(p, p).any(|i| {
            let s = &self.boundary.segments[i as usize];
            matches!(s.kind, BoundaryKind::Joint(_)) && (near(s.a) || near(s.b))
        })
    }

    /// Whether a tie at a point holds anything: inside the masonry, not on its boundary.
    #[must_use]
    pub fn holds(&self, p: Point) -> bool {
        self.contains(p) && self.boundary.nearest_within(p, Self::ON_BOUNDARY).is_none()
    }
}
