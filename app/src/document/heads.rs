//! Heads of openings: what a surveyor calls them, and the shape of an opening with each.

use layout_core::elevation::{Point, Shape, shape_bounds};
use layout_core::units::{ARC_TOLERANCE, tidy_mm};

/// The head of an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Head {
    /// Level.
    Square,
    /// A shallow arc.
    Segmental,
    /// Half a circle.
    Semicircular,
    /// Two arcs to a point.
    Pointed,
    /// The whole opening is a circle.
    Round,
    /// Drawn corner by corner.
    Free,
}

impl Head {
    /// All heads.
    pub const ALL: [Self; 6] =
        [Self::Square, Self::Segmental, Self::Semicircular, Self::Pointed, Self::Round, Self::Free];

    /// What it is called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::Segmental => "segmental",
            Self::Semicircular => "semicircular",
            Self::Pointed => "pointed",
            Self::Round => "round",
            Self::Free => "by corners",
        }
    }

    /// The head that a word is for.
    #[must_use]
    pub fn read(word: &str) -> Option<Self> {
        Some(match word.trim().to_lowercase().as_str() {
            "square" | "flat" | "level" | "straight" | "lintel" => Self::Square,
            "segmental" | "arched" | "arch" | "segment" => Self::Segmental,
            "semicircular" | "semicircle" | "semi" | "half round" => Self::Semicircular,
            "pointed" | "gothic" => Self::Pointed,
            "round" | "circle" | "circular" => Self::Round,
            _ => return None,
        })
    }

    /// The head of a shape.
    #[must_use]
    pub fn of(shape: &Shape) -> Self {
        match *shape {
            Shape::Rect { .. } => Self::Square,
            Shape::Arched { w, rise, .. } if (rise - w / 2.0).abs() < 1.0 => Self::Semicircular,
            Shape::Arched { .. } => Self::Segmental,
            Shape::Circle { .. } => Self::Round,
            Shape::Polygon(ref ring) => {
                if is_pointed(ring) {
                    Self::Pointed
                } else {
                    Self::Free
                }
            }
        }
    }

    /// An opening with this head that fills these bounds: left, lower, right, upper, mm. A free one has
    /// the corners of the bounds.
    #[must_use]
    pub fn filling(self, (l, b, r, t): (f64, f64, f64, f64)) -> Shape {
        let (x, y, w, h) = (tidy_mm(l), tidy_mm(b), tidy_mm(r - l), tidy_mm(t - b));
        let arched = |rise: f64| {
            let rise = tidy_mm(rise.min(h));
            Shape::Arched { x, y, w, h: tidy_mm(h - rise), rise }
        };
        match self {
            Self::Square => Shape::Rect { x, y, w, h },
            Self::Segmental => arched((w / 8.0).round().min(h / 4.0)),
            Self::Semicircular => arched(w / 2.0),
            Self::Pointed => {
                // The rise of an equilateral head: each arc is struck from the foot of the other.
                let rise = (w * 0.75_f64.sqrt()).min(h);
                Shape::Polygon(pointed(x, y, w, tidy_mm(h - rise), rise))
            }
            Self::Round => {
                Shape::Circle { x: tidy_mm(x + w / 2.0), y: tidy_mm(y + h / 2.0), r: tidy_mm(w.min(h) / 2.0) }
            }
            Self::Free => Shape::Polygon(vec![(l, b), (r, b), (r, t), (l, t)]),
        }
    }
}

/// The ring of an opening with a pointed head: `h` to the springing, `rise` above it (half the width at
/// least: with less the arcs would not meet in a point), mm.
#[must_use]
pub fn pointed(x: f64, y: f64, w: f64, h: f64, rise: f64) -> Vec<Point> {
    let half = w / 2.0;
    let rise = rise.max(half);
    let spring = y + h;
    // Struck from the springing line through the springing and the point: (R - half)^2 + rise^2 = R^2.
    let radius = (half * half + rise * rise) / (2.0 * half);
    let whole = (rise / radius).clamp(-1.0, 1.0).asin();
    let whole = if radius > half { whole } else { std::f64::consts::FRAC_PI_2 };
    // An arc of angle a strays R (1 - cos(a / 2)) from its chord.
    let step = 2.0 * (1.0 - ARC_TOLERANCE / radius.max(2.0 * ARC_TOLERANCE)).acos();
    let n = (whole / step).ceil().clamp(2.0, 64.0) as u32;
    let arc = |k: u32| {
        let a = whole * f64::from(k) / f64::from(n);
        (radius * (1.0 - a.cos()), radius * a.sin())
    };
    let mut ring = vec![(x, y), (x + w, y)];
    if h <= 0.0 {
        ring.clear();
    }
    ring.extend((0..=n).map(arc).map(|(dx, dy)| (tidy_mm(x + w - dx), tidy_mm(spring + dy))));
    ring.extend((0..n).rev().map(arc).map(|(dx, dy)| (tidy_mm(x + dx), tidy_mm(spring + dy))));
    ring.dedup();
    ring
}

/// Whether a ring is one of [`pointed`].
fn is_pointed(ring: &[Point]) -> bool {
    let shape = Shape::Polygon(ring.to_vec());
    let (l, b, r, t) = shape_bounds(&shape);
    // The springing is where the straight jamb ends: the third corner.
    let Some(spring) = ring.get(2).map(|p| p.1).filter(|_| ring.len() >= 7) else { return false };
    let again = pointed(l, b, r - l, tidy_mm(spring - b), t - spring);
    let same = |p: &Point, q: &Point| (p.0 - q.0).abs() < 0.6 && (p.1 - q.1).abs() < 0.6;
    again.len() == ring.len() && again.iter().zip(ring).all(|(p, q)| same(p, q))
}

/// A shape made to fill other bounds: left, lower, right, upper, mm. An arched head keeps its rise where
/// it can, a circle takes the smaller size, free corners are stretched.
#[must_use]
pub fn refilled(shape: &Shape, to: (f64, f64, f64, f64)) -> Shape {
    let (l, b, r, t) = to;
    let (w, h) = (tidy_mm(r - l), tidy_mm(t - b));
    match *shape {
        Shape::Rect { .. } => Shape::Rect { x: tidy_mm(l), y: tidy_mm(b), w, h },
        Shape::Arched { w: before, rise, .. } => {
            let semicircle = (rise - before / 2.0).abs() < 1.0;
            let rise = tidy_mm(if semicircle { w / 2.0 } else { rise }.min(h));
            Shape::Arched { x: tidy_mm(l), y: tidy_mm(b), w, h: tidy_mm(h - rise), rise }
        }
        Shape::Circle { .. } => Head::Round.filling(to),
        Shape::Polygon(ref ring) => {
            if Head::of(shape) == Head::Pointed {
                return Head::Pointed.filling(to);
            }
            let (ol, ob, or, ot) = shape_bounds(shape);
            let along = |v: f64, from: f64, size: f64, to: f64, new: f64| {
                tidy_mm(if size > 0.0 { to + (v - from) / size * new } else { to })
            };
            let place = |p: &Point| (along(p.0, ol, or - ol, l, w), along(p.1, ob, ot - ob, b, h));
            Shape::Polygon(ring.iter().map(place).collect())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOUNDS: (f64, f64, f64, f64) = (1000.0, 900.0, 2000.0, 2900.0);

    #[test]
    fn every_head_fills_its_bounds_and_is_told_again() {
        for head in Head::ALL.into_iter().filter(|h| *h != Head::Round) {
            let shape = head.filling(BOUNDS);
            assert_eq!(Head::of(&shape), head);
            let got = shape_bounds(&shape);
            for (a, b) in [(got.0, BOUNDS.0), (got.1, BOUNDS.1), (got.2, BOUNDS.2), (got.3, BOUNDS.3)] {
                assert!((a - b).abs() < 0.01, "{head:?}: {got:?}");
            }
            assert_eq!(Head::read(head.words()), (head != Head::Free).then_some(head));
        }
        // The smaller size of 1000 x 2000, in the middle.
        assert_eq!(Head::Round.filling(BOUNDS), Shape::Circle { x: 1500.0, y: 1900.0, r: 500.0 });
    }

    #[test]
    fn an_equilateral_head_by_hand() {
        // Width 1000: struck from the feet with radius 1000; at 500 up, x = 1000 - sqrt(1000^2 - 500^2).
        let ring = pointed(0.0, 0.0, 1000.0, 2000.0, 1000.0 * 0.75_f64.sqrt());
        let top = ring.iter().map(|p| p.1).fold(0.0, f64::max);
        assert!((top - 2866.025).abs() < 0.01);
        for (x, y) in ring.iter().filter(|p| p.1 > 2000.0) {
            let from = if *x > 500.0 { 0.0 } else { 1000.0 };
            if (*x - 500.0).abs() > 1.0 {
                assert!(((x - from).hypot(y - 2000.0) - 1000.0).abs() < 0.01, "({x}, {y})");
            }
        }
    }

    #[test]
    fn shapes_are_refitted() {
        let door = Shape::Arched { x: 0.0, y: 0.0, w: 1000.0, h: 2000.0, rise: 500.0 };
        let wide = Shape::Arched { x: 100.0, y: 0.0, w: 1200.0, h: 2000.0, rise: 600.0 };
        assert_eq!(refilled(&door, (100.0, 0.0, 1300.0, 2600.0)), wide, "half round stays half round");
        let triangle = Shape::Polygon(vec![(0.0, 0.0), (100.0, 0.0), (50.0, 80.0)]);
        let large = Shape::Polygon(vec![(10.0, 0.0), (210.0, 0.0), (110.0, 40.0)]);
        assert_eq!(refilled(&triangle, (10.0, 0.0, 210.0, 40.0)), large);
    }

    #[test]
    fn flat_pointed_heads_never_fail() {
        for (w, h, rise) in [(1000.0, 0.0, 0.0), (1.0, 0.0, 9000.0), (1e6, 1.0, 1.0), (25.0, 0.0, 25.0)] {
            assert!(pointed(0.0, 0.0, w, h, rise).len() >= 3);
        }
    }
}
