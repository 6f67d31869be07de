//! What is known of a wall before any tie stands: worked out once, for all boards.

use super::standing::Standing;
use crate::elevation::{Elevation, Fix, Point, shape_bounds};
use crate::marking::ROUND_STEP;
use crate::masonry::{BoundaryKind, Edge, Masonry, edges};
use crate::rules::RuleSet;
use crate::units::{ANYWHERE_STEP, round};

/// A wall, its rules, and what follows from them alone.
pub(super) struct Site<'a> {
    pub elevation: &'a Elevation,
    pub masonry: &'a Masonry,
    pub rules: &'a RuleSet,
    pub standing: Standing<'a>,
    /// Ties that never move, pinned or of locked areas, by height.
    pub fixed: Vec<Point>,
    /// The heights ties may stand at, from below.
    pub heights: Vec<f64>,
    /// The lowest height at which a tie may stand anywhere, mm.
    pub foot: f64,
    /// The lowest point of the wall, mm.
    pub base: f64,
    /// The left end of the wall, from which ties are measured.
    pub datum: f64,
    /// Width of the wall, mm.
    pub width: f64,
    /// The upright line about which places are round: see [`axis`].
    pub axis: f64,
    /// Edges that have ties of their own.
    pub edges: Vec<Edge>,
    /// Whether there is any movement joint.
    pub jointed: bool,
    /// Step between candidate heights, mm.
    pub pitch: f64,
}

/// The heights a board is about, mm: each part lies within the next.
#[derive(Clone, Debug)]
pub(super) struct Window {
    /// Main rows stand from here, up to but not including here.
    pub own: (f64, f64),
    /// What lies here has to be served.
    pub duty: (f64, f64),
    /// Ties may stand here.
    pub rows: (f64, f64),
    /// The numbers of the edges that have to do with it; all of them where there is none.
    pub edges: Option<Vec<u32>>,
}

impl Window {
    /// The whole wall.
    pub(super) const fn whole() -> Self {
        const ALL: (f64, f64) = (f64::NEG_INFINITY, f64::INFINITY);
        Self { own: ALL, duty: ALL, rows: ALL, edges: None }
    }
}

impl<'a> Site<'a> {
    pub(super) fn new(elevation: &'a Elevation, masonry: &'a Masonry, rules: &'a RuleSet) -> Self {
        let standing = Standing::new(elevation, masonry, rules);
        let mut fixed = elevation.fixed_ties();
        // Those at one height keep their order: pinned before locked, each from the left.
        fixed.sort_by(|a, b| a.1.total_cmp(&b.1));
        let heights = heights(elevation, masonry, rules);
        let foot = heights.iter().copied().find(|&y| !standing.at(y).is_empty());
        let xs = || masonry.rings.iter().flatten().map(|p| p.0);
        let datum = xs().fold(f64::INFINITY, f64::min);
        let width = xs().fold(f64::NEG_INFINITY, f64::max) - datum;
        let kind = |s: &crate::masonry::BoundarySegment| matches!(s.kind, BoundaryKind::Joint(_));
        Self {
            elevation,
            masonry,
            rules,
            standing,
            fixed,
            heights,
            foot: foot.unwrap_or(0.0),
            base: masonry.height_range().map_or(0.0, |r| r.0),
            datum,
            width,
            axis: datum + axis(width, elevation.coursing.brick / 2.0),
            edges: rules.edges.as_ref().map_or_else(Vec::new, |rule| edges(masonry, elevation, rule)),
            jointed: masonry.boundary.segments.iter().any(kind),
            pitch: if elevation.coursing.fix == Fix::Anywhere {
                ANYWHERE_STEP
            } else {
                elevation.coursing.gauge
            },
        }
    }

    /// The ties between two heights that never move.
    pub(super) fn fixed_within(&self, (low, high): (f64, f64)) -> &[Point] {
        let from = self.fixed.partition_point(|p| p.1 < low);
        let to = self.fixed.partition_point(|p| p.1 <= high);
        &self.fixed[from..to.max(from)]
    }
}

/// How far from the datum edge the line stands about which places are round, mm: in the middle of the wall, so that both
/// halves of one that is its own mirror image are alike, if that is a whole number of half bricks or of 25 mm; else at
/// the 25 mm next to it, so that places are whole from the datum edge as well.
fn axis(width: f64, half_brick: f64) -> f64 {
    let middle = width / 2.0;
    let is_whole = |step: f64| (middle - round(middle / step) * step).abs() < 1e-6;
    if is_whole(ROUND_STEP) || is_whole(half_brick) {
        middle
    } else {
        round(middle / ROUND_STEP) * ROUND_STEP
    }
}

/// The heights ties may stand at, from below.
fn heights(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<f64> {
    let Some((low, high)) = masonry.height_range() else { return Vec::new() };
    let c = elevation.coursing;
    if c.fix != Fix::Anywhere {
        let first = ((low - c.first_bed) / c.gauge).floor() as i64 - 1;
        let last = ((high - c.first_bed) / c.gauge).ceil() as i64 + 1;
        return (first..=last).map(|k| c.height(k)).filter(|y| (low..=high).contains(y)).collect();
    }
    // Whole steps from the base, and the heights that just clear a level side or a keep-out.
    let steps = ((high - low) / ANYWHERE_STEP) as i64;
    let mut ys: Vec<f64> = (0..=steps).map(|i| low + i as f64 * ANYWHERE_STEP).collect();
    let d = rules.edge_distance.value;
    for s in masonry.boundary.segments.iter().filter(|s| s.a.1 == s.b.1) {
        ys.extend([s.a.1 - d, s.a.1 + d]);
    }
    for k in &elevation.keep_outs {
        let (_, lower, _, upper) = shape_bounds(&k.shape);
        ys.extend([lower - k.clearance, upper + k.clearance]);
    }
    ys.retain(|y| (low..=high).contains(y));
    ys.sort_by(f64::total_cmp);
    ys.dedup_by(|b, a| *b - *a < 1e-3);
    ys
}
