//! How easy a layout is to mark out, in figures.
//!
//! A row is a height with ties. The datum is the left end of the wall, from which a tape is run along each row.
//!
//! * Steps: the distances between neighbours on a row, whatever stands between them, to the millimetre. Counted is
//!   how many different ones a row has, over rows of two ties or more.
//! * Main rows: rows that go with the field, with at least one tie for every two field spacings of masonry on
//!   their height. Rows that only have the odd jamb tie are none.
//! * On the grid: ties on a main row that stand a whole number of half brick lengths (of the coursing: 112.5 mm
//!   for the usual brick) or of 25 mm from the datum, within half a millimetre.
//! * Repeated openings: openings of one shape and size that stand alike to the courses, two or more. Each
//!   has the ties within reach of it (what the rules count as near an edge), told from its lower left corner; alike
//!   are those with the arrangement most of their like have, the mirror image of one taken for the same.
//! * Plumb jambs: upright sides of openings with two ties or more beside them, between their ends and no further off
//!   than the rules count as near an edge; plumb are those whose ties stand on one line, to the millimetre.
//! * Mirrored: on a wall that is its own mirror image, the ties that have another at their mirrored place.

use crate::elevation::{Elevation, Fix, Point, Shape, shape_bounds, shape_ring};
use crate::rules::RuleSet;
use crate::units::{COURSING_TOLERANCE, DISTANCE_TOLERANCE, EPSILON, round};
use std::collections::BTreeMap;

/// The round step of a tape, mm.
pub const ROUND_STEP: f64 = 25.0;

/// How far from an opening ties belong to it where no rule says so, mm.
const NEAR_OPENING: f64 = 300.0;

/// How easy a layout is to mark out. See the module for what each figure is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Marking {
    /// Heights with ties.
    pub rows: usize,
    /// Rows that go with the field.
    pub main_rows: usize,
    /// Most different steps on one row; 0 where no row has two ties.
    pub most_steps: usize,
    /// Different steps on a row in the mean; 0 where no row has two ties.
    pub mean_steps: f64,
    /// Ties in all.
    pub ties: usize,
    /// Ties on the regular grid.
    pub on_grid: usize,
    /// Openings that have their like.
    pub repeated_openings: usize,
    /// Openings among them that have the ties of their like.
    pub alike_openings: usize,
    /// Upright jambs with two ties or more beside them.
    pub jambs: usize,
    /// Jambs among them whose ties stand on one plumb line.
    pub plumb_jambs: usize,
    /// Ties with another at their mirrored place; `None` where the wall is not its own mirror image.
    pub mirrored: Option<usize>,
}

impl Marking {
    /// Share of ties on the regular grid, 0 to 1; 1 where there are no ties.
    #[must_use]
    pub fn grid_share(&self) -> f64 {
        share(self.on_grid, self.ties)
    }

    /// Share of repeated openings with the ties of their like, 0 to 1; `None` where none is repeated.
    #[must_use]
    pub fn alike_share(&self) -> Option<f64> {
        (self.repeated_openings > 0).then(|| share(self.alike_openings, self.repeated_openings))
    }

    /// Share of upright jambs with two ties or more whose ties stand on one plumb line, 0 to 1; `None` where there is no
    /// such jamb.
    #[must_use]
    pub fn plumb_share(&self) -> Option<f64> {
        (self.jambs > 0).then(|| share(self.plumb_jambs, self.jambs))
    }

    /// Share of ties with another at their mirrored place, 0 to 1; `None` where the wall is not its own
    /// mirror image.
    #[must_use]
    pub fn mirrored_share(&self) -> Option<f64> {
        self.mirrored.map(|n| share(n, self.ties))
    }
}

fn share(part: usize, of: usize) -> f64 {
    if of == 0 { 1.0 } else { part as f64 / of as f64 }
}

/// The figures of a layout; `masonry` is the masonry as rings and `ties` may stand in any order, mm.
#[must_use]
pub fn marking(elevation: &Elevation, masonry: &[Vec<Point>], rules: &RuleSet, ties: &[Point]) -> Marking {
    let rows = rows_of(ties);
    let datum = elevation.outline.iter().map(|p| p.0).fold(f64::INFINITY, f64::min);
    let mut out = Marking { rows: rows.len(), ties: ties.len(), ..Marking::default() };
    let (mut stepped, mut steps) = (0, 0);
    let heights: Vec<f64> = rows.iter().map(|row| row[0].1).collect();
    for (row, width) in rows.iter().zip(widths_at(masonry, &heights)) {
        let different = different_steps(row);
        if different > 0 {
            (stepped, steps) = (stepped + 1, steps + different);
            out.most_steps = out.most_steps.max(different);
        }
        let enough = width / (2.0 * rules.horizontal.value);
        if row.len() as f64 >= enough - EPSILON {
            out.main_rows += 1;
            out.on_grid +=
                row.iter().filter(|p| is_round(p.0 - datum, elevation.coursing.brick / 2.0)).count();
        }
    }
    if stepped > 0 {
        out.mean_steps = f64::from(u32::try_from(steps).unwrap_or(u32::MAX)) / stepped as f64;
    }
    let within = rules.edges.as_ref().map_or(NEAR_OPENING, |e| e.within.value);
    (out.repeated_openings, out.alike_openings) = openings(elevation, &rows, within);
    (out.jambs, out.plumb_jambs) = jambs(elevation, &rows, within + DISTANCE_TOLERANCE);
    out.mirrored = mirror(elevation).map(|axis| mirrored(&rows, axis));
    out
}

/// Ties by height, each row from the left.
fn rows_of(ties: &[Point]) -> Vec<Vec<Point>> {
    let mut sorted = ties.to_vec();
    sorted.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    let mut rows: Vec<Vec<Point>> = Vec::new();
    let mut left = &sorted[..];
    while let Some(first) = left.first() {
        let (row, above) = left.split_at(left.partition_point(|p| p.1 - first.1 < COURSING_TOLERANCE));
        let mut row = row.to_vec();
        row.sort_by(|a, b| a.0.total_cmp(&b.0));
        rows.push(row);
        left = above;
    }
    rows
}

fn different_steps(row: &[Point]) -> usize {
    let mut steps: Vec<i64> = row.windows(2).map(|p| whole(p[1].0 - p[0].0)).collect();
    steps.sort_unstable();
    steps.dedup();
    steps.len()
}

/// To the millimetre.
fn whole(v: f64) -> i64 {
    round(v) as i64
}

fn is_round(distance: f64, half_brick: f64) -> bool {
    [half_brick, ROUND_STEP].iter().any(|step| {
        let off = distance - round(distance / step) * step;
        off.abs() <= COURSING_TOLERANCE + EPSILON
    })
}

/// Length of masonry at each height, mm; `heights` from below, outer rings anticlockwise and holes clockwise.
fn widths_at(masonry: &[Vec<Point>], heights: &[f64]) -> Vec<f64> {
    let mut widths = vec![0.0; heights.len()];
    for ring in masonry {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            // A side that runs up has the masonry at its left: it ends a length; one that runs down begins one.
            let (lo, hi, sign) = if a.1 < b.1 { (a, b, 1.0) } else { (b, a, -1.0) };
            let from = heights.partition_point(|&y| y < lo.1);
            for (y, width) in heights[from..].iter().zip(&mut widths[from..]).take_while(|(y, _)| **y < hi.1)
            {
                *width += sign * (lo.0 + (y - lo.1) / (hi.1 - lo.1) * (hi.0 - lo.0));
            }
        }
    }
    widths
}

/// What makes openings each other's like: kind, size, and how they stand to the courses, mm.
type Likeness = (Vec<(i64, i64)>, i64);

/// The ties of an opening told from its lower left corner, mm.
type Arrangement = Vec<(i64, i64)>;

/// How many openings have their like, and how many of them the ties of their like.
fn openings(elevation: &Elevation, rows: &[Vec<Point>], within: f64) -> (usize, usize) {
    let c = elevation.coursing;
    let mut groups: BTreeMap<Likeness, BTreeMap<Arrangement, usize>> = BTreeMap::new();
    for o in &elevation.openings {
        let (l, b, r, t) = shape_bounds(&o.shape);
        let ring = shape_ring(&o.shape).iter().map(|p| (whole(p.0 - l), whole(p.1 - b))).collect();
        let to_course = if c.fix == Fix::Anywhere { 0 } else { whole((b - c.first_bed).rem_euclid(c.gauge)) };
        let near = arrangement(rows, (l, b, r, t), within + DISTANCE_TOLERANCE);
        *groups.entry((ring, to_course)).or_default().entry(near).or_default() += 1;
    }
    let of = |g: &BTreeMap<Arrangement, usize>| g.values().sum::<usize>();
    groups
        .values()
        .filter(|g| of(g) > 1)
        // An arrangement that no other has is alike to none.
        .map(|g| (of(g), g.values().copied().filter(|&n| n > 1).max().unwrap_or(0)))
        .fold((0, 0), |(n, alike), (m, most)| (n + m, alike + most))
}

/// The ties within reach of an opening, or their mirror image if that comes first in order.
fn arrangement(rows: &[Vec<Point>], (l, b, r, t): (f64, f64, f64, f64), reach: f64) -> Arrangement {
    let from = rows.partition_point(|row| row[0].1 < b - reach);
    let mut near: Arrangement = Vec::new();
    for row in rows[from..].iter().take_while(|row| row[0].1 <= t + reach) {
        let first = row.partition_point(|p| p.0 < l - reach);
        for p in row[first..].iter().take_while(|p| p.0 <= r + reach) {
            let (dx, dy) = ((l - p.0).max(p.0 - r).max(0.0), (b - p.1).max(p.1 - t).max(0.0));
            if dx.hypot(dy) <= reach {
                near.push((whole(p.1 - b), whole(p.0 - l)));
            }
        }
    }
    near.sort_unstable();
    let width = whole(r - l);
    let mut other: Arrangement = near.iter().map(|&(y, x)| (y, width - x)).collect();
    other.sort_unstable();
    near.min(other)
}

/// How many upright sides of openings have two ties or more beside them, and how many of those have them on one line.
fn jambs(elevation: &Elevation, rows: &[Vec<Point>], reach: f64) -> (usize, usize) {
    let (mut all, mut plumb) = (0, 0);
    for opening in &elevation.openings {
        let (l, _, r, _) = shape_bounds(&opening.shape);
        let ring = shape_ring(&opening.shape);
        let sides = ring.iter().zip(ring.iter().cycle().skip(1)).filter(|(a, b)| a.0 == b.0);
        for (a, b) in sides {
            let (low, high) = (a.1.min(b.1), a.1.max(b.1));
            let (from, to) = if a.0 < f64::midpoint(l, r) { (a.0 - reach, a.0) } else { (a.0, a.0 + reach) };
            let first = rows.partition_point(|row| row[0].1 < low);
            let beside = rows[first..].iter().take_while(|row| row[0].1 <= high).flat_map(|row| {
                let first = row.partition_point(|p| p.0 < from);
                row[first..].iter().take_while(move |p| p.0 <= to)
            });
            let (count, lo, hi) = beside.fold((0, f64::INFINITY, f64::NEG_INFINITY), |(n, lo, hi), p| {
                (n + 1, p.0.min(lo), p.0.max(hi))
            });
            if count > 1 {
                all += 1;
                plumb += usize::from(hi - lo < 1.0);
            }
        }
    }
    (all, plumb)
}

/// The upright line in the middle of a wall that is its own mirror image.
fn mirror(elevation: &Elevation) -> Option<f64> {
    let xs = || elevation.outline.iter().map(|p| p.0);
    let axis = f64::midpoint(xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
    let shapes: Vec<&Shape> = elevation
        .openings
        .iter()
        .map(|o| &o.shape)
        .chain(elevation.keep_outs.iter().map(|k| &k.shape))
        .collect();
    // Corners of all that is drawn, and the middle of each shape, which tells two of them from one.
    let middle = |s: &Shape| {
        let (l, b, r, t) = shape_bounds(s);
        (f64::midpoint(l, r), f64::midpoint(b, t))
    };
    let joints = elevation.movement_joints.iter().flat_map(|j| [(j.x, j.from), (j.x, j.to)]);
    let points = elevation
        .outline
        .iter()
        .copied()
        .chain(shapes.iter().flat_map(|s| shape_ring(s)))
        .chain(shapes.iter().map(|s| middle(s)))
        .chain(joints)
        .chain(elevation.existing_ties.iter().map(|t| t.at));
    let points: Vec<Point> = points.collect();
    (axis.is_finite() && mirrored(&rows_of(&points), axis) == points.len()).then_some(axis)
}

/// How many points of some rows have one of them at their mirrored place.
fn mirrored(rows: &[Vec<Point>], axis: f64) -> usize {
    let has = |p: &Point| {
        let x = 2.0 * axis - p.0;
        let near = |row: &Vec<Point>| {
            let from = row.partition_point(|q| q.0 < x - DISTANCE_TOLERANCE);
            row.get(from).is_some_and(|q| q.0 <= x + DISTANCE_TOLERANCE)
        };
        let from = rows.partition_point(|row| row[0].1 < p.1 - DISTANCE_TOLERANCE);
        rows[from..].iter().take_while(|row| row[0].1 <= p.1 + DISTANCE_TOLERANCE).any(near)
    };
    rows.iter().flatten().filter(|p| has(p)).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elevation::{KeepOut, Opening};
    use crate::masonry::Masonry;
    use crate::rules::resolve;

    fn wall() -> Elevation {
        Elevation::new("Wall", vec![(100., 0.), (5500., 0.), (5500., 1800.), (100., 1800.)])
    }

    fn figures(e: &Elevation, ties: &[Point]) -> Marking {
        let rules = resolve(&e.rules).expect("a known rule set");
        marking(e, &Masonry::new(e).rings, &rules, ties)
    }

    #[test]
    fn rows_and_steps() {
        // Two rows: steps 900, 900, 450 (two different) and 900 (one); a lone tie has none.
        let ties = [(550., 225.), (1450., 225.), (2350., 225.), (2800., 225.), (1000., 675.), (1900., 675.)];
        let m = figures(&wall(), &[&ties[..], &[(300., 900.)]].concat());
        assert_eq!((m.rows, m.most_steps, m.ties), (3, 2, 7));
        assert!((m.mean_steps - 1.5).abs() < 1e-12);
        // 900.4 and 899.6 are both 900 to the millimetre.
        let m = figures(&wall(), &[(550., 225.), (1450.4, 225.), (2350., 225.)]);
        assert_eq!(m.most_steps, 1);
    }

    #[test]
    fn the_regular_grid() {
        // 5400 of masonry at 900: a main row has 3 ties or more. From the datum at 100: 450 is 18 x 25 and
        // 4 x 112.5; 787.5 is 7 x 112.5; 1140 is neither.
        let main = [(550., 225.), (887.5, 225.), (1240., 225.)];
        let m = figures(&wall(), &main);
        assert_eq!((m.main_rows, m.on_grid), (1, 2));
        assert!((m.grid_share() - 2. / 3.).abs() < 1e-12);
        // Two on a height are no main row: none of them is on the grid.
        let m = figures(&wall(), &[&main[..], &[(550., 450.), (1000., 450.)]].concat());
        assert_eq!((m.rows, m.main_rows, m.on_grid, m.ties), (2, 1, 2, 5));
        // Beside a wide opening there is less masonry: 1800 asks for one tie.
        let mut e = wall();
        e.openings
            .push(Opening { name: "D".into(), shape: Shape::Rect { x: 1000., y: 0., w: 3600., h: 900. } });
        let m = figures(&e, &[(550., 225.)]);
        assert_eq!((m.main_rows, m.on_grid), (1, 1));
    }

    #[test]
    fn no_ties_are_easy_to_mark_out() {
        let m = figures(&wall(), &[]);
        assert_eq!((m.rows, m.most_steps, m.main_rows), (0, 0, 0));
        assert!((m.grid_share() - 1.0).abs() < 1e-12 && m.alike_share().is_none());
    }

    fn window(e: &mut Elevation, x: f64, y: f64) {
        e.openings.push(Opening { name: "W".into(), shape: Shape::Rect { x, y, w: 600., h: 600. } });
    }

    #[test]
    fn repeated_openings() {
        let mut e = wall();
        for x in [1000., 2500., 4000.] {
            window(&mut e, x, 600.);
        }
        // 150 left of each at 750; a second tie at the right of the last alone.
        let ties = [(850., 750.), (2350., 750.), (3850., 750.), (4750., 750.)];
        let m = figures(&e, &ties);
        assert_eq!((m.repeated_openings, m.alike_openings), (3, 2));
        // The mirror image is the same: right of the last in place of left.
        let m = figures(&e, &[(850., 750.), (2350., 750.), (4750., 750.)]);
        assert_eq!((m.repeated_openings, m.alike_openings), (3, 3));
        // 230 off does not belong to it; then all three differ or have none.
        let m = figures(&e, &[(770., 750.), (2350., 750.), (3850., 825.)]);
        assert_eq!((m.repeated_openings, m.alike_openings), (3, 0));
        // Another size has no like, nor one that stands otherwise to the courses; 20 courses up it has.
        let mut e = wall();
        window(&mut e, 1000., 600.);
        window(&mut e, 2500., 610.);
        assert_eq!(figures(&e, &[]).repeated_openings, 0);
        window(&mut e, 4000., 675.);
        let m = figures(&e, &[(850., 750.), (3850., 825.)]);
        assert_eq!((m.repeated_openings, m.alike_openings), (2, 2));
    }

    #[test]
    fn plumb_jambs() {
        let mut e = wall();
        window(&mut e, 1000., 600.);
        // 200 left of the window at 675 and 975; 150 and 225 right of it; one over the head does not count.
        let ties = [(800., 675.), (800.4, 975.), (1750., 675.), (1825., 975.), (1000., 1350.)];
        let m = figures(&e, &ties);
        assert_eq!((m.jambs, m.plumb_jambs), (2, 1));
        // A jamb with one tie is none; nor do ties 230 off count.
        let m = figures(&e, &[(800., 675.), (1830., 675.), (1830., 975.)]);
        assert_eq!((m.jambs, m.plumb_jambs), (0, 0));
        assert!(m.plumb_share().is_none());
    }

    #[test]
    fn mirrored_walls() {
        // The middle stands at 2800. 550 and 5050 are a pair, 2800 its own, 1000 alone.
        let mut e = wall();
        let ties = [(550., 225.), (5050., 225.), (2800., 225.), (1000., 225.)];
        assert_eq!(figures(&e, &ties).mirrored, Some(3));
        // A window in the middle keeps it so, a keep-out to one side does not.
        window(&mut e, 2500., 600.);
        assert_eq!(figures(&e, &ties).mirrored_share(), Some(0.75));
        let shape = Shape::Circle { x: 1000., y: 300., r: 100. };
        e.keep_outs.push(KeepOut { name: String::new(), shape, clearance: 50. });
        assert_eq!(figures(&e, &ties).mirrored, None);
    }
}
