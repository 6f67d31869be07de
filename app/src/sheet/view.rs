//! Where the wall stands on the sheet: elevation millimetres to paper millimetres.

use super::geom::{PaperPoint, Rect};
use layout_core::elevation::{Elevation, Point, shape_bounds};
use layout_core::{Plan, units};

/// An elevation and its layout, with what the drawing measures of them; elevation mm.
pub(super) struct Wall<'a> {
    pub elevation: &'a Elevation,
    pub plan: &'a Plan,
    /// Bounds of the outline.
    pub bounds: Rect,
    /// Rows of ties, from below.
    pub rows: Vec<Row>,
    /// Distances of ties from the left end of the wall, each once, with how many ties stand there.
    pub runs: Vec<(f64, usize)>,
    /// Places the dimension chain along the bottom stops at.
    pub stops_x: Vec<f64>,
    /// Places the dimension chain at the side stops at.
    pub stops_y: Vec<f64>,
}

impl<'a> Wall<'a> {
    /// `None` without an outline.
    pub fn new(elevation: &'a Elevation, plan: &'a Plan) -> Option<Self> {
        let bounds = Rect::round(elevation.outline.iter().copied())?;
        let within: Vec<Point> = plan.ties.iter().map(|t| t.at).filter(|&p| bounds.contains(p)).collect();
        let runs = runs(within.iter().map(|p| p.0 - bounds.left).collect());
        let mut stops_x: Vec<f64> = elevation.outline.iter().map(|p| p.0).collect();
        let mut stops_y: Vec<f64> = elevation.outline.iter().map(|p| p.1).collect();
        for o in &elevation.openings {
            let (l, b, r, t) = shape_bounds(&o.shape);
            stops_x.extend([l, r].into_iter().filter(|x| *x > bounds.left && *x < bounds.right));
            stops_y.extend([b, t].into_iter().filter(|y| *y > bounds.bottom && *y < bounds.top));
        }
        tidy(&mut stops_x);
        tidy(&mut stops_y);
        Some(Self { elevation, plan, bounds, rows: rows(within), runs, stops_x, stops_y })
    }
}

/// A row of ties.
pub(super) struct Row {
    /// Height, mm.
    pub y: f64,
    /// Its tie furthest to the right, mm.
    pub last: f64,
}

/// Rows from below; ties within the coursing tolerance of the first of a row stand on it.
fn rows(mut ties: Vec<Point>) -> Vec<Row> {
    ties.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut rows: Vec<Row> = Vec::new();
    for (x, y) in ties {
        match rows.last_mut() {
            Some(r) if y - r.y < units::COURSING_TOLERANCE => r.last = r.last.max(x),
            _ => rows.push(Row { y, last: x }),
        }
    }
    rows
}

/// Distances from the left; those within a millimetre of the first of a group count as one.
fn runs(mut distances: Vec<f64>) -> Vec<(f64, usize)> {
    distances.sort_by(f64::total_cmp);
    let mut runs: Vec<(f64, usize)> = Vec::new();
    for d in distances {
        match runs.last_mut() {
            Some((first, n)) if d - *first < units::DISTANCE_TOLERANCE => *n += 1,
            _ => runs.push((d, 1)),
        }
    }
    runs
}

/// Sorts, and keeps one of those within a millimetre.
fn tidy(values: &mut Vec<f64>) {
    values.retain(|v| v.is_finite());
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| (*a - *b).abs() < units::DISTANCE_TOLERANCE);
}

/// The wall on paper.
pub(super) struct View {
    /// Denominator of the scale.
    pub scale: f64,
    /// Lower left of the outline's bounds on the elevation, mm.
    corner: Point,
    /// Where that is on paper.
    origin: PaperPoint,
    /// The outline's bounds on paper.
    pub wall: Rect,
    /// Lettering about the elevation stays inside this.
    pub window: Rect,
    /// Nothing of the elevation is drawn outside this: the wall and a little round it.
    pub shown: Rect,
}

impl View {
    pub fn new(wall: &Wall<'_>, scale: u32, origin: PaperPoint, window: Rect) -> Self {
        let scale = f64::from(scale);
        let b = &wall.bounds;
        let on_paper =
            Rect::new(origin.0, origin.1, origin.0 + b.width() / scale, origin.1 + b.height() / scale);
        Self {
            scale,
            corner: (b.left, b.bottom),
            origin,
            wall: on_paper,
            window,
            shown: on_paper.inset(-2.0),
        }
    }

    /// A place on the elevation, on paper.
    pub fn at(&self, (x, y): Point) -> PaperPoint {
        (self.origin.0 + (x - self.corner.0) / self.scale, self.origin.1 + (y - self.corner.1) / self.scale)
    }

    pub fn x(&self, x: f64) -> f64 {
        self.at((x, 0.0)).0
    }

    pub fn y(&self, y: f64) -> f64 {
        self.at((0.0, y)).1
    }

    /// A ring on paper.
    pub fn ring(&self, ring: &[Point]) -> Vec<PaperPoint> {
        ring.iter().map(|&p| self.at(p)).collect()
    }

    /// The sides of a ring, cut to what is shown.
    pub fn sides(&self, ring: &[PaperPoint]) -> Vec<(PaperPoint, PaperPoint)> {
        (0..ring.len()).filter_map(|i| self.shown.clip(ring[i], ring[(i + 1) % ring.len()])).collect()
    }
}
