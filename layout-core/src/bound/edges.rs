//! Stretches of edges that need a tie each.

use super::HAIR;
use super::duty::{Places, SLACK, courses, top_of};
use super::rows::Rows;
use super::taken::Taken;
use crate::elevation::{Coursing, Elevation, Fix, Point};
use crate::masonry::{BoundarySegment, Edge, Intervals, Masonry, Measure, Spans, edges};
use crate::rules::RuleSet;
use crate::units::DISTANCE_TOLERANCE;

/// Both ends of a gap may stretch by the tolerance: what is longer than this is served by some tie, mm.
const STRETCH: f64 = 2.0 * DISTANCE_TOLERANCE + HAIR;

/// Stretches of edges, no two of which one tie can serve.
pub(super) struct EdgeDuties {
    /// Their number.
    pub count: usize,
    /// The places of the ties that serve them.
    pub taken: Taken,
    /// The same told roughly: for each all x near enough, one side of the edge or the other, on all its courses.
    pub rough: Vec<Places>,
    /// Places for level edges, each of which needs one tie anywhere: for when all else is chosen.
    pub level: Vec<Vec<Places>>,
}

/// Chooses stretches of every edge, each from its lower end.
pub(super) fn choose(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet, rows: &Rows) -> EdgeDuties {
    let taken = Taken::new(elevation, masonry, rules);
    let mut chosen = EdgeDuties { count: 0, taken, rough: Vec::new(), level: Vec::new() };
    let Some(rule) = &rules.edges else { return chosen };
    let within = rule.within.value + DISTANCE_TOLERANCE + HAIR;
    let mut places = Vec::new();
    for edge in edges(masonry, elevation, rule) {
        let near = Near { coursing: elevation.coursing, edge: &edge, within, rows };
        if edge.measure == Measure::Level {
            near.anywhere(&mut places);
            chosen.level.push(places.clone());
            continue;
        }
        let mut place = edge.from;
        loop {
            near.serving(place, &mut places);
            let met = chosen.taken.taken_up_to(&places);
            if met.is_none() && !places.is_empty() {
                chosen.taken.push(&places);
                chosen.rough.push(near.roughly(place, &places));
                chosen.count += 1;
            }
            place = near.next(place, met, &places);
            if place + STRETCH > edge.to {
                break;
            }
        }
    }
    chosen
}

/// The places near an edge from which a tie counts for it.
struct Near<'a> {
    coursing: Coursing,
    edge: &'a Edge,
    within: f64,
    rows: &'a Rows,
}

impl Near<'_> {
    /// Half the spacing, as far as it may stretch, mm.
    fn half(&self) -> f64 {
        self.edge.spacing / 2.0 + DISTANCE_TOLERANCE
    }

    /// Places from which a tie serves some of the stretch that begins at a place.
    fn serving(&self, place: f64, out: &mut Vec<Places>) {
        if matches!(self.edge.measure, Measure::Length { .. }) {
            let p = self.edge.point_at(place);
            let reach = self.within + self.half() + STRETCH;
            let range = courses(self.coursing, p.1 - reach, p.1 + reach);
            let about = (p.0 - reach, p.0 + reach);
            self.rows.places_between(range, |from, to| self.counting(from, to, about), out);
            return;
        }
        let range = courses(self.coursing, place - self.half(), place + STRETCH + self.half());
        self.rows.places_between(range, |from, to| self.counting(from, to, ALL), out);
    }

    /// Places that hold all of some about a place of the edge.
    fn roughly(&self, place: f64, places: &[Places]) -> Places {
        let x = self.edge.point_at(place).0;
        let all = Places { left: x - self.within, right: x + self.within, low: i64::MAX, high: i64::MIN };
        places.iter().fold(all, |a, p| Places {
            left: a.left.min(p.left),
            right: a.right.max(p.right),
            low: a.low.min(p.low),
            high: a.high.max(p.high),
        })
    }

    /// Places from which a tie counts for the edge at all.
    fn anywhere(&self, out: &mut Vec<Places>) {
        let (low, high) = (self.edge.lo.1 - self.within, self.edge.hi.1 + self.within);
        let range = courses(self.coursing, low, high);
        self.rows.places_between(range, |from, to| self.counting(from, to, ALL), out);
    }

    /// The place from which to go on: beyond what serves the last one if that was chosen, else beyond some
    /// of what it `met`.
    fn next(&self, place: f64, met: Option<i64>, places: &[Places]) -> f64 {
        let step = self.edge.spacing + STRETCH + HAIR;
        if self.edge.measure != Measure::Height || self.coursing.fix == Fix::Anywhere {
            return place + step;
        }
        let highest = met.or_else(|| places.iter().map(|p| p.high).max());
        let beyond = |course: i64| top_of(self.coursing, course) + self.half() + 1e-3;
        highest.map_or(place + step, |course| beyond(course).max(place + 1.0).min(place + step))
    }

    /// Between which x a tie on some courses counts for the edge, `about` given; generous.
    fn counting(&self, from: i64, to: i64, about: (f64, f64)) -> Spans {
        let (low, high) = if self.coursing.fix == Fix::Anywhere {
            (top_of(self.coursing, from - 1), top_of(self.coursing, to))
        } else {
            (self.coursing.height(from) - SLACK, self.coursing.height(to) + SLACK)
        };
        let near = |s: &&BoundarySegment| {
            s.a.1.min(s.b.1) <= high + self.within && s.a.1.max(s.b.1) >= low - self.within
        };
        let spans = self.edge.pieces.iter().filter(near).filter_map(|s| span(s, self.within, low, high));
        Intervals::from_unsorted(spans).clipped(about.0, about.1).0
    }
}

/// Any x.
const ALL: (f64, f64) = (f64::NEG_INFINITY, f64::INFINITY);

/// Between which x a point between two heights is no further from a piece of edge than `within` and on its
/// left, or beyond one of its ends; generous by a hair.
fn span(s: &BoundarySegment, within: f64, low: f64, high: f64) -> Option<(f64, f64)> {
    const OFF_ENDS: f64 = 1e-6;
    let (lower, upper) = (s.a.1.min(s.b.1), s.a.1.max(s.b.1));
    if s.a.0 == s.b.0 && low > lower + OFF_ENDS && high < upper - OFF_ENDS {
        // Beside an upright piece, clear of its ends.
        let off = if s.b.1 > s.a.1 { s.a.0 - within } else { s.a.0 + within };
        return Some((off.min(s.a.0) - HAIR, off.max(s.a.0) + HAIR));
    }
    let mut out = (f64::INFINITY, f64::NEG_INFINITY);
    let mut take = |x: f64| out = (out.0.min(x), out.1.max(x));
    let length = s.length();
    let along = if length > 0.0 { ((s.b.0 - s.a.0) / length, (s.b.1 - s.a.1) / length) } else { (0.0, 0.0) };
    if length > 0.0 {
        let off = |p: Point| (p.0 - along.1 * within, p.1 + along.0 * within);
        let corners = [s.a, s.b, off(s.b), off(s.a)];
        for i in 0..4 {
            let (p, q) = (corners[i], corners[(i + 1) % 4]);
            if low <= p.1 && p.1 <= high {
                take(p.0);
            }
            for y in [low, high] {
                if (p.1 < y) != (q.1 < y) {
                    take(p.0 + (y - p.1) / (q.1 - p.1) * (q.0 - p.0));
                }
            }
        }
    }
    for (c, out_of) in [(s.a, (-along.0, -along.1)), (s.b, along)] {
        let (v0, v1) = (low - c.1, high - c.1);
        let nearest = if v0 <= 0.0 && v1 >= 0.0 { 0.0 } else { v0.abs().min(v1.abs()) };
        if nearest > within {
            continue;
        }
        let half = (within * within - nearest * nearest).sqrt();
        // Beyond the end: (x - c.x) out.x + v out.y >= 0 for some v.
        let most = (v0 * out_of.1).max(v1 * out_of.1);
        let (mut l, mut r) = (-half, half);
        if out_of.0 > 1e-9 {
            l = l.max(-most / out_of.0);
        } else if out_of.0 < -1e-9 {
            r = r.min(most / -out_of.0);
        } else if most < -1e-6 {
            continue;
        }
        if l <= r {
            take(c.0 + l);
            take(c.0 + r);
        }
    }
    (out.0 <= out.1).then_some((out.0 - HAIR, out.1 + HAIR))
}
