//! How few ties any layout can have: a lower bound, with its argument.
//!
//! A layout without breach serves some point of every square of 4 mm in the masonry (rule 1 ignores only
//! pieces into which no such square fits), and some point of every stretch of an edge longer than the
//! tolerance (rule 3). The tie that does so stands on a course, no further off than half the spacing; so it
//! stands within a known rectangle. Duties whose rectangles have no such place in common need a tie each.
//! So the number of duties in any set of them, no two of which have a place in common, is a lower bound,
//! and so is the number of ties that rule 2 asks for.
//!
//! The set is chosen greedily: first edges, each from its lower end in steps a hair over the spacing; then
//! squares, level by level from below, each level from the left. A larger set might exist; a smaller
//! layout cannot. Pinned ties and where ties may not stand are left out of account, which only makes the
//! bound lower.

use std::collections::{BTreeSet, VecDeque};

use crate::elevation::{Elevation, Fix};
use crate::masonry::{Edge, Intervals, Masonry, Measure, edges};
use crate::rules::RuleSet;
use crate::units::{DISTANCE_TOLERANCE, SLIVER, m2};

/// A hair more than a distance, so that what touches counts as in common, mm.
const HAIR: f64 = 0.01;

/// Levels of squares are tried this far apart, and wherever a level a spacing above another may begin, mm.
const LEVEL_STEP: f64 = 25.0;

/// Where the tie that serves a duty stands: a range of x, mm, and of courses.
#[derive(Clone, Copy, Debug)]
struct Duty {
    left: f64,
    right: f64,
    low: i64,
    high: i64,
}

impl Duty {
    fn meets(&self, other: &Self) -> bool {
        self.left <= other.right
            && other.left <= self.right
            && self.low <= other.high
            && other.low <= self.high
    }
}

/// The fewest ties any layout of an elevation without breach can have; at least that many, not more.
#[must_use]
pub fn lower_bound(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> usize {
    let half_v = rules.vertical.value / 2.0;
    let edge_duties = edge_duties(elevation, masonry, rules);
    let edge_count = edge_duties.len();
    let alone = squares(elevation, masonry, rules, Vec::new(), half_v);
    let added = squares(elevation, masonry, rules, edge_duties, half_v);
    alone.max(edge_count + added).max(rules.fewest_for(m2(masonry.net_area)))
}

/// The courses between two heights, lower and upper; any height is its own course where all will do.
fn courses(elevation: &Elevation, from: f64, to: f64) -> (i64, i64) {
    let c = elevation.coursing;
    if c.fix == Fix::Anywhere {
        // In hundredths of a millimetre.
        return ((from * 100.0).floor() as i64, (to * 100.0).ceil() as i64);
    }
    let slack = crate::units::COURSING_TOLERANCE + HAIR;
    let (mut low, mut high) = (c.nearest(from), c.nearest(to));
    while c.height(low) < from - slack {
        low += 1;
    }
    while c.height(high) > to + slack {
        high -= 1;
    }
    (low, high)
}

/// Stretches of edges, no two of which one tie can serve.
fn edge_duties(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<Duty> {
    let Some(rule) = &rules.edges else { return Vec::new() };
    let (within, spacing) = (rule.within.value + DISTANCE_TOLERANCE, rule.spacing.value);
    // Both ends of a gap may stretch by the tolerance.
    let stretch = 2.0 * DISTANCE_TOLERANCE + HAIR;
    let mut chosen: Vec<Duty> = Vec::new();
    for edge in edges(masonry, elevation, rule) {
        let mut place = edge.from;
        loop {
            let duty = edge_duty(elevation, &edge, place, stretch, within, spacing / 2.0);
            if !chosen.iter().any(|d| d.meets(&duty)) {
                chosen.push(duty);
            }
            place += spacing + stretch + HAIR;
            if edge.measure == Measure::Level || place + stretch > edge.to {
                break;
            }
        }
    }
    chosen
}

fn edge_duty(elevation: &Elevation, edge: &Edge, place: f64, stretch: f64, within: f64, half: f64) -> Duty {
    let (low, high, y0, y1);
    match edge.measure {
        Measure::Height => {
            (low, high) = (place - half - DISTANCE_TOLERANCE, place + stretch + half + DISTANCE_TOLERANCE);
            // The part of the edge that may be nearest to such a tie.
            (y0, y1) = (low - within, high + within);
        }
        Measure::Level => {
            (y0, y1) = (edge.lo.1, edge.hi.1);
            (low, high) = (y0 - within, y1 + within);
        }
        Measure::Length { .. } => {
            let p = edge.point_at(place);
            let reach = within + half + stretch + DISTANCE_TOLERANCE;
            let (low, high) = courses(elevation, p.1 - reach, p.1 + reach);
            return Duty { left: p.0 - reach, right: p.0 + reach, low, high };
        }
    }
    let xs = edge.pieces.iter().filter(|s| s.a.1.max(s.b.1) >= y0 && s.a.1.min(s.b.1) <= y1).flat_map(|s| {
        let at = |y: f64| {
            let (lo, hi) = (s.a.1.min(s.b.1), s.a.1.max(s.b.1));
            s.x_at(y.clamp(lo, hi))
        };
        if s.a.1 == s.b.1 { [s.a.0, s.b.0] } else { [at(y0), at(y1)] }
    });
    let (left, right) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |m, x| (m.0.min(x), m.1.max(x)));
    let (low, high) = courses(elevation, low, high);
    Duty { left: left - within, right: right + within, low, high }
}

/// Number of squares that can be chosen beside the known duties, no two of them with a place in common.
fn squares(
    elevation: &Elevation,
    masonry: &Masonry,
    rules: &RuleSet,
    known: Vec<Duty>,
    half_v: f64,
) -> usize {
    let Some((base, top)) = masonry.height_range() else { return 0 };
    let half_h = rules.horizontal.value / 2.0;
    let mut known = known;
    known.sort_by_key(|d| d.low);
    let mut waiting: VecDeque<Duty> = known.into();
    let mut active: Vec<Duty> = Vec::new();
    let mut levels: BTreeSet<i64> = BTreeSet::new();
    // Levels in thousandths of a millimetre, so that they sort exactly.
    let key = |y: f64| (y * 1000.0).ceil() as i64;
    levels.insert(key(base));
    let steps = ((top - base) / LEVEL_STEP) as i64;
    levels.extend((0..=steps).map(|i| key(base + i as f64 * LEVEL_STEP)));
    levels.extend(masonry.strips.strips.iter().map(|s| key(s.y0)));
    let mut count = 0;
    while let Some(level) = levels.pop_first() {
        let y = level as f64 / 1000.0;
        let (low, high) = courses(elevation, y - half_v - HAIR, y + SLIVER + half_v + HAIR);
        while waiting.front().is_some_and(|d| d.low <= high) {
            active.extend(waiting.pop_front());
        }
        active.retain(|d| d.high >= low);
        let taken: Vec<(f64, f64)> = active
            .iter()
            .filter(|d| d.low <= high)
            .map(|d| (d.left - half_h - SLIVER - HAIR, d.right + half_h + HAIR))
            .collect();
        let mut placed = false;
        for &(from, to) in &wall_at(masonry, y).minus(&taken).0 {
            let mut x = from;
            while x <= to {
                let left = x - half_h - HAIR;
                active.push(Duty { left, right: x + SLIVER + half_h + HAIR, low, high });
                count += 1;
                placed = true;
                x += 2.0 * half_h + SLIVER + 4.0 * HAIR;
            }
        }
        if placed {
            levels.insert(key(y + 2.0 * half_v + SLIVER + 4.0 * HAIR));
        }
    }
    count
}

/// The x at which a square's lower left corner may stand on a level.
fn wall_at(masonry: &Masonry, y: f64) -> Intervals {
    let strips = &masonry.strips;
    let Some(first) = strips.strips.iter().position(|s| s.y1 > y + HAIR) else { return Intervals::empty() };
    let mut open = Intervals(vec![(f64::NEG_INFINITY, f64::INFINITY)]);
    let mut reached = y;
    for (i, s) in strips.strips.iter().enumerate().skip(first) {
        if s.y0 > reached + 1e-6 {
            return Intervals::empty();
        }
        let (from, to) = (y.max(s.y0), (y + SLIVER).min(s.y1));
        let at = |a: f64, b: f64, h: f64| a + (b - a) * ((h - s.y0) / (s.y1 - s.y0)).clamp(0.0, 1.0);
        let here = strips
            .cells_of(i)
            .iter()
            .map(|c| {
                (at(c.l0, c.l1, from).max(at(c.l0, c.l1, to)), at(c.r0, c.r1, from).min(at(c.r0, c.r1, to)))
            })
            .map(|(l, r)| (l, r - SLIVER))
            .collect();
        open = open.meet(&Intervals::from_unsorted(here));
        reached = s.y1;
        if reached >= y + SLIVER {
            return open;
        }
    }
    Intervals::empty()
}
