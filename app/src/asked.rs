//! What has been filled in of a dialog or a form so far: it changes nothing before it is accepted.

use layout_core::elevation::Point;
use layout_core::rules::WindPlace;

use crate::document::wall_shapes::WallShape;

/// A tie that is to be struck out.
#[derive(Clone, Debug, PartialEq)]
pub struct Struck {
    /// Where it is, mm.
    pub at: Point,
    /// Its mark.
    pub mark: String,
    /// Its place among the pinned ones, if it is.
    pub pinned: Option<usize>,
    /// Why.
    pub reason: String,
    /// Whether the dialog has just been opened.
    pub fresh: bool,
}

/// A wall that is being chosen to start from.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapeDraft {
    /// Its shape.
    pub shape: WallShape,
    /// Its sizes, mm, in the order of the shape.
    pub sizes: Vec<f64>,
}

impl Default for ShapeDraft {
    fn default() -> Self {
        Self { shape: WallShape::Plain, sizes: WallShape::Plain.usual() }
    }
}

/// A building in Germany, as the table of ties per m2 asks for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Building {
    /// Its height, mm.
    pub height: f64,
    /// Wind zone, 1 to 4.
    pub zone: u8,
    /// Where it stands.
    pub place: WindPlace,
    /// The shortest side of its plan, mm.
    pub shortest_side: f64,
}

impl Default for Building {
    fn default() -> Self {
        Self { height: 10_000.0, zone: 2, place: WindPlace::Inland, shortest_side: 10_000.0 }
    }
}
