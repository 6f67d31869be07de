//! Elevations made of bytes: any bytes make one, so that what changes the bytes explores odd walls.
//!
//! The first bytes choose the form of the wall, later ones what stands on it; where the bytes end, every
//! choice is the first one. Walls stay so small that setting them out takes no time to speak of.

use layout_core::elevation::{
    Coursing, CustomEdges, CustomRules, Elevation, ExistingTie, Fix, KeepOut, MovementJoint, Opening,
    Pattern, Point, RuleChoice, Shape, SideCondition, Style, TieForm,
};
use layout_core::rules::sets;

/// Choices read off bytes, one after another.
pub struct Choices<'a>(&'a [u8]);

impl<'a> Choices<'a> {
    /// Starts at the first byte.
    #[must_use]
    pub fn new(bytes: &'a [u8]) -> Self {
        Self(bytes)
    }

    /// The next byte; 0 where there are no more.
    pub fn byte(&mut self) -> u8 {
        let (&first, rest) = self.0.split_first().unwrap_or((&0, &[]));
        self.0 = rest;
        first
    }

    /// A number below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        usize::from(self.byte()) % n.max(1)
    }

    /// One of several.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }

    /// A length from `lo` to `hi`, mm: two bytes, and now and then a fraction of a millimetre.
    pub fn length(&mut self, lo: f64, hi: f64) -> f64 {
        let whole = f64::from(u16::from_le_bytes([self.byte(), self.byte()]));
        let v = lo + (hi - lo) * whole / 65_535.0;
        // Mostly multiples of 25 mm, which is what makes things touch.
        match self.below(8) {
            0..=4 => (v / 25.0).round() * 25.0,
            5 => v.round(),
            6 => (v / 75.0).round() * 75.0 + f64::from(self.byte()) / 64.0,
            _ => v,
        }
    }

    fn place(&mut self, w: f64, h: f64) -> Point {
        (self.length(-300.0, w + 300.0), self.length(-300.0, h + 300.0))
    }
}

/// The elevation that bytes make.
#[must_use]
pub fn elevation(c: &mut Choices<'_>) -> Elevation {
    let (w, h) = (c.length(300.0, 7500.0), c.length(300.0, 4500.0));
    let mut e = Elevation::new("Wall", outline(c, w, h));
    e.rules = rules(c);
    e.coursing = Coursing {
        gauge: c.pick(&[75.0, 76.2, 67.7, 86.0, 100.0, 225.0, 20.0, 1000.0]),
        first_bed: c.pick(&[0.0, 10.0, -30.0, 3.7, 5e4]),
        fix: c.pick(&Fix::ALL),
        ..Coursing::default()
    };
    e.style = c.pick(&[Style::Even, Style::Fewest]);
    e.pattern = c.pick(&[Pattern::Staggered, Pattern::Stacked]);
    if c.below(2) == 1 {
        e.sides = e.outline.iter().map(|_| c.pick(&SideCondition::ALL)).collect();
    }
    for n in 0..c.below(9) {
        e.openings.push(Opening { name: format!("W{n}"), shape: shape(c, w, h) });
    }
    for n in 0..c.below(4) {
        let clearance = c.pick(&[50.0, 0.0, 100.0, 600.0]);
        e.keep_outs.push(KeepOut { name: format!("K{n}"), shape: shape(c, w, h), clearance });
    }
    for _ in 0..c.below(4) {
        let ((x, from), up) = (c.place(w, h), c.length(1.0, 4500.0));
        e.movement_joints.push(MovementJoint { x, from, to: from + up });
    }
    for _ in 0..c.below(6) {
        e.existing_ties.push(ExistingTie {
            at: c.place(w, h),
            form: TieForm::Unknown,
            ..ExistingTie::default()
        });
    }
    for _ in 0..c.below(6) {
        e.pinned.push(c.place(w, h));
    }
    e.automatic = c.below(8) != 7;
    away(c, &mut e);
    e
}

fn outline(c: &mut Choices<'_>, w: f64, h: f64) -> Vec<Point> {
    let (x, y) = (c.length(10.0, w), c.length(10.0, h));
    match c.below(8) {
        0 | 1 => vec![(0., 0.), (w, 0.), (w, h), (0., h)],
        2 => vec![(0., 0.), (w, 0.), (w, y), (x, h + 500.0), (0., y)],
        3 => vec![(0., 0.), (w, 0.), (w, y), (x, y), (x, h), (0., h)],
        4 => vec![(0., 0.), (x, 0.), (x, y), (w, y), (w, h), (0., h)],
        // Leaning.
        5 => vec![(0., 0.), (w, 0.), (w + x / 4.0, h), (x / 3.0, h)],
        // Round, or nearly so: one point for each byte.
        6 => {
            let n = 3 + c.below(40);
            let turn = |i: usize| std::f64::consts::TAU * i as f64 / n as f64;
            let r = |b: u8| 0.3 + 0.7 * f64::from(b) / 255.0;
            (0..n)
                .map(|i| (turn(i), r(c.byte())))
                .map(|(a, r)| (w / 2.0 * (1.0 + r * a.cos()), h / 2.0 * (1.0 + r * a.sin())))
                .collect()
        }
        // Whatever: mostly no outline at all.
        _ => (0..c.below(8)).map(|_| c.place(w, h)).collect(),
    }
}

fn shape(c: &mut Choices<'_>, w: f64, h: f64) -> Shape {
    let (x, y) = c.place(w, h);
    let (ow, oh) = (c.length(2.0, 2000.0), c.length(2.0, 2000.0));
    match c.below(6) {
        0..=2 => Shape::Rect { x, y, w: ow, h: oh },
        3 => Shape::Arched { x, y, w: ow, h: oh, rise: c.length(1.0, 800.0) },
        4 => Shape::Circle { x, y, r: oh / 2.0 },
        _ => Shape::Polygon(vec![(x, y), (x + ow, y + c.length(-100.0, 100.0)), (x + ow * 0.3, y + oh)]),
    }
}

fn rules(c: &mut Choices<'_>) -> RuleChoice {
    let all = sets::all();
    let n = c.below(all.len() + 6);
    if let Some(set) = all.get(n) {
        return RuleChoice::Named(set.id.clone());
    }
    if n < all.len() + 3 {
        return RuleChoice::default();
    }
    let edges = CustomEdges {
        within: c.length(1.0, 900.0),
        spacing: c.pick(&[300.0, 150.0, 900.0, 100.0]),
        ..CustomEdges::default()
    };
    RuleChoice::Custom(CustomRules {
        horizontal: c.length(250.0, 3000.0),
        vertical: c.length(150.0, 1500.0),
        per_m2: c.pick(&[0.0, 2.5, 5.0, 12.0]),
        edges: (c.below(4) != 3).then_some(edges),
        edge_distance: c.pick(&[75.0, 0.0, 100.0, 250.0]),
        between: c.pick(&[100.0, 0.0, 300.0, 900.0]),
        existing_clearance: c.pick(&[100.0, 0.0, 450.0]),
        ..CustomRules::default()
    })
}

/// Moves the whole wall away from the datum, now and then far away.
fn away(c: &mut Choices<'_>, e: &mut Elevation) {
    let by = match c.below(8) {
        0..=4 => return,
        5 => (-4321.5, 1234.0),
        6 => (1e6, -9e5),
        _ => (-9.9e6, 9.9e6),
    };
    moved(e, by);
}

/// Moves a wall with everything on it, mm.
pub fn moved(e: &mut Elevation, (dx, dy): Point) {
    let shift = |p: &mut Point| *p = (p.0 + dx, p.1 + dy);
    e.outline.iter_mut().chain(&mut e.pinned).for_each(shift);
    e.locked.iter_mut().flat_map(|l| &mut l.ties).for_each(shift);
    e.existing_ties.iter_mut().for_each(|t| shift(&mut t.at));
    let shapes =
        e.openings.iter_mut().map(|o| &mut o.shape).chain(e.keep_outs.iter_mut().map(|k| &mut k.shape));
    let shapes = shapes.chain(e.locked.iter_mut().map(|l| &mut l.shape));
    for s in shapes {
        match s {
            Shape::Rect { x, y, .. } | Shape::Arched { x, y, .. } | Shape::Circle { x, y, .. } => {
                *x += dx;
                *y += dy;
            }
            Shape::Polygon(points) => points.iter_mut().for_each(shift),
        }
    }
    for j in &mut e.movement_joints {
        *j = MovementJoint { x: j.x + dx, from: j.from + dy, to: j.to + dy };
    }
    e.coursing.first_bed += dy;
}
