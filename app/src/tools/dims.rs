//! Dimension chains below and beside the wall: each figure can be clicked and typed anew.

use layout_core::elevation::{Elevation, Point, shape_bounds};
use layout_core::units::tidy_mm;

use crate::document::heads::refilled;
use crate::document::item::moved_shape;
use crate::document::{Change, Item, Object};
use crate::tools::steps;

/// What a dimension measures, and what typing it anew changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// The whole wall along; its right end moves.
    WallWidth,
    /// The whole wall up; its top moves.
    WallHeight,
    /// Width of an opening; its right jamb moves.
    Width(usize),
    /// Height of an opening; its head moves.
    Height(usize),
    /// From a place along the wall to an opening, which moves.
    Before(usize, f64),
    /// From an opening, which moves, to the end of the wall.
    After(usize, f64),
    /// From a height to the sill of an opening, which moves.
    Below(usize, f64),
    /// From the head of an opening, which moves, to the top of the wall.
    Above(usize, f64),
    /// The part with this number, from 1, of the outline along the wall: from one place of its corners to the next,
    /// which moves.
    PartAlong(usize, f64, f64),
    /// The same up the wall.
    PartUp(usize, f64, f64),
}

impl Measure {
    /// Whether it is a size, which cannot be 0.
    #[must_use]
    pub fn is_size(self) -> bool {
        !matches!(self, Self::Before(..) | Self::After(..) | Self::Below(..) | Self::Above(..))
    }
}

/// One dimension of a chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dimension {
    /// Where it begins, mm.
    pub from: Point,
    /// Where it ends, mm.
    pub to: Point,
    /// What it measures.
    pub measure: Measure,
    /// Which line of dimensions it stands in, counted from the wall, from 0.
    pub line: u8,
}

impl Dimension {
    /// How long it is, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        tidy_mm((self.to.0 - self.from.0).abs().max((self.to.1 - self.from.1).abs()))
    }

    /// Whether it runs up the wall.
    #[must_use]
    pub fn upright(&self) -> bool {
        matches!(
            self.measure,
            Measure::WallHeight
                | Measure::Height(_)
                | Measure::Below(..)
                | Measure::Above(..)
                | Measure::PartUp(..)
        )
    }

    /// What it is called.
    #[must_use]
    pub fn label(&self, e: &Elevation) -> String {
        let name = |i: usize| Item::Opening(i).label(e);
        match self.measure {
            Measure::WallWidth => "width of the wall".to_owned(),
            Measure::WallHeight => "height of the wall".to_owned(),
            Measure::Width(i) => format!("width of {}", name(i)),
            Measure::Height(i) => format!("height of {}", name(i)),
            Measure::Before(i, _) => format!("up to {} from the left", name(i)),
            Measure::After(i, _) => format!("from {} to the right end", name(i)),
            Measure::Below(i, _) => format!("below {}", name(i)),
            Measure::Above(i, _) => format!("above {}", name(i)),
            Measure::PartAlong(n, ..) => format!("part {n} of the wall along"),
            Measure::PartUp(n, ..) => format!("part {n} of the wall up"),
        }
    }
}

/// Bounds of a wall: left, lower, right, upper, mm.
fn wall(e: &Elevation) -> Option<(f64, f64, f64, f64)> {
    let b = e
        .outline
        .iter()
        .fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |b, p| {
            (b.0.min(p.0), b.1.min(p.1), b.2.max(p.0), b.3.max(p.1))
        });
    (b.0.is_finite() && b.1.is_finite() && b.2 > b.0 && b.3 > b.1).then_some(b)
}

/// The chains of an elevation: along the wall through the row of the selected opening, or the lowest row;
/// up the wall through its column; the corners of an outline that steps, eaves and ridge too; and the whole wall
/// beyond them.
#[must_use]
pub fn chains(e: &Elevation, selected: Option<usize>) -> Vec<Dimension> {
    let Some(w) = wall(e) else { return Vec::new() };
    let bounds: Vec<_> = e.openings.iter().map(|o| shape_bounds(&o.shape)).collect();
    let lowest = || (0..bounds.len()).min_by(|&a, &b| bounds[a].1.total_cmp(&bounds[b].1));
    let pilot = selected.filter(|i| *i < bounds.len()).or_else(lowest);
    let mut out = Vec::new();
    if let Some(p) = pilot {
        let (l, b, r, t) = bounds[p];
        let row = spans(&bounds, |o| o.1 < t && o.3 > b, |o| (o.0, o.2));
        let column = spans(&bounds, |o| o.0 < r && o.2 > l, |o| (o.1, o.3));
        chain(&mut out, &row, (w.0, w.2), |a, b, m| Dimension {
            from: (a, w.1),
            to: (b, w.1),
            measure: match m {
                Part::Thing(i) => Measure::Width(i),
                Part::Before(i, at) => Measure::Before(i, at),
                Part::After(i, end) => Measure::After(i, end),
            },
            line: 0,
        });
        chain(&mut out, &column, (w.1, w.3), |a, b, m| Dimension {
            from: (w.2, a),
            to: (w.2, b),
            measure: match m {
                Part::Thing(i) => Measure::Height(i),
                Part::Before(i, at) => Measure::Below(i, at),
                Part::After(i, end) => Measure::Above(i, end),
            },
            line: 0,
        });
    }
    let along = steps::places(&e.outline, false);
    out.extend(along.windows(2).enumerate().map(|(i, part)| Dimension {
        from: (part[0], w.1),
        to: (part[1], w.1),
        measure: Measure::PartAlong(i + 1, part[0], part[1]),
        line: 1,
    }));
    let up = steps::places(&e.outline, true);
    out.extend(up.windows(2).enumerate().map(|(i, part)| Dimension {
        from: (w.2, part[0]),
        to: (w.2, part[1]),
        measure: Measure::PartUp(i + 1, part[0], part[1]),
        line: 1,
    }));
    let beyond = |parts: &[f64]| if parts.is_empty() { 1 } else { 2 };
    let (last, line) = (Measure::WallWidth, beyond(&along));
    out.push(Dimension { from: (w.0, w.1), to: (w.2, w.1), measure: last, line });
    let (last, line) = (Measure::WallHeight, beyond(&up));
    out.push(Dimension { from: (w.2, w.1), to: (w.2, w.3), measure: last, line });
    out
}

/// A part of a chain.
enum Part {
    Thing(usize),
    Before(usize, f64),
    After(usize, f64),
}

type Bounds = (f64, f64, f64, f64);

/// Openings that a chain runs through, in order, without those that overlap the one before.
fn spans(
    bounds: &[Bounds],
    on: impl Fn(&Bounds) -> bool,
    span: impl Fn(&Bounds) -> (f64, f64),
) -> Vec<(usize, f64, f64)> {
    let mut found: Vec<(usize, f64, f64)> = bounds
        .iter()
        .enumerate()
        .filter(|(_, b)| on(b))
        .map(|(i, b)| (i, span(b).0, span(b).1))
        .filter(|s| s.1.is_finite() && s.2 > s.1)
        .collect();
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut end = f64::NEG_INFINITY;
    found.retain(|s| {
        let apart = s.1 >= end - 0.5;
        if apart {
            end = s.2;
        }
        apart
    });
    found
}

fn chain(
    out: &mut Vec<Dimension>,
    row: &[(usize, f64, f64)],
    (start, end): (f64, f64),
    make: impl Fn(f64, f64, Part) -> Dimension,
) {
    let mut at = start;
    for &(i, lo, hi) in row {
        if lo - at > 0.5 {
            out.push(make(at, lo, Part::Before(i, at)));
        }
        out.push(make(lo, hi, Part::Thing(i)));
        at = hi;
    }
    if let Some(&(i, _, _)) = row.last().filter(|_| end - at > 0.5) {
        out.push(make(at, end, Part::After(i, end)));
    }
}

/// The change that gives a dimension another length, mm.
#[must_use]
pub fn retyped(e: &Elevation, measure: Measure, v: f64) -> Option<Change> {
    let (l, b, r, t) = wall(e)?;
    let stretched = |along: bool, by: f64| {
        let at_end = |p: &Point| if along { (p.0 - r).abs() < 0.5 } else { p.1 > b + (t - b) / 2.0 };
        let moved = |p: &Point| {
            let by = if at_end(p) { by } else { 0.0 };
            if along { (tidy_mm(p.0 + by), p.1) } else { (p.0, tidy_mm(p.1 + by)) }
        };
        Change::Outline(e.outline.iter().map(moved).collect())
    };
    let opening = |i: usize, shape: &dyn Fn(Bounds) -> layout_core::elevation::Shape| {
        let o = e.openings.get(i)?.clone();
        let shape = shape(shape_bounds(&o.shape));
        let new = layout_core::elevation::Opening { shape, ..o };
        Some(Change::Replace(Item::Opening(i), Object::Opening(new)))
    };
    let shape_of = |i: usize| e.openings.get(i).map(|o| &o.shape);
    match measure {
        Measure::WallWidth => (v > 0.0).then(|| stretched(true, v - (r - l))),
        Measure::WallHeight => (v > 0.0).then(|| stretched(false, v - (t - b))),
        Measure::Width(i) if v > 0.0 => opening(i, &|o| refit(shape_of(i), (o.0, o.1, o.0 + v, o.3))),
        Measure::Height(i) if v > 0.0 => opening(i, &|o| refit(shape_of(i), (o.0, o.1, o.2, o.1 + v))),
        Measure::Width(_) | Measure::Height(_) => None,
        Measure::Before(i, from) => opening(i, &|o| shift(shape_of(i), from + v - o.0, 0.0)),
        Measure::After(i, to) => opening(i, &|o| shift(shape_of(i), to - v - o.2, 0.0)),
        Measure::Below(i, from) => opening(i, &|o| shift(shape_of(i), 0.0, from + v - o.1)),
        Measure::Above(i, to) => opening(i, &|o| shift(shape_of(i), 0.0, to - v - o.3)),
        Measure::PartAlong(_, from, at) | Measure::PartUp(_, from, at) => {
            let up = matches!(measure, Measure::PartUp(..));
            (v > 0.0).then(|| Change::Outline(steps::moved(&e.outline, up, at, from + v - at)))
        }
    }
}

fn shift(shape: Option<&layout_core::elevation::Shape>, dx: f64, dy: f64) -> layout_core::elevation::Shape {
    shape.map_or(layout_core::elevation::Shape::Polygon(Vec::new()), |s| moved_shape(s, dx, dy))
}

fn refit(shape: Option<&layout_core::elevation::Shape>, to: Bounds) -> layout_core::elevation::Shape {
    shape.map_or(layout_core::elevation::Shape::Polygon(Vec::new()), |s| refilled(s, to))
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::{Opening, Shape};

    /// Two windows in a row, one over the second.
    fn front() -> Elevation {
        let mut e = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
        let rect = |x: f64, y: f64| Shape::Rect { x, y, w: 1200.0, h: 1350.0 };
        e.openings = [rect(900.0, 900.0), rect(6000.0, 900.0), rect(6300.0, 3300.0)]
            .into_iter()
            .map(|shape| Opening { name: String::new(), shape })
            .collect();
        e
    }

    fn lengths(e: &Elevation, selected: Option<usize>, upright: bool, line: u8) -> Vec<f64> {
        let all = chains(e, selected).into_iter();
        all.filter(|d| d.upright() == upright && d.line == line).map(|d| d.length()).collect()
    }

    #[test]
    fn a_chain_adds_up() {
        let e = front();
        assert_eq!(lengths(&e, None, false, 0), [900.0, 1200.0, 3900.0, 1200.0, 1800.0]);
        assert_eq!(lengths(&e, None, false, 1), [9000.0]);
        // Up through W2 and the window over it.
        assert_eq!(lengths(&e, Some(1), true, 0), [900.0, 1350.0, 1050.0, 1350.0, 600.0]);
        assert_eq!(lengths(&e, Some(2), false, 0), [6300.0, 1200.0, 1500.0]);
    }

    #[test]
    fn a_gable_is_dimensioned_up_to_its_eaves_and_its_ridge() {
        let gable = vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (3000.0, 7500.0), (0.0, 5250.0)];
        let e = Elevation::new("Gable", gable.clone());
        assert_eq!(lengths(&e, None, true, 1), [5250.0, 2250.0]);
        assert_eq!(lengths(&e, None, true, 2), [7500.0]);
        assert_eq!(lengths(&e, None, false, 1), [3000.0, 6000.0]);
        assert_eq!(lengths(&e, None, false, 2), [9000.0]);
        // The eaves up by 150, the ridge stays; then the ridge alone.
        let mut higher = gable.clone();
        (higher[2].1, higher[4].1) = (5400.0, 5400.0);
        assert_eq!(retyped(&e, Measure::PartUp(1, 0.0, 5250.0), 5400.0), Some(Change::Outline(higher)));
        let mut ridge = gable;
        ridge[3].1 = 8250.0;
        assert_eq!(retyped(&e, Measure::PartUp(2, 5250.0, 7500.0), 3000.0), Some(Change::Outline(ridge)));
        assert_eq!(retyped(&e, Measure::PartUp(2, 5250.0, 7500.0), 0.0), None);
    }

    #[test]
    fn figures_typed_anew_by_hand() {
        let e = front();
        let got = |m, v| match retyped(&e, m, v) {
            Some(Change::Replace(_, Object::Opening(o))) => shape_bounds(&o.shape),
            other => panic!("{other:?}"),
        };
        assert_eq!(got(Measure::Width(0), 1360.0), (900.0, 900.0, 2260.0, 2250.0));
        assert_eq!(got(Measure::Before(1, 2100.0), 4000.0), (6100.0, 900.0, 7300.0, 2250.0));
        assert_eq!(got(Measure::After(1, 9000.0), 1700.0), (6100.0, 900.0, 7300.0, 2250.0));
        assert_eq!(got(Measure::Below(2, 2250.0), 975.0), (6300.0, 3225.0, 7500.0, 4575.0));
        assert_eq!(got(Measure::Height(2), 1200.0), (6300.0, 3300.0, 7500.0, 4500.0));
        assert_eq!(got(Measure::Above(2, 5250.0), 750.0), (6300.0, 3150.0, 7500.0, 4500.0));
        let wide = vec![(0.0, 0.0), (9900.0, 0.0), (9900.0, 5250.0), (0.0, 5250.0)];
        assert_eq!(retyped(&e, Measure::WallWidth, 9900.0), Some(Change::Outline(wide)));
        let tall = vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5400.0), (0.0, 5400.0)];
        assert_eq!(retyped(&e, Measure::WallHeight, 5400.0), Some(Change::Outline(tall)));
        assert_eq!(retyped(&e, Measure::Width(0), 0.0), None);
        assert_eq!(retyped(&e, Measure::Width(9), 100.0), None);
    }
}
