//! What there is to serve up columns of a wall: the masonry between a head or base and the sill or eaves above it, less
//! what the ties beside an upright edge or along a verge serve. A reckoning of what a row spends, before any tie
//! stands.

use std::cmp::Ordering;
use std::ops::Range;

use super::board::LEAST_HEIGHT;
use super::site::Site;
use crate::masonry::{BoundaryKind, BoundarySegment, Intervals, Measure};
use crate::units::{EPSILON, round};

/// About as many columns as this at most: on a wide wall they stand evenly apart.
const MOST_COLUMNS: f64 = 300.0;

/// A stretch up a column that has to be served.
#[derive(Clone, Copy, PartialEq, PartialOrd)]
pub(super) struct Need {
    /// From here up to here, mm.
    pub stretch: (f64, f64),
    /// Between these heights rows may stand, mm.
    pub room: (f64, f64),
}

/// What there is to serve up columns, with the ties that one row spends there.
pub(super) fn needs(site: &Site<'_>, (h, v): (f64, f64)) -> Vec<(Need, f64)> {
    let columns = columns(site, h);
    let served = served_by_edges(site, (h, v), &columns);
    let clear = site.rules.edge_distance.value;
    let mut all: Vec<(Need, f64)> = Vec::new();
    for ((column, met), served) in columns.iter().zip(boundary_met(site, &columns)).zip(served) {
        for pair in met.windows(2) {
            let [(low, from), (high, to)] = pair else { continue };
            if !up(from) || up(to) {
                continue;
            }
            // Ties along a verge serve what lies under it.
            let verge =
                site.rules.edges.is_some() && to.a.1 != to.b.1 && matches!(to.kind, BoundaryKind::Side(_));
            let stretch = Intervals::from_unsorted([(*low, if verge { high - v / 2.0 } else { *high })]);
            for &stretch in &stretch.minus(&served.0).0 {
                if stretch.1 - stretch.0 > LEAST_HEIGHT {
                    all.push((Need { stretch, room: (low + clear, high - clear) }, column.width / h));
                }
            }
        }
    }
    all.sort_by(|a, b| a.0.partial_cmp(&b.0).unwrap_or(Ordering::Equal));
    all.chunk_by(|a, b| a.0 == b.0).map(|same| (same[0].0, same.iter().map(|n| n.1).sum())).collect()
}

/// Whether masonry lies above a piece of boundary.
fn up(s: &BoundarySegment) -> bool {
    s.a.0 < s.b.0
}

/// An upright part of the wall, mm.
struct Column {
    middle: f64,
    width: f64,
}

/// The wall parted wherever a level piece of boundary, or what ties beside an upright one serve, begins or ends, and in
/// half spacings besides; evenly where that would be too many.
fn columns(site: &Site<'_>, h: f64) -> Vec<Column> {
    let (left, right) = (site.datum, site.datum + site.width);
    let reach = site.rules.edges.as_ref().map_or(0.0, |rule| rule.within.value + h / 2.0);
    let steps = (2.0 * site.width / h).min(MOST_COLUMNS).ceil().max(1.0);
    let mut cuts: Vec<f64> = (0..=steps as usize).map(|i| left + site.width * i as f64 / steps).collect();
    let segments = &site.masonry.boundary.segments;
    if segments.len() as f64 <= MOST_COLUMNS {
        cuts.extend(segments.iter().filter(|s| s.a.1 == s.b.1).flat_map(|s| [s.a.0, s.b.0]));
        let upright = segments.iter().filter(|s| s.a.0 == s.b.0);
        cuts.extend(upright.map(|s| if s.a.1 < s.b.1 { s.a.0 - reach } else { s.a.0 + reach }));
    }
    cuts.retain(|x| (left..=right).contains(x));
    cuts.sort_by(f64::total_cmp);
    let column = |w: &[f64]| Column { middle: f64::midpoint(w[0], w[1]), width: w[1] - w[0] };
    cuts.windows(2).map(column).filter(|c| c.width > EPSILON).collect()
}

/// The columns between two places.
fn between(columns: &[Column], from: f64, to: f64) -> Range<usize> {
    let at = |x: f64| columns.partition_point(|c| c.middle < x);
    at(from)..at(to).max(at(from))
}

/// What ties of upright edges serve up each column.
fn served_by_edges(site: &Site<'_>, (h, v): (f64, f64), columns: &[Column]) -> Vec<Intervals> {
    let mut spans = vec![Vec::new(); columns.len()];
    let Some(rule) = &site.rules.edges else { return vec![Intervals::empty(); columns.len()] };
    for edge in
        site.edges.iter().filter(|e| e.measure == Measure::Height && e.lo.0 == e.hi.0 && e.spacing <= v)
    {
        let x = edge.lo.0;
        let reach = rule.within.value + h / 2.0;
        // Masonry lies on the left of what goes up.
        let left = edge.pieces.first().is_some_and(|s| s.a.1 < s.b.1);
        let (from, to) = if left { (x - reach, x) } else { (x, x + reach) };
        let over = (v - edge.spacing) / 2.0;
        let (low, high) = (to_course(site, edge.lo.1) - over, to_course(site, edge.hi.1) + over);
        spans[between(columns, from, to)].iter_mut().for_each(|column| column.push((low, high)));
    }
    spans.into_iter().map(Intervals::from_unsorted).collect()
}

/// The bed joint nearest to a height: openings stand in whole courses, and one that is drawn or moved a little off
/// them should not change the rows.
fn to_course(site: &Site<'_>, y: f64) -> f64 {
    let c = site.elevation.coursing;
    c.first_bed + round((y - c.first_bed) / c.gauge) * c.gauge
}

/// For each column where it meets the boundary, from below.
fn boundary_met<'a>(site: &Site<'a>, columns: &[Column]) -> Vec<Vec<(f64, &'a BoundarySegment)>> {
    let mut met: Vec<Vec<(f64, &BoundarySegment)>> = vec![Vec::new(); columns.len()];
    for s in &site.masonry.boundary.segments {
        if s.a.0 == s.b.0 || matches!(s.kind, BoundaryKind::Joint(_)) {
            continue;
        }
        for at in between(columns, s.a.0.min(s.b.0), s.a.0.max(s.b.0)) {
            let y = if s.a.1 == s.b.1 {
                to_course(site, s.a.1)
            } else {
                s.a.1 + (columns[at].middle - s.a.0) / (s.b.0 - s.a.0) * (s.b.1 - s.a.1)
            };
            met[at].push((y, s));
        }
    }
    for column in &mut met {
        column.sort_by(|a, b| a.0.total_cmp(&b.0).then(up(a.1).cmp(&up(b.1))));
    }
    met
}
