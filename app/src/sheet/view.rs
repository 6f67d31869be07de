//! Where the wall stands on the sheet: elevation millimetres to paper millimetres.

use super::geom::{PaperPoint, Rect};
use super::model::Shown;
use super::words::Style;
use layout_core::elevation::{Elevation, Point, Shape, shape_bounds};
use layout_core::{Plan, Tie, units};

/// An elevation and its layout, or a piece of them, with what the drawing measures; elevation mm.
#[derive(Clone)]
pub(super) struct Wall<'a> {
    pub elevation: &'a Elevation,
    pub plan: &'a Plan,
    /// Its place among the elevations of the project.
    pub index: usize,
    pub style: Style,
    /// Bounds of the whole outline.
    pub bounds: Rect,
    /// What this piece answers for; the whole bounds where it is not a piece.
    pub window: Rect,
    /// What is drawn: the window, and on the other side of its match lines a little more.
    pub extent: Rect,
    /// Sides of the window that are match lines: left, bottom, right, top.
    pub cuts: [bool; 4],
    /// The parts beyond its match lines, by number, in the same order.
    pub beyond: [Option<usize>; 4],
    /// Ties of this piece, by index.
    pub ties: Vec<usize>,
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
    /// The whole of an elevation; `None` without an outline.
    pub fn new(elevation: &'a Elevation, plan: &'a Plan, index: usize, style: Style) -> Option<Self> {
        let bounds = Rect::round(elevation.outline.iter().copied())?;
        let mut wall = Self {
            elevation,
            plan,
            index,
            style,
            bounds,
            window: bounds,
            extent: bounds,
            cuts: [false; 4],
            beyond: [None; 4],
            ties: Vec::new(),
            rows: Vec::new(),
            runs: Vec::new(),
            stops_x: Vec::new(),
            stops_y: Vec::new(),
        };
        wall.measure();
        Some(wall)
    }

    /// A piece of it: what lies in a window, with `over` more beyond each side that is a match line.
    pub fn piece(&self, window: Rect, cuts: [bool; 4], over: f64) -> Self {
        let more = |i: usize| if cuts[i] { over } else { 0.0 };
        let extent = Rect::new(
            window.left - more(0),
            window.bottom - more(1),
            window.right + more(2),
            window.top + more(3),
        );
        let mut piece = Self { window, extent, cuts, ..self.clone() };
        piece.measure();
        piece
    }

    /// Whether a place belongs to this piece; beyond the wall it belongs to the piece that is nearest.
    pub fn owns(&self, (x, y): Point) -> bool {
        let (w, [left, bottom, right, top]) = (&self.window, self.cuts);
        (!left || x >= w.left) && (!right || x < w.right) && (!bottom || y >= w.bottom) && (!top || y < w.top)
    }

    /// Whether this piece shows anything of a shape, or of what lies so far round it.
    pub fn shows(&self, shape: &Shape, round: f64) -> bool {
        let ((left, bottom, right, top), e) = (shape_bounds(shape), self.extent.inset(-round));
        left < e.right && right > e.left && bottom < e.top && top > e.bottom
    }

    /// The ties of this piece.
    pub fn own_ties(&self) -> impl Iterator<Item = &'a Tie> {
        let plan = self.plan;
        self.ties.iter().filter_map(move |&i| plan.ties.get(i))
    }

    fn measure(&mut self) {
        self.ties = (0..self.plan.ties.len()).filter(|&i| self.owns(self.plan.ties[i].at)).collect();
        let within: Vec<Point> = self.own_ties().map(|t| t.at).filter(|&p| self.bounds.contains(p)).collect();
        self.runs = runs(within.iter().map(|p| p.0 - self.bounds.left).collect());
        self.rows = rows(within);
        let e = self.elevation;
        let mut stops_x: Vec<f64> = e.outline.iter().map(|p| p.0).collect();
        let mut stops_y: Vec<f64> = e.outline.iter().map(|p| p.1).collect();
        let b = &self.bounds;
        for o in &e.openings {
            let (l, low, r, t) = shape_bounds(&o.shape);
            // Openings off this piece have their dimensions where they are drawn.
            let near = l <= self.extent.right
                && r >= self.extent.left
                && low <= self.extent.top
                && t >= self.extent.bottom;
            if near {
                stops_x.extend([l, r].into_iter().filter(|x| *x > b.left && *x < b.right));
                stops_y.extend([low, t].into_iter().filter(|y| *y > b.bottom && *y < b.top));
            }
        }
        stops_x.retain(|x| *x >= self.extent.left && *x <= self.extent.right);
        stops_y.retain(|y| *y >= self.extent.bottom && *y <= self.extent.top);
        tidy(&mut stops_x);
        tidy(&mut stops_y);
        (self.stops_x, self.stops_y) = (stops_x, stops_y);
    }
}

/// A row of ties.
#[derive(Clone)]
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
    /// Lower left of what is drawn, on the elevation, mm.
    corner: Point,
    /// Where that is on paper.
    origin: PaperPoint,
    /// What is drawn of the wall, on paper.
    pub wall: Rect,
    /// Lettering about the elevation stays inside this.
    pub window: Rect,
    /// Nothing of the elevation is drawn outside this: the wall and a little round it, but not past the
    /// end of a piece.
    pub shown: Rect,
}

impl View {
    pub fn new(wall: &Wall<'_>, scale: u32, origin: PaperPoint, window: Rect) -> Self {
        let scale = f64::from(scale);
        let b = &wall.extent;
        let on_paper =
            Rect::new(origin.0, origin.1, origin.0 + b.width() / scale, origin.1 + b.height() / scale);
        let more = |i: usize| if wall.cuts[i] { 0.0 } else { 2.0 };
        let shown = Rect::new(
            on_paper.left - more(0),
            on_paper.bottom - more(1),
            on_paper.right + more(2),
            on_paper.top + more(3),
        );
        Self { scale, corner: (b.left, b.bottom), origin, wall: on_paper, window, shown }
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

    /// A rectangle on paper.
    pub fn rect(&self, r: &Rect) -> Rect {
        let ((left, bottom), (right, top)) = (self.at((r.left, r.bottom)), self.at((r.right, r.top)));
        Rect::new(left, bottom, right, top)
    }

    /// A ring on paper.
    pub fn ring(&self, ring: &[Point]) -> Vec<PaperPoint> {
        ring.iter().map(|&p| self.at(p)).collect()
    }

    /// The sides of a ring, cut to what is shown.
    pub fn sides(&self, ring: &[PaperPoint]) -> Vec<(PaperPoint, PaperPoint)> {
        (0..ring.len()).filter_map(|i| self.shown.clip(ring[i], ring[(i + 1) % ring.len()])).collect()
    }

    /// What the sheet remembers of it.
    pub fn remember(&self, wall: &Wall<'_>) -> Shown {
        Shown {
            elevation: wall.index,
            scale: self.scale as u32,
            corner: self.corner,
            origin: self.origin,
            window: wall.window,
            extent: wall.extent,
            ties: wall.ties.clone(),
        }
    }
}
