//! The edges of the masonry that have ties of their own, and which of them a tie counts for.
//!
//! An edge is an unbroken run of boundary: a jamb, one side of a movement joint, a free end, a verge;
//! or, where a rule set says so, the whole perimeter of an opening, a corner, the top of the leaf. Heights along it, or lengths along
//! its perimeter, have to lie within half the spacing of a tie that counts for it.

use super::{BoundaryKind, BoundarySegment, Masonry};
use crate::elevation::{Elevation, Point, SideCondition, outline_sides};
use crate::rules::{EdgeRule, EdgeScope};
use crate::units::EPSILON;

/// Kind of an edge, in the order of precedence of roles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EdgeKind {
    /// Sloping top of a gable.
    Verge,
    /// One side of a movement joint.
    Joint,
    /// Unreturned or unbonded end.
    FreeEnd,
    /// Side of an opening, or its perimeter.
    Jamb,
    /// Top or bottom of an opening.
    Head,
    /// Returned and bonded end.
    Corner,
    /// Level top of the leaf.
    Top,
}

/// How places along an edge are measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// By height, mm; a tie serves heights about its own.
    Height,
    /// By length along the edge from its start, mm; a tie serves lengths about its nearest point.
    Length {
        /// Whether the edge closes on itself.
        ring: bool,
    },
    /// A level edge: one tie anywhere near it is enough.
    Level,
}

/// An edge that has ties of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// What it is.
    pub kind: EdgeKind,
    /// Its pieces, one after another, masonry on their left.
    pub pieces: Vec<BoundarySegment>,
    /// How places along it are measured.
    pub measure: Measure,
    /// Greatest spacing of ties along it, in its measure, mm.
    pub spacing: f64,
    /// First place that needs a tie near, in its measure.
    pub from: f64,
    /// Last place that needs a tie near, in its measure.
    pub to: f64,
    /// Lower left corner of its bounds.
    pub lo: Point,
    /// Upper right corner of its bounds.
    pub hi: Point,
}

impl Edge {
    fn new(kind: EdgeKind, pieces: Vec<BoundarySegment>, measure: Measure, spacing: f64) -> Self {
        let points = || pieces.iter().flat_map(|s| [s.a, s.b]);
        let lo = points().fold((f64::MAX, f64::MAX), |m, p| (m.0.min(p.0), m.1.min(p.1)));
        let hi = points().fold((f64::MIN, f64::MIN), |m, p| (m.0.max(p.0), m.1.max(p.1)));
        let (from, to) = match measure {
            Measure::Height => (lo.1, hi.1),
            Measure::Length { .. } => (0.0, pieces.iter().map(BoundarySegment::length).sum()),
            Measure::Level => (0.0, 0.0),
        };
        Self { kind, pieces, measure, spacing, from, to, lo, hi }
    }

    /// Its length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.pieces.iter().map(BoundarySegment::length).sum()
    }

    /// The point of the edge at a place in its measure.
    #[must_use]
    pub fn point_at(&self, place: f64) -> Point {
        match self.measure {
            Measure::Level => (f64::midpoint(self.lo.0, self.hi.0), self.lo.1),
            Measure::Height => self
                .pieces
                .iter()
                .find(|s| s.a.1.min(s.b.1) <= place && place <= s.a.1.max(s.b.1) && s.a.1 != s.b.1)
                .map_or(self.lo, |s| (s.x_at(place), place)),
            Measure::Length { .. } => {
                let mut left = place.clamp(self.from, self.to);
                for s in &self.pieces {
                    let l = s.length();
                    if left <= l && l > 0.0 {
                        let t = left / l;
                        return (s.a.0 + (s.b.0 - s.a.0) * t, s.a.1 + (s.b.1 - s.a.1) * t);
                    }
                    left -= l;
                }
                self.pieces.last().map_or(self.lo, |s| s.b)
            }
        }
    }

    /// What it is, in words a person reads.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self.kind {
            EdgeKind::Verge => "verge",
            EdgeKind::Joint => "movement joint",
            EdgeKind::FreeEnd => "free end",
            EdgeKind::Jamb if matches!(self.measure, Measure::Length { .. }) => "perimeter of the opening",
            EdgeKind::Jamb => "jamb",
            EdgeKind::Head => "head or sill of the opening",
            EdgeKind::Corner => "bonded corner",
            EdgeKind::Top => "top of the leaf",
        }
    }
}

/// That a tie counts for an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Service {
    /// Its distance from the edge, mm.
    pub distance: f64,
    /// The place it serves about, in the measure of the edge.
    pub place: f64,
}

/// How a tie at `p` counts for an edge, if it does: no further from it than `within`, with the line to
/// the nearest point through the masonry.
#[must_use]
pub fn service(masonry: &Masonry, edge: &Edge, p: Point, within: f64) -> Option<Service> {
    let out = |v: f64, lo: f64, hi: f64| (lo - v).max(v - hi).max(0.0);
    if out(p.0, edge.lo.0, edge.hi.0) > within || out(p.1, edge.lo.1, edge.hi.1) > within {
        return None;
    }
    let mut best: Option<(f64, Point, f64)> = None;
    let mut target = p;
    let mut piece = None;
    // The length up to a piece, where that matters.
    let mut along = 0.0;
    let by_length = matches!(edge.measure, Measure::Length { .. });
    for s in &edge.pieces {
        let q = s.nearest(p);
        let d = (p.0 - q.0).hypot(p.1 - q.1);
        if best.is_none_or(|b| d < b.0 - EPSILON) && on_masonry_side(s, p, q) {
            let length = if by_length { along + (q.0 - s.a.0).hypot(q.1 - s.a.1) } else { 0.0 };
            best = Some((d, q, length));
            target = into_masonry(s, q);
            piece = Some((*s, q));
        }
        if by_length {
            along += s.length();
        }
    }
    let (distance, _, length) = best?;
    if distance > within {
        return None;
    }
    let beside_joint = || {
        // Where a joint ends at the edge, what counts is the edge beyond that point.
        piece.is_none_or(|(s, q)| {
            matches!(s.kind, BoundaryKind::Joint(_))
                || !masonry.ends_joint(q)
                || masonry.sees(p, further_along(&s, into_masonry(&s, q), q))
        })
    };
    if !masonry.sees(p, target) || !beside_joint() {
        return None;
    }
    let place = match edge.measure {
        Measure::Height => p.1,
        Measure::Length { .. } => length,
        Measure::Level => 0.0,
    };
    Some(Service { distance, place })
}

/// A point at an end of a piece of edge, moved a little along it; elsewhere as it is.
fn further_along(s: &BoundarySegment, target: Point, q: Point) -> Point {
    const LITTLE: f64 = 0.2;
    let length = s.length();
    let to = if q == s.a {
        s.b
    } else if q == s.b {
        s.a
    } else {
        return target;
    };
    let t = (LITTLE / length).min(0.5);
    (target.0 + (to.0 - q.0) * t, target.1 + (to.1 - q.1) * t)
}

/// A point of a piece of edge, moved a hair into the masonry it borders: where a joint ends at a corner,
/// ties on its other side do not see the edge.
fn into_masonry(s: &BoundarySegment, q: Point) -> Point {
    const HAIR: f64 = 0.02;
    let length = s.length();
    if length <= 0.0 {
        return q;
    }
    (q.0 - (s.b.1 - s.a.1) / length * HAIR, q.1 + (s.b.0 - s.a.0) / length * HAIR)
}

/// Whether a tie stands on the masonry's side of a piece of edge. Beyond the end of a piece either side
/// will do: the line of sight decides.
fn on_masonry_side(s: &BoundarySegment, p: Point, q: Point) -> bool {
    let at_end = (q == s.a || q == s.b) && {
        let (dx, dy) = (s.b.0 - s.a.0, s.b.1 - s.a.1);
        let t = (p.0 - s.a.0) * dx + (p.1 - s.a.1) * dy;
        t < 0.0 || t > dx * dx + dy * dy
    };
    at_end || (s.b.0 - s.a.0) * (p.1 - s.a.1) - (s.b.1 - s.a.1) * (p.0 - s.a.0) >= 0.0
}

/// Every edge that a rule gives ties of its own.
#[must_use]
pub fn edges(masonry: &Masonry, elevation: &Elevation, rule: &EdgeRule) -> Vec<Edge> {
    let sides = outline_sides(elevation);
    let spacing = rule.spacing.value;
    let mut out = Vec::new();
    match rule.scope {
        EdgeScope::Upright => {
            for run in runs(masonry, |s| upright_kind(s, &sides)) {
                out.extend(upright_edge(run, spacing));
            }
        }
        EdgeScope::OpeningPerimeter { exempt } => {
            for run in runs(masonry, |s| (s.kind == BoundaryKind::Opening).then_some((EdgeKind::Jamb, 0))) {
                let ring = run.pieces.last().is_some_and(|s| s.b == run.pieces[0].a);
                let edge = Edge::new(EdgeKind::Jamb, run.pieces, Measure::Length { ring }, spacing);
                let (w, h) = (edge.hi.0 - edge.lo.0, edge.hi.1 - edge.lo.1);
                if w > exempt + EPSILON || h > exempt + EPSILON {
                    out.push(edge);
                }
            }
        }
        EdgeScope::EveryFreeEdge { corners } => {
            let top = rule.top.as_ref().map_or(spacing, |t| t.value);
            for run in runs(masonry, |s| free_kind(s, &sides, corners)) {
                let at_top = matches!(run.key.0, EdgeKind::Verge | EdgeKind::Top);
                out.extend(free_edge(run, if at_top { top } else { spacing }));
            }
        }
    }
    out
}

/// A run's key: pieces with the same key, end to end, are one edge.
type Key = (EdgeKind, usize);

struct Run {
    key: Key,
    pieces: Vec<BoundarySegment>,
}

/// Numbers the sides apart: two verges of a gable are two edges, a jamb that turns is two.
fn upright_kind(s: &BoundarySegment, sides: &[SideCondition]) -> Option<Key> {
    let (dx, dy) = (s.b.0 - s.a.0, s.b.1 - s.a.1);
    match s.kind {
        BoundaryKind::Opening => (dy.abs() > dx.abs()).then_some((EdgeKind::Jamb, usize::from(dy > 0.0))),
        BoundaryKind::Joint(j) => Some((EdgeKind::Joint, 2 * j + usize::from(dy > 0.0))),
        BoundaryKind::Side(i) => match sides.get(i)? {
            SideCondition::FreeEnd => Some((EdgeKind::FreeEnd, i)),
            SideCondition::Joint => Some((EdgeKind::Joint, usize::MAX - i)),
            SideCondition::Verge => Some((EdgeKind::Verge, i)),
            _ => None,
        },
    }
}

/// As [`upright_kind`], and heads, sills, the top of the leaf and, where asked for, corners.
fn free_kind(s: &BoundarySegment, sides: &[SideCondition], corners: bool) -> Option<Key> {
    if let Some(key) = upright_kind(s, sides) {
        return Some(key);
    }
    match s.kind {
        BoundaryKind::Opening => Some((EdgeKind::Head, usize::from(s.b.0 > s.a.0))),
        BoundaryKind::Side(i) => match sides.get(i)? {
            SideCondition::Eaves => Some((EdgeKind::Top, i)),
            SideCondition::Corner if corners => Some((EdgeKind::Corner, i)),
            _ => None,
        },
        BoundaryKind::Joint(_) => None,
    }
}

fn free_edge(run: Run, spacing: f64) -> Option<Edge> {
    let upright = run.pieces.iter().all(|s| (s.a.0 - s.b.0).abs() <= EPSILON);
    let measure = if upright { Measure::Height } else { Measure::Length { ring: false } };
    let mut edge = Edge::new(run.key.0, run.pieces, measure, spacing);
    let (first, last) = (edge.pieces.first()?.a.1, edge.pieces.last()?.b.1);
    if edge.kind == EdgeKind::Verge && (first - last).abs() > EPSILON {
        // As measured by height: near a steep apex there may be no place for a tie.
        if first > last {
            edge.from += spacing / 2.0;
        } else {
            edge.to -= spacing / 2.0;
        }
    }
    (edge.from <= edge.to).then_some(edge)
}

fn upright_edge(run: Run, spacing: f64) -> Option<Edge> {
    let level = run.pieces.iter().all(|s| (s.a.1 - s.b.1).abs() <= EPSILON);
    if level {
        // The top of a verge needs no tie of its own, and a level verge is all top.
        return (run.key.0 != EdgeKind::Verge)
            .then(|| Edge::new(run.key.0, run.pieces, Measure::Level, spacing));
    }
    let mut edge = Edge::new(run.key.0, run.pieces, Measure::Height, spacing);
    if edge.kind == EdgeKind::Verge {
        edge.to -= spacing / 2.0;
        if edge.to < edge.from {
            return None;
        }
    }
    Some(edge)
}

/// Unbroken runs of boundary pieces with the same key.
///
/// Pieces of a ring stand one after another in the boundary, so a run goes on while each piece begins
/// where the last one ended; a run that began in the middle is joined to the one that ends at its start.
/// An outline side ends where a joint meets it.
fn runs(masonry: &Masonry, key: impl Fn(&BoundarySegment) -> Option<Key>) -> Vec<Run> {
    let mut joint_ends: Vec<Point> = masonry
        .boundary
        .segments
        .iter()
        .filter(|s| matches!(s.kind, BoundaryKind::Joint(_)))
        .flat_map(|s| [s.a, s.b])
        .collect();
    joint_ends.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.total_cmp(&q.1)));
    let parted = |p: Point| {
        let from = joint_ends.partition_point(|j| j.0 <= p.0 - 1e-3);
        let mut level = joint_ends[from..].iter().take_while(|j| j.0 < p.0 + 1e-3);
        level.any(|j| (j.1 - p.1).abs() < 1e-3)
    };
    let joins = |run: &Run, k: Key, s: &BoundarySegment| {
        run.key == k && run.pieces.last().is_some_and(|l| l.b == s.a) && !parted(s.a)
    };
    let mut out: Vec<Run> = Vec::new();
    let mut ring_start = 0;
    let mut first_of_ring: Option<Point> = None;
    let mut previous_end: Option<Point> = None;
    for s in &masonry.boundary.segments {
        if previous_end != Some(s.a) {
            ring_start = out.len();
            first_of_ring = Some(s.a);
        }
        previous_end = Some(s.b);
        if let Some(k) = key(s) {
            match out.last_mut() {
                Some(run) if joins(run, k, s) => run.pieces.push(*s),
                _ => out.push(Run { key: k, pieces: vec![*s] }),
            }
        }
        if first_of_ring == Some(s.b) {
            close_ring(&mut out, ring_start, &joins);
            previous_end = None;
        }
    }
    out
}

/// Joins the last run of a ring to its first where the ring's start lies inside a run.
fn close_ring(out: &mut Vec<Run>, start: usize, joins: &impl Fn(&Run, Key, &BoundarySegment) -> bool) {
    if out.len() < start + 2 {
        return;
    }
    let (first, last) = (&out[start], &out[out.len() - 1]);
    if joins(last, first.key, &first.pieces[0])
        && let Some(mut tail) = out.pop()
    {
        tail.pieces.append(&mut out[start].pieces);
        out[start] = tail;
    }
}
