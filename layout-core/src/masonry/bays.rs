//! The masonry in upright bays, each with strips of its own.
//!
//! A strip runs through the whole of a bay, so on a wide wall each corner would cut all the rest. Wide walls
//! are parted into bays of about [`WIDTH`], and the cells grow in number with the corners. A cut between bays
//! ends one cell and begins the next; they hang together wherever they share a height. Cuts keep off the
//! corners of the boundary. A wall up to three times [`WIDTH`] is one bay.

use rayon::prelude::*;

use super::boundary::{Boundary, BoundarySegment};
use super::{BoundaryKind, Intervals, Spans, Strips};
use crate::elevation::Point;
use crate::units::EPSILON;

/// Width of a bay, about, mm: some windows wide.
const WIDTH: f64 = 12_000.0;

/// A cut is looked for so far to either side of where it is wanted, mm.
const ABOUT: f64 = 50.0;

/// A cut keeps so far off every corner, mm.
const CLEAR: f64 = 1e-3;

/// The bays of a wall, from the left.
#[derive(Clone, Debug, Default)]
pub struct Bays {
    /// Where one bay ends and the next begins, mm; one fewer than bays.
    pub cuts: Vec<f64>,
    /// The strips of each bay.
    pub bays: Vec<Strips>,
}

impl Bays {
    /// Parts the masonry inside a boundary.
    #[must_use]
    pub fn new(boundary: &Boundary) -> Self {
        let bounds = boundary.bounds();
        let cuts: Vec<f64> = bounds.map_or_else(Vec::new, |(lo, hi)| cuts(boundary, lo, hi));
        if cuts.is_empty() {
            return Self { cuts, bays: vec![Strips::new(&boundary.segments, &[])] };
        }
        let parts = parts(boundary, &cuts);
        let bays = parts.par_iter().map(|p| Strips::new(p, &[])).collect();
        Self { cuts, bays }
    }

    /// Number of the bay that holds an x; at a cut the left one.
    #[must_use]
    pub fn bay_at(&self, x: f64) -> usize {
        self.cuts.partition_point(|&c| c < x)
    }

    /// The cuts at the left and right end of a bay, mm; none at the ends of the wall.
    #[must_use]
    pub fn ends(&self, bay: usize) -> (Option<f64>, Option<f64>) {
        (bay.checked_sub(1).and_then(|b| self.cuts.get(b).copied()), self.cuts.get(bay).copied())
    }

    /// Whether a point lies in the masonry or on its boundary.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.bays.get(self.bay_at(p.0)).is_some_and(|b| b.contains(p))
    }

    /// Area of masonry between two x and two heights, mm2.
    #[must_use]
    pub fn area_within(&self, x: (f64, f64), y: (f64, f64)) -> f64 {
        self.bays.iter().map(|b| b.area_within(x, y)).sum()
    }

    /// Lowest and highest point of the masonry, mm; `None` where there is none.
    #[must_use]
    pub fn height_range(&self) -> Option<(f64, f64)> {
        let ends = self.bays.iter().filter_map(|b| Some((b.strips.first()?.y0, b.strips.last()?.y1)));
        ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// The masonry at a height, between two x; at the height between two strips, what both have.
    #[must_use]
    pub fn cross_section(&self, y: f64, left: f64, right: f64) -> Intervals {
        let all = left == f64::NEG_INFINITY && right == f64::INFINITY;
        if let ([bay], true) = (&self.bays[..], all) {
            return section(bay, y);
        }
        let mut out = Spans::new();
        for bay in self.bay_at(left)..=self.bay_at(right).min(self.bays.len().saturating_sub(1)) {
            let (cut, _) = self.ends(bay);
            for &(from, to) in &section(&self.bays[bay], y).0 {
                match out.last_mut() {
                    Some(last) if cut.is_some_and(|c| from == c && last.1 == c) => last.1 = to,
                    _ => out.push((from, to)),
                }
            }
        }
        if all { Intervals(out) } else { Intervals(out).clipped(left, right) }
    }
}

/// The masonry of a bay at a height.
fn section(strips: &Strips, y: f64) -> Intervals {
    let Some(at) = strips.strip_at(y) else { return Intervals::empty() };
    let of = |i: usize| {
        let s = strips.strips[i];
        let t = (y - s.y0) / (s.y1 - s.y0);
        // A cell left and a cell right of a joint stay apart here only by the joint's own reach.
        let cells = strips.cells_of(i).iter();
        Intervals::from_unsorted(cells.map(|c| (c.l0 + (c.l1 - c.l0) * t, c.r0 + (c.r1 - c.r0) * t)))
    };
    let lower = of(at);
    let s = strips.strips[at];
    if y >= s.y1 - EPSILON {
        return strips.strips.get(at + 1).map_or_else(Intervals::empty, |_| lower.meet(&of(at + 1)));
    }
    if y <= s.y0 + EPSILON {
        return if at == 0 { Intervals::empty() } else { lower.meet(&of(at - 1)) };
    }
    lower
}

/// Where to cut a wall with these bounds.
fn cuts(boundary: &Boundary, lo: Point, hi: Point) -> Vec<f64> {
    let width = hi.0 - lo.0;
    if width <= 3.0 * WIDTH {
        return Vec::new();
    }
    let count = (width / WIDTH).floor();
    (1..count as usize)
        .filter_map(|i| {
            let wanted = lo.0 + width * i as f64 / count;
            let (left, right) = (wanted - ABOUT, wanted + ABOUT);
            let near = boundary.near((left, lo.1), (right, hi.1)).map(|i| boundary.segments[i as usize]);
            let mut xs: Vec<f64> =
                near.flat_map(|s| [s.a.0, s.b.0]).filter(|&x| left < x && x < right).collect();
            xs.extend([left, right]);
            xs.sort_by(f64::total_cmp);
            let widest = xs.windows(2).max_by(|p, q| (p[1] - p[0]).total_cmp(&(q[1] - q[0])))?;
            (widest[1] - widest[0] > 2.0 * CLEAR).then(|| f64::midpoint(widest[0], widest[1]))
        })
        .collect()
}

/// Where a piece of boundary crosses an upright line, mm.
fn height_at(s: &BoundarySegment, x: f64) -> f64 {
    s.a.1 + (x - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1)
}

/// The boundary of each bay, the cuts among it.
fn parts(boundary: &Boundary, cuts: &[f64]) -> Vec<Vec<BoundarySegment>> {
    let mut parts: Vec<Vec<BoundarySegment>> = vec![Vec::new(); cuts.len() + 1];
    let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); cuts.len()];
    for s in &boundary.segments {
        let (left, right) = (s.a.0.min(s.b.0), s.a.0.max(s.b.0));
        let (first, last) = (cuts.partition_point(|&c| c < left), cuts.partition_point(|&c| c < right));
        if first == last {
            parts[first].push(*s);
            continue;
        }
        for (&cut, at) in cuts[first..last].iter().zip(&mut crossings[first..last]) {
            at.push(height_at(s, cut));
        }
        let to_right = s.a.0 < s.b.0;
        for bay in first..=last {
            let l = if bay == first { left } else { cuts[bay - 1] };
            let r = if bay == last { right } else { cuts[bay] };
            let end = |x: f64| {
                if x == s.a.0 {
                    s.a
                } else if x == s.b.0 {
                    s.b
                } else {
                    (x, height_at(s, x))
                }
            };
            let (a, b) = if to_right { (end(l), end(r)) } else { (end(r), end(l)) };
            parts[bay].push(BoundarySegment { a, b, kind: s.kind });
        }
    }
    for (i, ys) in crossings.iter_mut().enumerate() {
        ys.sort_by(f64::total_cmp);
        let x = cuts[i];
        for y in ys.chunks_exact(2) {
            // Masonry on the left of each face; what they belong to is of no account to strips.
            let kind = BoundaryKind::Opening;
            parts[i].push(BoundarySegment { a: (x, y[0]), b: (x, y[1]), kind });
            parts[i + 1].push(BoundarySegment { a: (x, y[1]), b: (x, y[0]), kind });
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elevation::{Elevation, MovementJoint, Opening, Shape};
    use crate::masonry::Masonry;

    /// A gable of 60 m with windows, round ones among them, that the cuts run through, and a joint.
    fn long_wall() -> Elevation {
        let outline = vec![(0., 0.), (60_000., 0.), (60_000., 6000.), (30_000., 9000.), (0., 6000.)];
        let mut e = Elevation::new("Long", outline);
        for i in 0..39 {
            let x = 900. + 1500. * f64::from(i);
            let name = format!("W{i}");
            e.openings.push(Opening { name, shape: Shape::Rect { x, y: 900., w: 1000., h: 1200. } });
            let shape = Shape::Circle { x: x + 450., y: 4000., r: 400. };
            e.openings.push(Opening { name: format!("C{i}"), shape });
        }
        e.movement_joints.push(MovementJoint { x: 24_050., from: 0., to: 9000. });
        e
    }

    fn area(strips: &Strips) -> f64 {
        let of = |s: &super::super::Strip| {
            let cells = &strips.cells[s.first as usize..s.last as usize];
            (s.y1 - s.y0) * cells.iter().map(|c| (c.r0 - c.l0 + c.r1 - c.l1) / 2.0).sum::<f64>()
        };
        strips.strips.iter().map(of).sum()
    }

    #[test]
    fn bays_make_up_the_masonry() {
        let masonry = Masonry::new(&long_wall());
        assert_eq!(masonry.bays.bays.len(), 5);
        let sum: f64 = masonry.bays.bays.iter().map(area).sum();
        // 60 x 6 and a triangle 60 x 3, less 39 windows of 1.2 and 39 circles of pi 0.16 (each short of its
        // circle by at most a quarter of a millimetre times 2513: see the tolerance of arcs).
        let by_hand = 1e6 * (360.0 + 90.0 - 39.0 * 1.2 - 39.0 * std::f64::consts::PI * 0.16);
        assert!((sum - by_hand).abs() < 39.0 * 0.25 * 2513.3, "{sum} {by_hand}");
        assert!((sum - masonry.net_area).abs() < 1.0, "{sum} {}", masonry.net_area);
    }

    #[test]
    fn bays_hold_what_the_whole_wall_holds() {
        let masonry = Masonry::new(&long_wall());
        let whole = Strips::new(&masonry.boundary.segments, &[]);
        for i in 0..6000 {
            let p = (f64::from(i * 37 % 6007) * 10.0, f64::from(i * 101 % 911) * 10.0);
            assert_eq!(masonry.contains(p), whole.contains(p), "{p:?}");
        }
        for cut in &masonry.bays.cuts {
            for k in 0..90 {
                let p = (*cut, f64::from(k) * 100.0 + 50.0);
                assert_eq!(masonry.contains(p), whole.contains(p), "{p:?}");
            }
        }
        let section = masonry.bays.cross_section(3000.0, f64::NEG_INFINITY, f64::INFINITY);
        // The joint alone parts nothing here.
        assert_eq!(section.0, [(0.0, 60_000.0)]);
    }
}
