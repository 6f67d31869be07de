//! Edges on the board: from where ties count for them, and what of them is not served yet.

use super::super::standing::reach_at_height;
use super::{Board, Counting, EdgeState, Near};
use crate::elevation::Point;
use crate::masonry::{BoundaryKind, BoundarySegment, Edge, EdgeKind, Intervals, Measure, Spans, service};
use crate::setting_out::site::{Site, Window};
use crate::units::{EPSILON, tidy_mm};

/// What edges keep in hand for the rounding of places, and as much again, mm.
const ROUND: f64 = 2.0 * super::ROUNDING;

/// What is known to be open about an upright straight edge.
struct OpenAbout {
    x: f64,
    on_left: bool,
    low: f64,
    high: f64,
    beside: bool,
    above: bool,
    below: bool,
}

impl OpenAbout {
    /// Whether a tie anywhere on `runs` of a height, all near enough, sees the edge for certain.
    fn sees_all(&self, runs: &Intervals, y: f64) -> bool {
        if y > self.high + EPSILON {
            return self.above;
        }
        if y < self.low - EPSILON {
            return self.below;
        }
        let on_its_side = |&(lo, hi): &(f64, f64)| {
            if self.on_left { hi <= self.x } else { lo >= self.x }
        };
        self.beside && runs.0.iter().all(on_its_side)
    }
}

impl Board<'_> {
    /// Works out for every edge that has to do with the board on which rows, and from where, a tie counts
    /// for it. Of edges measured by height only what lies in the window has to be served.
    pub(super) fn note_edges(&mut self, site: &Site<'_>, window: &Window) {
        let joint_ends: Vec<Point> = self
            .masonry
            .boundary
            .segments
            .iter()
            .filter(|s| site.jointed && matches!(s.kind, BoundaryKind::Joint(_)))
            .map(|s| s.a)
            .collect();
        let all = || (0..site.edges.len() as u32).collect();
        for number in window.edges.clone().unwrap_or_else(all) {
            let mut edge = site.edges[number as usize].clone();
            if edge.measure == Measure::Height {
                let long = edge.to - edge.from > EPSILON;
                edge.from = edge.from.max(window.duty.0);
                edge.to = edge.to.min(window.duty.1);
                if edge.to < edge.from || (long && edge.to - edge.from <= EPSILON) {
                    continue;
                }
            }
            self.note_edge(edge, &joint_ends);
        }
        for (number, row) in self.rows.iter_mut().enumerate() {
            row.near.sort_by(|a, b| a.first().total_cmp(&b.first()).then(a.edge.cmp(&b.edge)));
            row.widest = row.near.iter().map(|n| n.last() - n.first()).fold(0.0, f64::max);
            for (i, near) in row.near.iter().enumerate() {
                let state = &mut self.edges[near.edge];
                if let Ok(at) = state.rows.binary_search(&number) {
                    state.near[at] = i as u32;
                }
            }
        }
    }

    fn note_edge(&mut self, edge: Edge, joint_ends: &[Point]) {
        let number = self.edges.len();
        let mut on = Vec::with_capacity(16);
        // Where a joint goes on from the end of a jamb, a tie level with that end or beyond it holds
        // the jamb at best by a point: none is counted on there.
        let goes_on = |y: f64| {
            edge.kind == EdgeKind::Jamb
                && joint_ends.iter().any(|j| (j.1 - y).abs() < 1e-3 && (j.0 - edge.lo.0).abs() < 1e-3)
        };
        let (joint_below, joint_above) = (goes_on(edge.lo.1), goes_on(edge.hi.1));
        let open = if joint_ends.is_empty() { self.open_about(&edge) } else { None };
        let first = self.rows.partition_point(|r| r.y < edge.lo.1 - self.within - ROUND);
        for at in first..self.rows.len() {
            let row = &self.rows[at];
            if row.y > edge.hi.1 + self.within + ROUND {
                break;
            }
            if (joint_below && row.y <= edge.lo.1 + 1.0) || (joint_above && row.y >= edge.hi.1 - 1.0) {
                continue;
            }
            let y = row.y;
            let runs = if let [piece] = edge.pieces[..] {
                reach_at_height(&piece, self.limit(&piece), y)
                    .map_or_else(Intervals::empty, |r| row.runs.clipped(r.0, r.1))
            } else {
                let close = edge.pieces.iter().filter_map(|s| reach_at_height(s, self.limit(s), y));
                row.runs.meet(&Intervals::from_unsorted(close))
            };
            if runs.is_empty() {
                continue;
            }
            let runs = if open.as_ref().is_some_and(|o| o.sees_all(&runs, y)) {
                runs
            } else {
                self.in_sight(&edge, y, &runs)
            };
            if !runs.is_empty() {
                let near = &mut self.rows[at].near;
                if near.len() == near.capacity() {
                    near.reserve(16);
                }
                near.push(Near { edge: number, runs });
                on.push(at);
            }
        }
        let near = vec![0; on.len()];
        self.edges.push(EdgeState { edge, rows: on, near, served: Vec::new() });
    }

    /// How far off a piece of edge a tie may be: right up to the limit beside an upright one, where places are round
    /// as the edge is, and above and below a level one, since heights are not rounded; else a hair less.
    fn limit(&self, piece: &BoundarySegment) -> f64 {
        if piece.a.1 == piece.b.1 {
            self.within + ROUND
        } else if piece.a.0 == piece.b.0 {
            tidy_mm(self.within + super::ROUNDING)
        } else {
            self.within
        }
    }

    /// Where nothing stands between an upright straight edge and the ties that may count for it; `None` for
    /// any other edge.
    fn open_about(&self, edge: &Edge) -> Option<OpenAbout> {
        let first = edge.pieces.first()?;
        let x = first.a.0;
        if edge.measure != Measure::Height || edge.pieces.iter().any(|s| s.a.0 != x || s.b.0 != x) {
            return None;
        }
        // Masonry lies on the left of the piece.
        let on_left = first.b.1 > first.a.1;
        let (low, high, reach) = (edge.lo.1, edge.hi.1, self.within);
        let side = if on_left { (x - reach, x) } else { (x, x + reach) };
        Some(OpenAbout {
            x,
            on_left,
            low,
            high,
            beside: self.nothing_in((side.0, low), (side.1, high)),
            above: self.nothing_in((x - reach, high), (x + reach, high + reach)),
            below: self.nothing_in((x - reach, low - reach), (x + reach, low)),
        })
    }

    /// Whether no boundary comes inside a box.
    fn nothing_in(&self, lo: Point, hi: Point) -> bool {
        let boundary = &self.masonry.boundary;
        boundary.near(lo, hi).all(|i| {
            let s = &boundary.segments[i as usize];
            s.a.0.max(s.b.0) <= lo.0 + EPSILON
                || s.a.0.min(s.b.0) >= hi.0 - EPSILON
                || s.a.1.max(s.b.1) <= lo.1 + EPSILON
                || s.a.1.min(s.b.1) >= hi.1 - EPSILON
        })
    }

    /// The parts of `runs` from which a tie counts for an edge.
    pub(in crate::setting_out) fn in_sight(&self, edge: &Edge, y: f64, runs: &Intervals) -> Intervals {
        let counts = |x: f64| service(self.masonry, edge, (x, y), self.within + 0.005).is_some();
        let mut out = Spans::new();
        for &(lo, hi) in &runs.0 {
            if counts(lo) && counts(hi) && counts(f64::midpoint(lo, hi)) {
                out.push((lo, hi));
                continue;
            }
            // Part of it is hidden: keep the stretches between samples that count.
            const SAMPLES: usize = 16;
            let at = |i: usize| lo + (hi - lo) * i as f64 / SAMPLES as f64;
            let mut from: Option<f64> = None;
            for i in 0..=SAMPLES {
                match (counts(at(i)), from) {
                    (true, None) => from = Some(at(i)),
                    (false, Some(f)) => {
                        out.push((f, at(i - 1)));
                        from = None;
                    }
                    _ => {}
                }
            }
            if let Some(f) = from {
                out.push((f, hi));
            }
        }
        Intervals(out)
    }

    /// The edges a tie would count for, with the places it would serve about.
    pub(in crate::setting_out) fn counts_for(&self, row: usize, x: f64, pinned: bool) -> Counting {
        let y = self.rows[row].y;
        if pinned {
            return (0..self.edges.len())
                .filter_map(|e| {
                    Some((e, service(self.masonry, &self.edges[e].edge, (x, y), self.within)?.place))
                })
                .collect();
        }
        self.rows[row]
            .counting(x)
            .filter_map(|n| {
                let edge = &self.edges[n.edge].edge;
                match edge.measure {
                    Measure::Height => Some((n.edge, y)),
                    Measure::Level => Some((n.edge, 0.0)),
                    Measure::Length { .. } => {
                        Some((n.edge, service(self.masonry, edge, (x, y), self.within + 0.005)?.place))
                    }
                }
            })
            .collect()
    }

    /// Whether a tie that counts for an edge would serve a place on it.
    pub(in crate::setting_out) fn serves_place(&self, edge: usize, row: usize, x: f64, place: f64) -> bool {
        let e = &self.edges[edge].edge;
        let y = self.rows[row].y;
        let half = self.edges[edge].half() + EPSILON;
        match e.measure {
            Measure::Level => true,
            Measure::Height => (y - place).abs() <= half,
            Measure::Length { ring } => {
                service(self.masonry, e, (x, y), self.within + 0.005).is_some_and(|s| {
                    let off = (s.place - place).abs();
                    off <= half || (ring && e.to - off <= half)
                })
            }
        }
    }

    /// The first place at or after `from` on an edge that has no tie near enough.
    pub(in crate::setting_out) fn edge_gap(&self, edge: usize, from: f64) -> Option<f64> {
        let state = &self.edges[edge];
        let half = state.half();
        match state.edge.measure {
            Measure::Level => state.served.is_empty().then_some(0.0),
            Measure::Height | Measure::Length { ring: false } => {
                let mut c = state.edge.from.max(from);
                if c > state.edge.to {
                    return None;
                }
                let first = state.served.partition_point(|s| s.0 + half < c);
                for &(place, _) in &state.served[first..] {
                    if place - half > c + EPSILON {
                        return Some(c);
                    }
                    c = c.max(place + half);
                }
                // Up to the very end, which may be all there is.
                let end = state.edge.to;
                let close = state.served.partition_point(|s| s.0 < end - half - EPSILON);
                let near_end = state.served.get(close).is_some_and(|s| s.0 <= end + half + EPSILON);
                (c + EPSILON < end || !near_end).then_some(c)
            }
            Measure::Length { ring: true } => {
                // Gaps may run on past the start; their places then go on counting.
                let around = state.edge.to;
                if state.served.is_empty() {
                    let start = from.max(0.0);
                    return (start < around).then_some(start);
                }
                state.gaps_round().find_map(|(s, n)| {
                    let start = (s + half).max(from);
                    (n - half > start + EPSILON).then_some(start)
                })
            }
        }
    }

    /// The parts of an edge that have no tie near enough, in its measure; on one that closes on itself they may run
    /// on past its start.
    pub(in crate::setting_out) fn edge_gaps(&self, edge: usize) -> Vec<(f64, f64)> {
        let state = &self.edges[edge];
        let half = state.half();
        let (from, to) = (state.edge.from, state.edge.to);
        match state.edge.measure {
            Measure::Level if state.served.is_empty() => vec![(0.0, 0.0)],
            Measure::Level => Vec::new(),
            Measure::Length { ring: true } if state.served.is_empty() => vec![(0.0, to)],
            Measure::Length { ring: true } => state
                .gaps_round()
                .map(|(s, n)| (s + half, n - half))
                .filter(|r| r.1 - r.0 > EPSILON)
                .collect(),
            Measure::Height | Measure::Length { ring: false } => {
                let mut out = Vec::new();
                let mut reached = from;
                for &(place, _) in &state.served {
                    let end = (place - half).min(to);
                    if end - reached > EPSILON {
                        out.push((reached, end));
                    }
                    reached = reached.max(place + half);
                }
                if to - reached > EPSILON || state.served.is_empty() {
                    out.push((reached.min(to), to));
                }
                out
            }
        }
    }

    /// How much of an edge has no tie near enough: a length, mm; 1 for an edge that has to have one tie
    /// anywhere and does not.
    pub(in crate::setting_out) fn edge_open(&self, edge: usize) -> f64 {
        let state = &self.edges[edge];
        open_beside(state, state.served.iter().map(|s| s.0))
    }

    /// Whether the edges a tie counts for would have no more open if it stood at another place instead.
    pub(in crate::setting_out) fn keeps_edges(&self, id: u32, row: usize, x: f64) -> bool {
        let tie = &self.ties[id as usize];
        if tie.edges.is_empty() {
            return true;
        }
        let there = self.counts_for(row, x, false);
        let (mut now, mut then) = (0.0, 0.0);
        for &(e, _) in &tie.edges {
            let state = &self.edges[e];
            let new = there.iter().find(|t| t.0 == e).map(|t| t.1);
            let others = || state.served.iter().filter(|s| s.1 != id).map(|s| s.0);
            let before = others().filter(|&s| new.is_none_or(|new| s < new));
            let after = others().filter(|&s| new.is_some_and(|new| s >= new));
            now += self.edge_open(e);
            then += open_beside(state, before.chain(new).chain(after));
        }
        then <= now + EPSILON
    }
}

/// How much of an edge is open beside the places served, which come in order: see [`Board::edge_open`].
fn open_beside(state: &EdgeState, mut served: impl Iterator<Item = f64>) -> f64 {
    let (half, mut reached, to) = (state.half(), state.edge.from, state.edge.to);
    let mut open = 0.0;
    match state.edge.measure {
        Measure::Level => f64::from(u8::from(served.next().is_none())),
        Measure::Length { ring: true } => {
            let Some(first) = served.next() else { return to };
            let mut last = first;
            for place in served.chain([first + to]) {
                open += (place - last - 2.0 * half).max(0.0);
                last = place;
            }
            open
        }
        Measure::Height | Measure::Length { ring: false } => {
            for place in served {
                open += (place - half).min(to) - reached.min((place - half).min(to));
                reached = reached.max(place + half);
            }
            open + (to - reached).max(0.0)
        }
    }
}
